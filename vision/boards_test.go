package vision

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// boardCases are drawn boards that must be found, and how well in px rms.
var boardCases = []struct {
	name      string
	picture   drawing
	ground    float64
	light     func(p r2.Vec) float64
	boards    []drawnBoard
	tolerance float64 // px rms; drawing with random samples alone makes 0.03 to 0.05
}{
	{"plain", drawing{w: 700, h: 300, blur: 0.7, noise: 1.5}, 0.02, nil,
		[]drawnBoard{{rows: 5, cols: 25, at: r2.Vec{X: 350, Y: 150}, square: 20, turn: 0.06}}, 0.08},
	{"16 bit", drawing{w: 700, h: 300, blur: 0.7, noise: 1.5, deep: true}, 0.02, nil,
		[]drawnBoard{{rows: 5, cols: 24, at: r2.Vec{X: 350, Y: 150}, square: 20, turn: 0.06}}, 0.08},
	{"white on white", drawing{w: 700, h: 300, blur: 0.8, noise: 1.5}, 0.8, nil,
		[]drawnBoard{{rows: 5, cols: 24, at: r2.Vec{X: 352.3, Y: 150.7}, square: 22, turn: -0.11}}, 0.08},
	{"small", drawing{w: 400, h: 200, blur: 0.6, noise: 1.5}, 0.1, nil,
		[]drawnBoard{{rows: 5, cols: 22, at: r2.Vec{X: 200.4, Y: 100.2}, square: 8, turn: 0.2}}, 0.12},
	{"large", drawing{w: 1000, h: 400, blur: 1, noise: 1.5}, 0.1, nil,
		[]drawnBoard{{rows: 5, cols: 23, at: r2.Vec{X: 500, Y: 200}, square: 36, turn: -0.04}}, 0.08},
	{"upside down", drawing{w: 700, h: 300, blur: 0.7, noise: 1.5}, 0.02, nil,
		[]drawnBoard{{rows: 5, cols: 24, at: r2.Vec{X: 350, Y: 150}, square: 20, turn: 3.1}}, 0.08},
	{"tilted", drawing{w: 700, h: 500, blur: 0.8, noise: 1.5}, 0.3, nil,
		[]drawnBoard{{rows: 5, cols: 25, at: r2.Vec{X: 350, Y: 250}, square: 18, turn: 0.5, tilt: 0.15}}, 0.06},
	{"out of focus", drawing{w: 800, h: 350, blur: 3, noise: 1.5}, 0.05, nil,
		[]drawnBoard{{rows: 5, cols: 24, at: r2.Vec{X: 400, Y: 170}, square: 25, turn: 0.1}}, 0.12},
	{"dim and noisy", drawing{w: 700, h: 300, blur: 0.8, noise: 6}, 0.05, func(r2.Vec) float64 { return 0.1 },
		[]drawnBoard{{rows: 5, cols: 25, at: r2.Vec{X: 350, Y: 150}, square: 20, turn: -0.1}}, 0.25},
	{"half in shadow", drawing{w: 700, h: 300, blur: 0.8, noise: 1.5}, 0.05, func(p r2.Vec) float64 {
		return 1 - 0.75/(1+math.Exp(-(p.X+0.7*p.Y-420)/2))
	}, []drawnBoard{{rows: 5, cols: 24, at: r2.Vec{X: 350, Y: 150}, square: 20, turn: 0.07}}, 0.25},
	{"four", drawing{w: 660, h: 540, blur: 0.7, noise: 1.5}, 0.2, nil, []drawnBoard{
		{rows: 5, cols: 25, at: r2.Vec{X: 300, Y: 72}, square: 12, turn: 0.05},
		{rows: 5, cols: 24, at: r2.Vec{X: 570, Y: 312}, square: 11.4, turn: 1.5},
		{rows: 5, cols: 23, at: r2.Vec{X: 252, Y: 210}, square: 12.6, turn: -0.1},
		{rows: 5, cols: 22, at: r2.Vec{X: 252, Y: 432}, square: 12, turn: 0.6},
	}, 0.12},
}

func TestFindBoards(t *testing.T) {
	for _, c := range boardCases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			c.picture.shade = boardsOn(c.ground, c.light, c.boards...)
			found, err := FindBoards(context.Background(), c.picture.photo(t), 9.97)
			if err != nil {
				t.Fatal(err)
			}
			if len(found) != len(c.boards) {
				t.Fatalf("found %d boards, want %d", len(found), len(c.boards))
			}
			for i, want := range c.boards { // drawn largest first, as they are returned
				rms := drawnRMS(found[i], want)
				t.Logf("%d columns: rms %.3f px, sigma %.3f", want.cols, rms, found[i].Sigma)
				if !(rms < c.tolerance) || found[i].Square != 9.97 {
					t.Errorf("board of %d columns: rms %.3f px, square %v", want.cols, rms, found[i].Square)
				}
				// The stated uncertainty is that of a coordinate; drawn corners have no other error.
				if s := math.Sqrt2 * found[i].Sigma; c.light == nil && (s > 2.5*rms+0.02 || s < 0.4*rms) {
					t.Errorf("sigma %.3f does not fit an rms of %.3f px", found[i].Sigma, rms)
				}
			}
		})
	}
}

