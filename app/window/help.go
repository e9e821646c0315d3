package window

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/window/boards"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
)

const helpText = `## The board

Across the top stands the **profile**, with the **gauge strip** under it on the same axis: a frame is one vertical through both. Below them stand the **body plan**, its fore half to the right, then the **lofted hull**, then the **table** of all strakes. What you choose in one is chosen in all.

## The hull

**Open** reads points, a table of offsets, measured girths, and drawings (SVG, DXF). A drawing is shown first with all lines found in it (*Show* lists those of one layer): choose each in the list or on the drawing, say which frame it is and at what x it stands, or that it is the stem or stern seen from the side, or marks the centre line, the base line, a limit, or where a frame stands in the side view; *All are frames* says so of all that are shown, and Enter after an x goes on to the next. Say there too if it is drawn at another scale than the model's: what is drawn is scaled, an x that you type is not. How far the two halves of each whole frame differ, and where, stands beside it; the mean or either half is taken. Closed outlines without names, as on a sheet for the laser cutter, become frames named by their place: set the *stations of all*, and choose at *Pieces level at* what all have at one height; *Show the frames that are taken* lays them one over the other. Every step can be undone; then the plan is made. A picture goes to be traced. Of a hull of which **only the girths** are known, the **expanded planking** stands in place of profile and hull: frames as verticals, girth down, the same handles; what needs the shape shows a dash. *Fair the frames*, in the Plan menu, tells how far every frame and point lies off the smooth run of its neighbours (▴ outwards, ▾ inwards, ! suspect), and offers a fair hull beside it (solid; dashed as it is) in which no point moves further than you allow. It is one Undo.

## Tracing a picture

*Trace a picture*, in the Plan menu, takes frames off a scan, a photo (of frames already cut, too) or a page of a PDF; drop the file on its window, or open it. First the **scale**, at the model's size: two points of known distance, which also set it level, or, of a photo taken askew, the four corners of a rectangle of known size. Then a click each for the **centre line** and the **base line**. Now the frames, each in two or three clicks: click its upper end, then its lower one; the **line between is followed** and shown while the pointer moves. Where it takes another way than you mean, click a place between first. A frame is done when the line ends there (a cross, *ends*), or with a click on its last point; the next click begins the next frame, named and placed on from the last two. Its x is set in the panel, before or after. Click at knuckles, and press *K* there. Left of the centre line or right of it is the same; what goes across it is the frame's other half, and both halves are averaged; of one that is done choose *the other half* in the panel. Name a frame stem or stern to trace that end in a side view.

Clicks are drawn to lines, their ends, edges and corners where these are clear (small square); hold *Shift* to leave that out; *F* has you click point by point, without lines followed. The magnifier (*M*) shows the picture's pixels; wheel or *+* and *−*: nearer and farther; right drag: shift; arrows: the last point by a pixel; *K*: a knuckle there; *Delete*: away with the point under the pointer; *Enter*: a new frame; *Escape*: leave a tool. *Backspace* takes back the last click, with what was followed to it; every click can be undone, those of the scale too. Several pictures can be open, each with its own scale. The tracing is kept beside the picture as you go, and is offered when you open that picture again.

Take care: a camera's picture holds for one plane alone. The rectangle must lie flat in the plane of the frame's face, close about it; stand far off and zoom in, so that the lens bends little. Measure a second length on the picture, and the plan's girths on the model, before wood is cut.

## Bands and their lines

The planked region runs from the upper limit (wale or sheer) down to the rabbet. **Band lines** split it into bands, and each band is laid with strips edge to edge, as whole as they go. Take hold of a handle and drag it along its frame: everything follows. *Escape* puts it back while you hold it. Hold *Ctrl* while you drag, and the handle keeps to whole mm (32nds of an inch). The arrow keys move the chosen handle by 0.1 mm, with *Shift* by 1 mm, and go from frame to frame. A right click opens a menu for what lies under the pointer.

- **As drawn** (full line): a smooth line through the handles that are held (●). A released handle (○) lets the line take its easiest course.
- **Free** (long dashes): the course of a strip that is not forced sideways, set by its hold handle (■) and its aim handle (◆). Without an aim it takes the default heading. Drag the small ring at any other frame to aim there.
- **Least edge-set** (dash and dot): the easiest course between the held handles.

Beside the chosen line **short dashes with a +** on every frame show **where the strip lies by itself**, by its width, thickness and wood, held where the panel says. Drag the line till both lie together: the status line then says that the strip lies here by itself, within 0.25 mm, and before that how far off it lies and at which frame most. The row of numbers under the gauge strip tells how far below the line (with a minus: above) it lies at each frame. *Follows*, under *Line*, is what a free line runs as: **a thin batten**, or **the strip itself**; then dots show the batten beside it. Where it cannot be told how the strip lies, nothing is drawn, and the panel says why.

A cross marks where a free line runs out over a limit; *Problems* say by how much.

**Lay all lines…** searches for lines between bands of whole strips, with each line in turn as the free one: few strakes, few drops and wedges, little edge-set, little wood lost. It shows at most seven ways of which none is better than another in all of these, and the plan as it is beside them. Point at a row or a mark to read what taking it would do, with its warnings; one click takes it, and one Undo takes it back. The laying then begins at the free line and goes outward; *Box, shop* under Stock sets another order, or the strake or line to begin at.

A strip along a free line lies unforced, and where the hull is round both ways each whole strip laid against the one before is forced a little more. *March out from the free strips*, in the Planking menu or under *Line*, shows these strips on the profile in place of the strakes, heavy where they are forced over what the plan's rule allows; a triangle marks the first of each way into a band. The plot shows how the strain gathers from strip to strip, and the sentences under it from which one on to taper or to fit wedges.

The **lofted hull** is turned by dragging and brought nearer by the wheel, or by *+* and *-*. *View* looks at it from a named place (keys *1* to *8*): off the bow, bow, beam, stern, off the stern, above, below, and keel up, as it lies at the bench. *Fit* shows the whole of it, *Home* as it was seen first; *F* gives it the whole board and takes it back. It is shown in **wood**, or as a **map** of edge-set or of how the strips fit: in three steps each way, told apart by colour and by the slant and closeness of the hatching, with its figures on the bar under it and the greatest of all on the hull. Keel, posts and frames are drawn in usual proportions where the plan does not tell their size; they are not to be measured.

**Lay a strip over the frames**, on the lofted hull, shows how a strip of the chosen strake or line lies on the bare frames: hatched where it stands off, with the mm at each frame, a disc where it is held, and an arrow with the newtons for each force. *Press it on* plays it from the first contact to the last, *Let go* back again; *Space* starts and stops, *Escape* stops, the arrow keys go on by a step. *Hold at* says where it is held; a click on a frame, or on the strip there, holds it or lets it go. Point at a frame to read all of it. A change of the plan takes the strip off. A strip held down springs when a clamp or pin slips: mind eyes and fingers.

## Limits

Both **limits** have a handle (small) at every planked frame, which you drag, nudge and put back as those of band lines: the limit is then set in by so much of the frame's girth. Through the frames where it is set in (●) it runs as a batten does; one alone sets it in all along. A right click on a handle releases it there. Band lines keep their girths below the upper limit. *Limits…*, in the Planking menu, names the limits, sets them in by numbers, and says from which frame to which the hull is planked: beyond, frames are dashed, **filler blocks** stand, and nothing is counted. A frame canted or leaning off square is drawn as it stands, and its vertical runs through where the chosen line or strake crosses it.

Of several **layers**, each may be laid between frames of its own (*Wood*). Where one would fold on the outer face of that below, *Problems* tells it with a button for each way out: thinner strips, other frames, or a block of solid wood.

## What the words mean

- **Edge-set**: bending a strip in its own plane, sideways. A strip bends easily about its face and twists, but fights edge-set.
- **Lie-off**: how far a thin batten (or the strip, where the line follows that) falls from the line.
- **Girth**: length along a frame from the upper limit down.
- **Width on the frame** marks the frame; **width to cut** is across the strake, and cuts the wood.
- **Taper** (▾): the strip is wider than needed. Where whole strips leave the band open they creep apart a little; what is over that is gathered into a **wedge**, or a **stealer** if at least half a strip wide, near the ends of the hull or where strips twist off. Where no wedge may lie, strakes are cut **wider than their strips** (◂▸), from sheet. **Drop strake**: where strakes get narrower than half a strip, one ends on a frame in a **nib**, cut off square, and its neighbour, notched for it, goes on in the place of both.
- **Straight cuts**: the fewest by which a strip is planed near enough to its strake's width, told by their ends. Strakes cut alike are clamped together and planed in one, before their edges are bevelled.
- **Made**: a strake is **sprung** from a strip, **spiled** (╱: its shape cut from sheet) or carved from a **block** (╳). The rules choose by its edge-set, width, bend and twist against its wood, and say why; choose another way under *Bands*, or in the strake's menu on the drawings, which hatch what is cut one way and what is carved both ways.
- **Bevel**: what is planed off an edge, so that strips close over a turn. Where a layer's edges stay square, only those at the wale and the rabbet are bevelled.
- **Hood end**: the end of a strake at stem or sternpost. The *Steps* tell at which angle its face stands to the hull's centre plane, and how its end is cut to lie in it.
- **Garboard**: the lowest strake, next to the keel; its lower edge is bevelled to the rabbet.
- **Creep**: how much a strip takes up as laid over its own width.

## The wood

**Stock**, beside the table of strakes, is where the wood is chosen and bought. *Compare* lays the layer in strips of any widths, thicknesses and woods side by side; choose a row and use it. *Mix* finds, of up to three widths, what leaves the least to shave or fill in each band. *Wood* tells what soaking does to a run of strips, and how much of what you measured is swelling. *Box, shop* holds the strips you have and those on sale, and the rules of cutting; *Cutting* cuts every strake from them, the box first. *Seams* keeps the seams of an outer layer off those beneath. A heading with a question mark shows how its figure is reckoned.

## The bench

**Bench** at the left is for the work itself, each side of the ship on its own. Under *Note* choose a strake and a frame, and tell with one click what was done to it, or enter what you measured: what is left of the band, the width of a strake, a gap, or before planking the girth of a bare frame; and how finely you read it. It is in the plan's file at once, and one Undo each. *Rest* tells your own creep, what is left, both between two figures that hold 19 times in 20, whether the last strake will fit and which measurement would tell most, and what the strakes to go change to; where they no longer fit it offers ways, each with what follows. A measurement that can hardly be is asked about as soon as it is noted, and says whether it is believed all the same; it is never refused. At the foot of *Rest* what this build has taught goes into a file of your own, and what others taught comes from it. What is measured wet waits for the dry measurement. *Steps* leads through the laying of one strake, *Order* is there to tick off, and *Days* goes back to any day. The gauge strip shows what the bench asks for with dots and squares, and the table tells it under *Bench width* and *Bench change*.

*From a photograph…* reads what is left of the band at all frames at once. Open a photo of that side, and mark known places in it, in the order offered: ends of frames, and seams already laid; six or more over several frames, or four of one frame to read that one alone. *Enter* passes over what cannot be seen. Dashed lines then show the frames as the camera saw them: look whether they lie on those of the photo. A place that the others contradict is named, and left out. Then mark the edges of what is left, where they meet the frames; the table tells what is left with its bound, which holds in 95 of 100 cases. Nothing is noted before you press the button, and it is one Undo.

## The views

Wheel: nearer and farther. Drag the paper to shift it, the hull to turn it. Double click or *Home*: show the whole. Right click on the hull: what its colours tell. A right click on any view also gives it the whole window, or saves it as a picture (SVG, PDF or PNG).

**Layout ▾** lays the window out for a part of the work. *Ctrl+1* to *Ctrl+6* give one pane the whole window and take it back, *Ctrl+0* shows them all; *Panes in sight*, in the View menu, puts single ones away. The window opens again with the size, panes, units and light that you left it with.

In the table, a strake's name, length and verdict stay where they are while the frames pass by. A right click copies its row or the whole table, to be pasted into a spreadsheet; on the tables under Stock it sorts the rows as well.

## Keys

- *Ctrl+O* open, *Ctrl+S* save, *Ctrl+Shift+S* save as, *Ctrl+W* close, *F11* full screen.
- *Ctrl+Z* undo, *Ctrl+Y* or *Ctrl+Shift+Z* redo. A right click on Undo or Redo lists the steps: choose how far to go.
- *Ctrl+L* lay all lines, *Ctrl+K* compare strips, *Ctrl+P* paper, *Ctrl+E* export the table, *Ctrl+Shift+C* copy it, *Ctrl+T* trace a picture, *Ctrl+D* light or dark.
{keys}
## Take care

Knife: a supported straight edge, several light scores, fingers behind the blade, cut away from the body. Bending iron and steam: burns; keep leads and water apart. Sanding dust: extraction and a mask; some hardwoods are sensitisers. Glues and solvents: ventilation, gloves, the maker's sheet. Makers' sheets and local rules come before anything said here. Bends and strains called rules of thumb are just that.

## Licences

The modules that the program is built with have terms of their own. *strakewright licences*, in a shell, prints the notices of all of them.
`

// help shows the help page.
func help(d *desk.Desk) {
	shown := d.Shown("How to use the board", container.NewVScroll(kit.Prose(strings.Replace(helpText, "{keys}", keyList(), 1))))
	s := d.Win.Canvas().Size()
	shown.Resize(fyne.NewSize(fyne.Min(720, s.Width*0.9), fyne.Min(620, s.Height*0.9)))
	shown.Show()
}

// keyList is the list of the keys that are in no menu.
func keyList() string {
	var out strings.Builder
	for _, of := range []struct {
		where string
		keys  []kit.KeyUse
	}{{"", windowKeys}, {"", kit.ControlKeys}, {"on a drawing, ", boards.Keys}} {
		for _, k := range of.keys {
			fmt.Fprintf(&out, "- *%s*: %s%s.\n", k.Keys, of.where, k.Does)
		}
	}
	return out.String()
}
