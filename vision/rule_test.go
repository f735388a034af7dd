package vision

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"spindlestick/profile/view"
)

// drawnRule is a rule in a drawing: q.X runs along its graduated edge in mm, q.Y away from it.
type drawnRule struct {
	at      r2.Vec  // px, of the middle of the edge
	scale   float64 // px a mm there
	turn    float64 // rad
	tilt    float64 // how much nearer the rule is 100 mm further along, as a part of the distance
	length  float64 // mm
	pitch   float64 // mm, of the finest lines
	long    int     // every so many lines are twice as long
	light   bool    // light lines on a dark rule
	missing [2]float64
	bend    float64 // lens distortion: a point at r px from at is seen where one at r (1 + bend r^2) would be
}

func (r drawnRule) point(q r2.Vec) r2.Vec {
	q.X -= r.length / 2
	ideal := r2.Rotate(r2.Scale(r.scale/(1-r.tilt*q.X/100), q), r.turn, r2.Vec{})
	seen := ideal
	for range 30 {
		seen = r2.Scale(1/(1+r.bend*r2.Norm2(seen)), ideal)
	}
	return r2.Add(r.at, seen)
}

func (r drawnRule) plane(p r2.Vec) r2.Vec {
	p = r2.Sub(p, r.at)
	v := r2.Scale((1+r.bend*r2.Norm2(p))/r.scale, r2.Rotate(p, -r.turn, r2.Vec{}))
	q := r2.Scale(1/(1+r.tilt*v.X/100), v)
	q.X += r.length / 2
	return q
}

const (
	drawnRuleWidth = 25.0 // mm
	drawnLine      = 0.2  // mm, the width of a line
)

func (r drawnRule) shade(p r2.Vec) float64 {
	const ground, metal, ink = 0.1, 0.5, 0.08
	q := r.plane(p)
	if q.X < -3 || q.X > r.length+3 || q.Y < 0 || q.Y > drawnRuleWidth {
		return ground
	}
	face, line := metal, ink
	if r.light {
		face, line = ink, metal
	}
	k := math.Round(q.X / r.pitch)
	tall := 5.0
	if int(k)%r.long == 0 {
		tall = 10
	}
	covered := q.X > r.missing[0] && q.X < r.missing[1]
	if covered || k < 0 || k*r.pitch > r.length+0.01 || q.Y > tall || math.Abs(q.X-k*r.pitch) > drawnLine/2 {
		return face
	}
	return line
}

