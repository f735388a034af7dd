package vision

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// A dark piece on a dark bench, one flank in its own hard shadow: with its ends pointed at (a few pixels
// off) what is called visible must be the edge. Hue alone places it on the flank in shadow: the limits are wider
// than those of the other scenes.
func TestPieceInItsShadowOnTheBench(t *testing.T) {
	name := filepath.Join(benchFolder(t), "b08")
	photo, err := Load(name + ".jpg")
	if err != nil {
		t.Fatal(err)
	}
	defer photo.Close()
	boards, _ := benchReference(t, name+".json")
	axis := [2]r2.Vec{{X: 270, Y: 1088}, {X: 2734, Y: 1046}}
	o, err := FindOutline(context.Background(), photo, view.Hints{Axis: &axis}, boards, nil, nil)
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
	p95, worst := quantile(off, 0.95), quantile(off, 1)
	t.Logf("visible points: p95 %.2f, max %.2f px", p95, worst)
	if p95 > 1.2 || worst > 4 {
		t.Error("what is called visible is not the edge")
	}
}
