package profile

import (
	"errors"
	"fmt"
	"math"
)

// The operations here are pure: each returns a new pattern and leaves its argument alone. Between two patterns lies a
// Change, whose Inverse undoes the operation exactly.

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
// far end changes the overall length. Crests, bottoms and inflections keep their diameters. Edges that ties make answer
// to it move as well.
func MoveStation(p Pattern, i int, x float64) (Pattern, error) {
	n := len(p.Elements)
	if i < 1 || i > n {
		return p, fmt.Errorf("move station %d: %w", i+1, ErrNoStation)
	}
	if math.IsNaN(x) {
		return p, fmt.Errorf("move station %d: %w", i+1, ErrTooShort)
	}
	moves, ok := p.edges(i, x-p.Elements[i-1].X1)
	if _, hook := moves[0]; hook || !ok {
		return p, fmt.Errorf("move station %d: %w", i+1, ErrTied)
	}
	if _, far := moves[n]; far && i != n {
		return p, fmt.Errorf("move station %d: %w", i+1, ErrTied)
	}
	at := p.stationsOf()
	for k, d := range moves {
		at[k] += d
	}
	at[i] = x
	q, ok := p.restationed(at)
	if !ok {
		return p, fmt.Errorf("move station %d to %.2f mm: %w", i+1, x, ErrTooShort)
	}
	return q.kept(p, i, fmt.Sprintf("move station %d to %.2f mm", i+1, x))
}

// stationsOf returns the edges of the elements, mm: one more than elements.
func (p Pattern) stationsOf() []float64 {
	at := []float64{0}
	for _, e := range p.Elements {
		at = append(at, e.X1)
	}
	return at
}

// restationed returns the pattern with its edges at new stations; false where one of the elements that change would be
// shorter than MinElement.
func (p Pattern) restationed(at []float64) (Pattern, bool) {
	q := p.Clone()
	for i, e := range q.Elements {
		x0, x1 := at[i], at[i+1]
		if x0 == e.X0 && x1 == e.X1 {
			continue
		}
		if !(x1-x0 >= MinElement-joinTolerance) || math.IsInf(x1, 0) {
			return p, false
		}
		q.Elements[i] = e.stretched(x0, x1)
	}
	q.Length = at[len(at)-1]
	return q, true
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
// neighbour that met it there without a step follows, so that no step appears that was not asked for, and so does what
// is tied to it.
func SetDiameter(p Pattern, i int, end End, d float64) (Pattern, error) {
	if i < 0 || i >= len(p.Elements) {
		return p, fmt.Errorf("set a diameter of element %d: %w", i+1, ErrNoElement)
	}
	if !(d > 0) || math.IsInf(d, 0) {
		return p, fmt.Errorf("set a diameter of element %d to %.2f mm: %w", i+1, d, ErrSize)
	}
	l := Place{i, NearEnd}
	if end == Far {
		l.Spot = FarEnd
	}
	return p.sized(l, d, fmt.Sprintf("set a diameter of element %d to %.2f mm", i+1, d))
}

// sized sets the diameter at a place and at all that moves with it; what says what was asked for.
func (p Pattern) sized(l Place, d float64, what string) (Pattern, error) {
	all := p.places(l)
	q, ok := p.withSizes(all, d)
	if !ok {
		return p, fmt.Errorf("%s: no arc between its ends reaches that diameter", what)
	}
	q, err := q.kept(p, l.Element, what)
	if err != nil {
		return p, err
	}
	if got, _ := q.Size(l); math.Abs(got-d) > tieTolerance {
		return p, fmt.Errorf("%s: %w", what, ErrTied)
	}
	return q, nil
}

// withSizes sets one diameter at several places, ends before middles, since a middle hangs between its ends.
func (p Pattern) withSizes(all []Place, d float64) (Pattern, bool) {
	q := p.Clone()
	for _, l := range all {
		switch l.Spot {
		case NearEnd:
			q.Elements[l.Element] = q.Elements[l.Element].withDiameter(Near, d)
		case FarEnd:
			q.Elements[l.Element] = q.Elements[l.Element].withDiameter(Far, d)
		}
		q.followSquare(l.Element)
	}
	for _, l := range all {
		if l.Spot != Middle {
			continue
		}
		e, ok := q.Elements[l.Element].WithMid(d)
		if !ok {
			return p, false
		}
		q.Elements[l.Element] = e
	}
	return q, true
}

// followSquare gives the shoulders beside square i its side and corner.
func (p Pattern) followSquare(i int) {
	if p.Elements[i].Kind != Square {
		return
	}
	side := p.Elements[i].Side
	if i > 0 && p.Elements[i-1].Kind == Shoulder {
		s := &p.Elements[i-1]
		s.Side, s.D1 = side, side*math.Sqrt2
	}
	if i+1 < len(p.Elements) && p.Elements[i+1].Kind == Shoulder {
		s := &p.Elements[i+1]
		s.Side, s.D0 = side, side*math.Sqrt2
	}
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
	what := fmt.Sprintf("set the middle of element %d (%s) to %.2f mm", i+1, p.Elements[i].Kind, d)
	if !(d > 0) || math.IsInf(d, 0) {
		return p, fmt.Errorf("%s: %w", what, ErrSize)
	}
	return p.sized(Place{i, Middle}, d, what)
}
