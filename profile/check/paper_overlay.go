package check

import (
	"fmt"
	"math"

	"spindlestick/profile/sheet"
)

// overlay draws half of both profiles on one axis: the original as a grey shape, the copy as a line whose distance from
// the original is enlarged.
func (p *paper) overlay(r Report) {
	x0, x1 := extent(r)
	widest := 0.0
	both := r.both(p.options.Exaggeration)
	for _, q := range both {
		widest = math.Max(widest, math.Max(q.ro, q.rc))
	}
	along := (p.width - 2*paperMargin) / (x1 - x0)
	up := (overlayRoom - 3*paperLine) / widest
	p.room(overlayRoom)
	p.words("Half profiles", true)
	p.words(fmt.Sprintf("Grey: the original. Line: the copy, its deviations of diameter enlarged %.3g times. Diameters are drawn %.1f times as large as lengths.",
		p.options.Exaggeration, up/along), false)
	axis := p.y + overlayRoom - 2*paperLine
	at := func(x, radius float64) sheet.Point {
		return sheet.Point{X: paperMargin + (x-x0)*along, Y: axis - radius*up}
	}
	p.grey(both, at)
	p.outline(both, at)
	p.page().Stroke([]sheet.Point{at(x0, 0), at(x1, 0)}, false, sheet.Pen{Layer: sheet.Centre, Width: 0.18, Dash: []float64{6, 1.5, 1, 1.5}})
	p.y = axis + sectionGap
}

// extent is the stretch of the axis that either piece takes, as aligned.
func extent(r Report) (x0, x1 float64) {
	if r.Copy.Gauged {
		return 0, r.Original.length()
	}
	return math.Min(0, -r.Shift), math.Max(r.Original.length(), r.Copy.length()-r.Shift)
}

// joined is a point of both profiles: where each has it, and the radii, the copy's enlarged.
type joined struct {
	xo, xc, ro, rc float64
	seen           bool
}

// both follows the original's elements, and the copy element by element with them, so that an edge that stands elsewhere
// does not show as a wrong diameter.
func (r Report) both(times float64) []joined {
	o, c := r.Original.marks(), r.Copy.marks()
	var out []joined
	add := func(x, inside float64) {
		xc := carry(inside, r.pairs, o, c, r.Shift)
		a, b := r.Original.drawn(inside), r.Copy.drawn(xc)
		if !a.ok || !b.ok {
			out = append(out, joined{xo: x, ro: a.d / 2})
			return
		}
		seen := a.seen && b.seen && r.Copy.measured(xc).seen
		out = append(out, joined{x, xc - r.Shift, a.d / 2, math.Max(0, a.d/2+times*(b.d-a.d)/2), seen})
	}
	for _, e := range r.Original.Pattern.Elements {
		n := max(2, int(e.Length()/curveStep))
		for i := range n + 1 {
			x := e.X0 + e.Length()*float64(i)/float64(n)
			add(x, math.Max(e.X0+stepBeside, math.Min(e.X1-stepBeside, x)))
		}
	}
	if !r.Original.patterned() {
		for _, q := range r.Curve {
			add(q.X, q.X)
		}
	}
	return out
}

// stepBeside keeps a look at an element's end on its own side of the step, mm: far under anything that is drawn.
const stepBeside = 1e-4

func (p *paper) grey(both []joined, at func(x, r float64) sheet.Point) {
	if len(both) == 0 {
		return
	}
	pts := []sheet.Point{at(both[0].xo, 0)}
	for _, q := range both {
		pts = append(pts, at(q.xo, q.ro))
	}
	p.page().Fill(append(pts, at(both[len(both)-1].xo, 0)), 0.8, sheet.Outline)
}

// outline draws the copy where it was seen.
func (p *paper) outline(both []joined, at func(x, r float64) sheet.Point) {
	pen := sheet.Pen{Layer: sheet.Outline, Width: 0.3}
	var run []sheet.Point
	flush := func() {
		if len(run) > 1 {
			p.page().Stroke(run, false, pen)
		}
		run = nil
	}
	for _, q := range both {
		if !q.seen {
			flush()
			continue
		}
		run = append(run, at(q.xc, q.rc))
	}
	flush()
}
