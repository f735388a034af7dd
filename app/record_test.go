package app

import (
	"image/color"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/app/job"
	"spindlestick/profile/sheet"
)

// TestRecordPicture: a white column of the photograph at station 100 stands at station 100 of the picture: the piece's
// 120 mm and a fiftieth on either side take its whole width.
func TestRecordPicture(t *testing.T) {
	j := railJob()
	f := railFrame(nil)
	a, _ := f.axisPixel(100)
	photo := striped(int(a.X+0.5), 299).levels[0]
	const width = 1200
	img, err := RecordPicture(photo, j, width)
	if err != nil || img == nil {
		t.Fatal(err)
	}
	if img.Bounds().Dx() != width || img.Bounds().Dy() >= width {
		t.Fatalf("%v px", img.Bounds())
	}
	best, where := -1, 0
	for x := range width {
		r, g, b, _ := img.At(x, img.Bounds().Dy()-4).RGBA() // under the outline
		if v := int(r + g + b); v > best {
			best, where = v, x
		}
	}
	perMM := width / (120 * 1.04)
	if got := (float64(where)+0.5)/perMM - 2.4; math.Abs(got-100) > 0.3 {
		t.Errorf("station 100 stands at %.2f mm", got)
	}
	// The outline is drawn over it: 7 mm above the axis at station 15, lighter than the ground.
	x, y := int((15+2.4)*perMM), img.Bounds().Dy()/2
	lightest := 0
	for dy := -8; dy <= 8; dy++ {
		r, _, _, _ := img.At(x, y-int(7*perMM)+dy).RGBA()
		lightest = max(lightest, int(r>>8))
	}
	if ground := color.GrayModel.Convert(img.At(x, y-int(11*perMM))).(color.Gray).Y; lightest < int(ground)+60 {
		t.Errorf("no outline at station 15: %d on %d", lightest, ground)
	}
}

func TestNoRecordWithoutItsPlace(t *testing.T) {
	j := railJob()
	j.Measurement.Scene.Camera.F = 0
	if img, err := RecordPicture(striped(5, 5).levels[0], j, 500); img != nil || err != nil {
		t.Errorf("%v, %v", img, err)
	}
	if img, err := RecordPicture(nil, railJob(), 500); img != nil || err != nil {
		t.Errorf("%v, %v", img, err)
	}
	if img, err := RecordPicture(striped(5, 5).levels[0], job.Job{}, 500); img != nil || err != nil {
		t.Errorf("%v, %v", img, err)
	}
}

// TestTheWindowWritesTheRecord: with the table comes the record page, and figures come in a file of their own.
func TestTheWindowWritesTheRecord(t *testing.T) {
	w := bench(t)
	if w.tracks.photo == nil {
		t.Fatal("no photograph on the bench")
	}
	c := sheetChoice{show: sheet.Table, paper: sheet.A4, ending: ".svg"}
	path := filepath.Join(t.TempDir(), "a.svg")
	w.writeSheetsTo(path, c)
	data, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(data), "<image ") {
		t.Errorf("no photograph in the file (%v): %s", err, w.status.Text)
	}
	path = filepath.Join(t.TempDir(), "a.json")
	w.writeSheetsTo(path, c)
	if data, err := os.ReadFile(path); err != nil || !strings.Contains(string(data), sheet.ListFormat) {
		t.Errorf("no list of stations (%v): %s", err, w.status.Text)
	}
}

// The near side of an end's face, 7 mm from the axis at 600 mm, is seen 0.7 mm beyond the end; it once fell off the picture.
func TestTheRecordHoldsTheEndsFaces(t *testing.T) {
	first, last := shownFrom(railJob())
	if first > -0.6 || first < -0.9 || last < 120.5 || last > 120.8 {
		t.Errorf("the piece shows from %.2f to %.2f mm, want a little beyond 0 and 120", first, last)
	}
	f := recordFrame(nil, railJob(), 1000)
	if f.scope.x(first) < 1 || f.scope.x(last) > 999 {
		t.Errorf("the faces stand at %.1f and %.1f of 1000", f.scope.x(first), f.scope.x(last))
	}
}
