package view

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"spindlestick/profile"
)

// compared returns the errors of the diameters at stations of the spindle that show, and how many of them lie within
// their stated uncertainty.
func compared(t testing.TB, pat profile.Pattern, tr profile.Trace) (errs []float64, within int) {
	t.Helper()
	for x := 3.0; x < pat.Length-15; x += 0.5 {
		d, _ := pat.DiameterAt(x)
		before, _ := pat.DiameterAt(x - 1.5)
		after, _ := pat.DiameterAt(x + 1.5)
		s, ok := tr.At(x)
		if !ok {
			t.Fatalf("nothing at %.1f mm", x)
		}
		if s.State != profile.Visible || math.Abs(after-before) > 4 {
			continue
		}
		e := 2*s.R - d
		errs = append(errs, e)
		if math.Abs(e) <= s.U {
			within++
		}
	}
	return errs, within
}

// TestMeasureWithBoards goes the whole way: boards give the camera, the outline the axis and the profile. The
// uncertainties hold what they promise: k = 2 covers 95 % of normal errors (GUM 6.2).
func TestMeasureWithBoards(t *testing.T) {
	var errs []float64
	within, lengths := 0, 0
	for seed := range uint64(3) {
		rng := rand.New(rand.NewPCG(seed, 11))
		s := stageFor(spindle(), 800, 35, 26-paper, r2.Vec{X: 20, Y: 5}, 0.1, 0.03, -0.05)
		m, err := Measure(s.sighting(t, 1, 0.05, rng), Hints{Height: Height{Mode: Level}})
		if err != nil {
			t.Fatal(err)
		}
		e, n := compared(t, s.pattern, m.Trace)
		errs = append(errs, e...)
		within += n
		if math.Abs(m.Trace.Length-400) <= m.Trace.ULength {
			lengths++
		}
		if m.Trace.ULength > 1.5 {
			t.Errorf("the length is only good to %.2f mm", m.Trace.ULength)
		}
	}
	if _, rms, _ := figures(errs); rms > 0.05 {
		t.Errorf("diameters scatter by %.3f mm", rms)
	}
	if share := float64(within) / float64(len(errs)); share < 0.95 {
		t.Errorf("%.1f %% of the diameters lie within their uncertainty", 100*share)
	}
	if lengths < 3 {
		t.Errorf("the length lies within its uncertainty %d times of 3", lengths)
	}
}

// TestMeasureWithKnownSize: one caliper reading and no scale in the picture.
func TestMeasureWithKnownSize(t *testing.T) {
	s := stageFor(spindle(), 1000, 50, 0, r2.Vec{X: 10}, 0.05, 0, 0)
	sight := s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(1, 11)))
	sight.Boards = nil
	m, err := Measure(sight, Hints{Known: []KnownDiameter{{X: 160, D: 52}, {X: 30, D: 30}}, Length: 400})
	if err != nil {
		t.Fatal(err)
	}
	errs, within := compared(t, s.pattern, m.Trace)
	if _, rms, _ := figures(errs); rms > 0.12 {
		t.Errorf("diameters scatter by %.3f mm", rms)
	}
	if share := float64(within) / float64(len(errs)); share < 0.9 {
		t.Errorf("%.1f %% of the diameters lie within their uncertainty", 100*share)
	}
	near(t, "length", m.Trace.Length, 400, 0.6)
}

// TestMeasureCorrectsScale: squares printed 1 % too large read everything 1 % small; a caliper reading and the length
// say so.
func TestMeasureCorrectsScale(t *testing.T) {
	s := stageFor(spindle(), 900, 45, 0, r2.Vec{}, 0, 0.02, 0)
	sight := s.sighting(t, 1, 0.03, rand.New(rand.NewPCG(1, 12)))
	for i := range sight.Boards {
		sight.Boards[i].Square = 9.9
	}
	h := Hints{Height: Height{Mode: Raised}}
	m, err := Measure(sight, h)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "length by the boards", m.Trace.Length, 396, 0.3)
	h.Length, h.Known = 400, []KnownDiameter{{X: 230, D: 44}}
	if m, err = Measure(sight, h); err != nil {
		t.Fatal(err)
	}
	// Twenty standard deviations are no accident of printing: the tape is believed.
	if math.Abs(m.Trace.Length-400) > 0.3 {
		t.Errorf("the tape brings the length to %.2f mm, it should be 400", m.Trace.Length)
	}
}

