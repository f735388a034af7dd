package plan_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile/plan"
	"spindlestick/profile/sheet"
)

// TestPlanAndStickAgree: what the story stick says to size to, and its letter, is a setting of the plan's that cuts
// there, unless the rough cylinder is that size already.
func TestPlanAndStickAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		made, err := plan.Make(p, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		doc, err := sheet.Make(p, sheet.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range doc.List.Stations {
			if st.Sizing == 0 {
				continue
			}
			found := false
			for _, c := range made.Cuts {
				s := made.Settings[c.Setting]
				near := math.Abs(c.Mark-st.X) < 0.2 || math.Abs(c.From-st.X) < 0.2 || math.Abs(c.To-st.X) < 0.2
				found = found || near && math.Abs(s.Diameter-st.Sizing) < 1e-3 && s.Letter == st.Group
			}
			for _, c := range made.Cylinders {
				found = found || st.X >= c.From-0.01 && st.X <= c.To+0.01 && st.Sizing >= c.Diameter-0.06
			}
			if !found {
				t.Errorf("at %.2f mm the stick says %.2f %s, the plan's settings are %+v", st.X, st.Sizing, st.Group, made.Settings)
			}
		}
	})
}
