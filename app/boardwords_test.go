package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// tilted is a camera 800 mm over a plane that leans away.
func tilted() view.Scene {
	const c, s = 0.9659258262890683, 0.25881904510252074 // 15 degrees
	return view.Scene{
		Camera: view.Camera{F: 3000, Cx: 1499.5, Cy: 999.5, Width: 3000, Height: 2000},
		Plane:  view.Pose{R: [3][3]float64{{1, 0, 0}, {0, c, -s}, {0, s, c}}, T: r3.Vec{X: -100, Y: -20, Z: 800}},
	}
}

// seenBoard is a board of squares of the given side as the scene's camera sees it.
func seenBoard(s view.Scene, side float64) view.Board {
	b := view.Board{Rows: 5, Cols: 25, Square: 10}
	for i := range 4 {
		var row []r2.Vec
		for j := range 24 {
			px, _ := s.Camera.Project(s.Plane.ToCamera(r3.Vec{X: side * float64(j), Y: side * float64(i)}))
			row = append(row, px)
		}
		b.Corners = append(b.Corners, row)
	}
	return b
}

func TestABoardIsMeasuredThroughATiltedCamera(t *testing.T) {
	s := tilted()
	b := seenBoard(s, 10)
	mean, worst, ok := squares(s, b)
	if !ok || !close2(mean, 10, 1e-6) || worst > 1e-6 {
		t.Errorf("squares of 10 mm measure %v, off by %v (%v)", mean, worst, ok)
	}
	// One corner pushed aside by a pixel: 800 mm / 3000 px.
	b.Corners[2][7].X++
	if _, worst, _ = squares(s, b); !close2(worst, 0.27, 0.03) {
		t.Errorf("a pixel aside shows as %v mm", worst)
	}
	if mean, _, _ := squares(s, seenBoard(s, 9.9)); !close2(mean, 9.9, 1e-6) {
		t.Errorf("squares of 9.9 mm measure %v", mean)
	}
}

func TestTheBoardsAreShownWithWhatTheyAreWorth(t *testing.T) {
	test.NewTempApp(t)
	m := newModel()
	m.job.Measurement.Scene = tilted()
	m.job.Sighting.Boards = []view.Board{seenBoard(tilted(), 10), seenBoard(tilted(), 9.98)}
	words := m.boardWords()
	if len(words) != 2 || !strings.Contains(words[0], "10.000 mm") || !strings.Contains(words[1], "9.980 mm") {
		t.Errorf("said %q", words)
	}
	m.unit = profile.Inch
	// 10 mm are 0.3937 in (the inch is 25.4 mm exactly).
	if words := m.boardWords(); !strings.Contains(words[0], "0.3937 in") {
		t.Errorf("in inches: %q", words)
	}
	m.job.Measurement.Scene = view.Scene{}
	if m.boardWords() != nil {
		t.Error("boards are measured without a camera")
	}
}
