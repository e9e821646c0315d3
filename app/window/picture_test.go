package window

import (
	"image"
	"image/color"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
)

// The picture has the size that is asked for, something is drawn in every part
// of it, and the plan is left as it was.
func TestPictureShowsEveryPart(t *testing.T) {
	s := apptest.Session(t)
	folder := filepath.Dir(s.Path())
	before, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, size := range []image.Point{{1366, 768}, {1920, 1080}} {
		img, err := Picture(s, size.X, size.Y, Shown{})
		require.NoError(t, err)
		require.Equal(t, size, img.Bounds().Size())
		cell := size.Div(4)
		for i := range 4 {
			for j := range 4 {
				part := image.Rectangle{Max: cell}.Add(image.Pt(i*cell.X, j*cell.Y))
				assert.Greater(t, colours(img, part), 5, "%v of %v", part, size)
			}
		}
	}
	after, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, after, len(before), "a file was left beside the plan")
	assert.False(t, s.Changed())
}

// colours counts the colours in a part of an image.
func colours(img image.Image, part image.Rectangle) int {
	seen := map[color.Color]bool{}
	for x := part.Min.X; x < part.Max.X; x++ {
		for y := part.Min.Y; y < part.Max.Y; y++ {
			seen[img.At(x, y)] = true
		}
	}
	return len(seen)
}

// Light on dark is drawn from the drawings to the labels of the toolkit.
func TestPictureIsLightOrDark(t *testing.T) {
	s := apptest.Session(t)
	for theme, dark := range map[string]bool{"": false, "light": false, "dark": true} {
		img, err := Picture(s, 900, 600, Shown{Theme: theme})
		require.NoError(t, err)
		shades := map[bool]int{}
		for x := range 900 {
			for y := range 600 {
				shades[color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y < 128]++
			}
		}
		assert.Greater(t, shades[dark], 3*shades[!dark], theme)
	}
	_, err := Picture(s, 900, 600, Shown{Theme: "grey"})
	assert.ErrorContains(t, err, `no theme "grey": choose one of light, dark`)
}
