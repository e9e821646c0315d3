package source

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// A mesh is recognised by its contents, whatever its name, and is a source like any
// other.
func TestAMeshIsASource(t *testing.T) {
	skin := sourcetest.Skin(sourcetest.Wigley, -300, 300, 24, 10, 0)
	for name, data := range map[string][]byte{"a.stl": skin.TextSTL(), "b.csv": skin.BinarySTL(), "c": skin.OBJ(), "d.zip": skin.ThreeMF("millimeter", "")} {
		path := filepath.Join(t.TempDir(), name)
		require.NoError(t, os.WriteFile(path, data, 0o600))
		c := Check(path, drawing.Options{Half: drawing.RightHalf})
		require.Empty(t, c.Faults, name)
		assert.Equal(t, Mesh, c.Kind)
		assert.NotEmpty(t, c.Notes)
		p, kind, err := Open(path)
		require.NoError(t, err)
		assert.Equal(t, Mesh, kind)
		assert.Len(t, p.Hull.Frames, 20)
		p, notes, err := TakeOffMesh(context.Background(), path, mesh.Options{Every: 50})
		require.NoError(t, err)
		assert.Len(t, p.Hull.Frames, 11, "the ends have no breadth")
		assert.NotEmpty(t, notes)
		assert.Equal(t, name[:1], p.Title)
		c = Check(path, drawing.Options{Factor: 2})
		require.Len(t, c.Faults, 1)
		assert.ErrorContains(t, c.Faults[0], "it is not a drawing")
	}
}

func TestOnlyAMeshIsSliced(t *testing.T) {
	path := filepath.Join(t.TempDir(), "boat.csv")
	require.NoError(t, os.WriteFile(path, []byte("frame,x_mm,girth_mm\nA,0,50\nB,100,60\nC,200,50\n"), 0o600))
	_, _, err := TakeOffMesh(context.Background(), path, mesh.Options{Every: 50})
	assert.ErrorContains(t, err, "it is not a mesh")
	assert.False(t, IsMesh(path))
}
