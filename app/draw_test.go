package app

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2/theme"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
)

// striped is a picture of 900 x 600 px, black but for one white column and one white row.
func striped(col, row int) *pyramid {
	img := image.NewNRGBA(image.Rect(0, 0, 900, 600))
	for y := range 600 {
		for x := range 900 {
			c := color.NRGBA{A: 255}
			if x == col || y == row {
				c = color.NRGBA{255, 255, 255, 255}
			}
			img.SetNRGBA(x, y, c)
		}
	}
	return newPyramid(img)
}

func railFrame(photo *pyramid) frame {
	j := railJob()
	return frame{
		photo: photo, scene: j.Measurement.Scene, pattern: rail(), stations: rail().Stations(),
		scope: fitScope(120, 900, 0), width: 900, bands: split(600, photo != nil), colours: paletteFor(theme.VariantLight), unit: profile.MM, selected: -1,
	}.prepared()
}

// TestThePhotoStandsWhereItsStationsStand: a white column of the photograph at station 100 appears at station 100 of the
// scope, and a white row 10 mm above the axis appears 10 mm above the middle.
func TestThePhotoStandsWhereItsStationsStand(t *testing.T) {
	f := railFrame(nil)
	a, _ := f.axisPixel(100)
	_, perMM, _ := f.across(100)
	if perMM != 5 {
		t.Fatalf("%v px a mm, want 5", perMM)
	}
	f = railFrame(striped(int(a.X+0.5), int(299.5-10*perMM)))
	faces, err := newFaces()
	if err != nil {
		t.Fatal(err)
	}
	img := f.draw(900, 600, 1, faces, nil)
	brightest := func(n int, at func(i int) color.Color) int {
		best, where := -1, 0
		for i := range n {
			r, g, b, _ := at(i).RGBA()
			if v := int(r + g + b); v > best {
				best, where = v, i
			}
		}
		return where
	}
	y := int(f.bands.photo.top) + 3
	lo := int(f.scope.x(94))
	col := lo + brightest(int(f.scope.x(106))-lo, func(i int) color.Color { return img.At(lo+i, y) })
	if d := float64(col) + 0.5 - f.scope.x(100); d < -1 || d > 1 {
		t.Errorf("the column of station 100 stands at %d, the scope puts it at %.1f", col, f.scope.x(100))
	}
	x := int(f.scope.x(70)) // the line of the outline runs 7 mm off the axis here
	row := brightest(int(f.bands.photo.mid()-8.5*f.scope.perMM), func(i int) color.Color { return img.At(x, i) })
	if d := float64(row) + 0.5 - (f.bands.photo.mid() - 10*f.scope.perMM); d < -1.2 || d > 1.2 {
		t.Errorf("the row 10 mm up stands at %d, want %.1f", row, f.bands.photo.mid()-10*f.scope.perMM)
	}
}

// TestPixelsComeBackToTheirPlace: the ruler that places outline points inverts the projection of the axis.
func TestPixelsComeBackToTheirPlace(t *testing.T) {
	f := railFrame(nil)
	r := f.photoRuler()
	for _, x := range []float64{0, 13, 60, 119} {
		a, _ := f.axisPixel(x)
		dir, perMM, _ := f.across(x)
		p := r.place(r2.Add(a, r2.Scale(7*perMM, dir)))
		if !close2(p.x, f.scope.x(x), 0.01) || !close2(p.y, f.bands.photo.mid()-7*f.scope.perMM, 0.01) {
			t.Errorf("station %v, 7 mm up, is placed at %+v", x, p)
		}
	}
}

func TestTheProfileIsDrawnToScale(t *testing.T) {
	f := railFrame(nil)
	faces, err := newFaces()
	if err != nil {
		t.Fatal(err)
	}
	img := f.draw(900, 600, 1, faces, nil)
	x := int(f.scope.x(100)) // the last cylinder, 12 mm
	for _, c := range []struct {
		r    float64
		want color.NRGBA
	}{{4.5, f.colours.wood}, {-4.5, f.colours.wood}, {7.5, f.colours.paper}, {-7.5, f.colours.paper}} {
		if got := img.At(x, int(f.profileY(c.r))); !near(got, c.want) {
			t.Errorf("%v mm from the axis the colour is %v, want %v", c.r, got, c.want)
		}
	}
}

