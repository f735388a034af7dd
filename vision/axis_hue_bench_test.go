package vision

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// A dark piece on a dark bench, one flank in its own hard shadow: what is called visible must be the edge, on
// both sides, and no clicks are needed. The hue places the edge on the flank in shadow, over stretches of it: the
// limits are wider than those of the other scenes.
func TestPieceInItsShadowOnTheBench(t *testing.T) {
	name := filepath.Join(benchFolder(t), "b08")
	photo, err := Load(name + ".jpg")
	if err != nil {
		t.Fatal(err)
	}
	defer photo.Close()
	boards, _ := benchReference(t, name+".json")
	o, err := FindOutline(context.Background(), photo, view.Hints{}, boards, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	poly := trueOutline(t, name+"_outline.csv")
	if len(o.Quality.Warnings) == 0 {
		t.Error("the user is not told of the shadow")
	}
	truth := survey(respace(poly))
	var off []float64
	for _, side := range o.Sides {
		for _, p := range side {
			if p.State == profile.Visible {
				d, _ := missBy(truth, poly, p.P)
				off = append(off, math.Abs(d))
			}
		}
	}
	gross := 0
	for _, d := range off {
		if d > 3 {
			gross++
		}
	}
	p95, share := quantile(off, 0.95), float64(gross)/float64(len(off))
	t.Logf("visible points: p95 %.2f px, %.2f %% off by more than 3", p95, 100*share)
	if p95 > 0.9 || share > 0.005 {
		t.Error("what is called visible is not the edge")
	}
}
