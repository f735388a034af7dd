package view

import (
	"encoding/csv"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"spindlestick/profile"
)

// patternTrace samples a pattern as a trace every 0.25 mm, divided by k, with noise on the radius (mm).
func patternTrace(elements []profile.Element, k, noise float64, rng *rand.Rand) profile.Trace {
	p := profile.Pattern{Length: elements[len(elements)-1].X1, Elements: elements}
	t := profile.Trace{Length: p.Length / k}
	for x := 0.0; x <= p.Length; x += 0.25 {
		d, _ := p.DiameterAt(x)
		t.Samples = append(t.Samples, profile.Sample{X: x / k, R: (d/2 + noise*rng.NormFloat64()) / k})
	}
	return t
}

// A stretcher: cylinder, taper, fillet, bead whose crest is 29 mm at 190, fillet, taper, cylinder.
func stretcher() []profile.Element {
	return []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 25, D0: 16, D1: 16},
		{Kind: profile.Taper, X0: 25, X1: 182, D0: 16, D1: 24},
		{Kind: profile.Fillet, X0: 182, X1: 185, D0: 22, D1: 22},
		{Kind: profile.Bead, X0: 185, X1: 195, D0: 22, D1: 22, Sagitta: 3.5},
		{Kind: profile.Fillet, X0: 195, X1: 198, D0: 22, D1: 22},
		{Kind: profile.Taper, X0: 198, X1: 355, D0: 24, D1: 16},
		{Kind: profile.Cylinder, X0: 355, X1: 380, D0: 16, D1: 16},
	}
}

// A length scales a trace no better than the trace's own ends are known: 380 mm by tape to 0.3 mm, and to 2 mm (k = 2) of an
// end that is not clear.
func TestFitScaleLengthOfUnsureEnds(t *testing.T) {
	tr := patternTrace(stretcher(), 1, 0, rand.New(rand.NewPCG(1, 1)))
	for _, u := range []float64{0, 2} {
		tr.ULength = u
		fit, err := FitScale(tr, nil, 380, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "standard deviation", fit.Sigma*380, math.Hypot(0.3, u/2), 0.005)
	}
}

// One reading at a bead's crest scales a trace of any scale, though a taper crosses the same ratio of diameter to
// station, and though the tape was 0.7 mm off.
func TestFitScaleOneCrest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := math.Exp(rapid.Float64Range(-2, 2).Draw(t, "ln k"))
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		tr := patternTrace(stretcher(), k, 0.01, rng)
		fit, err := FitScale(tr, []KnownDiameter{{X: 190 + rapid.Float64Range(-0.7, 0.7).Draw(t, "tape"), D: 29}}, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		if off := fit.K/k - 1; math.Abs(off) > 0.002 || fit.Sigma > 0.003 {
			t.Fatalf("scale %g, want %g: %.3f %% off, stated to %.3f %%", fit.K, k, 100*off, 100*fit.Sigma)
		}
	})
}

// The overall length alone is a ratio.
func TestFitScaleLength(t *testing.T) {
	tr := patternTrace(stretcher(), 2, 0, rand.New(rand.NewPCG(1, 1)))
	fit, err := FitScale(tr, nil, 381, 0)
	if err != nil || math.Abs(fit.K-381/tr.Length) > 1e-6 || math.Abs(fit.Sigma-0.3/381) > 1e-6 {
		t.Errorf("%+v, %v", fit, err)
	}
}

// A reading on a cylinder at x = 0 has no station to help it, and needs none.
func TestFitScaleAtTheEnd(t *testing.T) {
	tr := patternTrace(stretcher(), 0.5, 0, rand.New(rand.NewPCG(1, 1)))
	fit, err := FitScale(tr, []KnownDiameter{{X: 0, D: 16}}, 0, 0)
	if err != nil || math.Abs(fit.K-0.5) > 1e-4 {
		t.Errorf("%+v, %v", fit, err)
	}
}

