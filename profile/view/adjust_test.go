package view

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// shot is a synthetic photograph of boards: its true camera and plane.
type shot struct {
	camera Camera
	plane  Pose
	boards []Board
}

// laid is where a board lies in the plane: its first inner corner (mm) and its turn.
type laid struct{ x, y, turn float64 }

// photograph projects boards of 5 x 25 squares of 10 mm lying at the places, with noise on the corners (px).
func photograph(c Camera, plane Pose, places []laid, noise float64, rng *rand.Rand) shot {
	s := shot{camera: c, plane: plane}
	for k, at := range places {
		b := Board{Rows: 5, Cols: 25 - k, Square: 10, Sigma: math.Max(noise, 0.001)}
		for i := range b.Rows - 1 {
			var row []r2.Vec
			for j := range b.Cols - 1 {
				w := r2.Add(r2.Rotate(r2.Vec{X: 10 * float64(j), Y: -10 * float64(i)}, at.turn, r2.Vec{}), r2.Vec{X: at.x, Y: at.y})
				p, _ := c.Project(plane.ToCamera(r3.Vec{X: w.X, Y: w.Y}))
				row = append(row, r2.Vec{X: p.X + noise*rng.NormFloat64(), Y: p.Y + noise*rng.NormFloat64()})
			}
			b.Corners = append(b.Corners, row)
		}
		s.boards = append(s.boards, b)
	}
	return s
}

// facing returns the pose of a plane seen from distance d (mm), tilted by the angles (radians) about the
// picture's axes and turned in the picture.
func facing(d, tiltX, tiltY, turned float64) Pose {
	r := multiply(rotation(r3.Vec{X: tiltX, Y: tiltY}), multiply(rotation(r3.Vec{Z: turned}), rotation(r3.Vec{X: math.Pi})))
	return Pose{R: r, T: r3.Vec{Z: d}}
}

func (s shot) adjust(t testing.TB, f Focal) Reference {
	t.Helper()
	ref, err := Adjust(s.boards, AdjustOptions{Width: s.camera.Width, Height: s.camera.Height, Focal: f})
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

// Without noise, and with priors that agree, the camera comes back exactly.
func TestAdjustExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	c := NewCamera(3000, 2000, 28)
	s := photograph(c, facing(600, 0.2, -0.3, 0.1), []laid{{0, 0, 0}, {-200, -120, 0.7}}, 0, rng)
	ref := s.adjust(t, Focal{F35: 28, Sigma: 0.02})
	if d := apart3(ref.Plane.Eye(), s.plane.Eye()); d > 1e-3 {
		t.Errorf("the camera's centre is %g mm off", d)
	}
	if math.Abs(ref.Camera.F-c.F) > 1e-3 || math.Abs(ref.Camera.K1) > 1e-6 || ref.RMS > 1e-5 {
		t.Errorf("camera %+v, rms %g px", ref.Camera, ref.RMS)
	}
}

// offset returns the true parameters minus the found ones, in the order of Cov.
func (s shot) offset(r Reference) []float64 {
	d := multiply(s.plane.R, transpose(r.Plane.R))
	w := r3.Vec{X: (d[2][1] - d[1][2]) / 2, Y: (d[0][2] - d[2][0]) / 2, Z: (d[1][0] - d[0][1]) / 2} // small angles
	x := r3.Sub(s.plane.T, r.Plane.T)
	return []float64{s.camera.F - r.Camera.F, s.camera.Cx - r.Camera.Cx, s.camera.Cy - r.Camera.Cy, s.camera.K1 - r.Camera.K1, s.camera.K2 - r.Camera.K2, w.X, w.Y, w.Z, x.X, x.Y, x.Z}
}

func transpose(a [3][3]float64) [3][3]float64 {
	return fromColumns(vec3(a[0][:]), vec3(a[1][:]), vec3(a[2][:]))
}

// raisedLength returns the length (mm) that reference r gives for what true camera and plane show between two
// points w of the plane's frame, when both are known to stand at their height.
func (s shot) raisedLength(r Reference, w [2]r3.Vec) float64 {
	var at [2]r3.Vec
	for i, p := range w {
		px, _ := s.camera.Project(s.plane.ToCamera(p))
		at[i], _ = r.Plane.Meet(r.Camera.Ray(px), p.Z)
	}
	return apart3(at[0], at[1])
}

