package sheet_test

import (
	"image"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// rowsOf returns the lines of text on a page: what stands at one height, from left to right as drawn.
func rowsOf(p sheet.Page) []string {
	var out []string
	last := math.NaN()
	for _, t := range textsOf(p) {
		if t.At.Y == last {
			out[len(out)-1] += "|" + t.S
			continue
		}
		out, last = append(out, t.S), t.At.Y
	}
	return out
}

func contains(rows []string, want string) bool {
	for _, r := range rows {
		if r == want {
			return true
		}
	}
	return false
}

// TestTable: a line for every station, with both diameters at a step, the side of a square and what is known of the
// uncertainty.
func TestTable(t *testing.T) {
	p := baluster()
	p.Elements[2].U = profile.Bounds{X0: 0.12, D0: 0.21}
	d := mustMake(t, p, sheet.Options{Show: sheet.Table})
	if len(d.Pages) != 1 {
		t.Fatalf("%d pages", len(d.Pages))
	}
	rows := rowsOf(d.Pages[0])
	for _, want := range []string{
		"no.|what|from hook end, mm|± mm|diameter, mm|after a step, mm|± mm",
		"1|square|0.00|□ 44.00", "2|shoulder|128.00|□ 44.00", "3|fillet|144.00|0.12|38.00|33.00|0.21",
		"5|its crest|153.30|43.00", "14|its inflection, damaged|215.25|35.00", "15|taper|238.00|42.00",
	} {
		if !contains(rows, want) {
			t.Errorf("no line %q in\n%s", want, strings.Join(rows, "\n"))
		}
	}
}

// TestTableOverPages: a long table goes on with its head on the next page, and loses no station.
func TestTableOverPages(t *testing.T) {
	var all []profile.Element
	for i := range 120 {
		all = append(all, fillet(10, 20+float64(i%2)))
	}
	d := mustMake(t, build(all...), sheet.Options{Show: sheet.Table})
	seen := 0
	for _, page := range d.Pages {
		rows := rowsOf(page)
		if !contains(rows, "no.|what|from hook end, mm|± mm|diameter, mm|after a step, mm|± mm") {
			t.Errorf("%s has no head", page.Name)
		}
		for n := 1; n <= 121; n++ {
			for _, r := range rows {
				if strings.HasPrefix(r, strconv.Itoa(n)+"|f") {
					seen++
				}
			}
		}
	}
	if len(d.Pages) < 2 || seen != 121 {
		t.Errorf("%d stations on %d pages", seen, len(d.Pages))
	}
}

// TestGroups: equal diameters are gathered, a lone one and a square's side are not.
func TestGroups(t *testing.T) {
	p := build(square(50, 44), fillet(5, 30), fillet(5, 25), fillet(5, 30.1), straight(profile.Taper, 60, 24.95, 18))
	rows := rowsOf(mustMake(t, p, sheet.Options{Show: sheet.Table, Group: 0.2}).Pages[0])
	for _, want := range []string{"Ø 30.05 mm at stations 2, 3, 4, 5", "Ø 24.98 mm at stations 3, 4, 5"} {
		if !contains(rows, want) {
			t.Errorf("no %q in\n%s", want, strings.Join(rows, "\n"))
		}
	}
	for _, r := range rows {
		if strings.HasPrefix(r, "Ø 18") || strings.HasPrefix(r, "Ø 44") {
			t.Errorf("%q is no group", r)
		}
	}
	for _, r := range rowsOf(mustMake(t, p, sheet.Options{Show: sheet.Table}).Pages[0]) {
		if strings.Contains(r, "calipers") {
			t.Error("groups that nobody asked for")
		}
	}
}

// TestPhoto: the photograph keeps its shape, 60 mm high at most, and is no larger in the file than print shows.
func TestPhoto(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 3000, 2000))
	for i := range img.Pix {
		img.Pix[i] = 0x40
		if i%4 == 3 {
			img.Pix[i] = 0xff
		}
	}
	d := mustMake(t, finial(), sheet.Options{Show: sheet.Table, Photo: img})
	var found []sheet.Image
	for _, m := range d.Pages[0].Marks {
		if i, ok := m.(sheet.Image); ok {
			found = append(found, i)
		}
	}
	if len(found) != 1 || math.Abs(found[0].Height-60) > 1e-9 || math.Abs(found[0].Width-90) > 1e-9 {
		t.Fatalf("pictures %v", found)
	}
	if b := found[0].Img.Bounds(); b.Dx() != 1063 || b.Dy() != 709 { // 90 and 60 mm at 300 dots an inch
		t.Errorf("%v pixels", b)
	}
	toppm := tool(t, "pdftoppm")
	base := filepath.Join(t.TempDir(), "p")
	run(t, toppm, "-r", "200", "-gray", written(t, d, "a.pdf"), base)
	r := readPGM(t, base+"-1.pgm", 200)
	at := found[0].At
	if inside, outside := r.dark(int((at.X+45)*r.k), int((at.Y+30)*r.k)), r.dark(int((at.X+91)*r.k), int((at.Y+30)*r.k)); inside < 0.5 || outside > 0 {
		t.Errorf("blackness %v in the picture, %v beside it", inside, outside)
	}
}
