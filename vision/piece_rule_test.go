package vision

import (
	"context"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// traced finds the outline of one of the test photographs.
func traced(t *testing.T, path string, h view.Hints) view.Outline {
	t.Helper()
	photo, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	defer photo.Close()
	var rule *view.Rule
	if h.Rule != nil {
		r, read, err := ReadRule(photo, *h.Rule)
		if err != nil || !read {
			t.Fatal("the rule was not read", err)
		}
		rule = &r
	}
	boards, err := FindBoards(context.Background(), photo, 0)
	if err != nil {
		t.Fatal(err)
	}
	o, err := FindOutline(context.Background(), photo, h, boards, rule, nil)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// The rule is longer and brighter than the piece beside it; its graduations tell that it is the rule.
func TestARuleIsNotThePiece(t *testing.T) {
	marks := view.RuleMarks{P: r2.Vec{X: 570.3, Y: 706.5}, Q: r2.Vec{X: 1561.8, Y: 736.7}, Length: 200}
	o := traced(t, "../testdata/photos/rule.jpg", view.Hints{Rule: &marks})
	checkOutline(t, o, trueOutline(t, "../testdata/photos/rule_outline.csv"))
}

// A rule of the colour of the bench has no edge to grow to: its body is left alone.
func TestRuleBodyThatMeltsAway(t *testing.T) {
	photo := turning().photo(t)
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	rule := &view.Rule{T: []float64{0, 10, 200}, P: []r2.Vec{at(20, 20), at(55, 20), at(720, 20)}}
	if q := photo.raster().ruleBody(rule); q != nil {
		t.Errorf("a body at %v", q)
	}
}
