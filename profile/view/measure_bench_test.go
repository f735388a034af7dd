package view

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"math/rand/v2"
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
	for i := 1; i < len(b.Profile); i++ {
		p, q := b.Profile[i-1], b.Profile[i]
		if q[0] > p[0]+1e-9 && !b.square((p[0]+q[0])/2) {
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
			s := profile.Segment{X0: e.X0, R0: e.D0 / 2, X1: e.X1, R1: e.D1 / 2}
			if rho := e.Extra.Radius; rho > 0 {
				half := s.Chord() / 2
				s.Sagitta = rho - math.Sqrt(math.Max(0, rho*rho-half*half))
			}
			l.cut = append(l.cut, shoulder{turned: newTurned(s, p.Foot), section: newSection(e.Extra.Side, roll)})
		}
	}
	l.reach()
	return l
}

// TestProjectBench compares the computed with the exact outlines.
func TestProjectBench(t *testing.T) {
	for _, b := range benchPieces(t) {
		p, err := NewProjector(b.scene())
		if err != nil {
			t.Fatal(err)
		}
		roll := b.scene().FlatRoll()
		l := b.look(p, roll)
		for side, pts := range b.outline {
			var worst, sum float64
			var at r2.Vec
			n, miss, over := 0, 0, 0
			for _, q := range pts {
				u, v := p.ToAxis(q)
				w, ok := l.Width(u, side)
				if !ok {
					miss++
					continue
				}
				got := p.ToPixel(u, w*outward(side))
				_ = v
				d := r2.Norm(r2.Sub(got, q))
				if d > 0.02 {
					over++
				}
				sum += d * d
				n++
				if d > worst {
					worst, at = d, q
				}
			}
			t.Logf("%s side %d: rms %.4f worst %.4f px at %.1f (station %.2f) over 0.02: %d of %d missed %d", b.ID, side, math.Sqrt(sum/float64(n)), worst, at, stationOf(p, at), over, n, miss)
		}
	}
}

func stationOf(p Projector, q r2.Vec) float64 { u, _ := p.ToAxis(q); return p.Station(u) }

// tipRows is how many columns of an exact outline may hold an end's rim.
const tipRows = 12

// sighted is the exact outline as a sighting, with noise along the normals.
func (b benchPiece) sighted(noise float64, rng *rand.Rand) Sighting {
	o := Outline{Axis: [2]r2.Vec{{X: b.Axis.A[0], Y: b.Axis.A[1]}, {X: b.Axis.B[0], Y: b.Axis.B[1]}}}
	for side, pts := range b.outline {
		for i, q := range pts {
			d := r2.Sub(pts[min(i+1, len(pts)-1)], pts[max(i-1, 0)])
			n := r2.Unit(r2.Vec{X: d.Y, Y: -d.X})
			if side == 1 {
				n = r2.Scale(-1, n)
			}
			q = r2.Add(q, r2.Scale(noise*rng.NormFloat64(), n))
			e := EdgePoint{P: q, N: n, Sigma: math.Max(noise, 0.002), State: profile.Visible}
			o.Sides[side] = append(o.Sides[side], e)
			// Given column by column, the points of a rim lie too far apart to be a contour.
			if i < tipRows {
				o.Ends[0] = append(o.Ends[0], e)
			} else if i >= len(pts)-tipRows {
				o.Ends[1] = append(o.Ends[1], e)
			}
		}
	}
	for e, pts := range b.faces() {
		o.Ends[e] = append(o.Ends[e], pts...)
	}
	c := b.Camera
	return Sighting{Width: c.Width, Height: c.Height, Focal35: c.F35, Outline: o}
}

func (b benchPiece) sheet() float64 {
	if b.Reference.Kind == "rule" {
		return steel
	}
	return paper
}

func (b benchPiece) height() Height {
	if b.Reference.PlaneZ == 0 {
		return Height{Mode: Raised}
	}
	return Height{Mode: Level}
}

// scored compares a trace with the truth as the bench's own score does: turned, undamaged, visible stretches,
// 0.5 mm away from steep places and ends. It returns the errors of the diameter.
func (b benchPiece) scored(tr profile.Trace) []float64 {
	clear := func(x float64) bool {
		if x < 0.5 || x > b.Length-0.5 {
			return false
		}
		for _, e := range b.Elements {
			if (e.Kind == "square" || e.Kind == "shoulder") && x > e.X0-0.5 && x < e.X1+0.5 {
				return false
			}
		}
		for i := 1; i < len(b.Profile); i++ {
			p, q := b.Profile[i-1], b.Profile[i]
			if dr := math.Abs(q[1] - p[1]); dr > 3*(q[0]-p[0])+1e-6 && dr > 0.01 && x > p[0]-0.5 && x < q[0]+0.5 {
				return false
			}
		}
		for _, d := range b.Damaged {
			if x > d.X0-0.5 && x < d.X1+0.5 {
				return false
			}
		}
		for _, d := range b.Hidden {
			if d.Side == "both" && x > d.X0-0.2 && x < d.X1+0.2 {
				return false
			}
		}
		return true
	}
	var out []float64
	for x := 0.0; x < b.Length; x += 0.1 {
		if s, ok := tr.At(x); ok && clear(x) {
			out = append(out, 2*s.R-2*b.radius(x))
		}
	}
	return out
}