// With cameras drawn from the priors, every error squared over its variance averages to one, with a standard
// deviation of sqrt(2/n): of the eleven parameters, and of lengths 22 mm over the plane, along and across the
// boards, which is what the reference is for.
func TestAdjustCovarianceIsHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const shots = 150
	prior := Focal{F35: 28, Sigma: 0.02}
	long := [2]r3.Vec{{X: -60, Y: -30, Z: 22}, {X: 340, Y: -30, Z: 22}}
	wide := [2]r3.Vec{{X: 20, Y: -80, Z: 22}, {X: 20, Y: 60, Z: 22}}
	sum := make([]float64, nCommon+2)
	for range shots {
		c := NewCamera(3000, 2000, prior.F35*math.Exp(prior.Sigma*rng.NormFloat64()))
		c.Cx += TypicalLens(c.Width, c.Height, 1).SigmaCentre * rng.NormFloat64()
		c.Cy += TypicalLens(c.Width, c.Height, 1).SigmaCentre * rng.NormFloat64()
		k := c.Focal35() / prior.F35
		c.K1, c.K2 = k*k*k1Sigma*rng.NormFloat64(), k*k*k*k*k2Sigma*rng.NormFloat64()
		size := 1 + boardScaleSigma*rng.NormFloat64() // of the printed squares
		plane := facing(600, 0.2*rng.NormFloat64(), 0.2*rng.NormFloat64(), rng.Float64()*6)
		s := photograph(c, plane, []laid{{}, {100, -60, rng.Float64() * 6}}, cornerNoise, rng)
		s.plane.T = r3.Scale(size, s.plane.T)
		ref := s.adjust(t, prior)
		for i, v := range s.offset(ref) {
			sum[i] += v * v / ref.Cov[i][i]
		}
		for i, w := range [][2]r3.Vec{long, wide} {
			g := func(r Reference) float64 { return s.raisedLength(r, w) }
			z := (g(ref) - apart3(w[0], w[1])) / math.Sqrt(ref.variance(g))
			sum[nCommon+i] += z * z
		}
	}
	for i, name := range []string{"F", "Cx", "Cy", "K1", "K2", "turn x", "turn y", "turn z", "X", "Y", "Z", "length", "width"} {
		mean := sum[i] / shots
		t.Logf("%s: mean squared error over variance %.2f", name, mean)
		if math.Abs(mean-1) > 4*math.Sqrt(2.0/shots) {
			t.Errorf("%s: the mean squared error is %.2f of the stated variance", name, mean)
		}
	}
}

// A picture taken squarely cannot tell the focal length; a slanting one can (Sturm and Maybank, CVPR 1999: the
// plane parallel to the picture is the singular case of calibration from one plane).
func TestAdjustSaysWhatItObserved(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	prior := Focal{F35: 26, Sigma: 0.02}
	places := []laid{{-250, 60, 0}, {20, -60, 0.1}}
	flat := photograph(NewCamera(3000, 2000, 26), facing(500, 0, 0, 0), places, cornerNoise, rng).adjust(t, prior)
	slanting := photograph(NewCamera(3000, 2000, 26), facing(500, 0.6, 0.7, 0), places, cornerNoise, rng).adjust(t, prior)
	if flat.FocalObserved || flat.SigmaF < 0.9*prior.Sigma {
		t.Errorf("a square picture claims a focal length to %.2f %%", 100*flat.SigmaF)
	}
	if !slanting.FocalObserved || !slanting.K1Observed {
		t.Errorf("a slanting picture says nothing of its camera: %.2f %%, k1 to %.4f", 100*slanting.SigmaF, slanting.SigmaK1)
	}
}

// A cropped photo states a focal length that its boards contradict: the boards are believed, and it is said.
func TestAdjustContradictsPhoto(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	s := photograph(NewCamera(3000, 2000, 52), facing(900, 0.4, 0.5, 0), []laid{{-200, 60, 0}, {0, -60, 0.1}}, cornerNoise, rng)
	ref := s.adjust(t, ChooseFocal(26, 0))
	if off := ref.Camera.F/s.camera.F - 1; math.Abs(off) > 4*ref.SigmaF || !ref.FocalObserved {
		t.Errorf("the focal length is %.2f %% off, stated to %.2f %%", 100*off, 100*ref.SigmaF)
	}
	if len(ref.Notes) == 0 || !strings.Contains(ref.Notes[0], "26 mm") {
		t.Errorf("notes: %q", ref.Notes)
	}
}

