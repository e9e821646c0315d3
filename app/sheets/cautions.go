package sheets

// The cautions stand where the step is shown; they are common practice and
// defer to those who make the tool or the stuff, and to local rules.
const (
	knifeCaution = "Hold the straight edge down on a firm support, score lightly several times, keep the fingers behind the blade and cut away from the body. Sanding and planing make dust: extract it and wear a mask; some hardwoods irritate. Follow the makers' sheets and local rules."
	bendCaution  = "Bending irons, steam and hot water burn: use gloves and tongs, stand clear of steam when a box is opened, keep leads and water apart, and leave nothing hot unwatched. Follow the makers' sheets and local rules."
	bendThumb    = "Woods differ, and so do strips of one wood: try an offcut first, and set the plan's rules bend_dry, bend_soaked and bend_hot to suit. Round: the diameter of the form for the strip's inner face; wood springs back, so choose one a little smaller."
	carveCaution = "Carve away from the hand that holds the block, with the block clamped; a sharp tool slips less. Sanding makes dust: extract it and wear a mask. Follow the makers' sheets and local rules."
)
