package profile_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"spindlestick/profile"
)

// stool is a short stretcher with one of everything that has an inside.
func stool() profile.Pattern {
	return profile.Pattern{Length: 200, Elements: []profile.Element{
		{Kind: profile.Square, X0: 0, X1: 40, D0: 30, D1: 30, Side: 30},
		{Kind: profile.Shoulder, X0: 40, X1: 50, D0: 42.426406871, D1: 24, Side: 30, Style: profile.Straight},
		{Kind: profile.Fillet, X0: 50, X1: 53, D0: 22, D1: 22},
		{Kind: profile.Bead, X0: 53, X1: 61, D0: 22, D1: 22, Sagitta: 3},
		{Kind: profile.Fillet, X0: 61, X1: 64, D0: 22, D1: 22},
		{Kind: profile.Cove, X0: 64, X1: 76, D0: 22, D1: 22, Sagitta: -3},
		{Kind: profile.Ogee, X0: 76, X1: 100, D0: 22, D1: 30, InnerX: 88, InnerD: 26, Sagitta: -1},
		{Kind: profile.Taper, X0: 100, X1: 180, D0: 30, D1: 20},
		{Kind: profile.Vee, X0: 180, X1: 184, D0: 20, D1: 20, InnerX: 182, InnerD: 16},
		{Kind: profile.Cylinder, X0: 184, X1: 200, D0: 20, D1: 20},
	}}
}

func TestStoolIsSound(t *testing.T) {
	if err := stool().Validate(); err != nil {
		t.Fatal(err)
	}
}

func TestValidateRefuses(t *testing.T) {
	for name, spoil := range map[string]func(p *profile.Pattern){
		"gap":        func(p *profile.Pattern) { p.Elements[3].X0 += 0.5 },
		"length":     func(p *profile.Pattern) { p.Length = 201 },
		"kind":       func(p *profile.Pattern) { p.Elements[2].Kind = "blob" },
		"backwards":  func(p *profile.Pattern) { p.Elements[2].X1 = 49 },
		"negative":   func(p *profile.Pattern) { p.Elements[2].D0 = -1 },
		"no element": func(p *profile.Pattern) { p.Elements = nil },
		"vee":        func(p *profile.Pattern) { p.Elements[8].InnerX = 190 },
	} {
		p := stool()
		spoil(&p)
		if err := p.Validate(); !errors.Is(err, profile.ErrPattern) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestStations(t *testing.T) {
	st := stool().Stations()
	// 11 edges, a crest, two bottoms (cove and vee) and an inflection.
	if len(st) != 15 {
		t.Fatalf("%d stations, want 15", len(st))
	}
	for i := 1; i < len(st); i++ {
		if st[i].X <= st[i-1].X {
			t.Errorf("station %d at %v does not follow %v", i, st[i].X, st[i-1].X)
		}
	}
	if st[0].Before != 0 || st[len(st)-1].After != 0 {
		t.Error("there is wood outside the ends")
	}
	if s := st[2]; s.X != 50 || !s.Step(0.1) || s.Diameter() != 24 {
		t.Errorf("the shoulder's end is %+v", s)
	}
}

func TestPatternFileRoundTrip(t *testing.T) {
	var buf bytes.Buffer
	want := stool()
	want.Elements[3].U = profile.Bounds{X0: 0.1, D0: 0.05}
	if err := profile.WritePattern(&buf, want); err != nil {
		t.Fatal(err)
	}
	got, err := profile.ReadPattern(bytes.NewReader(buf.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
	// The fields other programs rely on stand at the top of the file and of each element.
	var raw struct {
		Length   float64
		Elements []map[string]any
	}
	if err := json.Unmarshal(buf.Bytes(), &raw); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"kind", "x0", "x1", "d0", "d1"} {
		if _, ok := raw.Elements[0][key]; !ok {
			t.Errorf("an element has no %q", key)
		}
	}
	if raw.Elements[3]["crest"] != 28.0 {
		t.Errorf("the bead's crest is written as %v", raw.Elements[3]["crest"])
	}
}

func TestReadPatternRefuses(t *testing.T) {
	for name, text := range map[string]string{
		"empty":   "",
		"text":    "hello",
		"other":   `{"format":"x","version":1}`,
		"newer":   `{"format":"spindlestick-pattern","version":99}`,
		"no body": `{"format":"spindlestick-pattern","version":1}`,
		"cut":     `{"format":"spindlestick-pattern","version":1,"length":10,"elements":[{"kind":"fi`,
	} {
		if _, err := profile.ReadPattern(strings.NewReader(text)); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}

func FuzzReadPattern(f *testing.F) {
	var buf bytes.Buffer
	if err := profile.WritePattern(&buf, stool()); err != nil {
		f.Fatal(err)
	}
	f.Add(buf.Bytes())
	f.Add([]byte(`{"format":"spindlestick-pattern","version":1,"length":3,"elements":[{"kind":"bead","x0":0,"x1":1,"d0":9,"d1":9,"sagitta":0.3},{"kind":"taper","x0":1,"x1":2,"d0":9,"d1":8},{"kind":"bead","x0":2,"x1":3,"d0":9,"d1":9,"sagitta":0.3}],"ties":[{"kind":"repeat","groups":[0,2],"count":1},{"kind":"tangent","joint":1},{"kind":"equal","places":[{"element":0,"spot":"mid"},{"element":1,"spot":"far"}]}]}`))
	f.Add([]byte(`{"format":"spindlestick-pattern","version":1,"length":1e308,"elements":[{"kind":"vee","x0":0,"x1":1e308}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := profile.ReadPattern(bytes.NewReader(data))
		if err == nil {
			p.Stations() // a pattern that was accepted can be used
			p.Largest()
			for _, o := range profile.Offers(p) {
				if q, err := profile.AddTie(p, o); err == nil && q.Validate() != nil {
					t.Errorf("%+v makes it unsound: %v", o, q.Validate())
				}
			}
			if q, _, err := p.Rounded(profile.Halves); err == nil && q.Validate() != nil {
				t.Errorf("rounded it is unsound: %v", q.Validate())
			}
			if q, err := profile.SetDiameter(p, 0, profile.Far, 7); err == nil && q.Validate() != nil {
				t.Errorf("edited it is unsound: %v", q.Validate())
			}
		}
	})
}
