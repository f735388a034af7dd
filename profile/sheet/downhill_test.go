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

// TestTheFootShowsTheCut: a station's foot is shaded where its sizing cut lies, on the lower side of a step, on the
// hollow's side of a rim; not where nothing can be sized, and not where either side is as good.
func TestTheFootShowsTheCut(t *testing.T) {
	straight := func(k profile.Kind, x0, x1, d0, d1 float64) profile.Element {
		return profile.Element{Kind: k, X0: x0, X1: x1, D0: d0, D1: d1}
	}
	for name, c := range map[string]struct {
		before, after profile.Element
		want          float64
		sized         bool
	}{
		"down a step":                {straight(profile.Cylinder, 0, 30, 40, 40), straight(profile.Cylinder, 30, 60, 30, 30), 1, true},
		"up a step":                  {straight(profile.Cylinder, 0, 30, 30, 30), straight(profile.Cylinder, 30, 60, 40, 40), -1, true},
		"rim to cove":                {straight(profile.Cylinder, 0, 30, 30, 30), profile.Element{Kind: profile.Cove, X0: 30, X1: 60, D0: 30, D1: 30, Sagitta: -5}, 1, true},
		"level":                      {straight(profile.Cylinder, 0, 30, 30, 30), straight(profile.Cylinder, 30, 60, 30, 30), 0, true},
		"two beads":                  {profile.Element{Kind: profile.Bead, X0: 0, X1: 30, D0: 30, D1: 30, Sagitta: 8}, profile.Element{Kind: profile.Bead, X0: 30, X1: 60, D0: 30, D1: 30, Sagitta: 8}, 0, false},
		"a narrow fillet and a bead": {straight(profile.Fillet, 27, 30, 30, 30), profile.Element{Kind: profile.Bead, X0: 30, X1: 60, D0: 30, D1: 30, Sagitta: 8}, -1, true},
	} {
		p := profile.Pattern{Length: 60, Elements: []profile.Element{c.before, c.after}}
		stations := Numbered(p)
		for i, s := range settings(p, stations, Options{}) {
			if stations[i].X == 30 && stations[i].Role == profile.Edge && (s.side != c.want || (s.size > 0) != c.sized) {
				t.Errorf("%s: %+v, want side %v", name, s, c.want)
			}
		}
	}
}
