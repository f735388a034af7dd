package profile

import (
	"errors"
	"fmt"
	"math"
)

// The operations here are pure: each returns a new pattern and leaves its argument alone, so a caller undoes an
// edit by keeping the pattern from before it.

// MinElement is the shortest element an edit leaves, mm: a tenth, the width of a scribed line.
const MinElement = 0.1

// equalDiameters is how close two diameters at a station are for an edit to move them as one, mm: under what a
// caliper tells apart (0.05 mm vernier, DIN 862).
const equalDiameters = 0.02

// Errors that edits return; each is wrapped with what was asked.
var (
	ErrNoStation = errors.New("there is no such station")
	ErrNoElement = errors.New("there is no such element")
	ErrTooShort  = errors.New("an element would get shorter than 0.1 mm")
	ErrSize      = errors.New("a diameter must be above zero")
)

// MoveStation moves edge i (0 = hook end, len(Elements) = far end) to x mm. The hook end stays at zero. Moving the
// far end changes the overall length. Crests, bottoms and inflections keep their diameters.
func MoveStation(p Pattern, i int, x float64) (Pattern, error) {
	n := len(p.Elements)
	if i < 1 || i > n {
		return p, fmt.Errorf("move station %d: %w", i+1, ErrNoStation)
	}
	if x < p.Elements[i-1].X0+MinElement || i < n && x > p.Elements[i].X1-MinElement || math.IsNaN(x) {
		return p, fmt.Errorf("move station %d to %.2f mm: %w", i+1, x, ErrTooShort)
	}
	q := p.Clone()
	q.Elements[i-1] = q.Elements[i-1].stretched(q.Elements[i-1].X0, x)
	if i < n {
		q.Elements[i] = q.Elements[i].stretched(x, q.Elements[i].X1)
	} else {
		q.Length = x
	}
	return q, nil
}

// stretched returns the element between new stations, its inner point at the same share of its length and its
// crest or bottom at the same diameter.
func (e Element) stretched(x0, x1 float64) Element {
	_, mid, named := e.Mid()
	share := (e.InnerX - e.X0) / e.Length()
	hasInner := e.InnerX > e.X0 && e.InnerX < e.X1
	e.X0, e.X1 = x0, x1
	if hasInner {
		e.InnerX = x0 + share*(x1-x0)
	}
	if named && e.Kind.Curved() {
		if f, ok := e.WithMid(mid); ok {
			return f
		}
	}
	return e
}

// End names one end of an element.
type End int

// The two ends of an element.
const (
	Near End = 0 // X0, towards the hook end
	Far  End = 1 // X1
)

// SetDiameter sets the diameter at one end of element i, mm. A fillet, cylinder or square changes as a whole. A
// neighbour that met it there without a step follows, so that no step appears that was not asked for.
func SetDiameter(p Pattern, i int, end End, d float64) (Pattern, error) {
	if i < 0 || i >= len(p.Elements) {
		return p, fmt.Errorf("set a diameter of element %d: %w", i+1, ErrNoElement)
	}
	if !(d > 0) || math.IsInf(d, 0) {
		return p, fmt.Errorf("set a diameter of element %d to %.2f mm: %w", i+1, d, ErrSize)
	}
	q := p.Clone()
	e := q.Elements[i]
	ends := []End{end}
	if e.Kind == Fillet || e.Kind == Cylinder || e.Kind == Square {
		ends = []End{Near, Far}
	}
	for _, at := range ends {
		old := e.diameter(at)
		q.Elements[i] = q.Elements[i].withDiameter(at, d)
		if j := i + 2*int(at) - 1; j >= 0 && j < len(q.Elements) {
			facing := 1 - at
			f := q.Elements[j]
			sloped := f.Kind != Fillet && f.Kind != Cylinder && f.Kind != Square
			if sloped && math.Abs(f.diameter(facing)-old) < equalDiameters {
				q.Elements[j] = f.withDiameter(facing, d)
			}
		}
	}
	return q, nil
}

func (e Element) diameter(end End) float64 {
	if end == Near {
		return e.D0
	}
	return e.D1
}

// withDiameter sets one end's diameter and keeps the crest or bottom where it was if an arc still reaches it.
func (e Element) withDiameter(end End, d float64) Element {
	_, mid, named := e.Mid()
	if end == Near {
		e.D0 = d
	} else {
		e.D1 = d
	}
	if e.Kind == Square {
		e.Side = d
	}
	if named && e.Kind.Curved() {
		if f, ok := e.WithMid(mid); ok {
			return f
		}
	}
	return e
}

// SetMid sets the crest, bottom or inflection diameter of element i, mm.
func SetMid(p Pattern, i int, d float64) (Pattern, error) {
	if i < 0 || i >= len(p.Elements) {
		return p, fmt.Errorf("set the middle of element %d: %w", i+1, ErrNoElement)
	}
	e, ok := p.Elements[i].WithMid(d)
	if !ok || !(d > 0) {
		return p, fmt.Errorf("set the middle of element %d (%s) to %.2f mm: no arc between its ends reaches that diameter", i+1, e.Kind, d)
	}
	q := p.Clone()
	q.Elements[i] = e
	return q, nil
}

