package draw

// Sheet is a drawing at full size, in mm, y downwards, that fills the rectangle
// from (0, 0) to (Width, Height). It is drawn once; renderers turn it into
// paper, screens and cutting files.
type Sheet struct {
	Section string // the part of the booklet it belongs to, such as "Tick strips"
	Name    string // its file name without an extension, such as "tick-strips-layer-1"
	Title   string // its heading, such as "Tick strips, layer 1, starboard"
	Drawing Drawing
	Width   float64
	Height  float64
	Cut     bool // it has cut lines, and is of use as DXF
}
