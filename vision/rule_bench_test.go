package vision

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// projective is u = (a t + b)/(c t + 1): where graduation t of a straight rule stands along its picture.
type projective struct{ a, b, c float64 }

func (f projective) at(t float64) float64 { return (f.a*t + f.b) / (f.c*t + 1) }

func fitProjective(t testing.TB, ts, us []float64) projective {
	t.Helper()
	lhs, rhs := mat.NewDense(len(ts), 3, nil), mat.NewVecDense(len(ts), nil)
	for i := range ts {
		lhs.SetRow(i, []float64{ts[i], 1, -us[i] * ts[i]})
		rhs.SetVec(i, us[i])
	}
	var x mat.VecDense
	if err := x.SolveVec(lhs, rhs); err != nil {
		t.Fatal(err)
	}
	return projective{x.AtVec(0), x.AtVec(1), x.AtVec(2)}
}

// The bench's rules, one in mm and one in inches and upside down, with marks up to 3 px off. Along the rule the graduations read must lie
// where they are but for one shift (they may be read elsewhere across the rule, whose lines need not be square to it in the picture).
func TestBenchRules(t *testing.T) {
	const tolerance = 0.12 // px rms: lines along the pixels are rendered in steps of 1/4 px, 0.07 px rms before averaging
	rng := rand.New(rand.NewPCG(3, 4))
	for _, scene := range []string{"b05", "b06"} {
		path := filepath.Join(benchFolder(t), scene+".json")
		truth := readTruth(t, path)
		p, err := Load(filepath.Join(filepath.Dir(path), truth.Image))
		if err != nil {
			t.Fatal(err)
		}
		defer p.Close()
		marks := truth.Reference.Marks
		for trial := range 12 {
			first, last := marks[rng.IntN(len(marks)/3)], marks[len(marks)-1-rng.IntN(len(marks)/3)]
			if trial%2 == 1 {
				first, last = last, first
			}
			off := func() float64 { return 6*rng.Float64() - 3 }
			m := view.RuleMarks{
				P:      r2.Vec{X: first.Px[0] + off(), Y: first.Px[1] + off()},
				Q:      r2.Vec{X: last.Px[0] + off(), Y: last.Px[1] + off()},
				Length: math.Abs(last.MM - first.MM),
			}
			rule, read, err := ReadRule(p, m)
			if err != nil || !read {
				t.Errorf("%s trial %d: read %v, %v", scene, trial, read, err)
				continue
			}
			shift, rms := alongErrors(t, rule, marks, first, last)
			t.Logf("%s: %.0f to %.0f mm: %d graduations over %.1f mm, shift %.3f px, rms %.3f px, sigma %.3f", scene, first.MM, last.MM,
				len(rule.T), math.Abs(rule.T[len(rule.T)-1]-rule.T[0]), shift, rms, rule.Sigma)
			if rms > tolerance {
				t.Errorf("%s trial %d: %.3f px rms", scene, trial, rms)
			}
		}
	}
}

// alongErrors compares graduations with the true ones along the rule: the mean difference modulo a graduation is the shift.
func alongErrors(t testing.TB, rule view.Rule, marks []benchMark, first, last benchMark) (shift, rms float64) {
	t.Helper()
	a, b := r2.Vec{X: first.Px[0], Y: first.Px[1]}, r2.Vec{X: last.Px[0], Y: last.Px[1]}
	e := r2.Unit(r2.Sub(b, a))
	sign := math.Copysign(1, last.MM-first.MM)
	var ts, us []float64
	for _, k := range marks {
		ts = append(ts, sign*(k.MM-first.MM))
		us = append(us, r2.Dot(r2.Sub(r2.Vec{X: k.Px[0], Y: k.Px[1]}, a), e))
	}
	f := fitProjective(t, ts, us)
	// The first mark is up to 3 px off, half a graduation: which one is 0 is not asked for.
	var d []float64
	best := math.Inf(1)
	for _, slip := range []float64{0, -1, 1, -inch / 16, inch / 16} {
		var e2 []float64
		for i, q := range rule.P {
			e2 = append(e2, r2.Dot(r2.Sub(q, a), e)-f.at(rule.T[i]+slip))
		}
		if m := math.Abs(mean(e2)); m < best {
			best, d = m, e2
		}
	}
	shift = mean(d)
	for _, v := range d {
		rms += (v - shift) * (v - shift)
	}
	return shift, math.Sqrt(rms / float64(len(d)))
}
