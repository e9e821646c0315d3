//go:build linux

package trial

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
)

// The sound files that mutants are made of are those of an invented pram of five
// frames, each a quarter of an ellipse, or the demo's.

// frameOf is a frame of the pram; mm.
type frameOf struct {
	name           string
	x, half, sheer float64
}

var pram = []frameOf{{"A", 0, 25, 52}, {"B", 42, 35, 47}, {"C", 98, 41, 44}, {"D", 151, 37, 45}, {"E", 188, 29, 48}}

// at is a place on the frame, from 0 at the sheer to 1 at the keel.
func (f frameOf) at(share float64) (y, z float64) {
	sin, cos := math.Sincos(math.Pi / 2 * share)
	if share == 1 {
		cos = 0
	}
	return f.half * cos, f.sheer * (1 - sin)
}

// breadth is the half-breadth at a height.
func (f frameOf) breadth(z float64) float64 {
	w := 1 - z/f.sheer
	return f.half * math.Sqrt(max(1-w*w, 0))
}

func pointsTable(format string) string {
	var b strings.Builder
	for _, f := range pram {
		for i := range 9 {
			y, z := f.at(float64(i) / 8)
			fmt.Fprintf(&b, format, f.name, f.x, y, z)
		}
	}
	return b.String()
}

func girthsTable() string {
	var b strings.Builder
	b.WriteString("frame,x_mm,girth_mm,turn_deg\n")
	for i, f := range pram {
		fmt.Fprintf(&b, "%s,%g,%g,%d\n", f.name, f.x, 60+f.half/2, 60+3*i)
	}
	return b.String()
}

func offsetsTable() string {
	var b strings.Builder
	b.WriteString("offsets\nunit,mm\nscale,1:1\nto,outside\nplanking,1.5\n")
	row := func(kind, place string, at func(f frameOf) float64) {
		b.WriteString(kind + "," + place)
		for _, f := range pram {
			fmt.Fprintf(&b, ",%.2f", at(f))
		}
		b.WriteString("\n")
	}
	b.WriteString("station,,A,B,C,D,E\n")
	row("x", "", func(f frameOf) float64 { return f.x })
	row("height", "sheer", func(f frameOf) float64 { return f.sheer })
	row("half-breadth", "sheer", func(f frameOf) float64 { return f.half })
	for _, z := range []float64{36, 24, 12, 6} {
		row("half-breadth", fmt.Sprint(z), func(f frameOf) float64 { return f.breadth(z) })
	}
	row("height", "rabbet", func(frameOf) float64 { return 0.5 })
	row("half-breadth", "rabbet", func(frameOf) float64 { return 1.5 })
	return b.String()
}

func svgDrawing() string {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">` + "\n" + `<g transform="translate(0 2)"><path id="centre" d="M50 0V80"/></g>` + "\n")
	for _, f := range pram {
		fmt.Fprintf(&b, `<path id="%s-x-%g" d="M%g %g A%g %g 0 0 1 50 60"/>`+"\n", f.name, f.x, 50+f.half, 60-f.sheer, f.half, f.sheer)
	}
	return b.String() + `<circle id="note" cx="3" cy="4" r="1"/></svg>` + "\n"
}

func dxfDrawing() string {
	var b strings.Builder
	b.WriteString("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLINE\n8\ncentre\n10\n0\n20\n-5\n11\n0\n21\n70\n")
	for _, f := range pram {
		fmt.Fprintf(&b, "0\nLWPOLYLINE\n8\n%s-x-%g\n90\n9\n70\n0\n", f.name, f.x)
		for i := range 9 {
			y, z := f.at(float64(i) / 8)
			fmt.Fprintf(&b, "10\n%.4f\n20\n%.4f\n", y, z)
		}
	}
	return b.String() + "0\nENDSEC\n0\nEOF\n"
}

