package vision

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"spindlestick/profile/view"
)

func TestFrameRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-1000, 1000)
		f := newFrame(r2.Vec{X: c.Draw(t, "ax"), Y: c.Draw(t, "ay")}, r2.Vec{X: c.Draw(t, "bx") + 2001, Y: c.Draw(t, "by")})
		x, y := c.Draw(t, "x"), c.Draw(t, "y")
		if u, v := f.of(f.at(x, y)); math.Hypot(u-x, v-y) > 1e-6 {
			t.Fatalf("(%g, %g) comes back as (%g, %g)", x, y, u, v)
		}
	})
	// In a picture whose y runs down, left of "to the right" is up.
	if f := newFrame(r2.Vec{}, r2.Vec{X: 10}); f.N.Y != -1 {
		t.Errorf("left of the axis is %v", f.N)
	}
}

func TestRobustLineIgnoresAThird(t *testing.T) {
	var x, y []float64
	for i := range 90 {
		x = append(x, float64(i))
		y = append(y, 3+0.2*float64(i)+0.1*math.Sin(float64(7*i)))
		if i%3 == 0 {
			y[i] += 15
		}
	}
	if a, m := robustLine(x, y); math.Abs(a-3) > 0.1 || math.Abs(m-0.2) > 0.002 {
		t.Errorf("y = %.3f + %.4f x", a, m)
	}
}

// drawnStrip is a strip whose labels are sure: +1 on the piece, -1 off it.
func drawnStrip(nx, mid int, half func(i int) int) (*strip, labels) {
	s := &strip{f: newFrame(r2.Vec{}, r2.Vec{X: float64(nx)}), step: 1, nx: nx, ny: 2*mid + 1, mid: mid}
	s.pix, s.ok = make([]colour, nx*s.ny), make([]bool, nx*s.ny)
	q := make(labels, nx*s.ny)
	for i := range nx {
		for j := range s.ny {
			k := j*nx + i
			s.ok[k] = true
			if w := half(i); w > 0 && j >= mid-w && j <= mid+w {
				q[k], s.pix[k] = 1, colour{200, 200, 200}
			} else {
				q[k] = -1
			}
		}
	}
	return s, q
}

func TestMirrorSearchFollowsShoulders(t *testing.T) {
	half := func(i int) int {
		switch {
		case i < 20 || i >= 180:
			return 0
		case i < 80:
			return 12
		case i < 90:
			return 25
		}
		return 8
	}
	s, q := drawnStrip(200, 40, half)
	p := newMirrorSearch(s, q, 200).run()
	if p.From != 20 || p.To != 179 {
		t.Fatalf("columns %d to %d", p.From, p.To)
	}
	for i := p.From; i <= p.To; i++ {
		if p.W[i] != half(i) || p.C[i] != 0 {
			t.Errorf("column %d: half-width %d about %d, drawn %d", i, p.W[i], p.C[i], half(i))
		}
	}
}

// A shadow on one side of which the labels know nothing is left to the mirror, and a cord at the end
// does not lengthen the silhouette.
func TestTraceWithShadowAndCord(t *testing.T) {
	s, q := drawnStrip(200, 50, func(i int) int {
		switch {
		case i < 20:
			return 1
		case i < 180:
			return 22
		}
		return 0
	})
	for i := 20; i < 180; i++ {
		for j := s.mid + 23; j < s.mid+33; j++ {
			q[j*s.nx+i] = 0
		}
	}
	o, p := trace(s, q, newMirrorSearch(s, q, 200))
	if p.W[100] != 22 {
		t.Errorf("mirrored half-width %d, drawn 22", p.W[100])
	}
	if o.From < 18 || o.From > 20 || o.To != 179 || o.Torn {
		t.Errorf("silhouette from %d to %d, torn %v", o.From, o.To, o.Torn)
	}
	if o.Reach[0][100] != 22 || o.Reach[1][100] != 22 {
		t.Errorf("the sides reach %d and %d", o.Reach[0][100], o.Reach[1][100])
	}
}

func TestCoverHidesTheCardAlone(t *testing.T) {
	b := view.Board{Rows: 3, Cols: 5, Square: 10}
	for r := range 2 {
		var row []r2.Vec
		for c := range 4 {
			row = append(row, r2.Vec{X: 100 + 20*float64(c), Y: 100 + 20*float64(r)})
		}
		b.Corners = append(b.Corners, row)
	}
	c := newCover([]view.Board{b}, nil, nil)
	for p, want := range map[r2.Vec]bool{{X: 130, Y: 110}: true, {X: 70, Y: 70}: true, {X: 40, Y: 110}: false, {X: 130, Y: 200}: false} {
		if c.hides(p) != want {
			t.Errorf("point %v hidden: %v", p, !want)
		}
	}
}
