package app

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// stroker takes strokes drawn over the photograph by hand, one after the other, until it is put away.
type stroker struct {
	width func() float64 // of the brush, photo px; 0 = a line
	done  func(path []r2.Vec)
	path  []r2.Vec // the stroke being drawn, photo px
	down  bool
}

// strokeGap is the distance between the points of a stroke, screen units: a hand's tremble is less.
const strokeGap = 3

// leastStroke is the shortest stroke that is not a slip, screen units.
const leastStroke = 6

// draw makes drags over the photograph strokes; nil makes them pan again.
func (p *picture) draw(s *stroker) {
	p.strokes, p.wanted, p.marks = s, 0, nil
	p.raster.Refresh()
}

// begin starts a stroke.
func (s *stroker) begin(at r2.Vec) { s.down, s.path = true, []r2.Vec{at} }

// extend draws on to at; zoom is screen units a photo px.
func (s *stroker) extend(at r2.Vec, zoom float64) {
	if n := len(s.path); n == 0 || r2.Norm(r2.Sub(at, s.path[n-1]))*zoom >= strokeGap {
		s.path = append(s.path, at)
	}
}

// end finishes the stroke and hands it on, unless it was a slip.
func (s *stroker) end(zoom float64) {
	path := s.path
	s.down, s.path = false, nil
	long := 0.0
	for i := 1; i < len(path); i++ {
		long += r2.Norm(r2.Sub(path[i], path[i-1])) * zoom
	}
	if long >= leastStroke {
		s.done(path)
	}
}

// cancel drops the stroke being drawn; false where none is.
func (s *stroker) cancel() bool {
	was := s.down
	s.down, s.path = false, nil
	return was
}

// paintStroke draws the stroke under the hand.
func (p *picture) paintStroke(b brush, c palette) {
	if p.strokes == nil || len(p.strokes.path) == 0 {
		return
	}
	var line []point
	for _, v := range p.strokes.path {
		line = append(line, p.place(v))
	}
	if w := p.strokes.width() * p.zoom; w > 4 {
		b.stroke(line, w, faded(c.warm, 0.35))
	}
	b.stroke(line, 2.6, c.under)
	b.stroke(line, 1.1, c.warm)
}

// paintSide draws one side of the outline: what is passed over in loose dots.
func (p *picture) paintSide(b brush, c palette, side []view.EdgePoint) {
	var line []point
	flush := func() {
		line = thinned(line, 0.7)
		b.stroke(line, 2.6, c.under)
		b.stroke(line, 1.1, c.mark)
		line = nil
	}
	last := point{math.Inf(-1), 0}
	for _, e := range side {
		at := p.place(e.P)
		if e.State == profile.Inferred {
			flush()
			if math.Hypot(at.x-last.x, at.y-last.y) >= 5 {
				b.fill(at.x-1.6, at.y-1.6, 3.2, 3.2, c.under)
				b.fill(at.x-0.9, at.y-0.9, 1.8, 1.8, c.warm)
				last = at
			}
			continue
		}
		line = append(line, at)
	}
	flush()
}