// pdfDrawing is a page with the frames as curves.
func pdfDrawing() string {
	var page strings.Builder
	page.WriteString("1 w 150 20 m 150 250 l S\n")
	for _, f := range pram {
		const round = 0.5523 // of a quarter of a circle as a curve
		x, y := 150+3*f.half, 40+3*f.sheer
		fmt.Fprintf(&page, "%.2f %.2f m %.2f %.2f %.2f %.2f 150 40 c S\n", x, y, x, y-round*3*f.sheer, 150+round*3*f.half, 40.0)
	}
	var b strings.Builder
	b.WriteString("%PDF-1.4\n")
	var at []int
	for i, object := range []string{"<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>",
		"<</Type/Page/Parent 2 0 R/MediaBox[0 0 300 300]/Contents 4 0 R/Resources<<>>>>",
		fmt.Sprintf("<</Length %d>>stream\n%sendstream", page.Len(), page.String())} {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj%s\nendobj\n", i+1, object)
	}
	xref := b.Len()
	b.WriteString("xref\n0 5\n0000000000 65535 f \n")
	for _, n := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", n)
	}
	fmt.Fprintf(&b, "trailer<</Size 5/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", xref)
	return b.String()
}

// pdfTable says which line of that page is which.
func pdfTable() string {
	var b strings.Builder
	b.WriteString("outline,frame,x_mm\nline-1,centre,\n")
	for i, f := range pram {
		fmt.Fprintf(&b, "line-%d,%s,%g\n", i+2, f.name, f.x)
	}
	return b.String()
}

// mesh is the pram's skin, both sides.
func mesh() [][3][3]float64 {
	const up = 6
	var out [][3][3]float64
	for i := range len(pram) - 1 {
		for _, side := range []float64{1, -1} {
			corner := func(f frameOf, j int) [3]float64 {
				y, z := f.at(float64(j) / up)
				return [3]float64{f.x, side * y, z}
			}
			for j := range up {
				a, b, c, d := corner(pram[i], j), corner(pram[i+1], j), corner(pram[i+1], j+1), corner(pram[i], j+1)
				out = append(out, [3][3]float64{a, b, c}, [3][3]float64{a, c, d})
			}
		}
	}
	return out
}

func binarySTL() string {
	triangles := mesh()
	b := make([]byte, 80, 84+50*len(triangles))
	b = binary.LittleEndian.AppendUint32(b, uint32(len(triangles)))
	for _, t := range triangles {
		b = append(b, make([]byte, 12)...)
		for _, p := range t {
			for _, v := range p {
				b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(v)))
			}
		}
		b = append(b, 0, 0)
	}
	return string(b)
}

func textSTL() string {
	var b strings.Builder
	b.WriteString("solid pram\n")
	for _, t := range mesh() {
		b.WriteString("facet normal 0 0 0\n outer loop\n")
		for _, p := range t {
			fmt.Fprintf(&b, "  vertex %.6g %.6g %.6g\n", p[0], p[1], p[2])
		}
		b.WriteString(" endloop\nendfacet\n")
	}
	return b.String() + "endsolid pram\n"
}

func objMesh() string {
	var b strings.Builder
	b.WriteString("o pram\n")
	for _, t := range mesh() {
		for _, p := range t {
			fmt.Fprintf(&b, "v %.6g %.6g %.6g\n", p[0], p[1], p[2])
		}
		b.WriteString("f -3 -2 -1\n")
	}
	return b.String()
}

// part is a file in an archive.
type part struct{ name, text string }

// threeMF, xlsx and ods are the parts of such a file.
func threeMF() []part {
	var corners, faces strings.Builder
	for i, t := range mesh() {
		for _, p := range t {
			fmt.Fprintf(&corners, `<vertex x="%.6g" y="%.6g" z="%.6g"/>`, p[0], p[1], p[2])
		}
		fmt.Fprintf(&faces, `<triangle v1="%d" v2="%d" v3="%d"/>`, 3*i, 3*i+1, 3*i+2)
	}
	return []part{{"3D/3dmodel.model", `<?xml version="1.0" encoding="UTF-8"?><model unit="millimeter" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources><object id="1" type="model"><mesh><vertices>` +
		corners.String() + `</vertices><triangles>` + faces.String() + `</triangles></mesh></object></resources><build><item objectid="1"/></build></model>`}}
}

