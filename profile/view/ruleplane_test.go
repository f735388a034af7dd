package view

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// combed returns a rule of n graduations, step mm apart from first, along the plane's x axis as the camera sees it.
func combed(c Camera, plane Pose, first, step float64, n int, noise float64, rng *rand.Rand) Rule {
	r := Rule{Sigma: math.Max(noise, 0.001)}
	for i := range n {
		t := first + step*float64(i)
		p, _ := c.Project(plane.ToCamera(r3.Vec{X: t}))
		r.T = append(r.T, t)
		r.P = append(r.P, r2.Vec{X: p.X + noise*rng.NormFloat64(), Y: p.Y + noise*rng.NormFloat64()})
	}
	return r
}

// A plane square across the rule and tilted along it comes back: the rule's tilt and its distance.
func TestFromRuleSeesTheTiltAlong(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	c := NewCamera(3000, 2000, 50)
	for _, tilt := range []float64{-0.1, 0, 0.06} {
		plane := facing(800, 0, tilt, 0)
		plane.T = r3.Add(plane.T, r3.Vec{X: -200, Y: 60})
		ref, err := FromRule(combed(c, plane, 0, 2, 230, 0.05, rng), RuleOptions{Width: 3000, Height: 2000, Focal: Focal{F35: 50, Sigma: 0.005}})
		if err != nil {
			t.Fatal(err)
		}
		if off, sd := slopeAlong(ref)-slopeAlong(Reference{Plane: plane}), math.Sqrt(ref.variance(slopeAlong)); math.Abs(off) > 4*sd || sd > 0.01 {
			t.Errorf("tilt %g: %g off, standard deviation %g", tilt, off, sd)
		}
		if off := ref.Plane.T.Z/plane.T.Z - 1; math.Abs(off) > 0.015 {
			t.Errorf("tilt %g: the distance is %.2f %% off", tilt, 100*off)
		}
	}
}

// With camera and tilt drawn from what is assumed of them, a length beside the rule errs as stated.
func TestFromRuleUncertaintyIsHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	const shots = 150
	w := [2]r3.Vec{{X: 20, Y: 70}, {X: 420, Y: 70}}
	sum := 0.0
	for range shots {
		c := NewCamera(3000, 2000, 40*math.Exp(0.02*rng.NormFloat64()))
		c.Cx += TypicalLens(c.Width, c.Height, 1).SigmaCentre * rng.NormFloat64()
		c.Cy += TypicalLens(c.Width, c.Height, 1).SigmaCentre * rng.NormFloat64()
		k := c.Focal35() / 40
		c.K1, c.K2 = k*k*k1Sigma*rng.NormFloat64(), k*k*k*k*k2Sigma*rng.NormFloat64()
		plane := facing(640*(1+ruleScaleSigma*rng.NormFloat64()), heldSquare*rng.NormFloat64(), heldSquare*rng.NormFloat64(), 0.1*rng.NormFloat64())
		plane.T.X, plane.T.Y = -220, 60
		s := shot{camera: c, plane: plane}
		ref, err := FromRule(combed(c, plane, 0, 4, 110, 0.05, rng), RuleOptions{Width: 3000, Height: 2000, Focal: Focal{F35: 40, Sigma: 0.02}})
		if err != nil {
			t.Fatal(err)
		}
		g := func(r Reference) float64 { return s.raisedLength(r, w) }
		z := (g(ref) - apart3(w[0], w[1])) / math.Sqrt(ref.variance(g))
		sum += z * z
	}
	if mean := sum / shots; math.Abs(mean-1) > 4*math.Sqrt(2.0/shots) {
		t.Errorf("the mean squared error is %.2f of the stated variance", mean)
	}
}

