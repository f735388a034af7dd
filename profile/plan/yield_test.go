package plan_test

import (
	"testing"

	"pgregory.net/rapid"

	"spindlestick/profile/plan"
)

func TestYield(t *testing.T) {
	p := build(fillet(700, 40)) // blanks of 750
	got := planned(t, p, plan.Options{Copies: 12, Waste: [2]float64{25, 25}, Kerf: 3, Lengths: []float64{700, 750, 1502, 1503, 2400}}).Yields
	for i, want := range []plan.Yield{
		{700, 0, 0, 0}, {750, 1, 12, 0}, {1502, 1, 12, 12*1502 - 12*750}, {1503, 2, 6, 18}, {2400, 3, 4, 600},
	} {
		if got[i] != want {
			t.Errorf("from %v: %+v, want %+v", want.Length, got[i], want)
		}
	}
	if best := plan.BestYield(got); best != 1 {
		t.Errorf("the best is %+v", got[best])
	}
}

// TestYieldIsCutable: what is counted can be sawn from the stock, and one blank more could not.
func TestYieldIsCutable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		got, err := plan.Make(drawn(t), plan.Options{
			Copies: rapid.IntRange(1, 200).Draw(t, "copies"), Kerf: rapid.Float64Range(0.1, 6).Draw(t, "kerf"),
			Lengths: []float64{rapid.Float64Range(50, 5000).Draw(t, "stock")},
		})
		if err != nil {
			t.Fatal(err)
		}
		y, b, kerf := got.Yields[0], got.Blank.Length, got.Options.Kerf
		need := func(n int) float64 { return float64(n)*b + float64(n-1)*kerf }
		if y.Each > 0 && need(y.Each) > y.Length+1e-6 || need(y.Each+1) <= y.Length-1e-6 {
			t.Errorf("%d blanks of %v from %v", y.Each, b, y.Length)
		}
		if y.Each > 0 && (y.Count*y.Each < got.Options.Copies || (y.Count-1)*y.Each >= got.Options.Copies) {
			t.Errorf("%d lengths of %d for %d copies", y.Count, y.Each, got.Options.Copies)
		}
	})
}
