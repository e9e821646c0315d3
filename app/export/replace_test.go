package export

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/strakewright/strakewright/app/draw/proof"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// coasterSet and skiffSet are small sets of two ships: both have a booklet, and
// each has a sheet and a folder that the other lacks.
var (
	coasterSet = []string{"booklet.pdf", "the coaster", "svg/keel.svg", "her keel", "svg/layer-2.svg", "a second layer", "dxf/layer-2.dxf", "to cut it"}
	skiffSet   = []string{"booklet.pdf", "the skiff", "svg/keel.svg", "a short one", "tables/wedges.csv", "none"}
)

// TestTheSheetsOfAnotherShipGo: nobody should cut a sheet of the ship that was
// planned before.
func TestTheSheetsOfAnotherShipGo(t *testing.T) {
	for how, beside := range map[string][]string{"the whole folder": nil, "file by file": {"notes.txt", "glue on Monday"}} {
		t.Run(how, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "bench")
			replaced(t, dir, texts(coasterSet...))
			for i := 0; i < len(beside); i += 2 {
				put(t, dir, beside[i], beside[i+1])
			}
			c := replaced(t, dir, texts(skiffSet...))
			assert.Equal(t, with(treeOf(skiffSet...), beside...), tree(t, dir))
			assert.ElementsMatch(t, []string{"svg/layer-2.svg", "dxf/layer-2.dxf"}, c.removed)
			assert.Len(t, c.left, len(beside)/2)
			assert.Len(t, tree(t, filepath.Dir(dir)), len(tree(t, dir))+1, "nothing is left beside it")
			c = replaced(t, dir, texts(skiffSet...))
			assert.Empty(t, c.removed)
		})
	}
}

// TestWhatAPersonDidStays: whatever somebody put into the folder, changed or
// protected there is neither lost nor ignored.
func TestWhatAPersonDidStays(t *testing.T) {
	dir := t.TempDir()
	replaced(t, dir, texts(coasterSet...))
	put(t, dir, "notes.txt", "glue on Monday")
	put(t, dir, "photos/stem.jpg", "a photo")
	put(t, dir, ".directory", "of a file manager")
	put(t, dir, "svg/layer-2.svg", "a second layer, with pencil marks")
	put(t, dir, "svg/keel.svg", "her keel, with pencil marks")
	put(t, dir, "tables/wedges.csv", "my own table")
	require.NoError(t, os.Chmod(filepath.Join(dir, "dxf/layer-2.dxf"), 0o400))
	c := replaced(t, dir, texts(skiffSet...))
	assert.Equal(t, with(treeOf(skiffSet...),
		"notes.txt", "glue on Monday", "photos/", "", "photos/stem.jpg", "a photo", ".directory", "of a file manager",
		"svg/layer-2.svg", "a second layer, with pencil marks", "svg/keel (kept).svg", "her keel, with pencil marks",
		"tables/wedges (kept).csv", "my own table", "dxf/", "", "dxf/layer-2.dxf", "to cut it",
	), tree(t, dir))
	assert.Empty(t, c.removed)
	assert.ElementsMatch(t, []string{"notes.txt", "photos/", "svg/layer-2.svg", "svg/keel (kept).svg", "tables/wedges (kept).csv", "dxf/layer-2.dxf"}, c.left)

	// And again: a second change of the same sheet gets a name of its own.
	put(t, dir, "svg/keel.svg", "the short one, with pencil marks")
	c = replaced(t, dir, texts(skiffSet...))
	assert.Contains(t, c.left, "svg/keel (kept 2).svg")
	assert.Equal(t, "her keel, with pencil marks", tree(t, dir)["svg/keel (kept).svg"])
}

// TestWholeFoldersAreExchanged where that is possible, so that there is never a
// mixture: seen by the folder being a different one afterwards.
func TestWholeFoldersAreExchanged(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("two folders can be exchanged in one step on Linux alone")
	}
	dir := filepath.Join(t.TempDir(), "bench")
	same := func(write func()) bool {
		before, err := os.Stat(dir)
		require.NoError(t, err)
		write()
		after, err := os.Stat(dir)
		require.NoError(t, err)
		return os.SameFile(before, after)
	}
	require.NoError(t, os.Mkdir(dir, 0o750))
	assert.False(t, same(func() { replaced(t, dir, texts(coasterSet...)) }), "an empty folder")
	require.NoError(t, os.Chmod(filepath.Join(dir, "svg"), 0o700))
	assert.False(t, same(func() { replaced(t, dir, texts(skiffSet...)) }), "an earlier set alone")
	for of, mode := range map[string]fs.FileMode{"": 0o750, "svg": 0o700} {
		info, err := os.Stat(filepath.Join(dir, of))
		require.NoError(t, err)
		assert.Equal(t, mode, info.Mode().Perm(), "permissions stay")
	}
	put(t, dir, "notes.txt", "glue on Monday")
	assert.True(t, same(func() { replaced(t, dir, texts(coasterSet...)) }), "with a person's file")
	require.NoError(t, os.Remove(filepath.Join(dir, "notes.txt")))

	// A shell whose working folder it is keeps it.
	t.Chdir(dir)
	assert.True(t, same(func() { replaced(t, ".", texts(skiffSet...)) }))
	assert.Equal(t, treeOf(skiffSet...), tree(t, dir))
}

