package sheet_test

import (
	"math"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// A ball is called a ball on the stick and in the table; files go on calling it a bead.
func TestABallIsCalledSo(t *testing.T) {
	l := 2 * math.Sqrt(20*20-6*6)
	p := profile.Pattern{Length: l + 30, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 30, D0: 12, D1: 12}, {Kind: profile.Bead, X0: 30, X1: 30 + l, D0: 12, D1: 12, Sagitta: 14},
	}}
	for _, show := range []sheet.Show{sheet.Stick, sheet.Table} {
		d := mustMake(t, p, sheet.Options{Show: show})
		said := map[string]bool{}
		for _, page := range d.Pages {
			for _, text := range textsOf(page) {
				said[strings.TrimSpace(text.S)] = true
			}
		}
		if !said["ball"] || said["bead"] {
			t.Errorf("%s says %v", show, said)
		}
		if k := d.List.Stations[1].Kind; k != profile.Bead {
			t.Errorf("the file calls it a %s", k)
		}
	}
}
