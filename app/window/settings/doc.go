// Package settings is where the planking is set in the window: the band lines and
// their handles, the limits, the bands, the layers and their wood; as tabs of the
// panel, as dialogs, and as the menus that the drawings open.
package settings
