package view

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"spindlestick/profile"
)

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", what, got, want, tol)
	}
}

func projector(t testing.TB, s Scene) Projector {
	t.Helper()
	p, err := NewProjector(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestToAxisRoundTrip: pixels come back through axis coordinates, whatever the pose and the lens.
func TestToAxisRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		s := stageFor(spindle(), draw(300, 3000, "distance"), draw(24, 100, "focal"), draw(0, 40, "height"),
			r2.Vec{X: draw(-200, 200, "along"), Y: draw(-80, 80, "across")}, draw(-3, 3, "roll"), draw(-0.3, 0.3, "tilt x"), draw(-0.3, 0.3, "tilt y"))
		s.scene.Camera.K1 = draw(-0.08, 0.08, "k1")
		p, err := NewProjector(s.scene)
		if err != nil {
			t.Fatal(err)
		}
		q := r2.Vec{X: draw(0, 3999, "x"), Y: draw(0, 2999, "y")}
		u, v := p.ToAxis(q)
		if d := r2.Norm(r2.Sub(p.ToPixel(u, v), q)); d > 1e-8 {
			t.Errorf("%v came back %g px away", q, d)
		}
		const h = 1e-6
		du, dv := p.PixelsPer(u, v)
		byU := r2.Scale(1/(2*h), r2.Sub(p.ToPixel(u+h, v), p.ToPixel(u-h, v)))
		byV := r2.Scale(1/(2*h), r2.Sub(p.ToPixel(u, v+h), p.ToPixel(u, v-h)))
		if r2.Norm(r2.Sub(du, byU))+r2.Norm(r2.Sub(dv, byV)) > 1e-5*r2.Norm(byU) {
			t.Errorf("derivatives %v %v, differences give %v %v", du, dv, byU, byV)
		}
		x := draw(0, 400, "station")
		at := r3.Add(s.scene.Axis.P, r3.Scale(x, s.scene.Axis.E))
		if want, ok := s.scene.Camera.Project(at); ok {
			if d := r2.Norm(r2.Sub(p.ToPixel(p.U(x), 0), want)); d > 1e-7 {
				t.Errorf("station %g lies %g px off", x, d)
			}
		}
	})
}

// TestProjectCylinder: a cylinder of radius r at distance d is seen under tan v = r / sqrt(d² - r²) everywhere but
// at its ends (tangent to a circle).
func TestProjectCylinder(t *testing.T) {
	p := projector(t, plain(spindle()).scene)
	l := p.LookAt([]profile.Segment{{X0: 0, R0: 15, X1: 400, R1: 15}})
	for _, u := range []float64{-0.19, -0.1, 0, 1e-12, 0.05, 0.19} {
		v, ok := l.Width(u, 0)
		if !ok {
			t.Fatalf("nothing is seen at u = %g", u)
		}
		near(t, "half width", v, 15/math.Sqrt(1000*1000-15*15), 1e-12)
	}
	if _, ok := l.Width(0.21, 0); ok {
		t.Error("something is seen beyond the end")
	}
	// The outermost ray touches the end's rim where it is nearest to the camera.
	lo, hi := l.Reach()
	near(t, "far end", hi, 200.0/(1000-15), 1e-12)
	near(t, "near end", lo, -200.0/(1000-15), 1e-12)
}

// TestProjectCone: the outline of a cone is two straight lines through the image of its apex (projective geometry);
// its half angle follows from the handbook taper.
func TestProjectCone(t *testing.T) {
	s := stageFor(taperPiece(), 1500, 40, 20, r2.Vec{X: 60, Y: 30}, 0.3, 0.05, -0.1)
	p := projector(t, s.scene)
	l := p.Look(s.pattern)
	apex := 26 * inch * 1.875 / (1.875 - 0.75)
	ua := p.U(apex)
	var slope float64
	for i, x := range []float64{30, 200, 400, 630} {
		u := p.U(x)
		v, _ := l.Width(u, 1)
		if i == 0 {
			slope = v / (u - ua)
		}
		near(t, "slope towards the apex", v/(u-ua), slope, 1e-12)
	}
	// Rays along the outline touch the cone: the plane through camera, apex and that line leans against it by the
	// half angle: its distance from the axis grows as sin(half angle) along it.
	half := 1.239 * math.Pi / 180
	n := r3.Unit(r3.Vec{X: slope, Y: -1, Z: -slope * ua}) // normal of v = slope (u - ua) in the axis frame
	near(t, "half angle", math.Asin(math.Abs(n.X))*180/math.Pi, half*180/math.Pi, 0.001)
}

// TestProjectSphere: rays w that touch a sphere of radius R at c satisfy (c.w)² = (|c|² - R²)|w|² (Hartley and
// Zisserman, Multiple View Geometry, 8.3: the outline of a sphere is a conic).
func TestProjectSphere(t *testing.T) {
	s := stageFor(spindle(), 700, 30, 10, r2.Vec{X: 150, Y: -20}, 0, 0.1, 0.05)
	p := projector(t, s.scene)
	const centre, radius = 120.0, 25.0
	half := 24.0
	end := math.Sqrt(radius*radius - half*half)
	l := p.LookAt([]profile.Segment{{X0: centre - half, R0: end, X1: centre + half, R1: end, Sagitta: radius - end}})
	c := r3.Vec{X: centre - p.Foot, Z: p.D}
	for _, off := range []float64{-12, -5, 0, 3, 12} {
		u := (c.X + off) / p.D
		v, ok := l.Width(u, 0)
		if !ok {
			t.Fatalf("nothing at %g", off)
		}
		w := r3.Vec{X: u, Y: v, Z: 1}
		dot := r3.Dot(c, w)
		near(t, "touching", dot*dot/((r3.Norm2(c)-radius*radius)*r3.Norm2(w)), 1, 1e-12)
	}
}

