package draw

// Sheet is a drawing at full size, in mm, y downwards, that fills the rectangle
// from (0, 0) to (Width, Height). It is drawn once; paper, screens and cutting
// files are made of it by renderers.
type Sheet struct {
	Section string // the part of the booklet it belongs to, as "Tick strips"
	Name    string // its file name without an ending, as "tick-strips-layer-1"
	Title   string // its heading, as "Tick strips, layer 1, starboard"
	Drawing Drawing
	Width   float64
	Height  float64
	Cut     bool // it bears cut lines, and is of use as DXF
}
