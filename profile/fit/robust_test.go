package fit

import (
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
)

// wild is a trace that no turning gave: a random walk with jumps, gaps, doubled and disordered stations.
func wild(rng *rand.Rand) profile.Trace {
	t := profile.Trace{Length: 5 + 200*rng.Float64()}
	n := 20 + rng.IntN(600)
	r := 30 * rng.Float64()
	states := []profile.State{profile.Visible, profile.Visible, profile.Visible, profile.Hidden, profile.Damaged, ""}
	state := profile.Visible
	for i := range n {
		switch rng.IntN(12) {
		case 0:
			r += 10 * rng.NormFloat64()
		case 1:
			state = states[rng.IntN(len(states))]
		default:
			r += 0.3 * rng.NormFloat64()
		}
		x := t.Length * float64(i) / float64(n)
		if rng.IntN(10) == 0 {
			x += rng.NormFloat64()
		}
		t.Samples = append(t.Samples, profile.Sample{X: x, R: r, State: state})
	}
	return t
}

// Whatever the trace, the answer is a sound pattern of its length or an error, never a panic.
func TestWildTraces(t *testing.T) {
	sound := 0
	for seed := range uint64(60) {
		tr := wild(rand.New(rand.NewPCG(seed, 7)))
		p, err := Trace(tr, Options{})
		if err != nil {
			t.Logf("trace %d: %v", seed, err)
			continue
		}
		sound++
		if err := p.Validate(); err != nil || p.Length != tr.Length {
			t.Errorf("trace %d: length %v of %v, %v", seed, p.Length, tr.Length, err)
		}
	}
	if sound < 50 {
		t.Errorf("only %d of 60 traces gave a pattern", sound)
	}
}

func TestLevelTraces(t *testing.T) {
	for _, r := range []float64{0, 0.2, 10} {
		tr := profile.Trace{Length: 100}
		for x := range 401 {
			tr.Samples = append(tr.Samples, profile.Sample{X: float64(x) / 4, R: r, State: profile.Visible})
		}
		p, err := Trace(tr, Options{})
		if r == 0 {
			if err == nil {
				t.Error("a trace without thickness gave a pattern")
			}
			continue
		}
		if err != nil || len(p.Elements) != 1 || p.Elements[0].Kind != profile.Cylinder {
			t.Errorf("radius %v: %v, %v", r, kinds(p), err)
		}
	}
}
