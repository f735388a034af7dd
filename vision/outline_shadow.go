package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// What a point on a side in shadow must show to be believed.
const (
	shadowSigma = 0.35 // px: standard deviation claimed, at most
	shadowMiss  = 1.0  // px from where the lit side mirrors to, at most
	shadowFloor = 0.4  // px: standard deviation claimed, at least: hue is stored at half the pitch of luma
	shadowVague = 1.0  // px: standard deviation of points elsewhere that are left out
	shadowEnd   = 0.02 // of the length: steep flanks nearer to an end belong to its face
	shadowSeen  = 0.15 // of that side, at least
)

// hideShadow marks the points of a side in shadow (0 left, 1 right) that were not seen as hidden, and lays
// them where the lit side mirrors to. It returns the share of the side that was seen.
func hideShadow(pts []view.EdgePoint, good []bool, side int, f frame, l level) float64 {
	sign := float64(1 - 2*side) // of the offset on the side in shadow
	var lit []view.EdgePoint
	for i, p := range pts {
		if _, y := f.of(p.P); good[i] && y*sign < 0 {
			lit = append(lit, p)
		}
	}
	mirror := heights(lit, l.of, -sign)
	seen, all := 0, 0
	for i := range pts {
		p := &pts[i]
		x, y := l.of(p.P)
		if steep := math.Abs(r2.Dot(p.N, f.E)) > endNormal; y*sign <= 0 || steep {
			inner := x > shadowEnd*l.length && x < (1-shadowEnd)*l.length
			good[i] = good[i] && p.Sigma < shadowVague && !(steep && inner) // walls of grooves that look like the ground
			continue
		}
		all++
		want, ok := mirror.top[int(math.Round(x))]
		miss := want - sign*y
		switch {
		case good[i] && ok && p.Sigma < shadowSigma && math.Abs(miss) < shadowMiss:
			seen++
			p.Sigma = math.Hypot(p.Sigma, shadowFloor)
		case ok:
			p.State, good[i] = profile.Hidden, true
			p.P = r2.Add(p.P, r2.Scale(sign*miss, f.N))
		default:
			good[i] = false
		}
	}
	return float64(seen) / float64(max(all, 1))
}