// ruleCases are drawn rules with marks at two stations (mm along, mm across), each off by some px, and how well they must be read.
var ruleCases = []struct {
	name        string
	picture     drawing
	rule        drawnRule
	p, q        r2.Vec // mm
	offP, offQ  r2.Vec // px
	tolerance   float64
	graduations int // at least
}{
	{"mm, marks on the edge", drawing{w: 1400, h: 200, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 700, Y: 60}, scale: 6.5, turn: 0.01, length: 200, pitch: 1, long: 10},
		r2.Vec{X: 20}, r2.Vec{X: 170}, r2.Vec{X: 2, Y: -2}, r2.Vec{X: -2, Y: 1}, 0.04, 40},
	{"mm, marks on the long lines' ends, backwards", drawing{w: 1400, h: 250, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 700, Y: 60}, scale: 6.5, turn: 0.05, length: 200, pitch: 1, long: 10},
		r2.Vec{X: 190, Y: 11}, r2.Vec{X: 30, Y: 11}, r2.Vec{X: -1, Y: 2}, r2.Vec{X: 2, Y: 1}, 0.04, 40},
	{"fine", drawing{w: 1000, h: 120, blur: 0.6, noise: 1.5},
		drawnRule{at: r2.Vec{X: 500, Y: 40}, scale: 2.6, turn: -0.02, length: 360, pitch: 1, long: 10},
		r2.Vec{X: 10}, r2.Vec{X: 350}, r2.Vec{X: 1, Y: 2}, r2.Vec{X: 1, Y: 1}, 0.04, 30},
	{"sixteenths, upside down and tilted", drawing{w: 1300, h: 300, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 650, Y: 180}, scale: 5, turn: math.Pi + 0.06, tilt: 0.08, length: 9 * inch, pitch: inch / 16, long: 16},
		r2.Vec{X: inch}, r2.Vec{X: 8 * inch}, r2.Vec{X: 2, Y: 2}, r2.Vec{X: -2, Y: -1}, 0.05, 30},
	{"thirty-seconds", drawing{w: 1300, h: 200, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 650, Y: 60}, scale: 6, turn: 0.02, length: 8 * inch, pitch: inch / 32, long: 32},
		r2.Vec{X: inch}, r2.Vec{X: 7 * inch}, r2.Vec{X: 1}, r2.Vec{X: -1}, 0.05, 30},
	{"half mm", drawing{w: 1300, h: 200, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 650, Y: 60}, scale: 9, turn: 0.02, length: 130, pitch: 0.5, long: 20},
		r2.Vec{X: 10}, r2.Vec{X: 120}, r2.Vec{X: 1}, r2.Vec{X: -1}, 0.05, 30},
	{"light lines, dim and noisy", drawing{w: 1400, h: 200, blur: 1, noise: 5},
		drawnRule{at: r2.Vec{X: 700, Y: 60}, scale: 6.5, turn: 0.01, length: 200, pitch: 1, long: 10, light: true},
		r2.Vec{X: 20}, r2.Vec{X: 170}, r2.Vec{X: 2, Y: -2}, r2.Vec{X: -2, Y: 1}, 0.05, 40},
	{"upright, partly covered", drawing{w: 200, h: 1400, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 100, Y: 700}, scale: 6.5, turn: math.Pi / 2, length: 200, pitch: 1, long: 10, missing: [2]float64{60, 68}},
		r2.Vec{X: 20}, r2.Vec{X: 170}, r2.Vec{X: 2, Y: -2}, r2.Vec{X: -2, Y: 1}, 0.04, 35},
	{"bent by a lens", drawing{w: 1400, h: 200, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 700, Y: 60}, scale: 6.5, turn: 0.01, length: 200, pitch: 1, long: 10, bend: 3.5e-8},
		r2.Vec{X: 20}, r2.Vec{X: 170}, r2.Vec{X: 2, Y: -2}, r2.Vec{X: -2, Y: 1}, 0.04, 30},
	{"marks near each other", drawing{w: 1400, h: 200, blur: 0.7, noise: 1.5},
		drawnRule{at: r2.Vec{X: 700, Y: 60}, scale: 6.5, turn: 0.01, length: 200, pitch: 1, long: 10},
		r2.Vec{X: 90}, r2.Vec{X: 110}, r2.Vec{X: 1, Y: -2}, r2.Vec{X: -1, Y: 1}, 0.04, 40},
}

func TestReadRule(t *testing.T) {
	for _, c := range ruleCases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			c.picture.shade = c.rule.shade
			m := view.RuleMarks{
				P: r2.Add(c.rule.point(c.p), c.offP), Q: r2.Add(c.rule.point(c.q), c.offQ), Length: math.Abs(c.q.X - c.p.X),
			}
			rule, read, err := ReadRule(c.picture.photo(t), m)
			if err != nil || !read {
				t.Fatalf("read %v, %v", read, err)
			}
			rms, slip := drawnRuleErrors(rule, c.rule, c.p, c.q)
			t.Logf("%d graduations, rms %.3f px, sigma %.3f px, zero off by %.2f mm", len(rule.T), rms, rule.Sigma, slip)
			if rms > c.tolerance || len(rule.T) < c.graduations {
				t.Errorf("%d graduations, rms %.3f px", len(rule.T), rms)
			}
			if nearest := 4 / c.rule.scale; math.Abs(slip) > nearest+c.rule.pitch {
				t.Errorf("graduation 0 lies %.2f mm from the first mark", slip)
			}
			if rule.Sigma < 0.02 || rule.Sigma > 2*rms+0.06 {
				t.Errorf("sigma %.3f px for an rms of %.3f px", rule.Sigma, rms)
			}
		})
	}
}

