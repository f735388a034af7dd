package sheet_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

const same = 1e-9 // mm: what rounding of float64 leaves

// edgesOf are the stations that a stick must carry: every place where one element ends and the next begins.
func edgesOf(p profile.Pattern) []float64 {
	out := []float64{0}
	for _, e := range p.Elements {
		out = append(out, e.X1)
	}
	return out
}

// carries checks that each wanted place is among those found.
func carries(t fataler, found, want []float64) {
	t.Helper()
	for _, w := range want {
		near := math.Inf(1)
		for _, f := range found {
			near = math.Min(near, math.Abs(f-w))
		}
		if near > same {
			t.Fatalf("the station at %.6f mm is %.9f mm off", w, near)
		}
	}
}

func TestStationsStandWhereTheyBelong(t *testing.T) {
	for name, p := range examples() {
		for _, paper := range sheet.Papers() {
			strips := stripsOf(mustMake(t, p, sheet.Options{Paper: paper}))
			got := measured(t, strips)
			carries(t, got, edgesOf(p))
			if want := len(p.Stations()); len(got) != want {
				t.Errorf("%s on %s: %d station lines, want %d", name, paper, len(got), want)
			}
		}
	}
}

func TestStationsStandWhereTheyBelongOnAnyPiece(t *testing.T) {
	check(t, func(t *rapid.T) {
		p := anyPattern(t)
		d, err := sheet.Make(p, sheet.Options{Paper: rapid.SampledFrom(sheet.Papers()).Draw(t, "paper")})
		if errors.Is(err, sheet.ErrCrowded) {
			t.Skip(err)
		}
		if err != nil {
			t.Fatal(err)
		}
		carries(t, measured(t, stripsOf(d)), edgesOf(p))
	})
}

// TestEveryStationIsLettered: the running distance of each station stands once on the stick, however it is divided.
func TestEveryStationIsLettered(t *testing.T) {
	for name, p := range examples() {
		want, got := map[string]int{}, map[string]int{}
		for _, s := range p.Stations() {
			want[profile.FormatLength(s.X, profile.Inch)]++
		}
		for _, page := range mustMake(t, p, sheet.Options{Units: profile.Inch}).Pages {
			for _, text := range textsOf(page) {
				if text.Cap == 2.1 {
					got[text.S]++
				}
			}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

// TestCompensation: a printer that prints 99.4 mm for 100 along the paper and 100.3 across gets a page on which
// everything, check bars included, is larger and smaller by just that.
func TestCompensation(t *testing.T) {
	sx, sy := 100/99.4, 100/100.3
	d := mustMake(t, spindle(), sheet.Options{ScaleX: sx, ScaleY: sy})
	strips := stripsOf(d)
	for i := range strips {
		strips[i].hook /= sx
		for k := range strips[i].ticks {
			strips[i].ticks[k] /= sx
		}
		for k := range strips[i].joins {
			strips[i].joins[k] /= sx
		}
	}
	carries(t, measured(t, strips), edgesOf(spindle()))
	for _, page := range mustMake(t, spindle(), sheet.Options{Show: sheet.Table, ScaleX: sx, ScaleY: sy}).Pages {
		level, upright := checkBars(page) // the table's page stands: its long side is upright
		if math.Abs(level[0]-100*sy) > same || math.Abs(upright[0]-100*sx) > same {
			t.Errorf("on a standing page: check bars %.4f and %.4f mm", level[0], upright[0])
		}
	}
	for _, page := range d.Pages {
		level, upright := checkBars(page)
		if math.Abs(level[0]-100*sx) > same || math.Abs(upright[0]-100*sy) > same {
			t.Errorf("check bars %.4f and %.4f mm", level[0], upright[0])
		}
		if math.Abs(page.Width-297) > same || math.Abs(page.Height-210) > same {
			t.Errorf("page %.4f x %.4f mm", page.Width, page.Height)
		}
	}
}

// TestOutlineIsThePattern: the drawing's outline on both sides is the meridian at full size.
func TestOutlineIsThePattern(t *testing.T) {
	for name, p := range examples() {
		d := mustMake(t, p, sheet.Options{Show: sheet.Drawing, Paper: sheet.Roll})
		axis, start := centreLine(t, d.Whole)
		for _, m := range d.Whole.Marks {
			c, ok := m.(sheet.Curve)
			if !ok || c.Pen.Layer != sheet.Outline {
				continue
			}
			for a := c.From; a <= c.To; a += (c.To - c.From) / 7 {
				q := c.At(a)
				x := q.X - start
				if want, ok := p.DiameterAt(x); ok && math.Abs(2*math.Abs(q.Y-axis)-want) > 1e-6 && !nearEdge(p, x) {
					t.Errorf("%s: at %.3f mm the outline is %.4f mm across, the pattern %.4f", name, x, 2*math.Abs(q.Y-axis), want)
				}
			}
		}
	}
}

func nearEdge(p profile.Pattern, x float64) bool {
	for _, e := range edgesOf(p) {
		if math.Abs(e-x) < 1e-6 {
			return true
		}
	}
	return false
}

// centreLine returns the height of the centre line and where station 0 stands: the line starts 6 mm before it.
func centreLine(t *testing.T, p sheet.Page) (y, x0 float64) {
	t.Helper()
	for _, m := range p.Marks {
		if l, ok := m.(sheet.Line); ok && l.Pen.Layer == sheet.Centre {
			return l.Pts[0].Y, l.Pts[0].X + 6
		}
	}
	t.Fatal("no centre line")
	return 0, 0
}
