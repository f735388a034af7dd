package view

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// cornerNoise is what a good sub-pixel corner scatters by, px.
const cornerNoise = 0.03

// benchScene is the part of a bench photograph's truth that concerns its reference.
type benchScene struct {
	ID     string `json:"id"`
	Camera struct {
		Width  int           `json:"width"`
		Height int           `json:"height"`
		F      float64       `json:"f_px"`
		Cx     float64       `json:"cx"`
		Cy     float64       `json:"cy"`
		F35    float64       `json:"f35_exif"`
		R      [3][3]float64 `json:"R_world_to_cam"`
		Centre [3]float64    `json:"centre_world_mm"`
		Dist   struct {
			K1 float64 `json:"k1"`
		} `json:"dist"`
	} `json:"camera"`
	Reference struct {
		Kind   string  `json:"kind"`
		PlaneZ float64 `json:"plane_world_z_mm"`
		Square float64 `json:"square_mm"`
		Boards []struct {
			Rows   int            `json:"rows"`
			Cols   int            `json:"cols"`
			Grid   [][][2]float64 `json:"grid_px"`
			Origin [3]float64     `json:"origin_world_mm"`
		} `json:"boards"`
		Marks []struct {
			MM float64    `json:"mm"`
			Px [2]float64 `json:"px"`
		} `json:"major_marks"`
		Diameter float64 `json:"diameter_mm"`
		Station  float64 `json:"station_mm"`
	} `json:"reference"`
	Axis struct {
		A [2]float64 `json:"x0_end"`
		B [2]float64 `json:"xL_end"`
	} `json:"axis_px"`
	Length float64 `json:"overall_length_mm"`
}

// benchScenes reads the truth of every bench photograph with the kind of reference.
func benchScenes(t *testing.T, kind string) []benchScene {
	dir := os.Getenv("SPINDLESTICK_BENCH")
	if dir == "" {
		t.Skip("SPINDLESTICK_BENCH does not name the folder of bench photographs")
	}
	names, err := filepath.Glob(filepath.Join(dir, "b*.json"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no bench scene in %s (%v)", dir, err)
	}
	var out []benchScene
	for _, n := range names {
		data, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		var s benchScene
		if err := json.Unmarshal(data, &s); err != nil {
			t.Fatalf("%s: %v", n, err)
		}
		if s.Reference.Kind == kind {
			out = append(out, s)
		}
	}
	return out
}

// boards returns the scene's boards with noise on the inner corners.
func (s benchScene) boards(rng *rand.Rand) []Board {
	var out []Board
	for _, b := range s.Reference.Boards {
		board := Board{Rows: b.Rows, Cols: b.Cols, Square: s.Reference.Square, Sigma: cornerNoise}
		for i := 1; i < b.Rows; i++ {
			var row []r2.Vec
			for j := 1; j < b.Cols; j++ {
				p := b.Grid[i][j]
				row = append(row, r2.Vec{X: p[0] + cornerNoise*rng.NormFloat64(), Y: p[1] + cornerNoise*rng.NormFloat64()})
			}
			board.Corners = append(board.Corners, row)
		}
		out = append(out, board)
	}
	return out
}

// truth returns the camera's distance from the plane (mm) and the plane's normal in the camera's frame.
func (s benchScene) truth() (distance float64, normal r3.Vec) {
	return s.Camera.Centre[2] - s.Reference.PlaneZ, column(s.Camera.R, 2)
}

func (s benchScene) options() AdjustOptions {
	return AdjustOptions{Width: s.Camera.Width, Height: s.Camera.Height, Focal: ChooseFocal(s.Camera.F35, 0)}
}

// axisLength returns the length (mm) between the ends of the piece's axis, whose true pixels and true height over
// the plane are given.
func (s benchScene) axisLength(r Reference) float64 {
	p, _ := r.Plane.Meet(r.Camera.Ray(r2.Vec{X: s.Axis.A[0], Y: s.Axis.A[1]}), -s.Reference.PlaneZ)
	q, _ := r.Plane.Meet(r.Camera.Ray(r2.Vec{X: s.Axis.B[0], Y: s.Axis.B[1]}), -s.Reference.PlaneZ)
	return apart3(p, q)
}

// Bench corners with noise, EXIF focal length rounded to whole mm: focal length, distance, tilt, distortion and the
// length of the piece's axis lie within three of their stated standard deviations in every scene.
func TestAdjustBench(t *testing.T) {
	for n, s := range benchScenes(t, "boards") {
		ref, err := Adjust(s.boards(rand.New(rand.NewPCG(7, uint64(n)))), s.options())
		if err != nil {
			t.Errorf("%s: %v", s.ID, err)
			continue
		}
		distance, normal := s.truth()
		for _, c := range []struct {
			name  string
			truth float64
			unit  float64
			of    func(Reference) float64
		}{
			{"distance, %", distance, distance / 100, func(r Reference) float64 { return r.Plane.Eye().Z }},
			{"length, %", s.Length, s.Length / 100, s.axisLength},
			{"focal length, %", s.Camera.F, s.Camera.F / 100, func(r Reference) float64 { return r.Camera.F }},
			{"k1", s.Camera.Dist.K1, 1, func(r Reference) float64 { return r.Camera.K1 }},
			{"tilt along, degrees", normal.X, math.Pi / 180, func(r Reference) float64 { return r.Plane.Normal().X }},
			{"tilt across, degrees", normal.Y, math.Pi / 180, func(r Reference) float64 { return r.Plane.Normal().Y }},
		} {
			off, sigma := c.of(ref)-c.truth, math.Sqrt(ref.variance(c.of))
			t.Logf("%s %-22s %+.4f (standard deviation %.4f)", s.ID, c.name, off/c.unit, sigma/c.unit)
			if math.Abs(off) > 3*sigma {
				t.Errorf("%s: %s is %.4f off, 3 standard deviations are %.4f", s.ID, c.name, off/c.unit, 3*sigma/c.unit)
			}
		}
		t.Logf("%s rms %.3f px, focal length observed %v, k1 observed %v, notes %q", s.ID, ref.RMS, ref.FocalObserved, ref.K1Observed, ref.Notes)
	}
}
