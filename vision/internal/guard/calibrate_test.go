package guard

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// seenBy projects a grid of 10 mm through a pinhole with radial distortion, turned by the rotation vector w.
func seenBy(l Lens, w, shift r3.Vec) View {
	var v View
	turn := r3.NewRotation(r3.Norm(w), w)
	for y := range 5 {
		for x := range 7 {
			p := r3.Add(turn.Rotate(r3.Vec{X: 10 * float64(x), Y: 10 * float64(y)}), shift)
			u := r2.Vec{X: p.X / p.Z, Y: p.Y / p.Z}
			s := r2.Norm2(u)
			u = r2.Scale(l.F*(1+s*(l.K1+s*l.K2)), u)
			v.At = append(v.At, r2.Vec{X: 10 * float64(x), Y: 10 * float64(y)})
			v.Seen = append(v.Seen, r2.Vec{X: l.Cx + u.X, Y: l.Cy + u.Y})
		}
	}
	return v
}

func tiltedViews(l Lens) []View {
	var views []View
	for _, w := range []r3.Vec{{X: 0.5}, {Y: 0.5}, {X: -0.5, Z: 1}, {X: 0.3, Y: -0.4}, {Z: 0.2}} {
		views = append(views, seenBy(l, w, r3.Vec{X: -30, Y: -20, Z: 110}))
	}
	return views
}

// Without noise the lens comes back to what single precision of the points allows, and so do the poses.
func TestCalibrateExact(t *testing.T) {
	want := Lens{F: 800, Cx: 330, Cy: 230, K1: -0.2, K2: 0.1}
	got, err := Calibrate(tiltedViews(want), 640, 480, Fixed{})
	if err != nil {
		t.Fatal(err)
	}
	l := got.Lens
	if math.Abs(l.F-800) > 0.01 || math.Abs(l.Cx-330) > 0.01 || math.Abs(l.Cy-230) > 0.01 || math.Abs(l.K1+0.2) > 1e-4 || math.Abs(l.K2-0.1) > 1e-3 {
		t.Errorf("lens %+v", l)
	}
	if d := r3.Norm(r3.Sub(got.Turns[2], r3.Vec{X: -0.5, Z: 1})); d > 1e-4 || math.Abs(got.Shifts[2].Z-110) > 0.01 {
		t.Errorf("third view turned by %v, shifted by %v", got.Turns[2], got.Shifts[2])
	}
}

// Errors over their deviations have a mean square of one, with a standard deviation of sqrt(2/n).
func TestCalibrateDeviationsAreHonest(t *testing.T) {
	want := Lens{F: 800, Cx: 330, Cy: 230, K1: -0.2, K2: 0.1}
	rng := rand.New(rand.NewPCG(1, 2))
	const times = 80
	var sum [5]float64
	for range times {
		views := tiltedViews(want)
		for _, v := range views {
			for i := range v.Seen {
				v.Seen[i] = r2.Add(v.Seen[i], r2.Vec{X: 0.1 * rng.NormFloat64(), Y: 0.1 * rng.NormFloat64()})
			}
		}
		c, err := Calibrate(views, 640, 480, Fixed{})
		if err != nil {
			t.Fatal(err)
		}
		l, s := c.Lens, c.Sigma
		for i, z := range []float64{(l.F - want.F) / s.F, (l.Cx - want.Cx) / s.Cx, (l.Cy - want.Cy) / s.Cy, (l.K1 - want.K1) / s.K1, (l.K2 - want.K2) / s.K2} {
			sum[i] += z * z / times
		}
	}
	t.Logf("mean squared errors over variance: %.2f", sum)
	for i, v := range sum {
		if math.Abs(v-1) > 4*math.Sqrt(2.0/times) {
			t.Errorf("parameter %d: mean squared error %.2f of the stated variance", i, v)
		}
	}
}

func TestCalibrateFixes(t *testing.T) {
	got, err := Calibrate(tiltedViews(Lens{F: 800, Cx: 319.5, Cy: 239.5, K1: -0.1}), 640, 480, Fixed{Centre: true, K2: true})
	if err != nil {
		t.Fatal(err)
	}
	l, s := got.Lens, got.Sigma
	if l.Cx != 319.5 || l.Cy != 239.5 || l.K2 != 0 || s.Cx != 0 || s.Cy != 0 || s.K2 != 0 || math.Abs(l.F-800) > 0.01 {
		t.Errorf("lens %+v, deviations %+v", l, s)
	}
}

func TestCalibrateRefuses(t *testing.T) {
	good := tiltedViews(Lens{F: 800, Cx: 320, Cy: 240})
	line, notFinite, short, far := seenBy(Lens{F: 800}, r3.Vec{}, r3.Vec{Z: 100}), good[0], good[0], good[0]
	for i := range line.At {
		line.At[i].Y = line.At[i].X
	}
	notFinite.Seen = append([]r2.Vec{{X: math.NaN()}}, good[0].Seen[1:]...)
	short.Seen = short.Seen[1:]
	far.Seen = append([]r2.Vec{{X: math.Inf(1)}}, good[0].Seen[1:]...)
	for name, views := range map[string][]View{"none": nil, "line": {line}, "NaN": {notFinite}, "short": {short}, "far": {far}, "zero": {{}}} {
		if _, err := Calibrate(views, 640, 480, Fixed{}); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if _, err := Calibrate(good, 0, 480, Fixed{}); err == nil {
		t.Error("a picture without a size is taken")
	}
}
