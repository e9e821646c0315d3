package answer

import "github.com/strakewright/strakewright/assets/tongue"

// Figure is a figure told of the wood: what it is called, how it is reckoned
// and by what source.
type Figure struct {
	Key     string `json:"key"`
	Name    string `json:"name"`
	Formula string `json:"formula"` // sentences
	Source  string `json:"source"`
}

// Where formulas come from.
const (
	planSource  = "follows from the plan"
	tradeSource = "common practice, no source"
	geometry    = "differential geometry of curves and surfaces (Struik, Lectures on Classical Differential Geometry)"
	handbook    = "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, eq. 4-1"
	cutSource   = "cutting stock problem in one dimension: patterns by Gilmore and Gomory, Operations Research 9, 1961; bound by dual feasible functions, Fekete and Schepers, Mathematical Programming 91, 2001"
)

// Figures are all, those of the comparison first in the order of its columns.
func Figures() []Figure {
	return []Figure{
		figured("strip", "strip", "Width and thickness of the strip, and its wood.", planSource),
		figured("strakes", "strakes", "In each band, the least number of strips that fill it at the frame of greatest girth, and at every other where no wedge may lie: girth, and what bevels take (thickness times the turn of the frame), over width and creep, rounded so that the strips creep apart by a few hundredths of their width at most.", tradeSource),
		figured("narrowest", "narrowest", "The least width to cut anywhere: what the strake takes of its frame as laid, less its build-up, times the cosine of the angle by which it crosses the frame off square. It is measured round the frame, as a tick strip lies: across the flat shape it is a little less where a wide strip crosses a tight bilge.", geometry),
		figured("widest", "widest", "The greatest width to cut anywhere, reckoned as the narrowest.", geometry),
		figured("tapered", "tapered", "Strakes that at one frame or more need less than the strip takes up there.", planSource),
		figured("taper_most", "taper most", "The most that is planed off a strip anywhere: what it takes up as laid less the width to cut.", planSource),
		figured("wedges", "wedges", "Where whole strips together fall short of the girth by more than their build-up, near the ends of the hull or where they twist off: as few as keep each within the width of a strip, stealers among them. Elsewhere strakes are cut wider instead, and do not count.", tradeSource),
		figured("stealers", "stealers", "Wedges at least half as wide as a strip.", tradeSource),
		figured("drops", "drops", "Strakes that end in a neighbour, since all together would be narrower than the plan's rules allow, half a strip as usual.", tradeSource),
		figured("left_over", "left over", "At the hull's frame of greatest girth, where strakes are counted, in each band: its girth less the number of its strakes times the width of the strip. Below zero the strips overrun the band by so much: what bevelling does not take of it is tapered off them, shared among all. Above zero they creep apart, or a wedge or a strake cut wider fills it.", planSource),
		figured("creep", "build-up allowed", "In each band: the plan's build-up per strip times the number of strakes.", planSource),
		figured("edge_strain_max", "edge strain", "Strain at a strake's edge where it is forced sideways most: geodesic curvature of its middle line times the strake's width there over 2. Over a few tenths of a percent it fights the glue (a rule of thumb, no source). Not given for a hull of which only the girths are known.", geometry),
		figured("face_strain_max", "face strain", "Strain of the outer fibres at the tightest bend: thickness times normal curvature over 2. Not given for a hull of which only the girths are known.", geometry),
		figured("how", "bent", "How the hardest bend is made. Dry up to the strain at which the wood breaks by the formula of a straight beam, its modulus of rupture over that of elasticity; soaked, and soaked and heated, up to its own limits, or to as many times that as the rules bend_soaked and bend_hot are bend_dry, which is a rule of thumb; over that it is carved. A wood that is not in the table goes by the rules alone, and your own rules go before all: no two strips are the same.", "a rule of thumb by typical figures of each wood, no source, as the command rules shows"),
		figured("modes", "sprung+spiled+block", "Strakes by how they are made: from a strip, cut from sheet where a strip would be strained sideways over the rule edge_strain or is too narrow, or carved where its face or its twist is over what the wood takes.", geometry),
		figured("shave", "shave", "Area on one side to plane off: what the strips take up less the width to cut, where that is above zero, times the run from frame to frame.", planSource),
		figured("fill", "fill", "Area on one side by which strakes are wider than their strips, and so are cut from sheet: the width to cut less what the strips take up, where that is above zero, times the run. Wedges are not in it.", planSource),
		figured("strips", "strips", "Strips that both sides take, cut from your own first and then from those on sale; where nothing of the kind is on sale, from strips of the layer's own length.", cutSource),
		figured("from_box", tongue.In("strips", "your own"), "How many of the strips are your own already; layers beneath take theirs first.", planSource),
		figured("length", "length", "Length of all strakes of both sides along their middle lines.", planSource),
		figured("waste", "waste", "Length of all strips used less the length laid: left-overs, kerfs and overhangs.", planSource),
		figured("cost", "cost", "Price of the strips bought; your own cost nothing more. Not given where one that is bought has no price.", planSource),
		figured("needed", "width needed along the hull", "At every frame, between the narrowest and the widest width to cut of the strakes laid there; the line between is their mean. The broken line is the strip.", planSource),
		figured("mix", "best mix", "Of all mixes of up to three widths, the one that leaves the least area, shaved and filled together, along the whole band: the sum over the frames of |run of the strips and their creep less the width needed| times the length the frame stands for. A gap that creep of a few hundredths closes does not count. The wider strips go where the frame turns least.", planSource),
		figured("shrinkage", "shrinkage", "From green to oven dry, percent of the green size: radial across quarter-sawn strips, tangential across flat-sawn ones.", "beside each wood"),
		figured("swelling", "swelling", "At moisture M below 30 % wood has shrunk by S = S0 (30 - M) / 30 percent of its green size; from M1 to M2 a width grows by (100 - S2) / (100 - S1) - 1. Above 30 % it swells no more.", handbook),
		figured("run", "run of the strips", "Number of strips times their width times 1 and the swelling; bounds are quarter-sawn and flat-sawn, over all woods the name may mean.", handbook),
		figured("opens", "seam opens", "Width of a strip as laid less its width at rest in the room, if each keeps to its own place.", handbook),
		figured("loose", "loose fit", "The run as measured, less the run by swelling, less the build-up of dry strips that the bench record shows.", planSource),
		figured("bound", "cost and possible saving", "No cutting of these pieces can cost less than the bound; the possible saving is the cost less the bound. Where strakes are butted a second bound holds for all other pieces that as many butts on frames could make, alike on both sides: only where the cost meets that is it called the cheapest wherever the butts fall. Lengths are compared to a tenth of a nanometre.", cutSource),
		figured("butts", "butts", "Butts fall on frames; between two on one frame lie as many full strakes as the rule asks, and neighbours' are as many frames apart.", tradeSource),
		figured("pins", "pins and treenails", "The number at each frame that a piece crosses, and at its ends; the pins to have ready are the most that one strake takes on both sides, since they are used again.", tradeSource),
		figured("seams", "distance of seams", "At each frame, along it, from a seam of this layer to the nearest of the layer beneath; the least over the frames. Seams at the limits are left out.", planSource),
	}
}

// figured is a figure in the reader's words.
//
//tongue:says 1,2,3
func figured(key, name, formula, source string) Figure {
	return Figure{key, tongue.T(name), tongue.T(formula), tongue.T(source)}
}

// FigureOf is the figure of that key; the zero Figure for none.
func FigureOf(key string) Figure {
	for _, f := range Figures() {
		if f.Key == key {
			return f
		}
	}
	return Figure{}
}