// TestMeasureSquare: a square's stretch reads half its side, and the notes say that it is one.
func TestMeasureSquare(t *testing.T) {
	s := stageFor(newel(), 900, 35, 22-paper, r2.Vec{X: 20, Y: 12}, 0, 0, 0)
	for _, i := range []int{0, 6} {
		s.pattern.Elements[i].Roll = s.scene.FlatRoll()
	}
	m, err := Measure(s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(1, 13))), Hints{Height: Height{Mode: Level}})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{20, 60, 95, 540, 590} {
		q, _ := m.Trace.At(x)
		near(t, "half side", q.R, 22, 0.05)
	}
	q, _ := m.Trace.At(300)
	d, _ := s.pattern.DiameterAt(300)
	near(t, "taper", 2*q.R, d, 0.06)
	if all := strings.Join(m.Notes, "\n"); !strings.Contains(all, "is square, 44.0 mm a side") {
		t.Errorf("notes: %s", all)
	}
}

// TestMeasureNotes: a false edge along half of one side is told, and so is what would make the figures better.
func TestMeasureNotes(t *testing.T) {
	s := plain(spindle())
	sight := s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(1, 14)))
	h := Hints{Height: Height{Mode: Raised}}
	m, err := Measure(sight, h)
	if err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(m.Notes, "\n"); !strings.Contains(all, "Diameters are good to about") || strings.Contains(all, "disagree") {
		t.Errorf("notes: %s", all)
	}
	shadow := sight.Outline.Sides[1]
	for i := len(shadow) / 4; i < len(shadow)*2/3; i++ {
		shadow[i].P = r2.Add(shadow[i].P, r2.Scale(12, shadow[i].N))
	}
	if m, err = Measure(sight, h); err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(m.Notes, "\n"); !strings.Contains(all, "disagree") {
		t.Errorf("notes: %s", all)
	}
}

func TestMeasureRefuses(t *testing.T) {
	s := plain(spindle())
	good := s.sighting(t, 1, 0, nil)
	bare := good
	bare.Boards = nil
	blank := good
	blank.Outline.Sides = [2][]EdgePoint{}
	swapped := good
	swapped.Outline.Sides[0], swapped.Outline.Sides[1] = good.Outline.Sides[1], good.Outline.Sides[0]
	for name, c := range map[string]struct {
		s    Sighting
		h    Hints
		want error
	}{
		"no scale":       {bare, Hints{}, ErrNoScale},
		"no board":       {bare, Hints{Boards: true}, ErrNoBoard},
		"no outline":     {blank, Hints{}, ErrSides},
		"sides swapped":  {swapped, Hints{}, ErrSides},
		"unknown height": {good, Hints{Height: Height{Mode: "standing"}}, ErrHeight},
		"nothing":        {Sighting{}, Hints{}, ErrNoScale},
	} {
		_, err := Measure(c.s, c.h)
		if !errors.Is(err, c.want) || !errors.Is(err, ErrMeasure) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}

// TestMeasureNeverPanics: whatever the points and hints are, there is a result without NaN or an error.
func TestMeasureNeverPanics(t *testing.T) {
	s := plain(spindle())
	good := s.sighting(t, 4, 0, nil)
	rapid.Check(t, func(t *rapid.T) {
		odd := rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), -1e9, 0, 1, 17, 1500, 4000, 1e12})
		sight := good
		for side := range sight.Outline.Sides {
			pts := append([]EdgePoint(nil), good.Outline.Sides[side]...)
			for range rapid.IntRange(0, 20).Draw(t, "spoilt") {
				i := rapid.IntRange(0, len(pts)-1).Draw(t, "which")
				pts[i].P = r2.Vec{X: odd.Draw(t, "x"), Y: odd.Draw(t, "y")}
				pts[i].Sigma = odd.Draw(t, "sigma")
			}
			n := rapid.IntRange(0, len(pts)).Draw(t, "cut")
			sight.Outline.Sides[side] = pts[:n]
		}
		if rapid.Bool().Draw(t, "axis") {
			sight.Outline.Axis[1] = r2.Vec{X: odd.Draw(t, "ax"), Y: odd.Draw(t, "ay")}
		}
		h := Hints{Height: Height{Mode: rapid.SampledFrom([]HeightMode{"", Level, Raised, Fixed}).Draw(t, "mode"), Value: odd.Draw(t, "height")}}
		m, err := Measure(sight, h)
		if err != nil {
			return
		}
		if math.IsNaN(m.Trace.Length) || math.IsNaN(m.Trace.ULength) {
			t.Errorf("length %v ± %v", m.Trace.Length, m.Trace.ULength)
		}
		for _, q := range m.Trace.Samples {
			if math.IsNaN(q.X + q.R + q.U + q.Sides[0] + q.Sides[1]) {
				t.Fatalf("sample %+v", q)
			}
		}
	})
}

