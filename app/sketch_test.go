package app

import (
	"bytes"
	"image"
	"testing"

	"fyne.io/fyne/v2/test"

	"spindlestick/profile/view"
)

// allSketches are the sketches by name.
func allSketches() map[string]sketch {
	out := map[string]sketch{}
	for i, s := range photoSketches() {
		out["photo "+number(i+1)] = s
	}
	for i, s := range stepSketches() {
		out["step "+number(i+1)] = s
	}
	for m, s := range heightSketches() {
		out["height "+string(m)] = s
	}
	return out
}

// TestSketchesStandInTheirFrame: every sketch draws something, no shape reaches its left or right rim, and it stays alike at
// another scale (the share of painted pixels).
func TestSketchesStandInTheirFrame(t *testing.T) {
	test.NewTempApp(t)
	share := func(img *image.RGBA) float64 {
		n := 0
		for i := 3; i < len(img.Pix); i += 4 {
			if img.Pix[i] > 127 {
				n++
			}
		}
		return float64(n) / float64(len(img.Pix)/4)
	}
	for name, s := range allSketches() {
		once := s.draw(int(s.width), int(s.height)).(*image.RGBA)
		twice := s.draw(int(2*s.width), int(2*s.height)).(*image.RGBA)
		if a, b := share(once), share(twice); a < 0.04 || !close2(a, b, 0.05) {
			t.Errorf("%s: painted %v at one size, %v at twice", name, a, b)
		}
		for y := range twice.Rect.Dy() {
			for _, x := range []int{0, twice.Rect.Dx() - 1} {
				if twice.RGBAAt(x, y).A > 127 {
					t.Fatalf("%s: a shape is cut off at (%d, %d)", name, x, y)
				}
			}
		}
	}
}

// TestASketchKeepsItsProportions: in a wider place it stands in the middle.
func TestASketchKeepsItsProportions(t *testing.T) {
	test.NewTempApp(t)
	s := stepSketches()[2]
	wide := s.draw(400, 70).(*image.RGBA)
	inner := s.draw(120, 70).(*image.RGBA)
	for y := range 70 {
		if !bytes.Equal(wide.Pix[wide.PixOffset(140, y):wide.PixOffset(260, y)], inner.Pix[inner.PixOffset(0, y):inner.PixOffset(120, y)]) {
			t.Fatalf("row %d differs", y)
		}
	}
}

func TestEveryAdviceAndStepHasItsSketch(t *testing.T) {
	test.NewTempApp(t)
	if a, b := len(photoAdvice()), len(photoSketches()); a != b {
		t.Errorf("%d lines of advice, %d sketches", a, b)
	}
	if len(stepSketches()) != int(stepCount) {
		t.Errorf("%d steps, %d sketches", stepCount, len(stepSketches()))
	}
	words := heightWords()
	if len(words) != len(heightSketches()) {
		t.Errorf("%d ways to lie, %d sketches", len(words), len(heightSketches()))
	}
}

func TestTheCardsSayHowThePieceLay(t *testing.T) {
	w := bench(t)
	order := []view.HeightMode{view.Lies, view.Level, view.Raised, view.Fixed}
	var list []card
	for _, m := range order {
		list = append(list, card{heightWords()[m], heightHints()[m], heightSketches()[m]})
	}
	got := -1
	c := newCards(w.line, 2, list, func(i int) { got = i })
	w.win.SetContent(c.content)
	for i := range list {
		test.Tap(c.buttons[i])
		if got != i || c.now != i {
			t.Errorf("card %d chose %d", i, got)
		}
		for j, rim := range c.rims {
			if (rim.StrokeWidth > 0) != (j == i) {
				t.Errorf("card %d is chosen, and card %d has a rim of %v", i, j, rim.StrokeWidth)
			}
		}
	}
}
