package check

import (
	"fmt"
	"math"

	"spindlestick/profile/sheet"
)

// plotScale places stations and deviations on the page.
type plotScale struct {
	left, along, x0 float64 // mm of paper; mm of paper per mm; mm
	middle, up      float64
	most            float64 // the deviation at the plot's edge, mm
}

func (s plotScale) at(x, deviation float64) sheet.Point {
	return sheet.Point{X: s.left + (x-s.x0)*s.along, Y: s.middle - s.up*math.Max(-s.most, math.Min(s.most, deviation))}
}

// plotted is the most of the plot's range that the largest deviation at a station takes, and the least range in
// tolerances, so that the tolerance shows.
const plotted, leastRange = 0.8, 1.6

// plot draws the deviation along the piece with its uncertainty, the tolerance and the stations' verdicts.
func (p *paper) plot(r Report) {
	p.room(plotRoom)
	p.words("Deviation of the diameter, copy less original, mm", true)
	if r.Copy.Gauged {
		p.words("Dashed: the tolerance.", false)
	} else {
		p.words("Line: as laid, its uncertainty in grey; it leaves the plot where an edge stands elsewhere. Dashed: the tolerance.", false)
	}
	p.words("Marks: station by station, like with like. Empty: inside. Half: too close to tell. Full: outside.", false)
	p.y += 1
	x0, x1 := extent(r)
	left := paperMargin + 9
	s := plotScale{left: left, along: (p.width - paperMargin - left) / (x1 - x0), x0: x0, most: plotRange(r)}
	height := plotRoom - 5*paperLine
	s.middle = p.y + height/2 + 1
	s.up = height / 2 / s.most
	p.band(r, s)
	p.axes(r, s, x0, x1)
	p.line(r, s)
	for _, row := range r.Stations {
		if row.Verdict.Claims() {
			p.mark(row, s)
		}
	}
	p.y = s.middle + height/2 + paperLine
}

// plotRange is the deviation at the plot's edge, mm.
func plotRange(r Report) float64 {
	most := leastRange * r.Tolerance.Diameter
	for _, row := range r.Stations {
		if row.Verdict.Claims() {
			most = math.Max(most, math.Abs(row.Deviation)/plotted)
		}
	}
	return most
}

// band fills what the curve's uncertainty covers.
func (p *paper) band(r Report, s plotScale) {
	for _, run := range runs(r.Curve) {
		var pts []sheet.Point
		for _, q := range run {
			pts = append(pts, s.at(q.X, q.Deviation+q.U))
		}
		for i := len(run) - 1; i >= 0; i-- {
			pts = append(pts, s.at(run[i].X, run[i].Deviation-run[i].U))
		}
		if len(pts) > 2 {
			p.page().Fill(pts, 0.87, sheet.Hatching)
		}
	}
}

func (p *paper) line(r Report, s plotScale) {
	for _, run := range runs(r.Curve) {
		var pts []sheet.Point
		for _, q := range run {
			pts = append(pts, s.at(q.X, q.Deviation))
		}
		if len(pts) > 1 {
			p.page().Stroke(pts, false, sheet.Pen{Layer: sheet.Outline, Width: 0.15, Grey: 0.35})
		}
	}
}

// runs divides a curve into the stretches where both pieces were seen.
func runs(curve []Point) [][]Point {
	var out [][]Point
	for i, q := range curve {
		if q.Verdict == NotSeen {
			continue
		}
		if i == 0 || curve[i-1].Verdict == NotSeen || q.X-curve[i-1].X > 1.5*curveStep {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], q)
	}
	return out
}

// axes draws the zero line, the tolerance and figures.
func (p *paper) axes(r Report, s plotScale, x0, x1 float64) {
	thin := sheet.Pen{Layer: sheet.Furnish, Width: 0.13, Grey: 0.4}
	dashed := sheet.Pen{Layer: sheet.Furnish, Width: 0.2, Dash: []float64{2, 1.2}}
	across := func(d float64, pen sheet.Pen, words string) {
		a, b := s.at(x0, d), s.at(x1, d)
		p.page().Stroke([]sheet.Point{a, b}, false, pen)
		p.page().Write(sheet.Text{At: sheet.Point{X: a.X - 1.2, Y: a.Y + 0.8}, S: words, Cap: 1.8, Anchor: sheet.End, Layer: sheet.Lettered})
	}
	across(0, thin, "0")
	for _, d := range []float64{r.Tolerance.Diameter, -r.Tolerance.Diameter} {
		across(d, dashed, fmt.Sprintf("%+.2f", d))
	}
	for _, d := range []float64{s.most, -s.most} {
		across(d, thin, fmt.Sprintf("%+.2f", d))
	}
	step := tickStep((x1 - x0) / 8)
	for x := math.Ceil(x0/step) * step; x <= x1; x += step {
		a := s.at(x, -s.most)
		p.page().Stroke([]sheet.Point{a, {X: a.X, Y: a.Y + 1}}, false, thin)
		p.page().Write(sheet.Text{At: sheet.Point{X: a.X, Y: a.Y + 3.8}, S: fmt.Sprintf("%d", int(math.Round(x))), Cap: 1.8, Anchor: sheet.Middle, Layer: sheet.Lettered})
	}
}

// tickStep is 1, 2 or 5 times a power of ten, at least v.
func tickStep(v float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*ten >= v {
			return m * ten
		}
	}
	return 10 * ten
}

// mark draws a station's deviation: a bar as long as its uncertainty, and a square that is filled where the copy is
// outside, empty where it is inside, half where that is too close to tell.
func (p *paper) mark(row Row, s plotScale) {
	pen := sheet.Pen{Layer: sheet.Stations, Width: 0.2}
	c := s.at(row.X, row.Deviation)
	p.page().Stroke([]sheet.Point{s.at(row.X, row.Deviation+row.U), s.at(row.X, row.Deviation-row.U)}, false, pen)
	const h = 0.9
	box := []sheet.Point{{X: c.X - h, Y: c.Y - h}, {X: c.X + h, Y: c.Y - h}, {X: c.X + h, Y: c.Y + h}, {X: c.X - h, Y: c.Y + h}}
	p.page().Fill(box, 1, sheet.Stations)
	switch row.Verdict {
	case Outside:
		p.page().Fill(box, 0, sheet.Stations)
	case Unsure:
		p.page().Fill([]sheet.Point{box[0], box[1], box[2]}, 0, sheet.Stations)
	}
	p.page().Stroke(box, true, pen)
}
