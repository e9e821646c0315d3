package draw

import "image/color"

// Role names what a colour is for.
type Role uint8

// The roles. Chosen things, tapers and gaps also differ by width, dash or
// mark, never by colour alone.
const (
	Paper      Role = iota // the ground
	Grid                   // thin guide lines
	Ink                    // text
	Faint                  // lesser text
	FrameInk               // frames
	Limit                  // upper and lower limit
	Seam                   // edges of strakes
	BandInk                // secondary text
	StripInk               // where a strip lies by itself
	Chosen                 // whatever is chosen
	ChosenSoft             // its ground
	TaperInk               // a strip wider than needed
	TaperSoft              // its ground
	GapInk                 // a strip too narrow
	GapSoft                // its ground
	EdgeSet                // the edge-set curve
	Warning                // what the builder must look at
	Halo                   // around marks, to set them off
	Cut                    // the outline of what is cut out of wood or paper
	Pencil                 // what is marked on the wood
	Register               // what joins one piece of paper to the next
	roles
)

// Palette gives every role its colour.
type Palette [roles]color.NRGBA

// Colour gives the colour of a role; an unknown role is ink.
func (p *Palette) Colour(r Role) color.NRGBA {
	if r >= roles {
		r = Ink
	}
	return p[r]
}

// Light and Dark are the palettes of the window. Opposites are shown by blue
// against orange, the pair that every common kind of colour blindness keeps
// apart; whatever is chosen differs in brightness as well.
var (
	Light = Palette{
		Paper:      rgb(0xfbfaf6),
		Grid:       rgb(0xe3e0d6),
		Ink:        rgb(0x1f2328),
		Faint:      rgb(0x5d6268),
		FrameInk:   rgb(0x868c93),
		Limit:      rgb(0x3a3f45),
		Seam:       rgb(0x9c8562),
		BandInk:    rgb(0x5b3f8c),
		StripInk:   rgb(0x00695c),
		Chosen:     rgb(0xb5135b),
		ChosenSoft: rgb(0xf6d5e3),
		TaperInk:   rgb(0x0b5cad),
		TaperSoft:  rgb(0xd3e4f6),
		GapInk:     rgb(0xad5400),
		GapSoft:    rgb(0xfbe0c2),
		EdgeSet:    rgb(0x1f2328),
		Warning:    rgb(0x9c2f00),
		Halo:       rgb(0xffffff),
		Cut:        rgb(0x000000),
		Pencil:     rgb(0x1f2328),
		Register:   rgb(0x5d6268),
	}
	Dark = Palette{
		Paper:      rgb(0x1b1e22),
		Grid:       rgb(0x31363c),
		Ink:        rgb(0xe8e6e0),
		Faint:      rgb(0x9da3aa),
		FrameInk:   rgb(0x6f767e),
		Limit:      rgb(0xc9c7c0),
		Seam:       rgb(0x8a765a),
		BandInk:    rgb(0xb9a2ec),
		StripInk:   rgb(0x5fd6c0),
		Chosen:     rgb(0xff8fbf),
		ChosenSoft: rgb(0x5a2440),
		TaperInk:   rgb(0x74b6f5),
		TaperSoft:  rgb(0x1d3a57),
		GapInk:     rgb(0xf5a04a),
		GapSoft:    rgb(0x583510),
		EdgeSet:    rgb(0xe8e6e0),
		Warning:    rgb(0xffb48a),
		Halo:       rgb(0x101214),
		Cut:        rgb(0xffffff),
		Pencil:     rgb(0xe8e6e0),
		Register:   rgb(0x9da3aa),
	}
)

// Print is the palette of paper: black and greys on white. Text and lines that
// are cut or marked are black or nearly so, since a thin grey line is printed
// as scattered dots; grounds are light enough to write on. Anything that
// differs in meaning must differ in width, dash or mark as well.
var Print = Palette{
	Paper:      rgb(0xffffff),
	Grid:       rgb(0xb0b0b0),
	Ink:        rgb(0x000000),
	Faint:      rgb(0x404040),
	FrameInk:   rgb(0x303030),
	Limit:      rgb(0x000000),
	Seam:       rgb(0x000000),
	BandInk:    rgb(0x000000),
	StripInk:   rgb(0x000000),
	Chosen:     rgb(0x000000),
	ChosenSoft: rgb(0xdddddd),
	TaperInk:   rgb(0x000000),
	TaperSoft:  rgb(0xeeeeee),
	GapInk:     rgb(0x000000),
	GapSoft:    rgb(0xcccccc),
	EdgeSet:    rgb(0x000000),
	Warning:    rgb(0x000000),
	Halo:       rgb(0xffffff),
	Cut:        rgb(0x000000),
	Pencil:     rgb(0x000000),
	Register:   rgb(0x404040),
}

// roleNames name the roles in files that keep them apart, such as SVG's groups.
var roleNames = [roles]string{"paper", "grid", "ink", "faint", "frame", "limit", "seam", "band", "strip", "chosen",
	"chosen-ground", "taper", "taper-ground", "gap", "gap-ground", "edge-set", "warning", "halo", "cut", "pencil", "register"}

// String gives a role's name in lower case with hyphens; an unknown role is
// "ink", as its colour is.
func (r Role) String() string {
	if r >= roles {
		r = Ink
	}
	return roleNames[r]
}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}
