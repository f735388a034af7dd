package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile/view"
)

// level sees the picture as a camera turned towards the axis would: only there do the two sides of a
// turning mirror. The axis is taken to run parallel to the picture, which is good enough to tell damage
// from perspective. Lengths are in pixels at the axis.
type level struct {
	cam     view.Camera
	x, y, z r3.Vec // along the axis, to its left, and towards it
	u0      float64
	length  float64
}

// newLevel turns towards the axis of f. A camera without a focal length counts as one far away.
func newLevel(f frame, cam view.Camera) level {
	if cam.F <= 0 {
		cam.F = 1e3 * math.Hypot(float64(cam.Width), float64(cam.Height))
	}
	l := level{cam: cam}
	a, b := l.ray(f.O), l.ray(f.at(f.L, 0))
	l.x = r3.Unit(r3.Sub(b, a))
	l.y = r3.Unit(r3.Cross(b, a)) // both have z = 1: to the left of a -> b as the picture shows it
	l.z = r3.Cross(l.x, l.y)
	if l.z.Z < 0 {
		l.z = r3.Scale(-1, l.z)
	}
	l.u0, _ = l.of(f.O)
	end, _ := l.of(f.at(f.L, 0))
	l.length = end
	return l
}

// ray is the direction of pixel p, its z component 1.
func (l *level) ray(p r2.Vec) r3.Vec {
	return r3.Vec{X: (p.X - l.cam.Cx) / l.cam.F, Y: (p.Y - l.cam.Cy) / l.cam.F, Z: 1}
}

// of is the station along the axis and the offset to its left of pixel p.
func (l *level) of(p r2.Vec) (x, y float64) {
	w := l.ray(p)
	k := l.cam.F / r3.Dot(l.z, w)
	return k*r3.Dot(l.x, w) - l.u0, k * r3.Dot(l.y, w)
}

// at is the pixel at station x and offset y to the left.
func (l *level) at(x, y float64) r2.Vec {
	w := r3.Add(l.z, r3.Scale(1/l.cam.F, r3.Add(r3.Scale(x+l.u0, l.x), r3.Scale(y, l.y))))
	return r2.Vec{X: l.cam.Cx + l.cam.F*w.X/w.Z, Y: l.cam.Cy + l.cam.F*w.Y/w.Z}
}
