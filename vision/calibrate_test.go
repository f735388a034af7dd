package vision

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Drawn photographs give their camera back within three of its stated standard deviations.
func TestCalibrate(t *testing.T) {
	want := drawnCamera()
	paths := shoot(t, want, 1, tiltedBoards()...)
	var last float64
	c, err := Calibrator{}.Calibrate(context.Background(), paths, func(stage string, done float64) {
		if stage == "" || done < last || done > 1 {
			t.Errorf("progress goes from %v to %v at %q", last, done, stage)
		}
		last = done
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", c)
	for _, v := range []struct {
		name             string
		got, want, sigma float64
	}{
		{"focal length", c.F, want.F, c.SigmaF}, {"centre x", c.Cx, want.Cx, c.SigmaCx}, {"centre y", c.Cy, want.Cy, c.SigmaCy},
		{"k1", c.K1, want.K1, c.SigmaK1}, {"k2", c.K2, want.K2, c.SigmaK2},
	} {
		if !(math.Abs(v.got-v.want) < 3*v.sigma) {
			t.Errorf("%s is %.5g, drawn %.5g, standard deviation %.2g", v.name, v.got, v.want, v.sigma)
		}
	}
	// Six photographs of 92 corners good to 0.05 px tell the focal length to a thousandth and k1 to a twentieth of itself.
	if c.SigmaF > 0.001*c.F || c.SigmaK1 > 0.004 || last != 1 {
		t.Errorf("standard deviations %.2g px and %.2g, progress ends at %v", c.SigmaF, c.SigmaK1, last)
	}
	if c.Photos != 6 || c.Make != "Maker 1" || c.Model != "Model 22" || c.Focal35 != 26 || c.Width != 640 || c.Height != 480 {
		t.Errorf("calibration %+v", c)
	}

	// The same pixels, said to be held upright: the same lens.
	for i, p := range paths {
		paths[i] = rewrite(t, p, exifBlock(6, 26))
	}
	turned, err := Calibrator{}.Calibrate(context.Background(), paths, nil)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(turned.F-c.F) > c.SigmaF || math.Abs(turned.Cx-c.Cx) > c.SigmaCx || math.Abs(turned.Cy-c.Cy) > c.SigmaCy || turned.Width != 640 {
		t.Errorf("upright: %+v", turned)
	}
}

func TestCalibrateSaysWhatIsWrong(t *testing.T) {
	c := drawnCamera()
	b := tiltedBoards()
	good := shoot(t, c, 1, b[0], b[1], b[4])
	flat := tiltedBoard{cols: 24, at: r3.Vec{Z: 300}}
	odd := flat
	odd.cols = 23
	other := rewrite(t, good[0], exifBlock(1, 50))
	nameless := rewrite(t, good[0], nil)
	notes := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(notes, []byte("not a picture"), 0o600); err != nil {
		t.Fatal(err)
	}
	blank := shoot(t, c, 1, tiltedBoard{cols: 24, at: r3.Vec{X: 2000, Z: 300}})[0]
	still := shoot(t, c, 1, flat, odd)
	for _, k := range []struct {
		name  string
		paths []string
		say   string
	}{
		{"too few", good[:2], "3 to 40 photographs"},
		{"zoomed", append([]string{other}, good...), "do not zoom"},
		{"stripped", append([]string{nameless}, good...), "which camera"},
		{"no board", append([]string{blank}, good...), "shows 0 boards"},
		{"another board", append([]string{still[1]}, good...), "one board for all"},
		{"flat", []string{still[0], still[0], still[0]}, "tilt"},
		{"one way", []string{good[0], good[0], good[0]}, "tilt"},
		{"no picture", append([]string{notes}, good...), "not a picture"},
	} {
		_, err := Calibrator{}.Calibrate(context.Background(), k.paths, nil)
		if !errors.Is(err, ErrCalibrate) || !strings.Contains(err.Error(), k.say) {
			t.Errorf("%s: %v", k.name, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := (Calibrator{}).Calibrate(ctx, good, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

func TestTiltedEnough(t *testing.T) {
	const deg = math.Pi / 180
	for name, k := range map[string]struct {
		turns []r3.Vec
		say   string
	}{
		"four ways":  {[]r3.Vec{{X: 30 * deg}, {X: -30 * deg}, {Y: 30 * deg}, {Y: -30 * deg}}, ""},
		"one way":    {[]r3.Vec{{X: 30 * deg}, {X: 32 * deg}, {X: 40 * deg}}, "the same way"},
		"hardly":     {[]r3.Vec{{X: 10 * deg}, {X: -10 * deg}, {Y: 10 * deg}}, "0 of 3"},
		"only turns": {[]r3.Vec{{Z: 1}, {Z: 2}, {}}, "0 of 3"},
		"its back":   {[]r3.Vec{{X: 150 * deg}, {X: 210 * deg}, {Y: 150 * deg}}, ""},
	} {
		err := tiltedEnough(k.turns)
		if (err == nil) != (k.say == "") || err != nil && !strings.Contains(err.Error(), k.say) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