// drawnRMS is the rms distance of the corners from where they were drawn, infinite for another board.
func drawnRMS(b view.Board, want drawnBoard) float64 {
	if b.Rows != want.rows || b.Cols != want.cols || len(b.Corners) != want.rows-1 || len(b.Corners[0]) != want.cols-1 {
		return math.Inf(1)
	}
	sum, n := 0.0, 0
	for i, row := range b.Corners {
		for j, p := range row {
			sum += r2.Norm2(r2.Sub(p, want.point(r2.Vec{X: 10 * float64(j+1), Y: 10 * float64(i+1)})))
			n++
		}
	}
	return math.Sqrt(sum / float64(n))
}

// A board with odd columns looks the same turned by 180 degrees: it is read to the right, or down.
func TestOddBoardReadsForward(t *testing.T) {
	for _, turn := range []float64{0.1, math.Pi - 0.1, math.Pi/2 + 0.1, -math.Pi/2 + 0.1} {
		d := drawing{w: 400, h: 400, blur: 0.6, noise: 1,
			shade: boardsOn(0.05, nil, drawnBoard{rows: 5, cols: 25, at: r2.Vec{X: 200, Y: 200}, square: 12, turn: turn})}
		found, err := FindBoards(context.Background(), d.photo(t), 0)
		if err != nil || len(found) != 1 {
			t.Fatalf("turn %v: %d boards, %v", turn, len(found), err)
		}
		along := r2.Sub(found[0].Corners[0][23], found[0].Corners[0][0])
		if math.Abs(along.X) > math.Abs(along.Y) && along.X < 0 || math.Abs(along.X) < math.Abs(along.Y) && along.Y < 0 {
			t.Errorf("turn %v: columns run %v", turn, along)
		}
	}
}

// What covers a corner or two does not hide the board.
func TestBoardPartlyCovered(t *testing.T) {
	board := drawnBoard{rows: 5, cols: 24, at: r2.Vec{X: 350, Y: 150}, square: 20, turn: 0.05}
	shade := boardsOn(0.02, nil, board)
	coin := board.point(r2.Vec{X: 80, Y: 20})
	d := drawing{w: 700, h: 300, blur: 0.7, noise: 1.5, shade: func(p r2.Vec) float64 {
		if r2.Norm(r2.Sub(p, coin)) < 9 {
			return 0.3
		}
		return shade(p)
	}}
	found, err := FindBoards(context.Background(), d.photo(t), 0)
	if err != nil || len(found) != 1 {
		t.Fatalf("%d boards, %v", len(found), err)
	}
	if rms := drawnRMS(found[0], board); !(rms < 0.06) {
		t.Errorf("rms %.3f px", rms)
	}
	if d := r2.Norm(r2.Sub(found[0].Corners[1][7], coin)); d > 0.2 {
		t.Errorf("covered corner off by %.2f px", d)
	}
}

// Other chequered things are not boards.
func TestNoFalseBoards(t *testing.T) {
	for name, b := range map[string]drawnBoard{
		"chess board": {rows: 8, cols: 8, square: 20}, "too long": {rows: 5, cols: 26, square: 18},
		"too short": {rows: 5, cols: 21, square: 18}, "too narrow": {rows: 4, cols: 24, square: 18},
		"too broad": {rows: 6, cols: 24, square: 18}, "negative": {rows: 5, cols: 25, square: 18, whiteFirst: true},
	} {
		b.at, b.turn = r2.Vec{X: 300, Y: 150}, 0.05
		d := drawing{w: 600, h: 300, blur: 0.7, noise: 1.5, shade: boardsOn(0.2, nil, b)}
		found, err := FindBoards(context.Background(), d.photo(t), 0)
		if err != nil || len(found) != 0 {
			t.Errorf("%s: %d boards, %v", name, len(found), err)
		}
	}
}

func TestFindBoardsStops(t *testing.T) {
	p := drawing{w: 100, h: 80, shade: func(r2.Vec) float64 { return 0.5 }}.photo(t)
	if found, err := FindBoards(context.Background(), p, 0); err != nil || len(found) != 0 {
		t.Errorf("blank: %d boards, %v", len(found), err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := FindBoards(ctx, p, 0); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	p.Close()
	if _, err := FindBoards(context.Background(), p, 0); !errors.Is(err, ErrClosed) {
		t.Errorf("closed: %v", err)
	}
}

// A picture of a pixel or two has no room for anything.
func TestTinyPictures(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {1, 50}, {50, 1}, {9, 9}, {12, 2000}} {
		p := drawing{w: size[0], h: size[1], noise: 40, shade: func(r2.Vec) float64 { return 0.2 }}.photo(t)
		if found, err := FindBoards(context.Background(), p, 0); err != nil || len(found) != 0 {
			t.Errorf("%v: %d boards, %v", size, len(found), err)
		}
	}
}

func BenchmarkFindBoards(b *testing.B) {
	paths, _ := filepath.Glob(filepath.Join(benchFolder(b), "b03.jpg"))
	for _, path := range paths {
		p, err := Load(path)
		if err != nil {
			b.Fatal(err)
		}
		defer p.Close()
		for b.Loop() {
			if _, err := FindBoards(context.Background(), p, 0); err != nil {
				b.Fatal(err)
			}
		}
	}
}
