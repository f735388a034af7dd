package view

import (
	"encoding/json"
	"fmt"
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
		Width  int          `json:"width"`
		Height int          `json:"height"`
		F      float64      `json:"f_px"`
		Cx     float64      `json:"cx"`
		Cy     float64      `json:"cy"`
		F35    float64      `json:"f35_exif"`
		R      [][3]float64 `json:"R_world_to_cam"`
		Centre [3]float64   `json:"centre_world_mm"`
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

// truth returns what the reference should be judged by: the camera's distance from the plane (mm), the plane's
// normal in the camera's frame, and the camera-frame point of the plane under the middle of the piece.
func (s benchScene) truth() (distance float64, normal, middle r3.Vec) {
	r := [3][3]float64{s.Camera.R[0], s.Camera.R[1], s.Camera.R[2]}
	c := vec3(s.Camera.Centre[:])
	at := r3.Vec{X: s.Length / 2, Z: s.Reference.PlaneZ}
	return c.Z - s.Reference.PlaneZ, column(r, 2), turn(r, r3.Sub(at, c))
}

func (s benchScene) options() AdjustOptions {
	return AdjustOptions{Width: s.Camera.Width, Height: s.Camera.Height, Focal: ChooseFocal(s.Camera.F35, 0)}
}

// deviation returns the standard deviation of g over the reference's variants.
func deviation(r Reference, g func(Reference) float64) float64 {
	sum, at := 0.0, g(r)
	for _, v := range r.Variants() {
		sum += (g(v) - at) * (g(v) - at)
	}
	return math.Sqrt(sum)
}

func angleBetween(a, b r3.Vec) float64 { return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) }

// Bench corners with noise, EXIF focal length rounded to whole mm: distance, tilt and camera within three of
// their stated standard deviations in every scene.
func TestAdjustBench(t *testing.T) {
	for n, s := range benchScenes(t, "boards") {
		ref, err := Adjust(s.boards(rand.New(rand.NewPCG(7, uint64(n)))), s.options())
		if err != nil {
			t.Errorf("%s: %v", s.ID, err)
			continue
		}
		dist, normal, middle := s.truth()
		height := func(r Reference) float64 { return r.Plane.Eye().Z }
		along := func(r Reference) float64 { return slope(r, 0) }
		sd := deviation(ref, height)
		tilt := angleBetween(ref.Plane.Normal(), normal)
		sdTilt := math.Hypot(deviation(ref, along), deviation(ref, func(r Reference) float64 { return slope(r, 1) }))
		px, ok := ref.Camera.Project(middle)
		t.Logf("%s f35 %.2f->%.2f true %.2f: D %8.2f %+.3f %% (sd %.3f)  tilt off %.3f deg (sd %.3f)  f %+.3f %% (sd %.3f, observed %v)  k1 %+.4f (sd %.4f, observed %v)  rms %.3f px  %v %v %s",
			s.ID, s.Camera.F35, ref.Camera.Focal35(), s.Camera.F, dist, 100*(height(ref)/dist-1), 100*sd/dist, deg(tilt), deg(sdTilt),
			100*(ref.Camera.F/s.Camera.F-1), 100*ref.SigmaF, ref.FocalObserved, ref.Camera.K1-s.Camera.Dist.K1, ref.SigmaK1, ref.K1Observed, ref.RMS, px, ok, fmt.Sprint(ref.Notes))
		if e := math.Abs(height(ref) - dist); e > 3*sd {
			t.Errorf("%s: the distance is %.2f mm off, 3 standard deviations are %.2f", s.ID, e, 3*sd)
		}
		if tilt > 3*sdTilt {
			t.Errorf("%s: the tilt is %.3f deg off, 3 standard deviations are %.3f", s.ID, deg(tilt), 3*deg(sdTilt))
		}
	}
}

// slope is the plane normal's component along the picture's x (0) or y (1) axis.
func slope(r Reference, i int) float64 { return r.Plane.R[i][2] }

func deg(a float64) float64 { return a * 180 / math.Pi }
