package draw_test

import (
	"fmt"
	"image"
	"image/color"

	"golang.org/x/image/font/gofont/goregular"

	"github.com/strakewright/strakewright/app/draw"
)

// A drawing is made once, with roles in place of colours. A renderer, here the one
// for pixels, gives it the colours of a palette.
func Example() {
	var d draw.Drawing
	d.Rect(draw.ChosenSoft, draw.Pt(0, 0), draw.Pt(40, 10))
	d.Line(draw.Seam, draw.Pen{Width: 2}, draw.Pt(0, 5), draw.Pt(40, 5))
	d.Text(draw.Pt(4, 9), "strake 1.02", draw.Ink, 3, draw.Left)
	from, to, _ := d.Extent()
	fmt.Println(len(d.Items), "items from", from, "to", to)

	pixels, err := draw.NewPixels(goregular.TTF)
	if err != nil {
		fmt.Println(err)
		return
	}
	img := image.NewRGBA(image.Rect(0, 0, 80, 20))
	for _, palette := range []*draw.Palette{&draw.Light, &draw.Dark} {
		pixels.Render(img, &d, palette, draw.View{Scale: 2})
		fmt.Println("the seam has its colour:", color.NRGBAModel.Convert(img.At(40, 10)) == palette.Colour(draw.Seam))
	}
	// Output:
	// 3 items from {0 0} to {40 10}
	// the seam has its colour: true
	// the seam has its colour: true
}