// Readings with the errors that are assumed of them scale as surely as is said: chi-square.
func TestFitScaleSigmaIsHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	const trials = 100
	sum := 0.0
	for range trials {
		tr := patternTrace(stretcher(), 1, 0.005, rng)
		known := []KnownDiameter{
			{X: 190 + stationSigma*rng.NormFloat64(), D: 29 + caliperSigma*rng.NormFloat64()},
			{X: 100 + stationSigma*rng.NormFloat64(), D: 16 + 8*75./157 + caliperSigma*rng.NormFloat64()},
		}
		fit, err := FitScale(tr, known, 380+lengthSigma*rng.NormFloat64(), 0)
		if err != nil {
			t.Fatal(err)
		}
		sum += math.Pow((fit.K-1)/fit.Sigma, 2)
	}
	if mean := sum / trials; math.Abs(mean-1) > 4*math.Sqrt(2.0/trials) {
		t.Errorf("the mean squared error is %.2f of the stated variance", mean)
	}
}

// A reading against a board: a weighted mean, and the disagreement in per cent.
func TestFitScaleAgainstAScale(t *testing.T) {
	tr := patternTrace(stretcher(), 1, 0, rand.New(rand.NewPCG(1, 1)))
	fit, err := FitScale(tr, []KnownDiameter{{X: 190, D: 29.145}}, 0, 0.002) // 0.5 % more
	if err != nil {
		t.Fatal(err)
	}
	own := caliperSigma / 29
	want := 0.005 * (1 / (own * own)) / (1/(own*own) + 1/(0.002*0.002))
	if math.Abs(fit.K-1-want) > 2e-4 {
		t.Errorf("corrected by %.3f %%, want %.3f %%", 100*(fit.K-1), 100*want)
	}
	if s := strings.Join(fit.Notes, " "); !strings.Contains(s, "+0.50 %") || strings.Contains(s, "check the size") {
		t.Errorf("notes %q", fit.Notes)
	}
	fit, err = FitScale(tr, []KnownDiameter{{X: 190, D: 31}}, 0, 0.002)
	if err != nil || !strings.Contains(strings.Join(fit.Notes, " "), "check the size") {
		t.Errorf("7 %% off: %+v %v", fit, err)
	}
}

// A reading that contradicts the others is named, with the sign the user needs.
func TestFitScaleNamesABadReading(t *testing.T) {
	tr := patternTrace(stretcher(), 1, 0, rand.New(rand.NewPCG(1, 1)))
	fit, err := FitScale(tr, []KnownDiameter{{X: 10, D: 18}, {X: 370, D: 16}, {X: 190, D: 29}}, 380, 0)
	if err != nil {
		t.Fatal(err)
	}
	if s := strings.Join(fit.Notes, " "); !strings.Contains(s, "18.00 mm at 10.0 mm") || !strings.Contains(s, "less") {
		t.Errorf("notes %q, residuals %v", fit.Notes, fit.Residuals)
	}
}

// Two cylinders of the same ratio of diameter to station leave two answers, which is said.
func TestFitScaleSaysItIsAmbiguous(t *testing.T) {
	e := []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 60, D0: 10, D1: 10},
		{Kind: profile.Cylinder, X0: 60, X1: 120, D0: 20, D1: 20},
	}
	fit, err := FitScale(patternTrace(e, 1, 0, rand.New(rand.NewPCG(1, 1))), []KnownDiameter{{X: 80, D: 20}}, 0, 0)
	if err != nil || !strings.Contains(strings.Join(fit.Notes, " "), "would also fit") {
		t.Errorf("%+v, %v", fit, err)
	}
}

func TestFitScaleRefuses(t *testing.T) {
	tr := patternTrace(stretcher(), 1, 0, rand.New(rand.NewPCG(1, 1)))
	for name, c := range map[string]struct {
		t      profile.Trace
		known  []KnownDiameter
		length float64
	}{
		"no trace":         {profile.Trace{}, nil, 10},
		"nothing known":    {tr, nil, 0},
		"no diameter":      {tr, []KnownDiameter{{X: 10}}, 0},
		"negative station": {tr, []KnownDiameter{{X: -1, D: 10}}, 0},
		"not a number":     {tr, []KnownDiameter{{X: 1, D: math.NaN()}}, 0},
		"off the piece":    {tr, []KnownDiameter{{X: 500, D: 16}}, 380},
		"negative length":  {tr, nil, -3},
		"infinite length":  {tr, nil, math.Inf(1)},
	} {
		if fit, err := FitScale(c.t, c.known, c.length, 0); !errors.Is(err, ErrKnown) {
			t.Errorf("%s: %+v, %v", name, fit, err)
		}
	}
}