// Any camera, with no word of its focal length, any pose up to half a right angle: the scale in the plane under
// the first board, which does not hang on the focal length, comes out within 0.1 %.
func TestAdjustWithoutFocalProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := NewCamera(3000, 2000, rapid.Float64Range(18, 110).Draw(t, "f35"))
		tiltX, tiltY := rapid.Float64Range(-0.5, 0.5).Draw(t, "tiltX"), rapid.Float64Range(-0.5, 0.5).Draw(t, "tiltY")
		d := 400 * c.F / 2000
		plane := facing(d, tiltX, tiltY, rapid.Float64Range(-3, 3).Draw(t, "turn"))
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		s := photograph(c, plane, []laid{{-120, 60, 0}, {-100, -60, 0.1}}, cornerNoise, rng)
		ref, err := Adjust(s.boards, AdjustOptions{Width: 3000, Height: 2000})
		if err != nil {
			t.Fatal(err)
		}
		p, _ := ref.Plane.Meet(ref.Camera.Ray(s.boards[0].Corners[0][0]), 0)
		q, _ := ref.Plane.Meet(ref.Camera.Ray(s.boards[0].Corners[0][23]), 0)
		if got := apart3(p, q); math.Abs(got-230) > 0.23 {
			t.Fatalf("23 squares measure %.3f mm, rms %.3f px, focal length %.1f of %.1f", got, ref.RMS, ref.Camera.Focal35(), c.Focal35())
		}
	})
}

// One corner that was found 5 px off does not move the camera by more than its uncertainty.
func TestAdjustIsRobust(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	s := photograph(NewCamera(3000, 2000, 28), facing(600, 0.1, 0.1, 0), []laid{{-120, 60, 0}, {-100, -60, 0.1}}, cornerNoise, rng)
	before := s.adjust(t, ChooseFocal(28, 0))
	s.boards[0].Corners[1][7].X += 5
	after := s.adjust(t, ChooseFocal(28, 0))
	g := func(r Reference) float64 { return r.Plane.T.X }
	if moved := math.Abs(g(after) - g(before)); moved > 2*math.Sqrt(before.variance(g)) {
		t.Errorf("the board moved by %.4f mm, standard deviation %.4f", moved, math.Sqrt(before.variance(g)))
	}
}

// curled bends board k of the shot up by h mm at the far end of its columns, as a sheet that was rolled does.
func (s shot) curled(k int, h float64) {
	for i, row := range s.boards[k].Corners {
		for j := range row {
			w, _ := s.plane.Meet(s.camera.Ray(row[j]), 0)
			x := float64(j) / float64(len(row)-1)
			w.Z = h * x * x
			s.boards[k].Corners[i][j], _ = s.camera.Project(s.plane.ToCamera(w))
		}
	}
}

// A board that curls by a millimetre and more is named, flat ones are not.
func TestAdjustNamesACurledBoard(t *testing.T) {
	for _, h := range []float64{0, 2, 4} {
		rng := rand.New(rand.NewPCG(13, 14))
		s := photograph(NewCamera(3000, 2000, 28), facing(500, 0.05, 0.05, 0), []laid{{-250, 60, 0}, {20, -60, 0.1}}, cornerNoise, rng)
		s.curled(1, h)
		ref := s.adjust(t, ChooseFocal(28, 0))
		if named := strings.Contains(strings.Join(ref.Notes, "\n"), "misses the common plane"); named != (h > 0) {
			t.Errorf("curl %g mm: rms %.2f px, notes %q", h, ref.RMS, ref.Notes)
		}
	}
}

// Sheets that curl by half a millimetre bend all of their corners together. Taken as independent these once made a
// focal length 5.7 % wrong, stated to 2 %.
func TestAdjustCurledSheetsAreNotBelieved(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	worst := 0.0
	for range 40 {
		s := photograph(NewCamera(3000, 2000, 28), facing(440, 0.03*rng.NormFloat64(), 0.03*rng.NormFloat64(), 0), []laid{{-230, 70, 0.02}, {20, -60, -0.03}}, cornerNoise, rng)
		s.curled(0, 0.5*rng.NormFloat64())
		s.curled(1, 0.5*rng.NormFloat64())
		ref := s.adjust(t, ChooseFocal(28, 0))
		worst = math.Max(worst, math.Abs(ref.Camera.F/s.camera.F-1)/ref.SigmaF)
	}
	if t.Logf("worst focal length %.1f standard deviations off", worst); worst > 3 {
		t.Errorf("a focal length is %.1f standard deviations off", worst)
	}
}