func xlsx() []part {
	var rows strings.Builder
	for i, line := range strings.Split(strings.TrimSpace("frame,x_mm,y_mm,z_mm\n"+pointsTable("%s,%g,%.3f,%.3f\n")), "\n") {
		fmt.Fprintf(&rows, `<row r="%d">`, i+1)
		for j, field := range strings.Split(line, ",") {
			at := fmt.Sprintf("%c%d", 'A'+j, i+1)
			if i == 0 || j == 0 {
				fmt.Fprintf(&rows, `<c r="%s" t="inlineStr"><is><t>%s</t></is></c>`, at, field)
			} else {
				fmt.Fprintf(&rows, `<c r="%s"><v>%s</v></c>`, at, field)
			}
		}
		rows.WriteString("</row>")
	}
	const main = `http://schemas.openxmlformats.org/spreadsheetml/2006/main`
	const head = `<?xml version="1.0" encoding="UTF-8"?>`
	const kinds = `application/vnd.openxmlformats-officedocument.spreadsheetml.`
	const relation = `http://schemas.openxmlformats.org/officeDocument/2006/relationships`
	return []part{
		{"[Content_Types].xml", head + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="` + kinds + `sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="` + kinds + `worksheet+xml"/></Types>`},
		{"_rels/.rels", head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="` + relation + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", head + `<workbook xmlns="` + main + `" xmlns:r="` + relation + `"><sheets><sheet name="Frames" sheetId="1" r:id="r1"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="` + relation + `/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`},
		{"xl/worksheets/sheet1.xml", head + `<worksheet xmlns="` + main + `"><sheetData>` + rows.String() + `</sheetData></worksheet>`},
	}
}

func ods() []part {
	var rows strings.Builder
	for i, line := range strings.Split(strings.TrimSpace("frame,x_mm,y_mm,z_mm\n"+pointsTable("%s,%g,%.3f,%.3f\n")), "\n") {
		rows.WriteString(`<table:table-row>`)
		for j, field := range strings.Split(line, ",") {
			if i == 0 || j == 0 {
				fmt.Fprintf(&rows, `<table:table-cell office:value-type="string"><text:p>%s</text:p></table:table-cell>`, field)
			} else {
				fmt.Fprintf(&rows, `<table:table-cell office:value-type="float" office:value="%s"><text:p>%s</text:p></table:table-cell>`, field, field)
			}
		}
		rows.WriteString(`</table:table-row>`)
	}
	const names = `urn:oasis:names:tc:opendocument:xmlns:`
	return []part{
		{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"},
		{"META-INF/manifest.xml", `<?xml version="1.0"?><manifest:manifest xmlns:manifest="` + names + `manifest:1.0"><manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/><manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>`},
		{"content.xml", `<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="` + names + `office:1.0" xmlns:table="` + names + `table:1.0" xmlns:text="` + names + `text:1.0"><office:body><office:spreadsheet><table:table table:name="Frames">` + rows.String() + `</table:table></office:spreadsheet></office:body></office:document-content>`},
	}
}

// packed puts parts into an archive.
func packed(parts []part) (string, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i, p := range parts {
		method := zip.Deflate
		if i == 0 && p.name == "mimetype" {
			method = zip.Store
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: p.name, Method: method})
		if err != nil {
			return "", err
		}
		if _, err := w.Write([]byte(p.text)); err != nil {
			return "", err
		}
	}
	err := z.Close()
	return b.String(), err
}

// recorded is a demo plan in which much is noted at the bench.
func (w *workshop) recorded() (string, error) {
	return kept(w, "recorded plan", func() (string, error) {
		dir, err := os.MkdirTemp(w.dir, "recorded")
		if err != nil {
			return "", err
		}
		a := &attempt{workshop: w, dir: dir}
		path, _, err := a.asset("skiff.strakeplan", "plan.strakeplan")
		if err != nil {
			return "", err
		}
		for i, doing := range []string{"cut", "soaked", "fitted", "glued"} {
			if err := a.run(noteOf("plan.strakeplan", "port", "1.01", doing, 1+i, "a note, "+doing)...).well(); err != nil {
				return "", err
			}
		}
		for i, args := range [][]string{
			{"--doing", "left", "--band", "1", "--frame", "F3", "--mm", "18.1"}, {"--doing", "width", "--strake", "1.01", "--frame", "F5", "--mm", "3.8", "--read-to", "0.1"},
			{"--doing", "gap", "--strake", "1.01", "--frame", "F9", "--mm", "0.2"}, {"--doing", "girth", "--frame", "F7", "--mm", "44"},
		} {
			line := append([]string{"record", "plan.strakeplan", "note", "--side", "port", "--date", fmt.Sprintf("2026-03-%02d", 10+i)}, args...)
			if err := a.run(line...).plain(); err != nil {
				return "", err
			}
		}
		text, err := os.ReadFile(path)
		return string(text), err
	})
}

// demo reads a file of the project's assets.
func (w *workshop) demo(name string) (string, error) {
	text, err := os.ReadFile(filepath.Join(w.Root, "assets", name))
	return string(text), err
}
