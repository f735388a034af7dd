package fit

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// benchScene is the part of a bench photograph's truth that the fit is measured against.
type benchScene struct {
	ID     string  `json:"id"`
	Length float64 `json:"overall_length_mm"`
	Camera struct {
		Width  int           `json:"width"`
		Height int           `json:"height"`
		F35    float64       `json:"f35_exif"`
		F      float64       `json:"f_px"`
		Cx     float64       `json:"cx"`
		Cy     float64       `json:"cy"`
		R      [3][3]float64 `json:"R_world_to_cam"`
		Centre [3]float64    `json:"centre_world_mm"`
		Dist   struct {
			K1 float64 `json:"k1"`
		} `json:"dist"`
	} `json:"camera"`
	Reference struct {
		PlaneZ float64 `json:"plane_world_z_mm"`
		Square float64 `json:"square_mm"`
		Boards []struct {
			Rows int            `json:"rows"`
			Cols int            `json:"cols"`
			Grid [][][2]float64 `json:"grid_px"`
		} `json:"boards"`
		Marks []struct {
			MM float64    `json:"mm"`
			Px [2]float64 `json:"px"`
		} `json:"major_marks"`
	} `json:"reference"`
	Axis struct {
		A [2]float64 `json:"x0_end"`
		B [2]float64 `json:"xL_end"`
	} `json:"axis_px"`
	Elements []profile.Element `json:"elements"`
	Damaged  []struct {
		X0 float64 `json:"x0"`
		X1 float64 `json:"x1"`
	} `json:"damaged"`
	sides [2][]r2.Vec // the exact outline, px
}

// benchScenes reads the truth of every bench photograph that has boards or a rule.
func benchScenes(t testing.TB) []benchScene {
	t.Helper()
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
		var b benchScene
		if err := json.Unmarshal(data, &b); err != nil {
			t.Fatalf("%s: %v", n, err)
		}
		b.sides = benchOutline(t, strings.TrimSuffix(n, ".json")+"_outline.csv")
		if len(b.Reference.Boards)+len(b.Reference.Marks) > 0 {
			out = append(out, b)
		}
	}
	return out
}

func benchOutline(t testing.TB, name string) (sides [2][]r2.Vec) {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		sides[0] = append(sides[0], r2.Vec{X: v[0], Y: v[1]})
		sides[1] = append(sides[1], r2.Vec{X: v[2], Y: v[3]})
	}
	return sides
}

// sighted is the exact outline and reference as a sighting, with noise (px) along the outline's normals.
func (b benchScene) sighted(noise float64, rng *rand.Rand) view.Sighting {
	s := view.Sighting{Width: b.Camera.Width, Height: b.Camera.Height, Focal35: b.Camera.F35}
	s.Outline.Axis = [2]r2.Vec{{X: b.Axis.A[0], Y: b.Axis.A[1]}, {X: b.Axis.B[0], Y: b.Axis.B[1]}}
	for side, pts := range b.sides {
		for i, q := range pts {
			d := r2.Sub(pts[min(i+1, len(pts)-1)], pts[max(i-1, 0)])
			n := r2.Unit(r2.Vec{X: d.Y, Y: -d.X})
			if side == 1 {
				n = r2.Scale(-1, n)
			}
			q = r2.Add(q, r2.Scale(noise*rng.NormFloat64(), n))
			s.Outline.Sides[side] = append(s.Outline.Sides[side], view.EdgePoint{P: q, N: n, Sigma: math.Max(noise, 0.02), State: profile.Visible})
		}
	}
	s.Outline.Ends = b.faces()
	for _, g := range b.Reference.Boards {
		board := view.Board{Rows: g.Rows, Cols: g.Cols, Square: b.Reference.Square, Sigma: 0.03}
		for _, row := range g.Grid[1:g.Rows] {
			var line []r2.Vec
			for _, c := range row[1:g.Cols] {
				line = append(line, r2.Vec{X: c[0] + 0.03*rng.NormFloat64(), Y: c[1] + 0.03*rng.NormFloat64()})
			}
			board.Corners = append(board.Corners, line)
		}
		s.Boards = append(s.Boards, board)
	}
	if len(b.Reference.Marks) > 0 {
		s.Rule = &view.Rule{Sigma: 0.05}
		for _, m := range b.Reference.Marks {
			s.Rule.T = append(s.Rule.T, m.MM)
			s.Rule.P = append(s.Rule.P, r2.Vec{X: m.Px[0], Y: m.Px[1]})
		}
	}
	return s
}

// faces are points along the near edges of square ends, which the outline, given column by column, does not hold.
func (b benchScene) faces() (ends [2][]view.EdgePoint) {
	c := b.Camera
	cam := view.Camera{F: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.Dist.K1, Width: c.Width, Height: c.Height}
	for e, x := range []float64{0, b.Length} {
		el := b.Elements[e*(len(b.Elements)-1)]
		if el.Kind != profile.Square {
			continue
		}
		for k := range 21 {
			w := [3]float64{x - c.Centre[0], el.D0/2*(1-float64(k)/10) - c.Centre[1], el.D0/2 - c.Centre[2]}
			var q [3]float64
			for i := range q {
				q[i] = c.R[i][0]*w[0] + c.R[i][1]*w[1] + c.R[i][2]*w[2]
			}
			if px, ok := cam.Project(r3.Vec{X: q[0], Y: q[1], Z: q[2]}); ok {
				ends[e] = append(ends[e], view.EdgePoint{P: px, Sigma: 0.05, State: profile.Visible})
			}
		}
	}
	return ends
}

func (b benchScene) hints() view.Hints {
	h := view.Hints{Height: view.Height{Mode: view.Level}}
	if b.Reference.PlaneZ == 0 {
		h.Height.Mode = view.Raised
	}
	return h
}

// whole reports whether nothing of the element is damaged.
func (b benchScene) whole(e profile.Element) bool {
	for _, d := range b.Damaged {
		if e.X0 < d.X1+1 && e.X1 > d.X0-1 {
			return false
		}
	}
	return true
}

func (b benchScene) keep(es []profile.Element) []profile.Element {
	var out []profile.Element
	for _, e := range es {
		if b.whole(e) {
			out = append(out, e)
		}
	}
	return out
}