// drawnRuleErrors compares the places read with those drawn: the mean difference in mm is that of graduation 0 from the mark, the
// rest in px.
func drawnRuleErrors(rule view.Rule, drawn drawnRule, p, q r2.Vec) (rms, slip float64) {
	sign := math.Copysign(1, q.X-p.X)
	var d, px []float64
	for i, at := range rule.P {
		d = append(d, drawn.plane(at).X-(p.X+sign*rule.T[i]))
	}
	slip = mean(d)
	for i := range d {
		h := 1e-3
		a := drawn.plane(rule.P[i])
		here := r2.Norm(r2.Sub(drawn.point(r2.Vec{X: a.X + h, Y: a.Y}), rule.P[i])) / h
		px = append(px, (d[i]-slip)*here)
	}
	for _, v := range px {
		rms += v * v
	}
	return math.Sqrt(rms / float64(len(px))), slip
}

func TestReadRuleContradiction(t *testing.T) {
	r := drawnRule{at: r2.Vec{X: 500, Y: 60}, scale: 6.5, turn: 0.01, length: 140, pitch: 1, long: 10}
	photo := drawing{w: 1000, h: 200, blur: 0.7, noise: 1.5, shade: r.shade}.photo(t)
	m := view.RuleMarks{P: r.point(r2.Vec{X: 20}), Q: r.point(r2.Vec{X: 120})}
	for _, c := range []struct {
		length float64
		words  []string
	}{{110, []string{"110 mm", "100 graduations", "1 mm"}}, {95, []string{"95 mm", "100 graduations"}}, {100.5, []string{"100.5"}}} {
		m.Length = c.length
		_, _, err := ReadRule(photo, m)
		if !errors.Is(err, ErrMarks) {
			t.Errorf("%v mm: %v", c.length, err)
			continue
		}
		for _, w := range c.words {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%v mm: %q does not say %q", c.length, err, w)
			}
		}
	}
}

// A reeded piece beside the rule, clearer than its lines, is not taken for them.
func TestReadRuleBesideReeds(t *testing.T) {
	r := drawnRule{at: r2.Vec{X: 500, Y: 60}, scale: 6.5, turn: 0.005, length: 140, pitch: 1, long: 10}
	photo := drawing{w: 1000, h: 200, blur: 0.7, noise: 1.5, shade: func(p r2.Vec) float64 {
		if p.Y < 45 {
			return 0.4 + 0.38*math.Sin(2*math.Pi*p.X/11.7)
		}
		return r.shade(p)
	}}.photo(t)
	rule, read, err := ReadRule(photo, view.RuleMarks{P: r.point(r2.Vec{X: 20}), Q: r.point(r2.Vec{X: 120}), Length: 100})
	if err != nil || !read {
		t.Fatalf("read %v, %v", read, err)
	}
	if rms, _ := drawnRuleErrors(rule, r, r2.Vec{X: 20}, r2.Vec{X: 120}); rms > 0.05 {
		t.Errorf("rms %.3f px", rms)
	}
}

// Where there are no graduations, the marks are what is known.
func TestReadRuleWithoutComb(t *testing.T) {
	for name, shade := range map[string]func(r2.Vec) float64{
		"blank": func(r2.Vec) float64 { return 0.3 },
		"edges": func(p r2.Vec) float64 { return 0.1 + 0.3*math.Floor(math.Mod(p.X*p.X/9000+p.Y/97, 2)) },
	} {
		photo := drawing{w: 600, h: 120, noise: 3, shade: shade}.photo(t)
		m := view.RuleMarks{P: r2.Vec{X: 50, Y: 60}, Q: r2.Vec{X: 550, Y: 70}, Length: 100}
		rule, read, err := ReadRule(photo, m)
		if err != nil || read {
			t.Errorf("%s: read %v, %v", name, read, err)
			continue
		}
		if len(rule.T) != 2 || rule.T[1] != 100 || rule.P[0] != m.P || rule.P[1] != m.Q || rule.Sigma != markSigma {
			t.Errorf("%s: %+v", name, rule)
		}
	}
}

