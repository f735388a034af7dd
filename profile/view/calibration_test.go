package view

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// barrel is the calibration of a lens further out than typical ones.
func barrel() Calibration {
	c := NewCamera(3000, 2000, 27)
	return Calibration{
		Make: "Maker", Model: "Box", Width: 3000, Height: 2000, Focal35: 28,
		F: c.F, Cx: c.Cx + 25, Cy: c.Cy - 12, K1: -0.12, K2: 0.03,
		SigmaF: 0.001 * c.F, SigmaCx: 1.5, SigmaCy: 1.5, SigmaK1: 0.002, SigmaK2: 0.004, Photos: 6, RMS: 0.12, Date: "2026-11-12",
	}
}

func taken(width, height int) Sighting {
	return Sighting{Make: "Maker", Model: "Box", Width: width, Height: height, Focal35: 28}
}

func TestCalibrationMatches(t *testing.T) {
	for name, k := range map[string]struct {
		change func(*Sighting)
		want   bool
	}{
		"itself":        {func(*Sighting) {}, true},
		"on its side":   {func(s *Sighting) { s.Width, s.Height = s.Height, s.Width }, true},
		"other case":    {func(s *Sighting) { s.Make = "MAKER" }, true},
		"other size":    {func(s *Sighting) { s.Width = 2999 }, false},
		"half the size": {func(s *Sighting) { s.Width, s.Height = 1500, 1000 }, false},
		"other model":   {func(s *Sighting) { s.Model = "Box 2" }, false},
		"zoomed":        {func(s *Sighting) { s.Focal35 = 29 }, false},
		"no EXIF":       {func(s *Sighting) { s.Make, s.Model, s.Focal35 = "", "", 0 }, false},
	} {
		s := taken(3000, 2000)
		k.change(&s)
		if got := barrel().Matches(s); got != k.want {
			t.Errorf("%s: %v", name, got)
		}
	}
	if (Calibration{}).Matches(Sighting{}) {
		t.Error("the zero calibration matches a photograph that says nothing")
	}
}

