package trace

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/source"
)

// KeptSuffix ends the name of the file in which a tracing is kept, after the
// name of its first picture.
const KeptSuffix = ".straketrace"

// The beginning of a tracing's file, and its limits.
const (
	keptFormat   = source.TracingFormat
	keptVersion  = 1
	largestKeep  = 16 << 20 // bytes
	mostKept     = 1000     // frames, and pictures
	mostKeptMark = 10000    // points of a half
)

// Kept is a tracing as it is kept in a file. It holds no pictures, only where
// they are.
type Kept struct {
	Format   string        `json:"format"`
	Version  int           `json:"version"`
	Bow      string        `json:"bow"` // "first" at the least x, or "last"
	Pictures []keptPicture `json:"pictures"`
	Frames   []keptFrame   `json:"frames"`
}

// keptPicture is a picture and its scale. Points are in pixels.
type keptPicture struct {
	File   string     `json:"file"` // relative to the tracing's folder, where possible
	Path   string     `json:"path"` // the full path when it was last opened
	Page   int        `json:"page,omitempty"`
	Pixels [2]int     `json:"pixels"` // width and height to which the points refer
	Scale  *keptScale `json:"scale,omitempty"`
	keptDatum
}

type keptScale struct {
	Points   [][2]float64 `json:"points"`
	Distance float64      `json:"distance,omitempty"` // mm
	Upright  bool         `json:"upright,omitempty"`
	Width    float64      `json:"width,omitempty"`  // mm
	Height   float64      `json:"height,omitempty"` // mm
}

type keptDatum struct {
	Centre *[2]float64 `json:"centre,omitempty"`
	Base   *[2]float64 `json:"base,omitempty"`
}

type keptFrame struct {
	Name    string        `json:"name"`
	X       float64       `json:"x"` // mm
	Picture int           `json:"picture"`
	Halves  [2][]keptMark `json:"halves"`
	Own     *keptDatum    `json:"own,omitempty"`
}

type keptMark struct {
	At       [2]float64 `json:"at"`
	Snapped  bool       `json:"snapped,omitempty"`
	Knuckle  bool       `json:"knuckle,omitempty"`
	Followed bool       `json:"followed,omitempty"` // it was not clicked
}

func asKept(p Point) [2]float64 { return [2]float64{p.X, p.Y} }
func (d keptDatum) datum() (t Datum) {
	if d.Centre != nil {
		t.Centre, t.HasCentre = Point{d.Centre[0], d.Centre[1]}, true
	}
	if d.Base != nil {
		t.Base, t.HasBase = Point{d.Base[0], d.Base[1]}, true
	}
	return t
}

func keepDatum(d Datum) (k keptDatum) {
	if d.HasCentre {
		c := asKept(d.Centre)
		k.Centre = &c
	}
	if d.HasBase {
		b := asKept(d.Base)
		k.Base = &b
	}
	return k
}

// worthKeeping reports whether a tracing holds anything that took work.
func (t *Trace) worthKeeping() bool {
	for _, g := range t.now.grounds {
		if g.Calibration.Set() || g.Datum != (Datum{}) {
			return true
		}
	}
	return !t.Empty()
}

// Keep gives the tracing in the form in which it is kept at a path.
func (t *Trace) Keep(path string) Kept {
	k := Kept{Format: keptFormat, Version: keptVersion, Bow: "first"}
	if t.now.bow == hull.BowLast {
		k.Bow = "last"
	}
	for _, g := range t.now.grounds {
		k.Pictures = append(k.Pictures, keepGround(g, filepath.Dir(path)))
	}
	for _, f := range t.now.frames {
		kf := keptFrame{Name: f.Name, X: f.X, Picture: f.Ground}
		for h, marks := range f.Halves {
			kf.Halves[h] = []keptMark{}
			for _, m := range marks {
				kf.Halves[h] = append(kf.Halves[h], keptMark{asKept(m.At), m.Snapped, m.Knuckle, m.Followed})
			}
		}
		if f.Own != nil {
			d := keepDatum(*f.Own)
			kf.Own = &d
		}
		k.Frames = append(k.Frames, kf)
	}
	return k
}