func TestAdjustRefuses(t *testing.T) {
	good := func() Board {
		return photograph(NewCamera(3000, 2000, 28), facing(600, 0, 0, 0), []laid{{}}, 0, rand.New(rand.NewPCG(1, 1))).boards[0]
	}
	mirrored, onALine, notFinite, short, noSize := good(), good(), good(), good(), good()
	for i, row := range mirrored.Corners {
		for j := range row {
			row[j].X = 3000 - row[j].X
			onALine.Corners[i][j].Y = onALine.Corners[i][j].X
		}
	}
	notFinite.Corners[2][3].Y = math.NaN()
	short.Corners = short.Corners[1:]
	noSize.Square = 0
	for name, boards := range map[string][]Board{
		"none": nil, "mirror": {mirrored}, "line": {onALine}, "finite": {notFinite}, "rows": {short}, "0 mm": {noSize}, "zero": {{}},
	} {
		_, err := Adjust(boards, AdjustOptions{Width: 3000, Height: 2000})
		if !errors.Is(err, ErrReference) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Adjust([]Board{good()}, AdjustOptions{}); !errors.Is(err, ErrReference) {
		t.Errorf("no picture: %v", err)
	}
}

// A homography of four points is exact; its points on a line are refused.
func TestHomography(t *testing.T) {
	square := []r2.Vec{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	seen := []r2.Vec{{X: 100, Y: 120}, {X: 900, Y: 80}, {X: 700, Y: 600}, {X: 200, Y: 500}}
	h, err := homography(square, seen)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range square {
		q := turn(h, r3.Vec{X: p.X, Y: p.Y, Z: 1})
		if d := apart2(r2.Vec{X: q.X / q.Z, Y: q.Y / q.Z}, seen[i]); d > 1e-9 {
			t.Errorf("corner %d is %g px off", i, d)
		}
	}
	line := []r2.Vec{{X: 0}, {X: 1}, {X: 2}, {X: 3}}
	if _, err := homography(square, line); err == nil {
		t.Error("a square seen as a line has a homography")
	}
}

// Corners anywhere, of boards of any size, give a reference of finite numbers or a clear refusal.
func TestAdjustIsTotalProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		spread := math.Exp(rapid.Float64Range(-20, 20).Draw(t, "spread"))
		var boards []Board
		for range rapid.IntRange(1, 3).Draw(t, "boards") {
			b := Board{Rows: rapid.IntRange(3, 5).Draw(t, "rows"), Cols: rapid.IntRange(3, 6).Draw(t, "cols"), Square: 10, Sigma: 0.1}
			for range b.Rows - 1 {
				row := make([]r2.Vec, b.Cols-1)
				for j := range row {
					row[j] = r2.Vec{X: 1500 + spread*rng.NormFloat64(), Y: 1000 + spread*rng.NormFloat64()}
				}
				b.Corners = append(b.Corners, row)
			}
			boards = append(boards, b)
		}
		ref, err := Adjust(boards, AdjustOptions{Width: 3000, Height: 2000, Focal: ChooseFocal(28, 0)})
		if err != nil {
			if !errors.Is(err, ErrReference) {
				t.Fatal(err)
			}
			return
		}
		if sum := ref.Camera.F + ref.Camera.K1 + ref.Plane.T.Z + ref.Plane.R[0][0] + ref.RMS + ref.SigmaF; math.IsNaN(sum - sum) {
			t.Fatalf("%+v", ref)
		}
	})
}

// Three boards and a stated focal length: the usual photo.
func BenchmarkAdjust(b *testing.B) {
	s := photograph(NewCamera(3000, 2000, 28), facing(600, 0.1, 0.1, 0), []laid{{-250, 60, 0}, {20, 70, 0.1}, {-100, -60, 0.1}}, cornerNoise, rand.New(rand.NewPCG(1, 1)))
	for b.Loop() {
		s.adjust(b, ChooseFocal(28, 0))
	}
}
