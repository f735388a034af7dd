package profile

import "math"

// Curve returns the pattern as samples every step mm from 0, and one at its far end: radii of the turned
// surface (of a square half its side), U the expanded uncertainty of the diameter between those of the
// element's stations, and of its station, which a scale that is a little off moves in proportion. It is empty for a
// step that is not above zero.
func (p Pattern) Curve(step float64) []Sample {
	if !(step > 0) || len(p.Elements) == 0 {
		return nil
	}
	n := int(math.Floor(p.Length/step + 1e-9))
	out := make([]Sample, 0, n+2)
	for i := range n + 1 {
		out = append(out, p.sample(math.Min(float64(i)*step, p.Length)))
	}
	if out[n].X < p.Length-joinTolerance {
		out = append(out, p.sample(p.Length))
	}
	return out
}

func (p Pattern) sample(x float64) Sample {
	i := max(0, p.Index(x))
	e := p.Elements[i]
	r := e.At(x) / 2
	u := math.Hypot(e.uncertaintyAt(x), p.bySlope(x, 2*r))
	return Sample{X: x, R: r, U: u, State: e.state(), Sides: [2]float64{r, r}}
}

// bySlope is how far the diameter d at station x changes within the uncertainty of the station.
func (p Pattern) bySlope(x, d float64) float64 {
	most := 0.0
	if ux := p.ULength * x / p.Length; ux > 0 {
		for _, at := range []float64{x - ux, x + ux} {
			if other, ok := p.DiameterAt(at); ok {
				most = math.Max(most, math.Abs(other-d))
			}
		}
	}
	return most
}

// uncertaintyAt interpolates the bounds of the element's diameters to station x.
func (e Element) uncertaintyAt(x float64) float64 {
	x0, u0, x1, u1 := e.X0, e.U.D0, e.X1, e.U.D1
	if m, _, ok := e.Mid(); ok && e.U.Mid > 0 {
		if x < m {
			x1, u1 = m, e.U.Mid
		} else {
			x0, u0 = m, e.U.Mid
		}
	}
	if x1 <= x0 {
		return u0
	}
	w := math.Max(0, math.Min(1, (x-x0)/(x1-x0)))
	return u0 + w*(u1-u0)
}