// Split cuts element i in two at station x, both of the same shape as before where the kind allows: a bead gives
// two half-beads, a cove two half-coves, a vee two tapers, an ogee its two arcs when cut anywhere.
func Split(p Pattern, i int, x float64) (Pattern, error) {
	if i < 0 || i >= len(p.Elements) {
		return p, fmt.Errorf("split element %d: %w", i+1, ErrNoElement)
	}
	e := p.Elements[i]
	if !(x >= e.X0+MinElement && x <= e.X1-MinElement) {
		return p, fmt.Errorf("split element %d at %.2f mm: %w", i+1, x, ErrTooShort)
	}
	d := e.At(x)
	a, b := e.part(e.X0, e.D0, x, d), e.part(x, d, e.X1, e.D1)
	q := p.Clone()
	q.Elements = append(q.Elements[:i:i], append([]Element{a, b}, p.Elements[i+1:]...)...)
	return q, nil
}

// part returns the piece of e between two points of its own meridian.
func (e Element) part(x0, d0, x1, d1 float64) Element {
	var cut []Segment
	for _, s := range e.Segments() {
		lo, hi := math.Max(s.X0, x0), math.Min(s.X1, x1)
		if hi-lo > joinTolerance {
			cut = append(cut, s.between(lo, hi))
		}
	}
	f := Element{Kind: e.Kind, X0: x0, D0: d0, X1: x1, D1: d1, Side: e.Side, Roll: e.Roll, State: e.State, Style: e.Style}
	switch {
	case e.Kind == Square, e.Kind == Fillet, e.Kind == Cylinder, e.Kind == Taper:
		return f
	case len(cut) == 2:
		f.InnerX, f.InnerD, f.Sagitta = cut[0].X1, 2*cut[0].R1, cut[0].Sagitta
		if e.Kind == Vee {
			f.Sagitta = 0
		}
		return f
	case e.Kind == Shoulder:
		f.Style, f.Sagitta = Quarter, cut[0].Sagitta
		if cut[0].Straight() {
			f.Style = Straight
		}
		return f
	}
	f.Sagitta = cut[0].Sagitta
	f.Kind = arcKind(cut[0])
	return f
}

// between returns the part of the segment from station lo to hi.
func (s Segment) between(lo, hi float64) Segment {
	f := Segment{X0: lo, R0: s.At(lo), X1: hi, R1: s.At(hi)}
	if s.Straight() {
		return f
	}
	// The same circle over a shorter chord: h = R - sqrt(R² - c²/4).
	r, half := s.Radius(), f.Chord()/2
	f.Sagitta = math.Copysign(r-math.Sqrt(math.Max(0, r*r-half*half)), s.Sagitta)
	return f
}

// arcKind names a single arc.
func arcKind(s Segment) Kind {
	_, _, inside := s.Extreme()
	switch {
	case s.Straight():
		return Taper
	case s.Sagitta > 0 && inside:
		return Bead
	case s.Sagitta > 0:
		return HalfBead
	case inside:
		return Cove
	}
	return HalfCove
}

// Merge joins element i and the next into one of element i's kind, or of the longer one's kind when that is longer.
func Merge(p Pattern, i int) (Pattern, error) {
	if i < 0 || i+1 >= len(p.Elements) {
		return p, fmt.Errorf("merge element %d with the next: %w", i+1, ErrNoElement)
	}
	a, b := p.Elements[i], p.Elements[i+1]
	kind := a.Kind
	if b.Length() > a.Length() {
		kind = b.Kind
	}
	peak := math.Max(math.Max(a.D1, b.D0), math.Max(midOr(a, 0), midOr(b, 0)))
	low := math.Min(math.Min(a.D1, b.D0), math.Min(midOr(a, math.Inf(1)), midOr(b, math.Inf(1))))
	e := Element{Kind: Taper, X0: a.X0, X1: b.X1, D0: a.D0, D1: b.D1, State: worse(a.State, b.State), Side: math.Max(a.Side, b.Side)}
	e = e.as(kind)
	want := peak
	if kind == Cove || kind == HalfCove || kind == Vee {
		want = low
	}
	if f, ok := e.WithMid(want); ok {
		e = f
	}
	q := p.Clone()
	q.Elements = append(q.Elements[:i:i], append([]Element{e}, p.Elements[i+2:]...)...)
	return q, nil
}

func midOr(e Element, otherwise float64) float64 {
	if _, d, ok := e.Mid(); ok {
		return d
	}
	return otherwise
}

func worse(a, b State) State {
	rank := map[State]int{"": 0, Visible: 0, Inferred: 1, Hidden: 2, Damaged: 3}
	if rank[b] > rank[a] {
		return b
	}
	return a
}