func (b benchPiece) radius(x float64) float64 {
	for i := 1; i < len(b.Profile); i++ {
		if p, q := b.Profile[i-1], b.Profile[i]; x >= p[0] && x <= q[0] && q[0] > p[0] {
			return p[1] + (x-p[0])/(q[0]-p[0])*(q[1]-p[1])
		}
	}
	return 0
}

func figures(e []float64) (bias, rms, worst float64) {
	for _, v := range e {
		bias += v
		rms += v * v
		worst = math.Max(worst, math.Abs(v))
	}
	n := float64(len(e))
	return bias / n, math.Sqrt(rms / n), worst
}

// TestMeasureBenchTrueCamera measures the outlines with the true camera and plane.
func TestMeasureBenchTrueCamera(t *testing.T) {
	for _, noise := range []float64{0.05} {
		for _, b := range benchPieces(t) {
			rng := rand.New(rand.NewPCG(1, 2))
			s := b.scene()
			m, err := gauged{ref: Reference{Camera: s.Camera, Plane: s.Plane}, height: b.height(), sheet: b.sheet()}.measure(b.sighted(noise, rng).Outline)
			if err != nil {
				t.Errorf("%s: %v", b.ID, err)
				continue
			}
			bias, rms, worst := figures(b.scored(m.Trace))
			states := map[profile.State]int{}
			for _, s := range m.Trace.Samples {
				states[s.State]++
			}
			off := m.Scene.Plane.ToPlane(m.Scene.Axis.P)
			t.Logf("%.2f %s bias %+.4f rms %.4f worst %.3f length %+.3f height %.3f (%.3f) x0 off %+.3f %v", noise, b.ID, bias, rms, worst, m.Trace.Length-b.Length, off.Z, -b.Reference.PlaneZ, off.X, states)
		}
	}
}

// faces are points along the near edges of square end faces, which the exact outlines, given column by column, do
// not hold: the line between two corners of the square.
func (b benchPiece) faces() (ends [2][]EdgePoint) {
	s := b.scene()
	for e, x := range []float64{0, b.Length} {
		el := b.Elements[e*(len(b.Elements)-1)]
		if el.Kind != "square" {
			continue
		}
		var corner [2]r2.Vec
		for k := range corner {
			h := el.D0 / 2
			w := r3.Vec{X: x, Y: h * (1 - 2*float64(k)), Z: h}
			corner[k], _ = s.Camera.Project(r3.Add(turn(b.Camera.R, w), s.Axis.P))
		}
		for k := range 21 {
			q := r2.Add(corner[0], r2.Scale(float64(k)/20, r2.Sub(corner[1], corner[0])))
			ends[e] = append(ends[e], EdgePoint{P: q, Sigma: 0.05, State: profile.Visible})
		}
	}
	return ends
}

// complete adds the scene's reference to its sighting, with noise, and says what the user would.
func (b benchPiece) complete(noise float64, rng *rand.Rand) (Sighting, Hints) {
	s, h := b.sighted(noise, rng), Hints{Height: b.height()}
	switch b.Reference.Kind {
	case "boards":
		s.Boards = b.boards(rng)
	case "rule":
		s.Rule = &Rule{Sigma: noise}
		for _, m := range b.benchScene.Reference.Marks {
			s.Rule.T = append(s.Rule.T, m.MM)
			s.Rule.P = append(s.Rule.P, r2.Vec{X: m.Px[0] + noise*rng.NormFloat64(), Y: m.Px[1] + noise*rng.NormFloat64()})
		}
	case "caliper":
		h.Known = []KnownDiameter{{X: b.benchScene.Reference.Station, D: b.benchScene.Reference.Diameter}}
	}
	return s, h
}

// TestMeasureBench measures the outlines with the scale that the photograph shows.
func TestMeasureBench(t *testing.T) {
	for _, b := range benchPieces(t) {
		rng := rand.New(rand.NewPCG(3, 4))
		s, h := b.complete(0.05, rng)
		m, err := Measure(s, h)
		if err != nil {
			t.Errorf("%s: %v", b.ID, err)
			continue
		}
		bias, rms, worst := figures(b.scored(m.Trace))
		u := 0.0
		for _, s := range m.Trace.Samples {
			u += s.U / float64(len(m.Trace.Samples))
		}
		t.Logf("%s bias %+.4f rms %.4f worst %.3f length %+.3f ± %.3f mean U %.3f", b.ID, bias, rms, worst, m.Trace.Length-b.Length, m.Trace.ULength, u)
		for _, n := range m.Notes {
			t.Logf("      %s", n)
		}
	}
}
