package fit

import (
	"math/rand/v2"
	"testing"

	"spindlestick/profile/view"
)

// TestBenchScenes fits the exact outlines of the bench photographs, with 0.05 px of noise, through the whole of
// the geometry. The floors are what the program promises.
func TestBenchScenes(t *testing.T) {
	var all score
	for _, b := range benchScenes(t) {
		m, err := view.Measure(b.sighted(0.05, rand.New(rand.NewPCG(1, 2))), b.hints())
		if err != nil {
			t.Errorf("%s: %v", b.ID, err)
			continue
		}
		p, err := Fit(m, Options{})
		if err != nil {
			t.Errorf("%s: %v", b.ID, err)
			continue
		}
		var s score
		for _, q := range []*score{&s, &all} {
			q.add(b.keep(b.Elements), b.keep(p.Elements), 1)
		}
		t.Logf("%s: %v", b.ID, &s)
	}
	t.Logf("all: %v", &all)
	if all.precision() < 0.95 || all.recall() < 0.95 || all.rms() > 0.25 {
		t.Errorf("precision %.3f, recall %.3f, stations %.3f mm rms; want 0.95, 0.95 and 0.25", all.precision(), all.recall(), all.rms())
	}
}
