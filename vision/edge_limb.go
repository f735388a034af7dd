package vision

import (
	"math"
)

// limbTable holds h(z) = E sqrt(max(z + N, 0)), N standard normal: what a Gaussian blur of unit width
// makes of a brightness that grows with the square root of the depth behind the edge. Light falling
// on a round piece does: its surface turns from edge-on to the camera like sqrt(2 depth / radius).
type limbTable struct {
	h          []float64
	step, bell []float64 // the blurred unit step and its derivative
}

// The table's range and pitch; beyond it the tails are below 1e-8 or have a short series.
const (
	limbFrom  = -5.0
	limbTo    = 9.0
	limbPitch = 0.02
)

func newLimbTable() *limbTable {
	n := int((limbTo-limbFrom)/limbPitch) + 2
	t := &limbTable{h: make([]float64, n), step: make([]float64, n), bell: make([]float64, n)}
	for i := range t.h {
		z := limbFrom + float64(i)*limbPitch
		t.h[i] = limbIntegral(z)
		t.step[i], t.bell[i] = phi(z), normal(z)
	}
	return t
}

// normal is the normal density.
func normal(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// edge is the blurred unit step and its derivative at z.
func (t *limbTable) edge(z float64) (step, bell float64) {
	if z <= limbFrom {
		return 0, 0
	}
	if z >= -limbFrom {
		return 1, 0
	}
	x := (z - limbFrom) / limbPitch
	i := int(x)
	f := x - float64(i)
	return t.step[i] + f*(t.step[i+1]-t.step[i]), t.bell[i] + f*(t.bell[i+1]-t.bell[i])
}

// level is the blurred unit step at z.
func (t *limbTable) level(z float64) float64 {
	if z <= limbFrom {
		return 0
	}
	if z >= -limbFrom {
		return 1
	}
	x := (z - limbFrom) / limbPitch
	i := int(x)
	return t.step[i] + (x-float64(i))*(t.step[i+1]-t.step[i])
}

// limbIntegral is h(z) by the trapezoidal rule after substituting u² = z + N, which makes it smooth.
func limbIntegral(z float64) float64 {
	const du = 0.05                      // a third of the narrowest bell: the rule's error is far under the table's
	top := math.Sqrt(math.Max(z, 0) + 9) // nine standard deviations
	sum := 0.0
	for u := du; u < top; u += du {
		d := u*u - z
		sum += 2 * u * u * math.Exp(-d*d/2)
	}
	return sum * du / math.Sqrt(2*math.Pi)
}

// at is h(z) and its derivative.
func (t *limbTable) at(z float64) (h, slope float64) {
	if z <= limbFrom {
		return 0, 0
	}
	if z >= limbTo {
		r := math.Sqrt(z)
		return r * (1 - 1/(8*z*z)), (1 + 3/(8*z*z)) / (2 * r)
	}
	x := (z - limbFrom) / limbPitch
	i := int(x)
	f := x - float64(i)
	d := t.h[i+1] - t.h[i]
	return t.h[i] + f*d, d / limbPitch
}
