package sheet

import (
	"testing"

	"spindlestick/profile"
)

// TestDownhill: a deep cut goes on the downhill side of its mark (Milton & Wohlers, A Course in Wood Turning, 1919): the
// lower side of a step, the fillet's side of a bead, the hollow's side of a rim; between level runs it makes no
// difference, and the ends have one side only.
func TestDownhill(t *testing.T) {
	bead := profile.Element{Kind: profile.Bead, D0: 30, D1: 30, Sagitta: 5}
	cove := profile.Element{Kind: profile.Cove, D0: 30, D1: 30, Sagitta: -5}
	rim := profile.Element{Kind: profile.Fillet, D0: 30, D1: 30}
	low := profile.Element{Kind: profile.Cylinder, D0: 24, D1: 24}
	vee := profile.Element{Kind: profile.Vee, D0: 30, D1: 30, InnerD: 20}
	slow := profile.Element{Kind: profile.Taper, D0: 30, D1: 28}
	for name, c := range map[string]struct {
		before, after profile.Element
		want          float64
	}{
		"down a step": {rim, low, 1}, "up a step": {low, rim, -1}, "fillet to bead": {rim, bead, -1}, "bead to fillet": {bead, rim, 1},
		"rim to cove": {rim, cove, 1}, "cove to rim": {cove, rim, -1}, "rim to vee": {rim, vee, 1},
		"level": {rim, rim, 0}, "a slow taper": {rim, slow, 0}, "two coves": {cove, cove, 0},
	} {
		a, b := c.before, c.after
		a.X1, b.X0, b.X1, b.InnerX = 15, 15, 30, 22.5
		if a.Kind == profile.Vee {
			a.InnerX = 7.5
		}
		p := profile.Pattern{Length: 30, Elements: []profile.Element{a, b}}
		for _, s := range p.Stations() {
			want := 0.0
			if s.X == 15 {
				want = c.want
			}
			if got := downhill(p, s); got != want {
				t.Errorf("%s: at %v mm side %v, want %v", name, s.X, got, want)
			}
		}
	}
}
