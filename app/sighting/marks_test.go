package sighting

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/loft/sight"
)

// All that a table of marks may hold, with semicolons and decimal commas.
func TestATableOfMarks(t *testing.T) {
	k := lug(t)
	m, found := read(strings.NewReader(`What;frame;y;x;strake;mm;on;side;px
cropped;;3000;4000
upper;A;10,5;20
rabbet;B;30;40;;;;other
seam;C;50;60;1.02
seam;C;50;60;1.02;;frame
girth;D;70;80;;12,5;plank
above;E;90;100;;;;;1,5
below;E;95;105;;;plank
`), "marks.csv", k, 0)
	require.Empty(t, found)
	assert.Equal(t, sight.Picture{Width: 4000, Height: 3000, Cropped: true}, m.Picture)
	coarse := sight.Clicked(100, 90)
	coarse.Across, coarse.Along = 1.5, 1.5
	assert.Equal(t, []sight.Known{
		{Mark: sight.Clicked(20, 10.5), What: sight.UpperLimit, Frame: 0},
		{Mark: sight.Clicked(40, 30), What: sight.Rabbet, Frame: 1, Beyond: true},
		{Mark: sight.Clicked(60, 50), What: sight.SeamBelow, Frame: 2, Strake: 1},
		{Mark: sight.Clicked(60, 50), What: sight.SeamBelow, Frame: 2, Strake: 1, Face: sight.OnFrame},
		{Mark: sight.Clicked(80, 70), What: sight.AtGirth, Frame: 3, Girth: 12.5, Face: sight.OnPlank},
	}, m.Known)
	assert.Equal(t, []sight.Edge{
		{Mark: coarse, Frame: 4, Of: sight.Above},
		{Mark: sight.Clicked(105, 95), Frame: 4, Of: sight.Below, Face: sight.OnPlank},
	}, m.Edges)
}

// Each fault is told with its line, and how to mend it.
func TestFaultsOfATableOfMarks(t *testing.T) {
	k := lug(t)
	const head = "what,frame,x,y,strake,mm,on,side,px\npicture,,4000,3000\n"
	for _, c := range []struct{ text, want string }{
		{"", "m.csv: "},
		{"what,frame,x\n", "m.csv, line 1: the column y is missing; begin with the header what,frame,x,y"},
		{"what,frame,x,y,z\n", "m.csv, line 1: there is no column z in a table of marks; "},
		{head + "upper,A,left,2\n", "m.csv, line 3, frame A: x "},
		{head + "upper,A,1,2e9\n", "m.csv, line 3, frame A: y "},
		{head + "picture,,10,10\n", "m.csv, line 3: the size of the picture is given twice; keep one of the rows."},
		{head + "above,A,1,2\nabove,A,3,4\n", "m.csv, line 4, frame A: the edge above is marked twice; keep one of the rows."},
		{head + "seam,A,1,2,9.99\n", "m.csv, line 3, frame A: layer 1 has no strake 9.99; name the strake above the seam, as 1.05."},
		{head + "girth,A,1,2,,9999\n", "m.csv, line 3, frame A: mm is 9999; give it from 0 to "},
		{head + "girth,A,1,2\n", "m.csv, line 3, frame A: mm "},
		{head + "upper,A,1,2,,,keel\n", "m.csv, line 3, frame A: it cannot be seen on keel; write frame or plank, or leave it out."},
		{head + "upper,A,1,2,,,,port\n", "m.csv, line 3, frame A: the side of the mark is port; write other, or leave it out for the side that is read."},
		{head + "upper,A,1,2,,,,,0\n", "m.csv, line 3, frame A: px is 0; give it from 0.01 to 100."},
	} {
		_, found := read(strings.NewReader(c.text), "m.csv", k, 0)
		require.NotEmpty(t, found, c.text)
		assert.True(t, strings.HasPrefix(found[0].Error(), c.want), "%s\n%s", found[0].Error(), c.want)
	}
}
