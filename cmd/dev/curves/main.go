// Command curves draws how the time of each computation grows with the number of
// frames, as an SVG file, from a report that cmd/dev bench wrote.
//
//	go run ./cmd/dev/curves REPORT.json CURVES.svg
//
// It is separate from cmd/dev, which must start on a machine without any module.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/plotutil"
	"gonum.org/v1/plot/vg"
)

// curve is what a report says about the growth of one computation.
type curve struct {
	What     string
	Exponent *float64
	Points   []struct {
		Frames int
		MS     float64
	}
}

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: go run ./cmd/dev/curves REPORT.json CURVES.svg")
		os.Exit(2)
	}
	if err := draw(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintf(os.Stderr, "curves: %v\n", err)
		os.Exit(1)
	}
}

// draw reads a report and writes its curves.
func draw(report, picture string) error {
	curves, err := read(report)
	if err != nil {
		return err
	}
	p, err := plotted(curves)
	if err != nil {
		return fmt.Errorf("%s: %w", report, err)
	}
	if err := p.Save(16*vg.Centimeter, 11*vg.Centimeter, picture); err != nil {
		return fmt.Errorf("writing %s: %w", picture, err)
	}
	return nil
}

func read(report string) ([]curve, error) {
	text, err := os.ReadFile(report)
	if err != nil {
		return nil, err
	}
	var r struct{ Growth []curve }
	if err := json.Unmarshal(text, &r); err != nil {
		return nil, fmt.Errorf("%s is no report: %w", report, err)
	}
	return r.Growth, nil
}

// plotted draws each curve with both axes logarithmic, so that its slope is the
// exponent.
func plotted(curves []curve) (*plot.Plot, error) {
	p := plot.New()
	p.Title.Text = "How the time grows with the frames"
	p.X.Label.Text, p.Y.Label.Text = "frames", "ms"
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Tick.Marker, p.Y.Tick.Marker = measuredAt(curves), plot.LogTicks{Prec: -1}
	p.Title.Padding = 3 * vg.Millimeter
	p.Legend.Top, p.Legend.Left = true, true
	p.Add(plotter.NewGrid())
	drawn := 0
	for i, c := range curves {
		var points plotter.XYs
		for _, q := range c.Points {
			if q.Frames > 0 && q.MS > 0 {
				points = append(points, plotter.XY{X: float64(q.Frames), Y: q.MS})
			}
		}
		if len(points) == 0 {
			continue
		}
		line, marks, err := plotter.NewLinePoints(points)
		if err != nil {
			return nil, err
		}
		line.Color, line.Dashes = plotutil.Color(i), plotutil.Dashes(i)
		marks.Color, marks.Shape = plotutil.Color(i), plotutil.Shape(i)
		p.Add(line, marks)
		p.Legend.Add(c.name(), line, marks)
		drawn++
	}
	if drawn == 0 {
		return nil, errors.New("it holds no growth to draw")
	}
	p.Y.Max *= 3 // room for the legend
	return p, nil
}

// measuredAt marks the numbers of frames that were measured.
func measuredAt(curves []curve) plot.ConstantTicks {
	var ticks plot.ConstantTicks
	seen := map[int]bool{}
	for _, c := range curves {
		for _, q := range c.Points {
			if !seen[q.Frames] {
				seen[q.Frames] = true
				ticks = append(ticks, plot.Tick{Value: float64(q.Frames), Label: strconv.Itoa(q.Frames)})
			}
		}
	}
	return ticks
}

// name labels the curve in the legend.
func (c curve) name() string {
	if c.Exponent == nil {
		return c.What
	}
	return fmt.Sprintf("%s: frames to the power %.2f", c.What, *c.Exponent)
}
