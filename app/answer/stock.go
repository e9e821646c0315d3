package answer

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"strakewright/loft"
)

// Stock is the answer of the command stock: strip widths side by side.
type Stock struct {
	Rows []StockRow `json:"rows"`
}

// StockRow tells how a layer comes out in strips of one width.
type StockRow struct {
	Layer         int       `json:"layer,omitempty"` // from 1; left out where there is but one
	Stock         float64   `json:"stock"`
	Strakes       []int     `json:"strakes"` // in each band
	Narrowest     float64   `json:"narrowest"`
	Widest        float64   `json:"widest"`
	Tapered       int       `json:"tapered"` // strakes
	Wedges        int       `json:"wedges"`
	Drops         int       `json:"drops"`
	LeftOver      []float64 `json:"left_over"` // of each band at its greatest girth
	EdgeStrainMax float64   `json:"edge_strain_max"`
	Strips        int       `json:"strips"` // for both sides
	Length        float64   `json:"length"` // of strake, on both sides
	Waste         float64   `json:"waste"`  // mm of the strips that is left over
}

// StockOf puts a comparison for a layer (from 0) of a planking into words.
func StockOf(k *loft.Planking, layer int, rows []loft.StockRow) Stock {
	out := Stock{Rows: []StockRow{}}
	for _, r := range rows {
		out.Rows = append(out.Rows, StockRow{
			Layer:         layerKey(k, k.Layers[layer]),
			Stock:         tidy(r.Stock),
			Strakes:       append([]int{}, r.Strakes...),
			Narrowest:     tidy(r.Narrowest),
			Widest:        tidy(r.Widest),
			Tapered:       r.Tapered,
			Wedges:        r.Wedges,
			Drops:         r.Drops,
			LeftOver:      tidyAll(r.LeftOver),
			EdgeStrainMax: math.Round(r.EdgeStrainMax*1e9) / 1e9,
			Strips:        r.Strips,
			Length:        tidy(r.Length),
			Waste:         tidy(r.Waste),
		})
	}
	return out
}

// Text writes a table a layer.
func (a Stock) Text(w io.Writer) error {
	p := &page{w: w}
	for _, rows := range byLayer(a.Rows, func(r StockRow) int { return r.Layer }) {
		p.layer(rows[0].Layer)
		t := table{head: []string{"strip", "strakes", "narrowest", "widest", "tapered", "wedges", "drops", "left over", "edge strain", "strips", "waste"}}
		for _, r := range rows {
			t.rows = append(t.rows, []string{
				decimals(r.Stock, -1), joined(r.Strakes, strconv.Itoa), mm(r.Narrowest), mm(r.Widest),
				strconv.Itoa(r.Tapered), strconv.Itoa(r.Wedges), strconv.Itoa(r.Drops), joined(r.LeftOver, mm),
				decimals(100*r.EdgeStrainMax, 3) + " %", strconv.Itoa(r.Strips), decimals(r.Waste, 0),
			})
		}
		p.table(t)
	}
	p.line("Lengths in mm; strakes and left over band by band, down; strips and waste for both sides.")
	return p.err
}

// joined tells several values with commas between them.
func joined[T any](xs []T, tell func(T) string) string {
	var out []string
	for _, x := range xs {
		out = append(out, tell(x))
	}
	return strings.Join(out, ", ")
}

// ReadWidths reads strip widths in mm as "4,5,6". The error says which is no
// width.
func ReadWidths(s string) ([]float64, error) {
	var out []float64
	for _, f := range strings.Split(s, ",") {
		w, err := strconv.ParseFloat(strings.TrimSpace(f), 64)
		if err != nil || !(w > 0) || math.IsInf(w, 1) {
			return nil, fmt.Errorf("%q is no strip width: give widths in mm above 0 with commas between, as 4,5,6", strings.TrimSpace(f))
		}
		out = append(out, w)
	}
	return out, nil
}