func keepGround(g Ground, folder string) keptPicture {
	w, h := g.Picture.Size()
	p := keptPicture{File: filepath.ToSlash(g.Picture.Path), Path: g.Picture.Path, Page: g.Picture.Page, Pixels: [2]int{w, h}, keptDatum: keepDatum(g.Datum)}
	if whole, err := filepath.Abs(p.Path); err == nil {
		p.Path = whole
		if rel, err := filepath.Rel(folder, whole); err == nil {
			p.File = filepath.ToSlash(rel)
		}
	}
	if c := g.Calibration; c.Set() {
		s := &keptScale{}
		for _, q := range c.Points {
			s.Points = append(s.Points, asKept(q))
		}
		if len(c.Points) == 4 {
			s.Width, s.Height = c.Known[0], c.Known[1]
		} else {
			s.Distance, s.Upright = c.Known[0], c.Lie == Upright
		}
		p.Scale = s
	}
	return p
}

// Write writes the tracing to a file, whole or not at all.
func (k Kept) Write(path string) error {
	return keep.ReplaceFile(path, func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetIndent("", " ")
		return e.Encode(k)
	})
}

// ReadKept reads a tracing from its file. The error is one sentence.
func ReadKept(path string) (Kept, error) {
	var k Kept
	name := filepath.Base(path)
	f, err := openPlain(path, largestKeep)
	if err != nil {
		return k, err
	}
	defer func() { _ = f.Close() }()
	data, err := contents(io.LimitReader(f, largestKeep+1), sizeOf(f))
	switch {
	case err != nil:
		return k, tongue.Errorf("%s: the tracing cannot be read: %w", name, err)
	case len(data) > largestKeep:
		return k, tongue.Errorf("%s: the file is larger than any tracing; put it aside", name)
	}
	if err := json.Unmarshal(data, &k); err != nil || k.Format != keptFormat {
		return k, tongue.Errorf("%s: it is not a tracing, or it is damaged; put it aside, and start a new one", name)
	}
	if k.Version > keptVersion {
		return k, tongue.Errorf("%s: it was written by a newer version of this program; use that one", name)
	}
	if err := k.check(); err != nil {
		return k, tongue.Errorf("%s: the tracing is damaged: %w; put it aside, and start a new one", name, err)
	}
	return k, nil
}

// check says what is wrong with a tracing that was read.
func (k *Kept) check() error {
	if len(k.Pictures) == 0 {
		return tongue.New("it has no picture")
	}
	if len(k.Pictures) > mostKept || len(k.Frames) > mostKept {
		return tongue.New("it has too many pictures or frames")
	}
	for i, p := range k.Pictures {
		if min(p.Pixels[0], p.Pixels[1]) < shortestSide {
			return tongue.Errorf("picture %d has no size", i+1)
		}
		if p.Scale != nil {
			if _, err := p.Scale.calibration(1, 1); err != nil {
				return tongue.Errorf("picture %d: %w", i+1, err)
			}
		}
	}
	names := state{}
	for _, f := range k.Frames {
		if err := names.free(f.Name, -1); err != nil {
			return err
		}
		names.frames = append(names.frames, Frame{Name: f.Name})
		if f.Picture < 0 || f.Picture >= len(k.Pictures) {
			return tongue.Errorf("frame %s has no picture", f.Name)
		}
		if len(f.Halves[0]) > mostKeptMark || len(f.Halves[1]) > mostKeptMark {
			return tongue.Errorf("frame %s has too many points", f.Name)
		}
	}
	return nil
}

// calibration sets the scale again, in a picture fx times as wide and fy times
// as high.
func (s *keptScale) calibration(fx, fy float64) (Calibration, error) {
	var pts []Point
	for _, p := range s.Points {
		pts = append(pts, Point{p[0] * fx, p[1] * fy})
	}
	switch len(pts) {
	case 2:
		lie := Level
		if s.Upright {
			lie = Upright
		}
		return ByTwo(pts[0], pts[1], s.Distance, lie)
	case 4:
		return ByFour([4]Point(pts), s.Width, s.Height)
	}
	return Calibration{}, tongue.Errorf("its scale is set by %d points, not by 2 or 4", len(pts))
}

// Source is where a picture of a tracing is.
type Source struct {
	Path string
	Page int
}

