package view

import "math"

// arcSteps is into how many parts an arc is cut to find which of its hills is the highest. Between the two rims
// of a cove there is one more at most, so that six parts tell them apart.
const arcSteps = 6

// widestArc is widest for an arc, by its angle phi: x = cx + rho sin phi, r = cr + sign rho cos phi.
func (t *turned) widestArc(u, d, ta, tb float64) float64 {
	if math.Abs(u) < 1e-9 {
		// All depths see the same station to within rho phi < 1e-6 mm.
		r := t.radius(u * d)
		return r * r / ((d - r) * (d + r))
	}
	w := arcView{t, u, d}
	lo, hi := w.angle(u*ta), w.angle(u*tb)
	step := (hi - lo) / arcSteps
	best, at := math.Inf(-1), 0
	for i := 0; i <= arcSteps; i++ {
		if h := w.height(lo + float64(i)*step); h > best {
			best, at = h, i
		}
	}
	a, b := lo+float64(max(at-1, 0))*step, lo+float64(min(at+1, arcSteps))*step
	return math.Max(best, w.height(w.crest(a, b)))
}

func (t *turned) radius(x float64) float64 {
	dx := x - t.cx
	return t.cr + t.sign*math.Sqrt(math.Max(0, t.rho*t.rho-dx*dx))
}

// arcView is an arc seen along one plane of rays.
type arcView struct {
	*turned
	u, d float64
}

func (w arcView) angle(x float64) float64 {
	return math.Asin(max(-1, min(1, (x-w.cx)/w.rho)))
}

func (w arcView) height(phi float64) float64 {
	sin, cos := math.Sincos(phi)
	t, r := (w.cx+w.rho*sin)/w.u, w.cr+w.sign*w.rho*cos
	return (r - t + w.d) * (r + t - w.d) / (t * t)
}

// slope is dv²/dphi, up to a positive factor.
func (w arcView) slope(phi float64) float64 {
	sin, cos := math.Sincos(phi)
	t, r := (w.cx+w.rho*sin)/w.u, w.cr+w.sign*w.rho*cos
	dt, dr := w.rho*cos/w.u, -w.sign*w.rho*sin
	h := (r - t + w.d) * (r + t - w.d) / t
	return r*dr - (t-w.d)*dt - h*dt
}

// crest finds the top between a and b by regula falsi on the slope (Illinois), or the end where the slope does
// not change its sign.
func (w arcView) crest(a, b float64) float64 {
	fa, fb := w.slope(a), w.slope(b)
	if (fa > 0) == (fb > 0) {
		if (fa > 0) == (b > a) {
			return b
		}
		return a
	}
	// The height is flat at the top: an angle off by 1e-8 changes it by 1e-16.
	for range 40 {
		c := b - fb*(b-a)/(fb-fa)
		fc := w.slope(c)
		if (fc > 0) == (fb > 0) {
			fa /= 2
		} else {
			a, fa = b, fb
		}
		b, fb = c, fc
		if math.Abs(b-a) < 1e-8 || fc == 0 {
			break
		}
	}
	return b
}
