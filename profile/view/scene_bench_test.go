package view

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
)

// benchPiece is the part of a bench photograph's truth that concerns the piece.
type benchPiece struct {
	benchScene
	Reference struct {
		Kind   string  `json:"kind"`
		PlaneZ float64 `json:"plane_world_z_mm"`
	} `json:"reference"`
	Largest  float64      `json:"max_half_extent_mm"`
	Profile  [][2]float64 `json:"profile"`
	Half     [][2]float64 `json:"outline_half_extent"`
	Hidden   []benchSpan  `json:"hidden_by_perspective"`
	Damaged  []benchSpan  `json:"damaged"`
	Obscured []benchSpan  `json:"obscured"`
	Elements []struct {
		Kind  string  `json:"kind"`
		X0    float64 `json:"x0"`
		X1    float64 `json:"x1"`
		D0    float64 `json:"d0"`
		D1    float64 `json:"d1"`
		Extra struct {
			Side   float64 `json:"side"`
			Style  string  `json:"style"`
			Radius float64 `json:"radius"`
		} `json:"extra"`
	} `json:"elements"`
	outline [2][]r2.Vec // top and bottom
}

type benchSpan struct {
	X0   float64 `json:"x0"`
	X1   float64 `json:"x1"`
	Side string  `json:"side"`
}

// benchPieces reads the truth and exact outline of every bench photograph.
func benchPieces(t testing.TB) []benchPiece {
	dir := os.Getenv("SPINDLESTICK_BENCH")
	if dir == "" {
		t.Skip("SPINDLESTICK_BENCH does not name the folder of bench photographs")
	}
	names, err := filepath.Glob(filepath.Join(dir, "b*.json"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no bench scene in %s (%v)", dir, err)
	}
	var out []benchPiece
	for _, n := range names {
		data, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		var b benchPiece
		if err := json.Unmarshal(data, &b); err != nil {
			t.Fatalf("%s: %v", n, err)
		}
		if err := json.Unmarshal(data, &b.benchScene); err != nil {
			t.Fatalf("%s: %v", n, err)
		}
		b.outline = readOutline(t, n[:len(n)-len(".json")]+"_outline.csv")
		out = append(out, b)
	}
	return out
}

func readOutline(t testing.TB, name string) (sides [2][]r2.Vec) {
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

// scene is the true camera, plane and axis.
func (b benchPiece) scene() Scene {
	c := b.Camera
	cam := Camera{F: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.Dist.K1, Width: c.Width, Height: c.Height}
	centre := r3.Vec{X: c.Centre[0], Y: c.Centre[1], Z: c.Centre[2]}
	origin := turn(c.R, r3.Scale(-1, centre))
	lift := turn(c.R, r3.Vec{Z: b.Reference.PlaneZ})
	return Scene{Camera: cam, Plane: Pose{R: c.R, T: r3.Add(origin, lift)}, Axis: Line{P: origin, E: column(c.R, 0)}}
}

// segments is the true meridian as chords between its samples, without the squares and their shoulders.
func (b benchPiece) segments() []profile.Segment {
	var out []profile.Segment
	for _, s := range b.between(0, b.Length) {
		if !b.square((s.X0 + s.X1) / 2) {
			out = append(out, s)
		}
	}
	return out
}

func (b benchPiece) between(x0, x1 float64) []profile.Segment {
	var out []profile.Segment
	for i := 1; i < len(b.Profile); i++ {
		p, q := b.Profile[i-1], b.Profile[i]
		if q[0] > p[0]+1e-9 && p[0] >= x0-1e-9 && q[0] <= x1+1e-9 {
			out = append(out, profile.Segment{X0: p[0], R0: p[1], X1: q[0], R1: q[1]})
		}
	}
	return out
}

func (b benchPiece) square(x float64) bool {
	for _, e := range b.Elements {
		if (e.Kind == "square" || e.Kind == "shoulder") && x > e.X0 && x < e.X1 {
			return true
		}
	}
	return false
}

// look is the true piece as the true camera sees it.
func (b benchPiece) look(p Projector, roll float64) *Look {
	l := p.LookAt(b.segments())
	for _, e := range b.Elements {
		switch e.Kind {
		case "square":
			l.prisms = append(l.prisms, newPrism(p, e.X0-p.Foot, e.X1-p.Foot, e.Extra.Side, roll))
		case "shoulder":
			for _, s := range b.between(e.X0, e.X1) {
				l.cut = append(l.cut, shoulder{turned: newTurned(s, p.Foot), section: newSection(e.Extra.Side, roll)})
			}
		}
	}
	l.reach()
	return l
}
