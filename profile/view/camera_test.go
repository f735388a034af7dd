package view

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// roundTrip is what two passes of the distortion polynomial and one of Newton's method may lose, normalised:
// a few hundred rounding errors, far under the 1e-6 px that any use here needs.
const roundTrip = 1e-10

func apart2(a, b r2.Vec) float64 { return r2.Norm(r2.Sub(a, b)) }
func apart3(a, b r3.Vec) float64 { return r3.Norm(r3.Sub(a, b)) }

// The strong barrel at which five fixed-point iterations are 0.9 px off: k1 = -0.35 to the picture's corner.
func TestUndistortStrongBarrel(t *testing.T) {
	c := NewCamera(3000, 2000, 26)
	c.K1 = -0.35
	worst := 0.0
	for r := 0.0; r < 0.99*c.fold(); r += 0.001 {
		n := r2.Vec{X: r * 0.6, Y: -r * 0.8}
		worst = math.Max(worst, apart2(c.Undistort(c.Distort(n)), n))
	}
	if worst > roundTrip {
		t.Errorf("round trip is %.3g off, want under %.0g", worst, roundTrip)
	}
}

func TestUndistortRoundTripProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := NewCamera(rapid.IntRange(200, 9000).Draw(t, "w"), rapid.IntRange(200, 9000).Draw(t, "h"), rapid.Float64Range(10, 300).Draw(t, "f35"))
		c.K1 = rapid.Float64Range(-0.4, 0.4).Draw(t, "k1")
		c.K2 = rapid.Float64Range(-0.2, 0.2).Draw(t, "k2")
		reach := math.Min(1.5, 0.99*c.fold())
		r, a := reach*rapid.Float64Range(0, 1).Draw(t, "r"), rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		n := r2.Vec{X: r * math.Cos(a), Y: r * math.Sin(a)}
		if d := apart2(c.Undistort(c.Distort(n)), n); !(d < roundTrip) {
			t.Fatalf("%+v: ideal %v comes back %g off", c, n, d)
		}
	})
}

// Every pixel of any camera has a finite ideal point, the ones past the fold included.
func TestUndistortIsTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := NewCamera(3000, 2000, rapid.Float64Range(10, 300).Draw(t, "f35"))
		c.K1, c.K2 = rapid.Float64Range(-2, 2).Draw(t, "k1"), rapid.Float64Range(-2, 2).Draw(t, "k2")
		p := r2.Vec{X: rapid.Float64Range(-1e4, 1e4).Draw(t, "x"), Y: rapid.Float64Range(-1e4, 1e4).Draw(t, "y")}
		if n := c.Undistort(p); !(math.Abs(n.X)+math.Abs(n.Y) < 1e9) {
			t.Fatalf("%v is seen from %v", p, n)
		}
	})
}

// The fold of pure barrel distortion is at r² = -1/(3 k1): where d(r + k1 r³)/dr = 0.
func TestFold(t *testing.T) {
	for _, c := range []struct{ k1, k2, want float64 }{
		{-0.35, 0, math.Sqrt(1 / 1.05)}, {0.1, 0, math.Inf(1)}, {0, 0, math.Inf(1)},
		{0, -0.2, 1}, {-0.3, 0.2, math.Inf(1)}, {1. / 3, -0.4, 1},
	} {
		if got := (Camera{K1: c.k1, K2: c.k2}).fold(); math.Abs(got-c.want) > 1e-12 && got != c.want {
			t.Errorf("k1 %g k2 %g: fold at %g, want %g", c.k1, c.k2, got, c.want)
		}
	}
}

func TestProjectRefuses(t *testing.T) {
	c := NewCamera(3000, 2000, 26)
	c.K1 = -0.35
	for _, x := range []r3.Vec{{Z: -1}, {X: 1}, {X: 2, Z: 1}} {
		if p, ok := c.Project(x); ok {
			t.Errorf("%v is said to be seen at %v", x, p)
		}
	}
}

// A 50 mm lens on the 36 x 24 mm frame itself, at 100 px a mm: the focal length is 5000 px.
func TestEquivalentFocalLength(t *testing.T) {
	c := NewCamera(3600, 2400, 50)
	if math.Abs(c.F-5000) > 1e-6 || math.Abs(c.Focal35()-50) > 1e-9 {
		t.Errorf("f = %g px, %g mm", c.F, c.Focal35())
	}
}

func TestJacobianIsTheDerivative(t *testing.T) {
	c := NewCamera(3000, 2000, 28)
	c.K1, c.K2 = -0.2, 0.05
	n := r2.Vec{X: 0.31, Y: -0.22}
	j := c.Jacobian(n)
	const h = 1e-6
	for k, d := range []r2.Vec{{X: h}, {Y: h}} {
		g := r2.Scale(1/(2*h), r2.Sub(c.Distort(r2.Add(n, d)), c.Distort(r2.Sub(n, d))))
		if math.Abs(g.X-j[0][k]) > 1e-4 || math.Abs(g.Y-j[1][k]) > 1e-4 {
			t.Errorf("column %d is %v, the difference quotient %v", k, [2]float64{j[0][k], j[1][k]}, g)
		}
	}
}

func drawPose(t *rapid.T) Pose {
	w := r3.Vec{X: math.Pi + rapid.Float64Range(-0.5, 0.5).Draw(t, "wx"), Y: rapid.Float64Range(-0.5, 0.5).Draw(t, "wy"), Z: rapid.Float64Range(-1, 1).Draw(t, "wz")}
	return Pose{R: rotation(w), T: r3.Vec{X: rapid.Float64Range(-200, 200).Draw(t, "x"), Y: rapid.Float64Range(-200, 200).Draw(t, "y"), Z: rapid.Float64Range(300, 3000).Draw(t, "z")}}
}

func TestPoseRoundTripAndMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPose(t)
		w := r3.Vec{X: rapid.Float64Range(-300, 300).Draw(t, "px"), Y: rapid.Float64Range(-300, 300).Draw(t, "py"), Z: rapid.Float64Range(0, 30).Draw(t, "pz")}
		if d := apart3(p.ToPlane(p.ToCamera(w)), w); d > 1e-9 {
			t.Fatalf("comes back %g mm off", d)
		}
		if d := r3.Norm(p.ToCamera(p.Eye())); d > 1e-9 {
			t.Fatalf("the eye is %g mm from the camera", d)
		}
		got, ok := p.Meet(p.ToCamera(w), w.Z)
		if p.ToCamera(w).Z > 0 && (!ok || apart3(got, w) > 1e-7) {
			t.Fatalf("the ray to %v meets its height at %v (%v)", w, got, ok)
		}
	})
}

// Rodrigues' formula gives a proper rotation that turns by its length about its direction.
func TestRotation(t *testing.T) {
	r := rotation(r3.Vec{Z: math.Pi / 2})
	if got := turn(r, r3.Vec{X: 1}); apart3(got, r3.Vec{Y: 1}) > 1e-15 {
		t.Errorf("a quarter turn about z takes x to %v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		w := r3.Vec{X: rapid.Float64Range(-3, 3).Draw(t, "x"), Y: rapid.Float64Range(-3, 3).Draw(t, "y"), Z: rapid.Float64Range(-3, 3).Draw(t, "z")}
		r := rotation(w)
		near, ok := nearestRotation(r)
		if !ok || apart3(turn(r, w), w) > 1e-12 || apart3(column(near, 0), column(r, 0)) > 1e-12 {
			t.Fatalf("%v is not the rotation about its own axis", r)
		}
	})
}
