package vision

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// benchFolder is the folder of ray-traced photographs with known truth.
func benchFolder(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("SPINDLESTICK_BENCH")
	if dir == "" {
		t.Skip("SPINDLESTICK_BENCH is unset: it names the folder of bench photographs")
	}
	return dir
}

type benchBoard struct {
	Rows   int            `json:"rows"`
	Cols   int            `json:"cols"`
	GridPx [][][2]float64 `json:"grid_px"` // all crossings and edge points, rows+1 x cols+1
}

type benchTruth struct {
	Image     string `json:"image"`
	Reference struct {
		Boards []benchBoard `json:"boards"`
		Unit   string       `json:"unit"`
		Marks  []benchMark  `json:"major_marks"`
	} `json:"reference"`
}

type benchMark struct {
	MM float64    `json:"mm"`
	Px [2]float64 `json:"px"`
}

func readTruth(t testing.TB, path string) benchTruth {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var truth benchTruth
	if err := json.Unmarshal(data, &truth); err != nil {
		t.Fatal(err)
	}
	return truth
}

// cornerRMS is the root mean square distance in px of found corners from true ones, infinite for another board.
func cornerRMS(b view.Board, truth benchBoard) float64 {
	if b.Rows != truth.Rows || b.Cols != truth.Cols {
		return math.Inf(1)
	}
	sum, n := 0.0, 0
	for i, row := range b.Corners {
		for j, p := range row {
			q := truth.GridPx[i+1][j+1]
			sum += r2.Norm2(r2.Sub(p, r2.Vec{X: q[0], Y: q[1]}))
			n++
		}
	}
	return math.Sqrt(sum / float64(n))
}

// The bench's boards, all found, none false. The pictures were rendered with 4 x 4 samples a pixel, so edges that lie along the pixels
// jump by 1/4 px: uniform errors of 0.072 px a coordinate, 0.102 px together, that no reading of the picture can undo.
func TestBenchBoards(t *testing.T) {
	const tolerance = 0.125 // px rms
	truths, err := filepath.Glob(filepath.Join(benchFolder(t), "b*.json"))
	if err != nil || len(truths) == 0 {
		t.Fatalf("no scenes: %v", err)
	}
	for _, path := range truths {
		truth := readTruth(t, path)
		start := time.Now()
		p, err := Load(filepath.Join(filepath.Dir(path), truth.Image))
		if err != nil {
			t.Fatal(err)
		}
		decoded := time.Since(start)
		start = time.Now()
		boards, err := FindBoards(context.Background(), p, 0)
		if err != nil {
			t.Fatal(err)
		}
		took := time.Since(start)
		p.Close()
		if len(boards) != len(truth.Reference.Boards) {
			t.Errorf("%s: found %d boards, want %d", truth.Image, len(boards), len(truth.Reference.Boards))
		}
		for _, want := range truth.Reference.Boards {
			best := math.Inf(1)
			var sigma float64
			for _, b := range boards {
				if rms := cornerRMS(b, want); rms < best {
					best, sigma = rms, b.Sigma
				}
			}
			t.Logf("%s: %d columns, rms %.3f px, sigma %.3f", truth.Image, want.Cols, best, sigma)
			if best > tolerance {
				t.Errorf("%s: board of %d columns off by %.3f px rms", truth.Image, want.Cols, best)
			}
		}
		t.Logf("%s: decoded in %v, boards in %v", truth.Image, decoded.Round(time.Millisecond), took.Round(time.Millisecond))
	}
}
