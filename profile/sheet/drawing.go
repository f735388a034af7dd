package sheet

import (
	"math"

	"spindlestick/profile"
)

// drawing is the full-size drawing: both sides of the profile about the centre line, running distances over it,
// diameters, radii and angles under it.
type drawing struct{ strips }

func newDrawing(p profile.Pattern, o Options) *drawing { return &drawing{newStrips(p, o)} }

func (d *drawing) name() string { return "Drawing" }

func (d *drawing) arrange(tiles []tile, room float64) error {
	d.tiles, d.over, d.under = tiles, ladders{}, ladders{}
	for _, t := range tiles {
		lo, hi := d.bounds(t, room)
		want := owned(d.stations, t)
		if err := d.over.add(want, d.distances(t), lo, hi); err != nil {
			return err
		}
		if err := d.under.add(want, d.diameters(t), lo, hi); err != nil {
			return err
		}
	}
	return nil
}

// aside is the air between the outline and the leaders, mm.
const aside = 3

func (d *drawing) height() float64 {
	return joinHead + d.over.tall() + 2*(d.radius+aside) + d.under.tall() + 2
}

func (d *drawing) draw(s Surface, at Point, i int) {
	t := d.tiles[i]
	y := at.Y + joinHead + d.over.tall() + aside + d.radius
	upper := frame{Origin: Point{at.X - t.From, y}, Scale: 1}
	lower := upper
	lower.Down = true
	lo, hi := d.visible(t)
	pieces := clipped(outline(d.pattern), lo, hi)
	for _, f := range []frame{upper, lower} {
		d.faces(s, f, t)
		f.stroke(s, pieces, Pen{Layer: Outline, Width: 0.35})
	}
	d.edges(s, upper, t)
	d.axis(s, upper, t)
	top, bottom := y-d.radius-aside, y+d.radius+aside
	d.extension(s, upper, t, top)
	d.extension(s, lower, t, bottom)
	d.over.each[i].draw(s, rack{X: upper.Origin.X, Y: top, Lead: d.over.lead, Heights: d.over.heights}, leaderPen())
	d.under.each[i].draw(s, rack{X: upper.Origin.X, Y: bottom, Down: true, Lead: d.under.lead, Heights: d.under.heights}, leaderPen())
	drawJoins(s, upper.Origin.X, at.Y, at.Y+d.height()-4, t)
}

// faces hatches what was not measured, and marks flat faces.
func (d *drawing) faces(s Surface, f frame, t tile) {
	for _, e := range d.pattern.Elements {
		lo, hi := math.Max(e.X0, t.From), math.Min(e.X1, t.To)
		if lo >= hi {
			continue
		}
		if uncertain(e.State) {
			hatch(s, f, e, lo, hi)
		}
		switch {
		case e.Kind == profile.Square && !f.Down:
			cross(s, f, e, t, -half(e, e.X0), half(e, e.X0))
		case e.Kind == profile.Shoulder && side(e) > 0:
			flat(s, f, e, lo, hi)
		}
	}
}

// edges draws the sharp edges that run round the piece: where elements meet at an angle or a step, and a vee's bottom.
func (d *drawing) edges(s Surface, f frame, t tile) {
	pen := Pen{Layer: Stations, Width: 0.15}
	for _, st := range d.stations {
		if !t.shows(st.X) || st.Role == profile.Crest || st.Role == profile.Inflection || st.X == 0 || st.X == d.pattern.Length {
			continue
		}
		if st.Role == profile.Bottom && d.pattern.Elements[st.Element].Kind != profile.Vee {
			continue
		}
		r := d.halfAt(st)
		line(s, f.Origin.X+st.X, f.at(st.X, r).Y, f.Origin.X+st.X, f.at(st.X, -r).Y, pen)
	}
}

// flat draws where a shoulder's flat ends: the curve in which the solid of revolution meets the face of the square,
// y = sqrt(r² - s²/4) from the middle of the face.
func flat(s Surface, f frame, e profile.Element, lo, hi float64) {
	const step = 0.1 // mm
	h := side(e) / 2
	var run []Point
	for x, before := lo, lo; ; x, before = math.Min(x+step, hi), x {
		r := radius(e, x)
		switch {
		case r > h && len(run) == 0 && x > lo:
			run = append(run, f.at(before, 0), f.at(x, math.Sqrt(r*r-h*h))) // the flat begins on the axis
		case r > h:
			run = append(run, f.at(x, math.Min(h, math.Sqrt(r*r-h*h))))
		case len(run) > 0:
			s.Stroke(append(run, f.at(x, 0)), false, Pen{Layer: Hatching, Width: 0.15})
			run = nil
		}
		if x >= hi {
			break
		}
	}
	if len(run) > 1 {
		s.Stroke(run, false, Pen{Layer: Hatching, Width: 0.15})
	}
}