// Sources says where the pictures of a tracing kept at a path are: relative to
// its own folder, or otherwise where they were when it was kept.
func (k *Kept) Sources(path string) []Source {
	var out []Source
	for _, p := range k.Pictures {
		at := filepath.Join(filepath.Dir(path), filepath.FromSlash(p.File))
		if filepath.IsAbs(filepath.FromSlash(p.File)) {
			at = filepath.FromSlash(p.File)
		}
		if _, err := os.Stat(at); err != nil {
			at = p.Path
		}
		out = append(out, Source{at, p.Page})
	}
	return out
}

// Resume continues a tracing, on its pictures in order. A picture that has
// become larger or smaller keeps its points, as long as it has the same
// proportions.
func Resume(k Kept, ps []*Picture) (*Trace, error) {
	if len(ps) != len(k.Pictures) {
		return nil, tongue.New("a picture of the tracing is missing")
	}
	t := New()
	if k.Bow == "last" {
		t.now.bow = hull.BowLast
	}
	scale := make([]Point, len(ps))
	for i, p := range k.Pictures {
		w, h := ps[i].Size()
		fx, fy := float64(w)/float64(p.Pixels[0]), float64(h)/float64(p.Pixels[1])
		if math.Abs(fx-fy) > 0.01*fx {
			return nil, tongue.Errorf("%s: it is not the picture that was traced, which was %d x %d pixels; put that one back", ps[i].Name, p.Pixels[0], p.Pixels[1])
		}
		scale[i] = Point{fx, fy}
		g := Ground{Picture: ps[i], Datum: scaled(p.datum(), scale[i])}
		if p.Scale != nil {
			c, err := p.Scale.calibration(fx, fy)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", ps[i].Name, err)
			}
			g.Calibration = c
		}
		t.now.grounds = append(t.now.grounds, g)
	}
	t.now.ground = 0
	for _, f := range k.Frames {
		t.now.frames = append(t.now.frames, f.frame(scale[f.Picture]))
	}
	if n := len(t.now.frames); n > 0 {
		t.Choose(n - 1)
	}
	return t, nil
}

func scaled(d Datum, f Point) Datum {
	d.Centre, d.Base = Point{d.Centre.X * f.X, d.Centre.Y * f.Y}, Point{d.Base.X * f.X, d.Base.Y * f.Y}
	return d
}

func (f keptFrame) frame(by Point) Frame {
	out := Frame{Name: f.Name, X: f.X, Ground: f.Picture}
	for h, marks := range f.Halves {
		for _, m := range marks {
			out.Halves[h] = append(out.Halves[h], Mark{At: Point{m.At[0] * by.X, m.At[1] * by.Y}, Snapped: m.Snapped, Knuckle: m.Knuckle, Followed: m.Followed})
		}
	}
	if f.Own != nil {
		d := scaled(f.Own.datum(), by)
		out.Own = &d
	}
	return out
}

// keptPaths are the places at which a picture's tracing is kept: beside it, or
// in the user's cache if that folder cannot be written.
func keptPaths(picture string) []string {
	whole, err := filepath.Abs(picture)
	if err != nil {
		whole = picture
	}
	out := []string{whole + KeptSuffix}
	if own, err := keep.OwnFolder(); err == nil {
		sum := sha256.Sum256([]byte(whole))
		out = append(out, filepath.Join(own, fmt.Sprintf("%s-%x%s", filepath.Base(whole), sum[:4], KeptSuffix)))
	}
	return out
}

// FindKept finds the tracing kept for a picture, the later one if there are
// two.
func FindKept(picture string) (path string, ok bool) {
	var latest fs.FileInfo
	for _, p := range keptPaths(picture) {
		if info, err := os.Stat(p); err == nil && info.Mode().IsRegular() && (latest == nil || info.ModTime().After(latest.ModTime())) {
			path, latest = p, info
		}
	}
	return path, latest != nil
}

// PutAside renames a tracing that is not wanted, so that nothing is lost.
func PutAside(path string) (aside string, err error) {
	aside = path + ".old"
	for n := 2; ; n++ {
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			break
		}
		aside = fmt.Sprintf("%s.old%d", path, n)
	}
	if err := os.Rename(path, aside); err != nil {
		return "", tongue.Errorf("the tracing cannot be put aside: %w", err)
	}
	return aside, nil
}