// TestLinksAreFollowed: a link to a folder stays a link.
func TestLinksAreFollowed(t *testing.T) {
	root := t.TempDir()
	dir, link := filepath.Join(root, "disk", "bench"), filepath.Join(root, "link")
	if err := os.Symlink(dir, link); err != nil {
		t.Skip("no links here: ", err)
	}
	_, err := writeAll(context.Background(), link, texts(skiffSet...), false, quiet)
	assert.ErrorContains(t, err, "is a broken link")
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for _, s := range [][]string{coasterSet, skiffSet} {
		replaced(t, link, texts(s...))
		assert.Equal(t, treeOf(s...), tree(t, dir))
	}
	to, err := os.Readlink(link)
	require.NoError(t, err)
	assert.Equal(t, dir, to)
	there, err := os.ReadDir(root)
	require.NoError(t, err)
	assert.Len(t, there, 2)

	// A link among the set's own folders leads out of it: nothing is written there.
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "svg")))
	require.NoError(t, os.Symlink(root, filepath.Join(dir, "svg")))
	_, err = writeAll(context.Background(), dir, texts(coasterSet...), true, quiet)
	assert.ErrorContains(t, err, filepath.Join(dir, "svg")+" is a file where a folder is needed")
	assert.Equal(t, "the skiff", tree(t, dir)["booklet.pdf"])
	there, err = os.ReadDir(root)
	require.NoError(t, err)
	assert.Len(t, there, 2)
}

// TestAListNamesOnlyWhatIsBelow: a list that was tampered with removes nothing
// that is not the set's.
func TestAListNamesOnlyWhatIsBelow(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "bench")
	put(t, root, "plan.strakeplan", "a plan")
	s, err := sumOf(context.Background(), filepath.Join(root, "plan.strakeplan"))
	require.NoError(t, err)
	replaced(t, dir, texts(coasterSet...))
	list := tree(t, dir)[listName]
	for _, name := range []string{"../plan.strakeplan", filepath.Join(root, "plan.strakeplan"), "svg/../../plan.strakeplan", "", "."} {
		list += fmt.Sprintf("%s  %s\n", s, name)
	}
	put(t, dir, listName, list+"nonsense\n"+strings.Repeat("z", 64)+"  booklet.pdf\n")
	replaced(t, dir, texts(skiffSet...))
	assert.Equal(t, "a plan", tree(t, root)["plan.strakeplan"])
	assert.Equal(t, treeOf(skiffSet...), tree(t, dir))
}

// TestAListSurvivesAnEditor that changes the line ends.
func TestAListSurvivesAnEditor(t *testing.T) {
	dir := t.TempDir()
	replaced(t, dir, texts(coasterSet...))
	put(t, dir, listName, strings.ReplaceAll(tree(t, dir)[listName], "\n", "\r\n"))
	replaced(t, dir, texts(skiffSet...))
	assert.Equal(t, treeOf(skiffSet...), tree(t, dir))
}

// TestFilesOfNoListAreWrittenOver on request; the others stay.
func TestFilesOfNoListAreWrittenOver(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "booklet.pdf", "an old one")
	put(t, dir, "svg/other.svg", "another")
	put(t, dir, listName, "a person's own list\n")
	c := replaced(t, dir, texts(skiffSet...))
	assert.Equal(t, with(treeOf(skiffSet...), "svg/other.svg", "another"), tree(t, dir))
	assert.Equal(t, []string{"svg/other.svg"}, c.left)
}

// TestOneSetAtATime: a second run for the same folder is refused while one is
// under way, whatever name it uses for the folder.
func TestOneSetAtATime(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "bench")
	replaced(t, dir, texts(coasterSet...))
	tries := 0
	within := file{"tables/wedges.csv", func(w io.Writer) error {
		for _, name := range []string{dir, filepath.Join(root, ".", "bench") + string(filepath.Separator)} {
			_, err := writeAll(context.Background(), name, texts(coasterSet...), true, quiet)
			assert.ErrorContains(t, err, "another run is writing sheets into this folder")
			tries++
		}
		_, err := io.WriteString(w, "none")
		return err
	}}
	replaced(t, dir, append(texts(skiffSet[:4]...), within))
	assert.Equal(t, treeOf(skiffSet...), tree(t, dir))
	assert.Equal(t, 2, tries)
}

