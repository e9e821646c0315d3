package kit

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw"
)

// luminance is the relative luminance of WCAG 2.1.
func luminance(c color.NRGBA) float64 {
	part := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
}

// names are colours of a theme.
type names []fyne.ThemeColorName

func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// over is a colour laid on a ground.
func over(c, ground color.NRGBA) color.NRGBA {
	mix := func(a, b uint8) uint8 {
		return uint8(math.Round((float64(a)*float64(c.A) + float64(b)*(255-float64(c.A))) / 255))
	}
	return color.NRGBA{mix(c.R, ground.R), mix(c.G, ground.G), mix(c.B, ground.B), 255}
}

// TestTheThemeIsReadable: WCAG 2.1 asks for 4.5 for text (1.4.3), which what is
// disabled and what stands in an empty field is held to as well, and for 3 for what
// bounds a control (1.4.11).
func TestTheThemeIsReadable(t *testing.T) {
	for name, dark := range map[string]bool{"light": false, "dark": true} {
		th := NewTheme(dark)
		solid := func(n fyne.ThemeColorName) color.NRGBA {
			return color.NRGBAModel.Convert(th.Color(n, theme.VariantLight)).(color.NRGBA)
		}
		on := func(least float64, ground fyne.ThemeColorName, veils []fyne.ThemeColorName, inks ...fyne.ThemeColorName) {
			under := solid(ground)
			for _, v := range veils {
				under = over(solid(v), under)
			}
			for _, ink := range inks {
				assert.GreaterOrEqual(t, contrast(over(solid(ink), under), under), least, "%s: %s on %s under %v", name, ink, ground, veils)
			}
		}
		grounds := names{theme.ColorNameBackground, theme.ColorNameButton, theme.ColorNameInputBackground,
			theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground, theme.ColorNameHeaderBackground, theme.ColorNameDisabledButton}
		for _, g := range grounds {
			on(4.5, g, nil, theme.ColorNameForeground, theme.ColorNameDisabled, theme.ColorNamePlaceHolder)
			on(4.5, g, names{theme.ColorNameHover}, theme.ColorNameForeground)
			on(4.5, g, names{theme.ColorNamePressed}, theme.ColorNameForeground)
			on(4.5, g, names{theme.ColorNameFocus}, theme.ColorNameForeground)
			on(4.5, g, names{theme.ColorNameSelection}, theme.ColorNameForeground)
			on(3, g, names{theme.ColorNameSelection}, ringColour)
			on(3, g, nil, ringColour, theme.ColorNameInputBorder, theme.ColorNameScrollBar, theme.ColorNamePrimary)
		}
		for _, g := range (names{theme.ColorNameBackground, theme.ColorNameOverlayBackground}) {
			on(4.5, g, nil, theme.ColorNameHyperlink, theme.ColorNameError, theme.ColorNameWarning, theme.ColorNameSuccess)
		}
		for ground, ink := range map[fyne.ThemeColorName]fyne.ThemeColorName{
			theme.ColorNamePrimary: theme.ColorNameForegroundOnPrimary,
			theme.ColorNameError:   theme.ColorNameForegroundOnError,
			theme.ColorNameWarning: theme.ColorNameForegroundOnWarning,
			theme.ColorNameSuccess: theme.ColorNameForegroundOnSuccess,
		} {
			on(4.5, ground, nil, ink)
			on(4.5, ground, names{theme.ColorNameHover}, ink)
		}
		paper := map[bool]*draw.Palette{false: &draw.Light, true: &draw.Dark}[dark].Colour(draw.Paper)
		assert.GreaterOrEqual(t, contrast(solid(theme.ColorNameForeground), paper), 4.5)
	}
}
