package vision

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile/view"
	"spindlestick/vision/internal/guard"
)

// sheet4 is a board's shape: curled along, twisted, curled across (mm), stretched along.
type sheet4 [4]float64

// seenThrough are boards of 24 columns as a camera sees them, bent, with corners good to noise px. The boards' places are for a
// picture they fill at 640 px.
func seenThrough(c view.Camera, boards []tiltedBoard, shape sheet4, noise float64, rng *rand.Rand) []guard.View {
	const halfX, halfY = 110, 15 // of the inner corners, mm
	var views []guard.View
	for _, b := range boards {
		b.at.Z *= c.F / 560 * 640 / float64(c.Width) * 1.05
		var v guard.View
		for y := -halfY; y <= halfY; y += 10 {
			for x := -halfX; x <= halfX; x += 10 {
				at := r2.Vec{X: float64(x), Y: float64(y)}
				u, w := at.X/halfX, at.Y/halfY
				bent := r3.Vec{X: at.X * (1 + shape[3]), Y: at.Y, Z: shape[0]*u*u + shape[1]*u*w + shape[2]*w*w}
				q, _ := c.Project(r3.Add(b.at, b.turned(bent)))
				v.At = append(v.At, at)
				v.Seen = append(v.Seen, r2.Add(q, r2.Vec{X: noise * rng.NormFloat64(), Y: noise * rng.NormFloat64()}))
			}
		}
		views = append(views, v)
	}
	return views
}

func bentCamera(t testing.TB, views []guard.View, w, h int) (flat, bent guard.Calibrated) {
	t.Helper()
	flat, held, err := solveLens(views, w, h)
	if err != nil {
		t.Fatal(err)
	}
	if bent, err = newBundle(flat, held, views, w, h).bent(); err != nil {
		t.Fatal(err)
	}
	return flat, bent
}

// Sheets drawn from what is known of paper on something flat: errors squared over their variances average to one, with a standard
// deviation of sqrt(2/n). Taken as flat, the same boards give a focal length many deviations off.
func TestABentBoardGivesAnHonestCamera(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	want := view.NewCamera(4000, 3000, 27)
	want.K1, want.K2 = -0.05, 0.02
	const times = 24
	var sum [5]float64
	off := 0.0
	for range times {
		shape := sheet4{curlSigma * rng.NormFloat64(), curlSigma * rng.NormFloat64(), curlSigma * rng.NormFloat64(), stretchSigma * rng.NormFloat64()}
		flat, bent := bentCamera(t, seenThrough(want, tiltedBoards(), shape, 0.05, rng), 4000, 3000)
		l, s := bent.Lens, bent.Sigma
		for i, z := range []float64{(l.F - want.F) / s.F, (l.Cx - want.Cx) / s.Cx, (l.Cy - want.Cy) / s.Cy, (l.K1 - want.K1) / s.K1, (l.K2 - want.K2) / s.K2} {
			sum[i] += z * z / times
		}
		off += math.Abs(flat.Lens.F-want.F) / flat.Sigma.F / times
		if s.F > 0.0005*want.F {
			t.Errorf("the focal length is told to %.3f %% only", 100*s.F/want.F)
		}
	}
	t.Logf("mean squared errors over variance: %.2f; taken as flat, the focal length is %.0f deviations off", sum, off)
	for i, v := range sum {
		if math.Abs(v-1) > 4*math.Sqrt(2.0/times) {
			t.Errorf("parameter %d: mean squared error %.2f of the stated variance", i, v)
		}
	}
}

// A board that is only ever foreshortened along its length tells its printer's stretch from nothing: the focal length is doubtful,
// and it is said; one more photograph with the board aslant tells it.
func TestTiltsAlongTheBoardAloneAreNotEnough(t *testing.T) {
	rng := rand.New(rand.NewPCG(37, 38))
	c := view.NewCamera(4000, 3000, 27)
	_, four := bentCamera(t, seenThrough(c, tiltedBoards()[:4], sheet4{0.3, 0.1, 0, 0.002}, 0.05, rng), 4000, 3000)
	if err := worthHaving(four); err == nil || !strings.Contains(err.Error(), "about its long side") {
		t.Errorf("focal length told to %.3f %%: %v", 100*four.Sigma.F/c.F, err)
	}
	_, five := bentCamera(t, seenThrough(c, tiltedBoards()[:5], sheet4{0.3, 0.1, 0, 0.002}, 0.05, rng), 4000, 3000)
	if err := worthHaving(five); err != nil || math.Abs(five.Lens.F-c.F) > 3*five.Sigma.F {
		t.Errorf("focal length %.1f px, drawn %.1f, deviation %.2f: %v", five.Lens.F, c.F, five.Sigma.F, err)
	}
}

// Long lenses bend hardly anything within their narrow pictures: k2 keeps what any lens has.
func TestALensKeepsWhatIsNotSeen(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	c := view.NewCamera(4000, 3000, 150)
	flat, bent := bentCamera(t, seenThrough(c, tiltedBoards(), sheet4{}, 0.05, rng), 4000, 3000)
	typical := view.TypicalLens(4000, 3000, 150)
	if flat.Lens.K2 != 0 || math.Abs(bent.Lens.K2) > typical.SigmaK2 || bent.Sigma.K2 > typical.SigmaK2 || bent.Sigma.K2 < typical.SigmaK2/2 {
		t.Errorf("k2 %.4f, deviation %.4f, flat %.4f", bent.Lens.K2, bent.Sigma.K2, flat.Lens.K2)
	}
	if math.Abs(bent.Lens.F-c.F) > 3*bent.Sigma.F || bent.Sigma.Cx > 1.01*typical.SigmaCentre {
		t.Errorf("lens %+v, deviations %+v", bent.Lens, bent.Sigma)
	}
}

// The most photographs that are taken.
func BenchmarkBentForty(b *testing.B) {
	rng := rand.New(rand.NewPCG(35, 36))
	var boards []tiltedBoard
	for i := range mostPhotos {
		k := tiltedBoards()[i%6]
		k.tiltX += 0.1 * rng.NormFloat64()
		boards = append(boards, k)
	}
	views := seenThrough(view.NewCamera(4000, 3000, 27), boards, sheet4{0.5}, 0.05, rng)
	for b.Loop() {
		bentCamera(b, views, 4000, 3000)
	}
}