// TestManySetsAtOnce: of many runs some are refused, and in the end the folder
// holds one whole set. A person's file is there all the time.
func TestManySetsAtOnce(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "bench")
	put(t, dir, "notes.txt", "glue on Monday")
	var wg sync.WaitGroup
	for i := range 40 {
		wg.Go(func() {
			files := texts(coasterSet...)
			if i%2 == 1 {
				files = texts(skiffSet...)
			}
			if _, err := writeAll(context.Background(), dir, files, true, quiet); err != nil {
				assert.ErrorIs(t, err, errBusy)
			}
		})
	}
	wg.Wait()
	notes := []string{"notes.txt", "glue on Monday"}
	assert.Contains(t, []map[string]string{with(treeOf(coasterSet...), notes...), with(treeOf(skiffSet...), notes...)}, tree(t, dir))
	there, err := os.ReadDir(root)
	require.NoError(t, err)
	assert.Len(t, there, 1)
}

// TestWhatIsPutThereMeanwhile, while the set is being made, is neither
// overwritten nor lost.
func TestWhatIsPutThereMeanwhile(t *testing.T) {
	meanwhile := func(dir, name string) []file {
		return append(texts(skiffSet...), file{"tables.xlsx", func(w io.Writer) error {
			put(t, dir, name, "mine")
			return nil
		}})
	}
	dir := filepath.Join(t.TempDir(), "bench")
	_, err := writeAll(context.Background(), dir, meanwhile(dir, "booklet.pdf"), false, quiet)
	require.ErrorIs(t, err, fs.ErrExist)
	assert.Equal(t, map[string]string{"booklet.pdf": "mine"}, tree(t, dir))

	dir = filepath.Join(t.TempDir(), "bench")
	replaced(t, dir, texts(coasterSet...))
	replaced(t, dir, meanwhile(dir, "svg/mine.svg"))
	assert.Equal(t, "mine", tree(t, dir)["svg/mine.svg"])
	dir = filepath.Join(t.TempDir(), "bench")
	_, err = writeAll(context.Background(), dir, meanwhile(dir, "svg/mine.svg"), false, quiet)
	assert.Error(t, err, "a folder that was not there when it began")
	assert.Equal(t, map[string]string{"svg/": "", "svg/mine.svg": "mine"}, tree(t, dir))
}

// TestAnotherThingOfTheHiddenName is left alone.
func TestAnotherThingOfTheHiddenName(t *testing.T) {
	root := t.TempDir()
	put(t, root, ".strakewright-bench", "mine")
	_, err := writeAll(context.Background(), filepath.Join(root, "bench"), texts(skiffSet...), false, quiet)
	assert.ErrorContains(t, err, ".strakewright-bench is in the way")
	assert.Equal(t, map[string]string{".strakewright-bench": "mine"}, tree(t, root))
}

// TestLongNamesOfFolders: the hidden folder beside it has a name that still
// fits.
func TestLongNamesOfFolders(t *testing.T) {
	dir := filepath.Join(t.TempDir(), strings.Repeat("b", 250))
	for _, s := range [][]string{coasterSet, skiffSet} {
		replaced(t, dir, texts(s...))
		assert.Equal(t, treeOf(s...), tree(t, dir))
	}
}

// TestAnErrorLateLeavesAllAsItWas: at the last of many files.
func TestAnErrorLateLeavesAllAsItWas(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "bench")
	replaced(t, dir, texts(coasterSet...))
	var files []file
	for i := range 60 {
		files = append(files, text(fmt.Sprintf("svg/%02d.svg", i), "a sheet"))
	}
	files = append(files, file{"tables.xlsx", func(io.Writer) error { return errors.New("the ink ran out") }})
	_, err := writeAll(context.Background(), dir, files, true, quiet)
	assert.ErrorContains(t, err, "the ink ran out")
	assert.Equal(t, treeOf(coasterSet...), tree(t, dir))
}

// TestTheListIsSha256sums checks the list with the program whose format it has.
func TestTheListIsSha256sums(t *testing.T) {
	dir := t.TempDir()
	set := usual(t, coaster(t))
	w := written(t, set, dir)
	assert.Equal(t, listName, w.Files[len(w.Files)-1])
	out, err := inDir(dir, proof.Installed(t, "sha256sum"), "--check", "--strict", "--quiet", listName).CombinedOutput()
	assert.NoError(t, err, string(out))
	l, err := readList(dir)
	require.NoError(t, err)
	assert.Len(t, l, len(w.Files)-1)
}

func inDir(dir, program string, args ...string) *exec.Cmd {
	c := exec.Command(program, args...)
	c.Dir = dir
	return c
}

// TestTheSecondLayerGoes with the program's own settings and ships.
func TestTheSecondLayerGoes(t *testing.T) {
	k := coaster(t)
	dir := t.TempDir()
	both := written(t, usual(t, k), dir)
	s := Usual(k.Plan)
	s.Layer = 1
	w, err := made(t, k, s).Write(context.Background(), dir, true, nil)
	require.NoError(t, err)
	assert.Empty(t, w.Left)
	assert.Len(t, w.Removed, len(both.Files)-len(w.Files))
	for name := range tree(t, dir) {
		assert.NotContains(t, name, "layer-2")
	}
}
