package vision

import (
	"math"
)

// limbTable holds h(z) = E sqrt(max(z + N, 0)), N standard normal: what a Gaussian blur of unit width
// makes of a brightness that grows with the square root of the depth behind the edge. Light falling
// on a round piece does: its surface turns from edge-on to the camera like sqrt(2 depth / radius).
type limbTable struct {
	h []float64
}

// The table's range and pitch; beyond it the tails are below 1e-8 or have a short series.
const (
	limbFrom  = -5.0
	limbTo    = 9.0
	limbPitch = 0.02
)

func newLimbTable() *limbTable {
	n := int((limbTo-limbFrom)/limbPitch) + 2
	t := &limbTable{h: make([]float64, n)}
	for i := range t.h {
		t.h[i] = limbIntegral(limbFrom + float64(i)*limbPitch)
	}
	return t
}

// limbIntegral is h(z) by the trapezoidal rule after substituting u² = z + N, which makes it smooth.
func limbIntegral(z float64) float64 {
	const du = 0.02
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