// A cylinder of 20 x 200 mm seen squarely at 10 px a mm gives the distance f / 10.
func TestFromKnownCylinder(t *testing.T) {
	o := Outline{Axis: [2]r2.Vec{{X: 500, Y: 1000}, {X: 2500, Y: 1000}}}
	for x := 500.0; x <= 2500; x++ {
		o.Sides[0] = append(o.Sides[0], EdgePoint{P: r2.Vec{X: x, Y: 900}})
		o.Sides[1] = append(o.Sides[1], EdgePoint{P: r2.Vec{X: x, Y: 1100}})
	}
	for name, k := range map[string]KnownOptions{"diameter": {Known: []KnownDiameter{{X: 100, D: 20}}}, "length": {Length: 200}} {
		k.Width, k.Height, k.Focal = 3000, 2000, Focal{F35: 50, Sigma: 0.01}
		ref, err := FromKnown(o, k)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if want := ref.Camera.F / 10; math.Abs(ref.Plane.Eye().Z/want-1) > 1e-4 {
			t.Errorf("%s: distance %g mm, want %g", name, ref.Plane.Eye().Z, want)
		}
		width := func(r Reference) float64 {
			p, _ := r.Plane.Meet(r.Camera.Ray(r2.Vec{X: 1500, Y: 900}), 0)
			q, _ := r.Plane.Meet(r.Camera.Ray(r2.Vec{X: 1500, Y: 1100}), 0)
			return apart3(p, q)
		}
		// In the middle of the piece neither focal length nor tilt changes a width, only the reading does.
		if sd := math.Sqrt(ref.variance(width)) / 20; math.Abs(sd/ref.SigmaScale-1) > 0.05 {
			t.Errorf("%s: a width is known to %.3f %%, the scale to %.3f %%", name, 100*sd, 100*ref.SigmaScale)
		}
	}
}

// benchSides reads the exact outline of a bench photograph.
func benchSides(t *testing.T, id string) (sides [2][]EdgePoint) {
	f, err := os.Open(filepath.Join(os.Getenv("SPINDLESTICK_BENCH"), id+"_outline.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		sides[0] = append(sides[0], EdgePoint{P: r2.Vec{X: v[0], Y: v[1]}})
		sides[1] = append(sides[1], EdgePoint{P: r2.Vec{X: v[2], Y: v[3]}})
	}
	return sides
}

// The bench piece that has one caliper reading: its exact outline gives the plane of its axis within 1 %.
func TestFromKnownBench(t *testing.T) {
	for _, s := range benchScenes(t, "caliper") {
		o := Outline{Axis: [2]r2.Vec{{X: s.Axis.A[0], Y: s.Axis.A[1]}, {X: s.Axis.B[0], Y: s.Axis.B[1]}}}
		o.Sides = benchSides(t, s.ID)
		k := s.options()
		ref, err := FromKnown(o, KnownOptions{Width: k.Width, Height: k.Height, Focal: k.Focal,
			Known: []KnownDiameter{{X: s.Reference.Station, D: s.Reference.Diameter}}})
		if err != nil {
			t.Errorf("%s: %v", s.ID, err)
			continue
		}
		off := s.axisLength(ref)/s.Length - 1
		t.Logf("%s length %+.3f %% (standard deviation %.3f), %q", s.ID, 100*off, 100*math.Sqrt(ref.variance(s.axisLength))/s.Length, ref.Notes)
		if math.Abs(off) > 0.01 {
			t.Errorf("%s: the length is %.2f %% off", s.ID, 100*off)
		}
	}
}
