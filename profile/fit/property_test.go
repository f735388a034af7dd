package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"spindlestick/profile"
)

// score compares a fitted pattern with the true one: an element is found when its kind agrees and both its
// stations lie within tol mm.
type score struct {
	truth, found, correct int
	stations              int
	squares               float64 // sum of the squared station errors of the correct elements
	missed                map[profile.Kind]int
}

func (s *score) add(truth, got []profile.Element, tol float64) {
	s.truth += len(truth)
	s.found += len(got)
	if s.missed == nil {
		s.missed = map[profile.Kind]int{}
	}
	used := map[int]bool{}
	for _, e := range truth {
		best, least := -1, tol
		for j, g := range got {
			d := math.Max(math.Abs(e.X0-g.X0), math.Abs(e.X1-g.X1))
			if g.Kind == e.Kind && !used[j] && d <= least {
				best, least = j, d
			}
		}
		if best < 0 {
			s.missed[e.Kind]++
			continue
		}
		used[best] = true
		s.correct++
		s.stations += 2
		s.squares += math.Pow(e.X0-got[best].X0, 2) + math.Pow(e.X1-got[best].X1, 2)
	}
}

func (s *score) recall() float64    { return float64(s.correct) / float64(s.truth) }
func (s *score) precision() float64 { return float64(s.correct) / float64(s.found) }
func (s *score) rms() float64       { return math.Sqrt(s.squares / float64(s.stations)) }

func (s *score) String() string {
	return fmt.Sprintf("elements %d, precision %.3f, recall %.3f, stations rms %.3f mm, missed %v",
		s.truth, s.precision(), s.recall(), s.rms(), s.missed)
}

// scoreRandom fits n random turnings sampled every quarter of a millimetre with noise sigma.
func scoreRandom(t *testing.T, n int, sigma float64) *score {
	t.Helper()
	var s score
	for i := range n {
		rng := rand.New(rand.NewPCG(uint64(i), 1919))
		truth := plausible(rng)
		if err := truth.Validate(); err != nil {
			t.Fatalf("turning %d: %v", i, err)
		}
		got, err := Trace(traced(truth, 0.25, sigma, rng), Options{})
		if err != nil {
			t.Errorf("turning %d: %v", i, err)
			continue
		}
		if got.Length != truth.Length {
			t.Errorf("turning %d: length %v, want %v", i, got.Length, truth.Length)
		}
		s.add(truth.Elements, got.Elements, 1)
	}
	t.Logf("noise %.2f mm: %v", sigma, &s)
	return &s
}

// turnings is how many random turnings the tests try at each of three noises: a hundred in all, five hundred
// with SPINDLESTICK_ALL.
func turnings() int {
	if os.Getenv("SPINDLESTICK_ALL") != "" {
		return 167
	}
	return 34
}

// The limits are the ones the program promises: 95 % of the elements within 1 mm, stations to 0.2 mm rms; at a
// noise of 0.1 mm, far worse than a photograph's, fillets and coves of a few millimetres begin to drown.
func TestRandomTurnings(t *testing.T) {
	for _, c := range []struct{ sigma, share, rms float64 }{{0.01, 0.95, 0.2}, {0.03, 0.95, 0.2}, {0.1, 0.85, 0.3}} {
		s := scoreRandom(t, turnings(), c.sigma)
		if s.recall() < c.share || s.precision() < c.share {
			t.Errorf("noise %.2f mm: precision %.3f, recall %.3f, want at least %.2f", c.sigma, s.precision(), s.recall(), c.share)
		}
		if s.rms() > c.rms {
			t.Errorf("noise %.2f mm: stations are %.3f mm rms off, want at most %.2f", c.sigma, s.rms(), c.rms)
		}
	}
}
