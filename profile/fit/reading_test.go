package fit

import (
	"math/rand/v2"
	"testing"

	"spindlestick/profile"
)

// found returns the fitted element that stands where e does, to a millimetre.
func found(es []profile.Element, e profile.Element) (profile.Element, bool) {
	for _, g := range es {
		if g.X0 > e.X0-1 && g.X0 < e.X0+1 && g.X1 > e.X1-1 && g.X1 < e.X1+1 {
			return g, true
		}
	}
	return profile.Element{}, false
}

// tally counts readings and how many of them are right.
type tally struct{ n, right int }

func (c *tally) add(ok bool) {
	c.n++
	if ok {
		c.right++
	}
}

func (c tally) share() float64 { return float64(c.right) / float64(max(1, c.n)) }

// TestConfidenceMeansWhatItSays: at a noise far worse than a photograph's, where kinds begin to be taken for one another,
// the readings called nearly certain are right, those called doubtful less often, and what is wrong mostly comes with a
// second reading.
func TestConfidenceMeansWhatItSays(t *testing.T) {
	var sure, doubtful, offered, second tally
	for i := range turnings() / 3 {
		rng := rand.New(rand.NewPCG(uint64(i), 1842))
		truth := plausible(rng)
		tr := traced(truth, 0.25, 0.2, rng)
		p, err := Trace(tr, Options{})
		if err != nil {
			t.Fatal(err)
		}
		p = Read(p, tr)
		for _, e := range truth.Elements {
			g, ok := found(p.Elements, e)
			if !ok || g.Confidence == 0 {
				continue
			}
			right := g.Kind == e.Kind
			if g.Confidence >= 0.9 {
				sure.add(right)
			} else if g.Confidence < 0.6 {
				doubtful.add(right)
			}
			if !right {
				offered.add(g.Second.Kind != "")
				second.add(g.Second.Kind == e.Kind)
			}
		}
	}
	t.Logf("sure %+v, doubtful %+v; wrong ones with a second reading %+v, the right one %+v", sure, doubtful, offered, second)
	if sure.share() < 0.97 || doubtful.share() >= sure.share() {
		t.Errorf("of the sure readings %.2f are right, of the doubtful ones %.2f", sure.share(), doubtful.share())
	}
	if offered.share() < 0.5 {
		t.Errorf("of %d wrong readings only %d offer another", offered.n, offered.right)
	}
}

// arcOf samples one element between two level runs, with noise.
func arcOf(e profile.Element, sigma float64) (profile.Pattern, profile.Trace) {
	p := profile.Pattern{Length: e.X1 + 20, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: e.X0, D0: e.D0 - 4, D1: e.D0 - 4}, e,
		{Kind: profile.Cylinder, X0: e.X1, X1: e.X1 + 20, D0: e.D1 - 4, D1: e.D1 - 4},
	}}
	return p, traced(p, 0.25, sigma, rand.New(rand.NewPCG(7, 7)))
}

// A bead as long as the limit between beads and swells is either; one half as long is a bead.
func TestBeadOrSwell(t *testing.T) {
	e := profile.Element{Kind: profile.Bead, X0: 20, X1: 20 + 0.62*30, D0: 30, D1: 30, Sagitta: 2.4}
	p := func(e profile.Element) profile.Element {
		q, tr := arcOf(e, 0.02)
		return Read(q, tr).Elements[1]
	}
	if g := p(e); g.Second.Kind != profile.Swell {
		t.Errorf("at the limit the second reading is %+v", g.Second)
	}
	e.X1, e.Sagitta = 29, 2.4
	if g := p(e); g.Second.Kind != "" || g.Confidence < 0.95 {
		t.Errorf("a plain bead is %.2f sure, with a second reading %+v", g.Confidence, g.Second)
	}
}

// What no sample shows has no confidence.
func TestUnseenHasNoConfidence(t *testing.T) {
	p, tr := arcOf(profile.Element{Kind: profile.Bead, X0: 20, X1: 30, D0: 30, D1: 30, Sagitta: 3}, 0.02)
	for i := range tr.Samples {
		if s := &tr.Samples[i]; s.X > 19 && s.X < 31 {
			s.State = profile.Hidden
		}
	}
	if g := Read(p, tr).Elements[1]; g.Confidence != 0 || g.Second.Kind != "" {
		t.Errorf("a hidden bead is %.2f sure, with a second reading %+v", g.Confidence, g.Second)
	}
}

// A trace without any noise once had confidences that were no numbers: the arc through a level run has no crest.
func TestReadingOfAPerfectTrace(t *testing.T) {
	for _, e := range []profile.Element{
		{Kind: profile.Cylinder, X0: 20, X1: 30, D0: 30, D1: 30}, {Kind: profile.Taper, X0: 20, X1: 30, D0: 30, D1: 25},
		{Kind: profile.Bead, X0: 20, X1: 30, D0: 30, D1: 30, Sagitta: 3},
	} {
		p, _ := arcOf(e, 0)
		for i, g := range Read(p, profile.Trace{Length: p.Length, Samples: p.Curve(0.25)}).Elements {
			if !(g.Confidence > 0.8 && g.Confidence <= 1) {
				t.Errorf("beside a %s, element %d (%s) is %v sure", e.Kind, i+1, g.Kind, g.Confidence)
			}
		}
	}
}