// Whatever the marks and the picture, what is returned is finite and in order.
func TestReadRuleAnywhere(t *testing.T) {
	grain := drawing{w: 300, h: 200, noise: 6, shade: func(p r2.Vec) float64 {
		return 0.2 + 0.1*math.Sin(p.Y/2+2*math.Sin(p.X/60)) + 0.05*math.Sin(p.X*p.Y/900)
	}}.photo(t)
	rapid.Check(t, func(t *rapid.T) {
		m := view.RuleMarks{
			P:      r2.Vec{X: rapid.Float64Range(0, 299).Draw(t, "px"), Y: rapid.Float64Range(0, 199).Draw(t, "py")},
			Q:      r2.Vec{X: rapid.Float64Range(0, 299).Draw(t, "qx"), Y: rapid.Float64Range(0, 199).Draw(t, "qy")},
			Length: rapid.Float64Range(1e-300, 1e6).Draw(t, "length"),
		}
		rule, _, err := ReadRule(grain, m)
		if err != nil {
			return
		}
		if len(rule.T) < 2 || len(rule.T) != len(rule.P) || !(rule.Sigma > 0) {
			t.Fatalf("%+v", rule)
		}
		for i, at := range rule.P {
			if math.IsNaN(at.X+at.Y+rule.T[i]) || i > 0 && rule.T[i] <= rule.T[i-1] {
				t.Fatalf("graduation %d at %v mm, %v px", i, rule.T[i], at)
			}
		}
	})
}

func TestReadRuleRefuses(t *testing.T) {
	photo := drawing{w: 200, h: 100, shade: func(r2.Vec) float64 { return 0.5 }}.photo(t)
	good := view.RuleMarks{P: r2.Vec{X: 10, Y: 50}, Q: r2.Vec{X: 190, Y: 50}, Length: 100}
	for name, change := range map[string]func(m *view.RuleMarks){
		"no length":  func(m *view.RuleMarks) { m.Length = 0 },
		"NaN length": func(m *view.RuleMarks) { m.Length = math.NaN() },
		"NaN place":  func(m *view.RuleMarks) { m.P.X = math.NaN() },
		"outside":    func(m *view.RuleMarks) { m.Q.X = 500 },
		"one place":  func(m *view.RuleMarks) { m.Q = m.P },
		"endless":    func(m *view.RuleMarks) { m.Length = math.Inf(1) },
	} {
		m := good
		change(&m)
		if _, _, err := ReadRule(photo, m); !errors.Is(err, ErrMarks) {
			t.Errorf("%s: %v", name, err)
		}
	}
	photo.Close()
	if _, _, err := ReadRule(photo, good); !errors.Is(err, ErrClosed) {
		t.Errorf("closed: %v", err)
	}
}

func TestGraduationOf(t *testing.T) {
	for _, c := range []struct {
		count, pixels, length float64
		want                  string
	}{
		{300.2, 2000, 300, "1 mm"}, {600, 5000, 300, "0.5 mm"}, {188.9, 1500, 11.8125 * inch, "1/16 in"}, {189, 1500, 300, "1/16 in"},
		{378, 3000, 11.8125 * inch, "1/32 in"}, {60, 1000, 6 * inch, "1/10 in"}, {12, 1000, 12 * inch, "1 in"}, {30, 900, 300, "10 mm"},
	} {
		if g, err := graduationOf(c.count, c.pixels, c.length); err != nil || g.name != c.want {
			t.Errorf("%v over %v mm: %s, %v, want %s", c.count, c.length, g.name, err, c.want)
		}
	}
	for _, c := range [][3]float64{{290, 4000, 300}, {310, 4000, 300}, {100, 1000, 112}, {30, 3000, 301}} {
		if g, err := graduationOf(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v: taken as %s", c, g.name)
		}
	}
}