func TestCalibrationCheck(t *testing.T) {
	if err := barrel().Check(); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*Calibration){
		"zero":          func(c *Calibration) { *c = Calibration{} },
		"NaN":           func(c *Calibration) { c.Cx = math.NaN() },
		"infinite":      func(c *Calibration) { c.SigmaK1 = math.Inf(1) },
		"no model":      func(c *Calibration) { c.Model = "" },
		"no width":      func(c *Calibration) { c.Width = 0 },
		"vast":          func(c *Calibration) { c.Height = 1 << 30 },
		"telescope":     func(c *Calibration) { c.F *= 100 },
		"negative":      func(c *Calibration) { c.F = -c.F },
		"beside":        func(c *Calibration) { c.Cx = -1 },
		"no deviation":  func(c *Calibration) { c.SigmaF = 0 },
		"no photograph": func(c *Calibration) { c.Photos = 0 },
		"folded":        func(c *Calibration) { c.K1, c.K2 = -0.5, 0 },
		"no date":       func(c *Calibration) { c.Date = "yesterday" },
	} {
		c := barrel()
		change(&c)
		if err := c.Check(); !errors.Is(err, ErrCalibration) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCalibrationWords(t *testing.T) {
	want := "measured 12 November 2026 from 6 photographs, focal length 2250 px, residual 0.12 px"
	if got := barrel().Words(); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A 3 x 2 picture whose pixels are numbered row by row, upright as EXIF's figures of the letter F show it (CIPA DC-008, 4.6.5).
func TestOrientation(t *testing.T) {
	upright := map[Orientation][]string{
		0: {"012", "345"}, 1: {"012", "345"}, 2: {"210", "543"}, 3: {"543", "210"}, 4: {"345", "012"},
		5: {"03", "14", "25"}, 6: {"30", "41", "52"}, 7: {"52", "41", "30"}, 8: {"25", "14", "03"},
	}
	for o, rows := range upright {
		w, h := o.Size(3, 2)
		if w != len(rows[0]) || h != len(rows) {
			t.Errorf("%d: %d x %d", o, w, h)
		}
		for i := range 6 {
			from := r2.Vec{X: float64(i % 3), Y: float64(i / 3)}
			p := o.Upright(from, 3, 2)
			if got := rows[int(p.Y)][int(p.X)]; got != byte('0'+i) {
				t.Errorf("%d: pixel %d lies at that of %c", o, i, got)
			}
			if back := o.Delivered(p, w, h); back != from {
				t.Errorf("%d: pixel %d comes back to %v", o, i, back)
			}
		}
	}
}

// However the camera was held, its lens stays where it is on the sensor; where that is not known, its side of the middle is open.
func TestCalibratedLensTurnsWithThePicture(t *testing.T) {
	c := barrel() // its axis lies 25 px right of the middle and 12 px above it
	apart := math.Hypot(c.SigmaCx, steady*math.Hypot(3000, 2000))
	for o, want := range map[Orientation]r2.Vec{1: {X: 25, Y: -12}, 3: {X: -25, Y: 12}, 6: {X: 12, Y: 25}, 8: {X: -12, Y: -25}} {
		s := taken(o.Size(3000, 2000))
		s.Orientation = o
		l := c.lensOf(s)
		middle := NewCamera(s.Width, s.Height, 27)
		if got := (r2.Vec{X: l.Camera.Cx - middle.Cx, Y: l.Camera.Cy - middle.Cy}); apart2(got, want) > 1e-9 || math.Abs(l.SigmaCentre-apart) > 1e-9 {
			t.Errorf("orientation %d: %v off the middle, want %v, deviation %g", o, got, want, l.SigmaCentre)
		}
	}
	l := c.lensOf(taken(2000, 3000)) // upright, and nothing said
	if l.Camera.Cx != 999.5 || l.Camera.Cy != 1499.5 || math.Abs(l.SigmaCentre-math.Hypot(apart, math.Hypot(25, 12))) > 1e-9 {
		t.Errorf("turned by another program: %+v", l)
	}
}

func TestFocalOf(t *testing.T) {
	c := barrel()
	damaged := barrel()
	damaged.F = 1
	s := taken(3000, 2000)
	for name, k := range map[string]struct {
		h     Hints
		s     Sighting
		f35   float64
		used  bool
		sigma float64
	}{
		"calibrated":   {Hints{Calibration: &c}, s, 27, true, math.Hypot(0.001, refocus)},
		"none":         {Hints{}, s, 28, false, math.Hypot(lensTruth, rounding/28)},
		"other camera": {Hints{Calibration: &c}, Sighting{Model: "Other", Width: 3000, Height: 2000, Focal35: 28}, 28, false, math.Hypot(lensTruth, rounding/28)},
		"damaged":      {Hints{Calibration: &damaged}, s, 28, false, math.Hypot(lensTruth, rounding/28)},
		"the user's":   {Hints{Calibration: &c, Focal35: 30}, s, 30, false, statedSigma},
	} {
		f := k.h.focalOf(k.s)
		if math.Abs(f.F35-k.f35) > 1e-9 || f.Lens != nil != k.used || math.Abs(f.Sigma-k.sigma) > 1e-12 {
			t.Errorf("%s: %+v", name, f)
		}
		if k.used != strings.Contains(f.Note, "12 November 2026") {
			t.Errorf("%s: note %q", name, f.Note)
		}
	}
}

// Hints without a calibration are written as before, and one that is there comes back.
func TestCalibrationInHints(t *testing.T) {
	none, err := json.Marshal(Hints{})
	if err != nil || strings.Contains(string(none), "alibration") {
		t.Errorf("%s, %v", none, err)
	}
	c := barrel()
	text, err := json.Marshal(Hints{Calibration: &c})
	if err != nil {
		t.Fatal(err)
	}
	var back Hints
	if err := json.Unmarshal(text, &back); err != nil || back.Calibration == nil || *back.Calibration != c {
		t.Errorf("%+v, %v", back.Calibration, err)
	}
}

// With lenses drawn from a calibration, lengths 22 mm over the plane have errors as stated, several times smaller than without
// it: what a calibration is for.
func TestCalibrationSharpensAReference(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	const shots = 60
	cal := barrel()
	calibrated := Hints{Calibration: &cal}.focalOf(taken(3000, 2000))
	ends := [2]r3.Vec{{X: -60, Y: -30, Z: 22}, {X: 340, Y: -30, Z: 22}}
	var z2, with, without float64
	for range shots {
		c := cal.camera()
		k := math.Exp(calibrated.Sigma * rng.NormFloat64())
		c.F *= k
		c.Cx += calibrated.Lens.SigmaCentre * rng.NormFloat64()
		c.Cy += calibrated.Lens.SigmaCentre * rng.NormFloat64()
		c.K1, c.K2 = k*k*(c.K1+calibrated.Lens.SigmaK1*rng.NormFloat64()), k*k*k*k*(c.K2+cal.SigmaK2*rng.NormFloat64())
		plane := facing(600, 0.05*rng.NormFloat64(), 0.05*rng.NormFloat64(), 6*rng.Float64())
		s := photograph(c, plane, []laid{{}, {100, -60, 6 * rng.Float64()}}, cornerNoise, rng)
		g := func(r Reference) float64 { return s.raisedLength(r, ends) }
		adjust := func(f Focal) Reference { // from boards of exact size: their own error would hide the camera's
			ref, err := Adjust(s.boards, AdjustOptions{Width: 3000, Height: 2000, Focal: f, ScaleSigma: 1e-6})
			if err != nil {
				t.Fatal(err)
			}
			return ref
		}
		ref := adjust(calibrated)
		off := g(ref) - apart3(ends[0], ends[1])
		z2 += off * off / ref.variance(g) / shots
		with += ref.variance(g) / shots
		without += adjust(ChooseFocal(28, 0)).variance(g) / shots
	}
	t.Logf("mean squared error over variance %.2f; deviation of 400 mm: %.3f mm with a calibration, %.3f mm without", z2, math.Sqrt(with), math.Sqrt(without))
	if math.Abs(z2-1) > 4*math.Sqrt(2.0/shots) {
		t.Errorf("the mean squared error is %.2f of the stated variance", z2)
	}
	if with > without/4 {
		t.Errorf("a calibration brings %.3f mm down to %.3f mm only", math.Sqrt(without), math.Sqrt(with))
	}
}

// Two marks on a rule show nothing of a lens: with a calibration its distortion is taken off all the same.
func TestCalibrationCorrectsARule(t *testing.T) {
	cal := barrel()
	focal := Hints{Calibration: &cal}.focalOf(taken(3000, 2000))
	c := cal.camera()
	plane := facing(800, 0, 0, 0)
	var rule Rule
	for _, x := range []float64{-300, 300} {
		p, _ := c.Project(plane.ToCamera(r3.Vec{X: x, Y: 150}))
		rule.T, rule.P = append(rule.T, x+300), append(rule.P, p)
	}
	rule.Sigma = 0.1
	ref, err := FromRule(rule, RuleOptions{Width: 3000, Height: 2000, Focal: focal})
	if err != nil {
		t.Fatal(err)
	}
	var at [2]r3.Vec // 200 mm in the middle of the picture
	for i, x := range []float64{-100, 100} {
		p, _ := c.Project(plane.ToCamera(r3.Vec{X: x}))
		at[i], _ = ref.Plane.Meet(ref.Camera.Ray(p), 0)
	}
	if got := apart3(at[0], at[1]); math.Abs(got-200) > 0.05 || ref.SigmaK1 > 1.2*focal.Lens.SigmaK1 {
		t.Errorf("200 mm measure %.3f mm, k1 to %.4f", got, ref.SigmaK1)
	}
}

// A picture that contradicts the calibration is believed, and it is said.
func TestCalibrationContradicted(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	cal := barrel()
	s := photograph(NewCamera(3000, 2000, 40), facing(800, 0.4, 0.5, 0), []laid{{-200, 60, 0}, {0, -60, 0.1}}, cornerNoise, rng)
	ref := s.adjust(t, Hints{Calibration: &cal}.focalOf(taken(3000, 2000)))
	if off := ref.Camera.F/s.camera.F - 1; math.Abs(off) > 4*ref.SigmaF {
		t.Errorf("the focal length is %.2f %% off, stated to %.2f %%", 100*off, 100*ref.SigmaF)
	}
	if len(ref.Notes) == 0 || !strings.Contains(ref.Notes[0], "measure the camera again") {
		t.Errorf("notes: %q", ref.Notes)
	}
}
