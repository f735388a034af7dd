package vision

import (
	"math"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// The least difference between the sides that counts as damage: beyond the scatter of the edges, and
// beyond what grain and corners do to single points.
const (
	damagePx     = 2.0
	damageSigmas = 6.0
	damageRun    = 4   // stations in a row
	damageRest   = 0.3 // of that difference: down to it damage runs out beside where it is plain
	damageReach  = 10  // stations, as far as it does so at most
)

// markDamage marks, where the sides differ by more than their scatter, the points of the side that
// lies further in: damage takes wood away.
func (m *mirrorTest) markDamage(o *view.Outline) {
	limit := math.Max(damagePx, damageSigmas*m.spread)
	side := make([]int, m.n) // 1 + the damaged side; 0 none
	for x := 0; x < m.n; x++ {
		k := m.outOf(x, limit)
		end := x
		for end < m.n && m.outOf(end, limit) == k {
			end++
		}
		if k > 0 && end-x >= damageRun {
			for i := m.runsOut(x, k, -1, limit); i <= m.runsOut(end-1, k, 1, limit); i++ {
				side[i] = k
			}
		}
		x = end - 1
	}
	for k := range o.Sides {
		for i := range o.Sides[k] {
			x, _ := m.l.of(o.Sides[k][i].P)
			if c := int(math.Round(x)); c >= 0 && c < m.n && side[c] == k+1 {
				o.Sides[k][i].State = profile.Damaged
			}
		}
	}
}

// runsOut is the last station in direction step from x, within reach, where side k-1 still lies further in.
func (m *mirrorTest) runsOut(x, k, step int, limit float64) int {
	for n := 0; n < damageReach && x+step >= 0 && x+step < m.n && m.outOf(x+step, damageRest*limit) == k; n++ {
		x += step
	}
	return x
}

// outOf is 1 + the side that lies further in by more than limit at station x, or 0.
func (m *mirrorTest) outOf(x int, limit float64) int {
	switch d := m.diff[x]; {
	case d-m.slack[x][1] > limit:
		return 2
	case d+m.slack[x][0] < -limit:
		return 1
	}
	return 0
}
