package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"spindlestick/profile"
)

// rich is a turning of at least n elements, cut off after them, sampled as the fit's other tests sample.
func rich(n int, step, sigma float64) (profile.Pattern, profile.Trace) {
	rng := rand.New(rand.NewPCG(uint64(n), 1919))
	var p profile.Pattern
	for len(p.Elements) < n {
		for _, e := range plausible(rng).Elements {
			if e.Kind == profile.Square || e.Kind == profile.Shoulder {
				continue
			}
			by := p.Length - e.X0
			e.X0, e.X1 = p.Length, e.X1+by
			if e.Kind.Inner() {
				e.InnerX += by
			}
			p.Elements, p.Length = append(p.Elements, e), e.X1
		}
	}
	p.Elements = p.Elements[:n]
	p.Length = p.Elements[n-1].X1
	return p, traced(p, step, sigma, rng)
}

// TestRefitFindsTheShape: an element given another kind and back again, or moved by hand, comes back to where the trace
// shows it; nothing beyond its neighbours moves.
func TestRefitFindsTheShape(t *testing.T) {
	truth, tr := rich(40, 0.25, 0.02)
	for i := 1; i < len(truth.Elements)-1; i++ {
		e := truth.Elements[i]
		spoiled := truth.Clone()
		f := &spoiled.Elements[i]
		f.D0, f.D1 = f.D0*1.01, f.D1*1.01
		if f.Kind.Curved() {
			f.Sagitta *= 0.8
		}
		if f.Kind.Inner() {
			f.InnerX += 0.1 * f.Length()
		}
		p, err := Refit(spoiled, tr, i, i, Hold{})
		if err != nil {
			t.Fatalf("element %d, %s: %v", i+1, e.Kind, err)
		}
		for x := e.X0 + 0.5; x < e.X1-0.5; x += 0.25 {
			got, _ := p.DiameterAt(x)
			if want := e.At(x); math.Abs(got-want) > 0.15 {
				t.Errorf("element %d, %s: diameter %.3f at %.2f, want %.3f", i+1, e.Kind, got, x, want)
				break
			}
		}
		for k := range truth.Elements {
			if (k < i-1 || k > i+1) && p.Elements[k] != spoiled.Elements[k] {
				t.Errorf("refitting element %d changed element %d", i+1, k+1)
			}
		}
	}
}

// Of a cylinder that stands 0.3 mm of radius off, the residual is that and the noise, as a root sum of squares; fitted
// again, the noise alone.
func TestResidualOfARefit(t *testing.T) {
	p, tr := arcOf(profile.Element{Kind: profile.Bead, X0: 20, X1: 30, D0: 30, D1: 30, Sagitta: 3}, 0.02)
	off := p.Clone()
	off.Elements[2].D0, off.Elements[2].D1 = off.Elements[2].D0+0.6, off.Elements[2].D1+0.6
	if r := Residual(off.Elements[2], tr); math.Abs(r-math.Hypot(0.3, 0.02)) > 0.01 {
		t.Errorf("the residual is %.4f", r)
	}
	q, err := Refit(off, tr, 2, 2, Hold{})
	if err != nil {
		t.Fatal(err)
	}
	if r := q.Elements[2].Residual; math.Abs(r-0.02) > 0.006 {
		t.Errorf("the residual after the refit is %.4f", r)
	}
	if r := Residual(p.Elements[0], profile.Trace{}); r != 0 {
		t.Errorf("without a trace the residual is %v", r)
	}
}

func TestRefitKeepsWhatIsHeld(t *testing.T) {
	truth, tr := rich(40, 0.25, 0.02)
	i := slices.IndexFunc(truth.Elements, func(e profile.Element) bool { return e.Kind == profile.Bead })
	p, err := profile.MoveStation(truth, i, truth.Elements[i].X0-0.3)
	if err != nil {
		t.Fatal(err)
	}
	p, err = profile.SetMid(p, i, must(p.Size(profile.Place{Element: i, Spot: profile.Middle}))-0.5)
	if err != nil {
		t.Fatal(err)
	}
	q, err := Refit(p, tr, i, i, Hold{Stations: []int{i}, Places: []profile.Place{{Element: i, Spot: profile.Middle}}})
	if err != nil {
		t.Fatal(err)
	}
	if q.Elements[i].X0 != p.Elements[i].X0 {
		t.Errorf("the held station went from %v to %v", p.Elements[i].X0, q.Elements[i].X0)
	}
	q, err = Refit(p, tr, i, i, Hold{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(q.Elements[i].X0-truth.Elements[i].X0) > 0.15 {
		t.Errorf("the free station came back to %v, want %v", q.Elements[i].X0, truth.Elements[i].X0)
	}
}

func must(d float64, ok bool) float64 {
	if !ok {
		panic("no such size")
	}
	return d
}

// What is tied moves together.
func TestRefitCarriesTwins(t *testing.T) {
	e := profile.Element{Kind: profile.Bead, X0: 20, X1: 30, D0: 30, D1: 30, Sagitta: 3}
	p := profile.Pattern{Length: 100, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 20, D0: 26, D1: 26}, e,
		{Kind: profile.Cylinder, X0: 30, X1: 70, D0: 26, D1: 26}, e, {Kind: profile.Cylinder, X0: 80, X1: 100, D0: 26, D1: 26},
	}}
	p.Elements[3].X0, p.Elements[3].X1 = 70, 80
	tr := traced(p, 0.25, 0.02, rand.New(rand.NewPCG(1, 1)))
	q, err := profile.AddTie(p, profile.Tie{Kind: profile.Repeated, Groups: []int{1, 3}, Count: 1})
	if err != nil {
		t.Fatal(err)
	}
	if q, err = profile.SetMid(q, 1, 33); err != nil {
		t.Fatal(err)
	}
	q, err = Refit(q, tr, 1, 1, Hold{})
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []int{1, 3} {
		if d := must(q.Size(profile.Place{Element: k, Spot: profile.Middle})); math.Abs(d-36) > 0.1 {
			t.Errorf("the crest of bead %d is %.3f, want 36", k+1, d)
		}
	}
	if !q.Holds(q.Ties[0]) {
		t.Error("the tie does not hold any more")
	}
}

func TestRefitSaysWhatItCannot(t *testing.T) {
	truth, tr := rich(6, 0.25, 0.02)
	for _, c := range [][2]int{{-1, 0}, {0, 6}, {3, 2}} {
		if _, err := Refit(truth, tr, c[0], c[1], Hold{}); !errors.Is(err, ErrRefit) {
			t.Errorf("%v: %v", c, err)
		}
	}
	if _, err := Refit(truth, profile.Trace{Length: truth.Length}, 1, 1, Hold{}); !errors.Is(err, ErrRefit) {
		t.Errorf("without a trace: %v", err)
	}
	truth.Elements[2] = profile.Element{Kind: profile.Square, X0: truth.Elements[2].X0, X1: truth.Elements[2].X1, D0: 30, D1: 30, Side: 30}
	if _, err := Refit(truth, tr, 2, 2, Hold{}); !errors.Is(err, ErrRefit) {
		t.Errorf("a square: %v", err)
	}
}
