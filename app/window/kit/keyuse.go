package kit

import "github.com/strakewright/strakewright/assets/tongue"

// KeyUse tells what some keys do, for the list of keys.
type KeyUse struct{ Keys, Does string }

// ControlKeys are those of what stands in panels and dialogs.
var ControlKeys = []KeyUse{
	{Keys: tongue.Mark("Tab, Shift+Tab"), Does: tongue.Mark("the next control, or the one before")},
	{Keys: tongue.Mark("Return"), Does: tongue.Mark("presses the button that has the focus, or else the one that stands out in a dialog")},
	{Keys: tongue.Mark("Space"), Does: tongue.Mark("presses a button, sets a mark, opens a list to choose from")},
	{Keys: tongue.Mark("Escape"), Does: tongue.Mark("leaves a dialog or a menu")},
	{Keys: tongue.Mark("Arrows"), Does: tongue.Mark("in a table or list: the next cell or row; in a list to choose from: the next choice")},
	{Keys: tongue.Mark("Home, End"), Does: tongue.Mark("the first and the last of a row, or of a list")},
	{Keys: tongue.Mark("Page Up, Page Down"), Does: tongue.Mark("a page of rows up or down")},
	{Keys: tongue.Mark("F2, a figure"), Does: tongue.Mark("in the table of strakes: enters a figure in the cell, as a double click does; Return enters it, Escape cancels")},
	{Keys: tongue.Mark("Menu"), Does: tongue.Mark("in a table: the menu of the cell")},
}
