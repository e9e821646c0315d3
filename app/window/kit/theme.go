package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"github.com/strakewright/strakewright/app/draw"
)

// boardTheme is Fyne's own theme drawn closer, for a board with much on it, in
// the colours of the drawings.
type boardTheme struct {
	fyne.Theme
	dark bool
}

// NewTheme is the theme of all windows, light or dark.
func NewTheme(dark bool) fyne.Theme { return &boardTheme{theme.DefaultTheme(), dark} }

func (t *boardTheme) variant() fyne.ThemeVariant {
	if t.dark {
		return theme.VariantDark
	}
	return theme.VariantLight
}

// Color gives the colour of a part of a widget.
func (t *boardTheme) Color(n fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	pal := &draw.Light
	if t.dark {
		pal = &draw.Dark
	}
	switch n {
	case theme.ColorNameForeground:
		return pal.Colour(draw.Ink)
	case theme.ColorNamePlaceHolder, theme.ColorNameDisabled: // lesser, but still read
		return pal.Colour(draw.Faint)
	case theme.ColorNameInputBorder:
		return pal.Colour(draw.FrameInk)
	case theme.ColorNameForegroundOnPrimary, theme.ColorNameForegroundOnError, theme.ColorNameForegroundOnWarning:
		return pal.Colour(draw.Halo)
	case theme.ColorNamePressed: // what is written on it can still be read
		c := pal.Colour(draw.Ink)
		c.A = 0x28
		return c
	case theme.ColorNameSuccess:
		return pal.Colour(draw.StripInk)
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return pal.Colour(draw.TaperInk)
	case theme.ColorNameFocus: // what is written on it can still be read
		c := pal.Colour(draw.TaperInk)
		c.A = 0x50
		return c
	case theme.ColorNameSelection:
		return pal.Colour(draw.ChosenSoft)
	case theme.ColorNameError, theme.ColorNameWarning:
		return pal.Colour(draw.Warning)
	}
	return t.Theme.Color(n, t.variant())
}

// Size gives the size of a part of a widget.
func (t *boardTheme) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return 12
	case theme.SizeNameCaptionText:
		return 10.5
	case theme.SizeNameSubHeadingText:
		return 14
	case theme.SizeNameHeadingText:
		return 18
	case theme.SizeNamePadding:
		return 3
	case theme.SizeNameInnerPadding:
		return 5
	case theme.SizeNameInlineIcon:
		return 16
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 3
	}
	return t.Theme.Size(n)
}