// TestStickLabelsNeverOverlap at any zoom.
func TestStickLabelsNeverOverlap(t *testing.T) {
	faces, err := newFaces()
	if err != nil {
		t.Fatal(err)
	}
	for _, zoom := range []float64{0.2, 1, 3, 10} {
		f := railFrame(nil)
		f.scope = f.scope.zoomed(450, zoom)
		f = f.prepared()
		b := brush{img: image.NewRGBA(image.Rect(0, 0, 900, 600)), scale: 1, faces: faces}
		rows := f.stickRows(b, f.bands.stick.top+6, f.bands.stick.bottom()-6)
		for i, p := range rows {
			for _, q := range rows[:i] {
				if p.y == q.y && p.x < q.x+q.width && q.x < p.x+p.width {
					t.Errorf("zoom %v: %q and %q overlap", zoom, p.text, q.text)
				}
			}
		}
		if zoom == 1 && len(rows) != len(rail().Stations()) {
			t.Errorf("%d labels of %d stations", len(rows), len(rail().Stations()))
		}
	}
}

func TestTicksAreReadable(t *testing.T) {
	for _, u := range []profile.Unit{profile.MM, profile.Inch, profile.Fraction} {
		for perMM := minPerMM; perMM < maxPerMM; perMM *= 1.7 {
			if k := tickFor(perMM, u, 46); k.mm*perMM < 46 && perMM < 46 || k.parts < 2 {
				t.Errorf("%s at %v units a mm: figures every %v mm", u, perMM, k.mm)
			}
		}
	}
}

// TestTheLoupeShowsTheEdgeUnderTheStation: a white column of the photograph at the dragged station runs down the middle of the
// loupe, four times as wide as on the track.
func TestTheLoupeShowsTheEdgeUnderTheStation(t *testing.T) {
	f := railFrame(nil)
	a, _ := f.axisPixel(42)
	column := int(a.X+0.5) + 6
	beyond := (float64(column) - a.X) / 5 // mm, at 5 px a mm
	f = railFrame(striped(column, 0))
	f.hot, f.reading, f.hand = grip{kind: gripStation, at: 2}, "station 3", point{f.scope.x(42), 40}
	faces, err := newFaces()
	if err != nil {
		t.Fatal(err)
	}
	img := f.draw(900, 600, 1, faces, nil)
	c := f.loupeCentre()
	want := c.x + beyond*f.scope.perMM*loupeGain
	best, at := -1, 0
	for x := int(c.x) + 6; x < int(c.x)+loupeRadius-4; x++ {
		r, g, b, _ := img.At(x, int(c.y)+20).RGBA()
		if v := int(r + g + b); v > best {
			best, at = v, x
		}
	}
	if d := float64(at) + 0.5 - want; d < -2 || d > 2 {
		t.Errorf("the column stands at %d of the loupe, want %.1f", at, want)
	}
}

func TestTheReadingStaysInsideTheTracks(t *testing.T) {
	faces, err := newFaces()
	if err != nil {
		t.Fatal(err)
	}
	b := brush{img: image.NewRGBA(image.Rect(0, 0, 900, 600)), scale: 1, faces: faces}
	for _, hand := range []point{{0, 0}, {899, 0}, {899, 590}} {
		f := railFrame(nil)
		f.hot, f.hand, f.reading = grip{kind: gripEnd, at: 1}, hand, "bead diameter 16.00 mm"
		at, w := f.readingBox(b)
		if at.x < 0 || at.y < 0 || at.x+w > 900 || w < 100 {
			t.Errorf("with the hand at %v the number stands from %v, %v wide", hand, at, w)
		}
	}
}