// TestProjectArcContour: a point of a bead or cove is on the contour when the ray to it lies in its tangent plane:
// (P - C).n = 0. Nothing reaches further there unless something else stands in front.
func TestProjectArcContour(t *testing.T) {
	p := projector(t, plain(spindle()).scene)
	for _, s := range []profile.Segment{
		{X0: 60, R0: 20, X1: 80, R1: 20, Sagitta: 6},   // bead
		{X0: 60, R0: 20, X1: 90, R1: 20, Sagitta: -4},  // cove
		{X0: 195, R0: 20, X1: 205, R1: 18, Sagitta: 5}, // half round below the camera
	} {
		l := p.LookAt([]profile.Segment{s})
		for f := 0.2; f < 0.85; f += 0.05 {
			x := s.X0 + f*(s.X1-s.X0)
			r, slope := s.At(x), s.Slope(x)
			// n = (-r', cos, sin): x r' + ... = the depth cosine of the touching point.
			cos := (r - (x-p.Foot)*slope) / p.D
			if math.Abs(cos) >= 1 {
				continue
			}
			depth := p.D - r*cos
			u, v := (x-p.Foot)/depth, r*math.Sqrt(1-cos*cos)/depth
			w, ok := l.Width(u, 1)
			if !ok || w < v-1e-12 {
				t.Errorf("station %.2f: reaches %.9f, its own contour %.9f", x, w, v)
			}
			if s.Sagitta > 0 {
				near(t, "convex contour", w, v, 1e-11)
			}
		}
	}
}

// TestWidthIsEnvelope: no circle of the piece shows outside the outline, and some circle reaches it.
func TestWidthIsEnvelope(t *testing.T) {
	s := stageFor(spindle(), 600, 35, 15, r2.Vec{X: 40, Y: 10}, 0.1, 0.03, 0.02)
	p := projector(t, s.scene)
	l := p.Look(s.pattern)
	lo, hi := l.Reach()
	const n = 4000
	most := make([]float64, n)
	for _, e := range s.pattern.Elements {
		for x := e.X0; x <= e.X1; x += 0.02 {
			r := e.At(x) / 2
			for k := range 720 {
				sin, cos := math.Sincos(math.Pi * float64(k) / 720)
				depth := p.D - r*cos
				u, v := (x-p.Foot)/depth, r*sin/depth
				w, ok := l.Width(u, 0)
				if !ok || v > w+1e-9 {
					t.Fatalf("a point at station %.2f shows %.2e outside the outline", x, v-w)
				}
				if i := int((u - lo) / (hi - lo) * n); i >= 0 && i < n {
					most[i] = math.Max(most[i], v)
				}
			}
			x += 0.3 * rand.New(rand.NewPCG(uint64(x*100), 1)).Float64()
		}
	}
	touched := 0
	for i, v := range most {
		u := lo + (float64(i)+0.5)/n*(hi-lo)
		if w, ok := l.Width(u, 0); ok && v > w-2e-4 {
			touched++
		}
	}
	if touched < n*9/10 {
		t.Errorf("only %d of %d places of the outline are reached by the surface", touched, n)
	}
}

// TestMissReadsDisplacement: a point moved along its normal by some pixels misses by as much, on slopes, rims and
// shoulder faces.
func TestMissReadsDisplacement(t *testing.T) {
	for _, pat := range []profile.Pattern{spindle(), newel()} {
		s := stageFor(pat, 900, 45, 10, r2.Vec{X: 30, Y: 20}, 0.2, 0.04, -0.03)
		p := projector(t, s.scene)
		l := p.Look(pat)
		rng := rand.New(rand.NewPCG(5, 6))
		for side := range 2 {
			pts := noisy(s.contour(p, l, side, 0.5), side, 0, nil)
			bad := 0
			for _, e := range pts {
				d := rng.NormFloat64() * 0.2
				e.P = r2.Add(e.P, r2.Scale(d, e.N))
				if math.Abs(l.Miss(p.Seen(side, []EdgePoint{e})[0])-d) > 0.005 {
					bad++ // beside a corner the normal meets the neighbouring piece
				}
			}
			if bad > len(pts)/50 {
				t.Errorf("side %d: %d of %d points miss by another distance than they were moved", side, bad, len(pts))
			}
		}
	}
}

func TestMissFarAway(t *testing.T) {
	s := plain(spindle())
	p := projector(t, s.scene)
	l := p.Look(s.pattern)
	e := EdgePoint{P: r2.Add(p.ToPixel(0, -0.05), r2.Vec{}), N: r2.Vec{Y: -1}}
	if got := l.Miss(p.Seen(0, []EdgePoint{e})[0]); got != missReach {
		t.Errorf("a point far outside misses by %g", got)
	}
	e.P = p.ToPixel(0, 0)
	if got := l.Miss(p.Seen(0, []EdgePoint{e})[0]); got != -missReach {
		t.Errorf("a point on the axis misses by %g", got)
	}
}

func TestNewProjectorRefuses(t *testing.T) {
	c := NewCamera(4000, 3000, 50)
	for _, l := range []Line{{E: r3.Vec{X: 1}}, {P: r3.Vec{Z: -500}, E: r3.Vec{X: 1}}, {P: r3.Vec{Z: math.NaN()}, E: r3.Vec{X: 1}}} {
		if _, err := NewProjector(Scene{Camera: c, Axis: l}); !errors.Is(err, ErrAxis) {
			t.Errorf("axis %v gave %v", l, err)
		}
	}
}
