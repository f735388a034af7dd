package app

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// drawPhoto resamples the photograph so that the axis lies level and station x stands at its place on the scope.
func (f frame) drawPhoto(b brush) {
	t := f.bands.photo
	if f.photo == nil || t.height <= 0 {
		return
	}
	b.fill(0, t.top, float64(b.img.Rect.Dx())/b.scale, t.height, f.colours.under)
	top, bottom := max(0, b.px(t.top)), min(b.px(t.bottom()), b.img.Rect.Dy())
	for col := range b.img.Rect.Dx() {
		x := f.scope.station((float64(col) + 0.5) / b.scale)
		a, okA := f.axisPixel(x)
		dir, perMM, okB := f.across(x)
		if !okA || !okB {
			continue
		}
		f.photoColumn(b, col, top, bottom, a, r2.Scale(perMM/f.scope.perMM/b.scale, dir))
	}
	f.drawOutline(b)
}

// photoColumn fills one column: the middle of the track is the axis pixel a, one device px up is step.
func (f frame) photoColumn(b brush, col, top, bottom int, a, step r2.Vec) {
	s := f.photo.at(r2.Norm(step))
	mid := f.bands.photo.mid() * b.scale
	for row := top; row < bottom; row++ {
		up := mid - float64(row) - 0.5
		r, g, bl, ok := s.bilinear(a.X+up*step.X, a.Y+up*step.Y)
		if !ok {
			continue
		}
		i := row*b.img.Stride + 4*col
		b.img.Pix[i], b.img.Pix[i+1], b.img.Pix[i+2], b.img.Pix[i+3] = r, g, bl, 0xff
	}
}

// drawOutline draws the edge that the camera must see of the pattern as a line, and the measured edge as dots, over the
// photograph: where they part, the pattern is wrong or the piece is damaged.
func (f frame) drawOutline(b brush) {
	ruler := f.photoRuler()
	for side := range f.outline.Sides {
		line := f.expected(ruler, side)
		b.stroke(line, 2.6, f.colours.under)
		b.stroke(line, 1.1, f.colours.mark)
		f.drawMeasured(b, ruler, side)
	}
}

// expected returns one side of the outline that the pattern would show in the photograph.
func (f frame) expected(ruler photoRuler, side int) []point {
	p, err := view.NewProjector(f.scene)
	if err != nil {
		return nil
	}
	look := p.Look(f.pattern)
	sign := float64(2*side - 1) // side 0 lies at negative v
	lo, hi := look.Reach()
	const spacing = 2 // units between points
	n := int(math.Min(4000, math.Max(64, f.pattern.Length*f.scope.perMM/spacing)))
	line := make([]point, 0, n+1)
	for i := range n + 1 {
		u := lo + (hi-lo)*float64(i)/float64(n)
		x := f.scope.x(p.Station(u))
		if x < -40 || x > f.width+40 {
			continue
		}
		if v, ok := look.Width(u, side); ok {
			line = append(line, ruler.place(p.ToPixel(u, sign*v)))
		}
	}
	return line
}

func (f frame) drawMeasured(b brush, ruler photoRuler, side int) {
	last := point{math.Inf(-1), 0}
	for _, e := range f.outline.Sides[side] {
		at := ruler.place(e.P)
		if math.Hypot(at.x-last.x, at.y-last.y) < 4 || at.x < 0 || at.x > f.width {
			continue
		}
		last = at
		b.fill(at.x-1.1, at.y-1.1, 2.2, 2.2, f.colours.under)
		b.fill(at.x-0.6, at.y-0.6, 1.2, 1.2, f.colours.warm)
	}
}

// thinned drops points that lie closer than step to the last one kept.
func thinned(line []point, step float64) []point {
	out := line[:0:0]
	for i, p := range line {
		if n := len(out); n > 0 && i < len(line)-1 {
			if dx, dy := p.x-out[n-1].x, p.y-out[n-1].y; dx*dx+dy*dy < step*step {
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

// photoRuler takes pixels of the photograph to the photo track.
type photoRuler struct {
	f        frame
	origin   r2.Vec
	dir      r2.Vec
	along    []float64 // distance of axis pixels along dir
	stations []float64
}

// photoRuler tabulates the axis: pixels along it are a smooth, growing function of the station.
func (f frame) photoRuler() photoRuler {
	r := photoRuler{f: f}
	const steps = 128
	lo, hi := -0.05*f.pattern.Length, 1.05*f.pattern.Length
	first, ok1 := f.axisPixel(lo)
	last, ok2 := f.axisPixel(hi)
	if !ok1 || !ok2 || first == last {
		return r
	}
	r.origin, r.dir = first, r2.Unit(r2.Sub(last, first))
	for i := range steps + 1 {
		x := lo + (hi-lo)*float64(i)/steps
		if p, ok := f.axisPixel(x); ok {
			r.along = append(r.along, r2.Dot(r2.Sub(p, first), r.dir))
			r.stations = append(r.stations, x)
		}
	}
	return r
}

// place returns the position on the photo track of a pixel.
func (r photoRuler) place(p r2.Vec) point {
	n := len(r.along)
	if n < 2 {
		return point{}
	}
	s := r2.Dot(r2.Sub(p, r.origin), r.dir)
	j := min(max(sort.SearchFloat64s(r.along, s), 1), n-1)
	w := (s - r.along[j-1]) / (r.along[j] - r.along[j-1])
	x := r.stations[j-1] + w*(r.stations[j]-r.stations[j-1])
	a, _ := r.f.axisPixel(x)
	dir, perMM, ok := r.f.across(x)
	if !ok {
		return point{}
	}
	off := r2.Dot(r2.Sub(p, a), dir) / perMM
	return point{r.f.scope.x(x), r.f.bands.photo.mid() - off*r.f.scope.perMM}
}

// hasPhoto reports whether the frame can show the photograph along the axis.
func hasPhoto(p *pyramid, s view.Scene) bool { return p != nil && s.Camera.F > 0 && s.Axis.P.Z > 0 }