// TestEndsOfEveryShape: a round end, a square one flat on and corner on, a half-round one and a pointed one each end
// where they end.
func TestEndsOfEveryShape(t *testing.T) {
	body := func(first profile.Element) profile.Pattern {
		x := first.X1
		return profile.Pattern{Length: 300, Elements: []profile.Element{first,
			{Kind: profile.Taper, X0: x, X1: 290, D0: 30, D1: 24}, {Kind: profile.Cylinder, X0: 290, X1: 300, D0: 24, D1: 24}}}
	}
	square := func(roll float64) profile.Pattern {
		return body(profile.Element{Kind: profile.Square, X0: 0, X1: 50, D0: 40, D1: 40, Side: 40, Roll: roll})
	}
	for name, c := range map[string]struct {
		pattern profile.Pattern
		within  float64
	}{
		"round":       {body(profile.Element{Kind: profile.Cylinder, X0: 0, X1: 50, D0: 30, D1: 30}), 0.03},
		"tapering":    {body(profile.Element{Kind: profile.Taper, X0: 0, X1: 50, D0: 16, D1: 30}), 0.05},
		"flat square": {square(0), 0.03},
		"corner on":   {square(math.Pi / 4), 0.3},
		"half round":  {body(profile.Element{Kind: profile.HalfBead, X0: 0, X1: 14, D0: 2, D1: 30, Sagitta: 3}), 0.4},
		"pointed":     {body(profile.Element{Kind: profile.Taper, X0: 0, X1: 50, D0: 0.5, D1: 30}), 0.3},
	} {
		s := stageFor(c.pattern, 700, 35, 0, r2.Vec{X: 10, Y: 5}, 0.05, 0, 0)
		at, err := newSilhouette(s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(8, 8))).Outline).place(s.truth(), Height{Mode: Raised})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+": length", at.ends[1].x, 300, c.within)
		if want := name == "flat square" || name == "corner on"; at.ends[0].square != want {
			t.Errorf("%s: square %v", name, at.ends[0].square)
		}
	}
}

// TestBlindEnd: where nothing of an end's face shows, the piece is not taken for square, and the length says how little
// it knows.
func TestBlindEnd(t *testing.T) {
	s := stageFor(spindle(), 600, 30, 0, r2.Vec{X: 10}, 0, 0, 0)
	sight := s.sighting(t, 1, 0.05, rand.New(rand.NewPCG(9, 9)))
	p := projector(t, s.scene)
	for side, pts := range sight.Outline.Sides {
		var kept []EdgePoint
		for _, e := range pts {
			if _, v := p.ToAxis(e.P); math.Abs(v) > 0.97*15/p.D {
				kept = append(kept, e)
			}
		}
		sight.Outline.Sides[side] = kept
	}
	m, err := Measure(sight, Hints{Height: Height{Mode: Raised}})
	if err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(m.Notes, "\n"); strings.Contains(all, "is square") || !strings.Contains(all, "The end at 0") {
		t.Errorf("notes: %s", all)
	}
	if off := math.Abs(m.Trace.Length - 400); off > m.Trace.ULength || m.Trace.ULength < 1 {
		t.Errorf("length %.2f ± %.2f mm", m.Trace.Length, m.Trace.ULength)
	}
	q, _ := m.Trace.At(30 + m.Trace.Length - 400)
	near(t, "diameter beside the end", 2*q.R, 30, 0.05)
}