// Two marks carry the scale and nothing else, and the note says so.
func TestFromRuleTwoMarks(t *testing.T) {
	o := RuleOptions{Width: 3000, Height: 2000, Focal: Focal{F35: 50, Sigma: 0.01}}
	marks := Rule{T: []float64{0, 300}, P: []r2.Vec{{X: 500, Y: 1200}, {X: 2500, Y: 1200}}}
	ref, err := FromRule(marks, o)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := ref.Plane.Meet(ref.Camera.Ray(marks.P[0]), 0)
	q, _ := ref.Plane.Meet(ref.Camera.Ray(marks.P[1]), 0)
	if d := apart3(p, q); math.Abs(d-300) > 0.01 || apart3(p, r3.Vec{}) > 0.01 {
		t.Errorf("the marks are %g mm apart, the first at %v", d, p)
	}
	// Square on, 2000 px on 300 mm: D = f 300 / 2000.
	if want := ref.Camera.F * 300 / 2000; math.Abs(ref.Plane.Eye().Z-want) > 0.01*want {
		t.Errorf("distance %g mm, want %g", ref.Plane.Eye().Z, want)
	}
	if !strings.Contains(strings.Join(ref.Notes, " "), "Two marks") {
		t.Errorf("notes %q", ref.Notes)
	}
}

// The rule may lie any way round: z points to the camera and x to growing graduations.
func TestFromRuleUpsideDown(t *testing.T) {
	o := RuleOptions{Width: 3000, Height: 2000, Focal: Focal{F35: 50, Sigma: 0.01}}
	ref, err := FromRule(Rule{T: []float64{25.4, 330.2}, P: []r2.Vec{{X: 2500, Y: 900}, {X: 500, Y: 1000}}}, o)
	if err != nil {
		t.Fatal(err)
	}
	if ref.Plane.Eye().Z <= 0 || ref.Plane.R[0][0] >= 0 {
		t.Errorf("plane %+v", ref.Plane)
	}
}

func TestFromRuleRefuses(t *testing.T) {
	o := RuleOptions{Width: 3000, Height: 2000}
	p := r2.Vec{X: 5, Y: 5}
	for name, r := range map[string]Rule{
		"empty": {}, "one": {T: []float64{1}, P: []r2.Vec{p}}, "uneven": {T: []float64{1, 2}, P: []r2.Vec{p}},
		"one place": {T: []float64{1, 2}, P: []r2.Vec{p, p}}, "one graduation": {T: []float64{1, 1}, P: []r2.Vec{p, {}}},
		"not finite": {T: []float64{1, math.Inf(1)}, P: []r2.Vec{p, {}}},
	} {
		if _, err := FromRule(r, o); !errors.Is(err, ErrReference) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Bench rules by their major marks: the length of the piece's axis at its true height lies within three stated
// standard deviations.
func TestFromRuleBench(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for _, s := range benchScenes(t, "rule") {
		r := Rule{Sigma: cornerNoise}
		for _, m := range s.Reference.Marks {
			r.T = append(r.T, m.MM)
			r.P = append(r.P, r2.Vec{X: m.Px[0] + cornerNoise*rng.NormFloat64(), Y: m.Px[1] + cornerNoise*rng.NormFloat64()})
		}
		o := s.options()
		ref, err := FromRule(r, RuleOptions{Width: o.Width, Height: o.Height, Focal: o.Focal})
		if err != nil {
			t.Errorf("%s: %v", s.ID, err)
			continue
		}
		distance, normal := s.truth()
		off, sigma := s.axisLength(ref)-s.Length, math.Sqrt(ref.variance(s.axisLength))
		t.Logf("%s length %+.4f %% (standard deviation %.4f), distance %+.3f %%, tilt along off by %+.3f degrees, across by %+.3f; rms %.3f px, %q", s.ID, 100*off/s.Length, 100*sigma/s.Length,
			100*(ref.Plane.Eye().Z/distance-1), 180/math.Pi*(ref.Plane.Normal().X-normal.X), 180/math.Pi*(ref.Plane.Normal().Y-normal.Y), ref.RMS, ref.Notes)
		if math.Abs(off) > 3*sigma {
			t.Errorf("%s: the length is %.2f mm off, 3 standard deviations are %.2f", s.ID, off, 3*sigma)
		}
	}
}
