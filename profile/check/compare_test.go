package check

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"spindlestick/profile"
)

// known is a deviation made on purpose: of the diameter at a part of an element.
type known struct {
	x         float64
	what      string
	deviation float64
}

// altered is the baluster with deviations of diameters and lengths, and what they are.
func altered() ([]shape, []known) {
	s := baluster()
	s[1].d0, s[1].d1 = 30.9, 30.9
	s[2].mid = 36.6
	s[4].mid = 20.8
	s[6].length += 1.4
	s[8].length -= 0.6
	s[9].mid = 32.2
	return s, []known{
		{60, "fillet, start", 0.9}, {70, "bead, crest", -1.4}, {89, "cove, bottom", 0.8}, {291, "bead, crest", 1.2},
	}
}

func TestKnownDeviationsAreFoundAndNoOthers(t *testing.T) {
	const ud, ux = 0.15, 0.3
	truth := pattern(baluster())
	shapes, changes := altered()
	for seed := range uint64(20) {
		r, err := Compare(seenWith("original", truth, ud, ux, dice(seed)), seenWith("copy", pattern(shapes), ud, ux, dice(seed+100)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		changed := map[Row]bool{}
		for _, k := range changes {
			row, ok := rowAt(r, k.x, k.what)
			if !ok {
				t.Fatalf("seed %d: no row %q near %v", seed, k.what, k.x)
			}
			changed[row] = true
			if math.Abs(row.Deviation-k.deviation) > row.U || !row.Differs() || row.Verdict != Outside && math.Abs(k.deviation)-2*row.U > 0.5 {
				t.Errorf("seed %d: %s at %.1f: %+.2f +- %.2f (%s), made %+.2f", seed, k.what, k.x, row.Deviation, row.U, row.Verdict, k.deviation)
			}
		}
		for _, row := range r.Stations {
			// The altered fillet meets the bead at its other end.
			if !changed[row] && row.Differs() && math.Abs(row.X-64) > 1 {
				t.Errorf("seed %d: %s at %.1f is claimed to differ by %+.2f +- %.2f", seed, row.What, row.X, row.Deviation, row.U)
			}
			if !changed[row] && row.Verdict == Outside && math.Abs(row.X-64) > 1 {
				t.Errorf("seed %d: %s at %.1f is called outside", seed, row.What, row.X)
			}
		}
	}
}

func TestPositionsFollowTheLengths(t *testing.T) {
	shapes, _ := altered()
	r, err := Compare(Piece{Pattern: pattern(baluster())}, Piece{Pattern: pattern(shapes)}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Positions) != len(baluster())+1 {
		t.Fatalf("%d positions", len(r.Positions))
	}
	for i, p := range r.Positions {
		want := 0.0
		if i >= 7 {
			want = 1.4
		}
		if i >= 9 {
			want = 0.8
		}
		if math.Abs(p.Deviation-want) > 1e-9 {
			t.Errorf("%s at %.1f: %+.2f, want %+.2f", p.What, p.X, p.Deviation, want)
		}
		if wantV := map[bool]Verdict{true: Outside, false: Inside}[want > 1]; p.Verdict != wantV {
			t.Errorf("%s at %.1f: %s", p.What, p.X, p.Verdict)
		}
	}
}

// TestVerdict has the zones of a tolerance of 0.5 mm with U = 0.2 mm: good up to 0.3, bad beyond 0.7 (guard bands as
// ISO 14253-1 introduces them; from memory).
func TestVerdict(t *testing.T) {
	for deviation, want := range map[float64]Verdict{0: Inside, 0.29: Inside, -0.29: Inside, 0.31: Unsure, -0.5: Unsure, 0.69: Unsure, 0.71: Outside, -2: Outside} {
		if got := judge(deviation, 0.2, 0.5); got != want {
			t.Errorf("%+.2f: %s, want %s", deviation, got, want)
		}
	}
}

func TestNothingIsClaimedOfWhatIsNotSeen(t *testing.T) {
	for _, state := range []profile.State{profile.Hidden, profile.Damaged} {
		o, c := seenWith("original", pattern(baluster()), 0.1, 0.1, dice(1)), seenWith("copy", pattern(baluster()), 0.1, 0.1, dice(2))
		e := &c.Pattern.Elements[9]
		e.State = state
		worn, _ := e.WithMid(27)
		*e = worn
		for i, s := range o.Trace.Samples { // and on the original only the trace knows
			if s.X > 60 && s.X < 95 {
				o.Trace.Samples[i].State = state
			}
		}
		r, err := Compare(o, c, Options{})
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, row := range r.Stations {
			if hid := row.X > 66 && row.X < 90 || row.X > 287 && row.X < 295; hid && row.Verdict != NotSeen {
				t.Errorf("%s: %s at %.1f: %s", state, row.What, row.X, row.Verdict)
			}
			if row.Verdict != NotSeen {
				seen++
			}
		}
		if seen < 8 {
			t.Errorf("%s: only %d stations are judged", state, seen)
		}
	}
}

func TestAlignments(t *testing.T) {
	o := Piece{Name: "o", Pattern: pattern(baluster())}
	cut := baluster()
	cut[0].length -= 12 // shortened at the hook end
	cut[2].mid = 33     // and worn
	c := Piece{Name: "c", Pattern: pattern(cut)}
	fit, err := Compare(o, c, Options{Align: BestFit})
	if err != nil || math.Abs(fit.Shift+12) > 0.051 {
		t.Errorf("best fit moves by %.2f (%v), want -12", fit.Shift, err)
	}
	at, err := Compare(o, c, Options{Align: AtStation, Station: 99.5})
	if err != nil || math.Abs(at.Shift+12) > 1e-9 {
		t.Errorf("at a station: %.2f (%v), want -12", at.Shift, err)
	}
	hook, err := Compare(o, c, Options{})
	if err != nil || hook.Shift != 0 {
		t.Errorf("by the hook end: %.2f (%v)", hook.Shift, err)
	}
	for _, bad := range []Options{{Align: AtStation, Station: 180}, {Align: "by eye"}} {
		if _, err := Compare(o, c, bad); !errors.Is(err, ErrAlign) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

func TestTolerances(t *testing.T) {
	o, shapes := Piece{Pattern: pattern(baluster())}, baluster()
	shapes[2].mid = 38.3
	c := Piece{Pattern: pattern(shapes)}
	verdict := func(opt Options) Verdict {
		r, err := Compare(o, c, opt)
		if err != nil {
			t.Fatal(err)
		}
		row, _ := rowAt(r, 70, "bead, crest")
		return row.Verdict
	}
	if v := verdict(Options{}); v != Inside {
		t.Errorf("0.3 mm within the default: %s", v)
	}
	if v := verdict(Options{Tolerance: Tolerance{Diameter: 0.2}}); v != Outside {
		t.Errorf("0.3 mm within 0.2: %s", v)
	}
	tight := Options{Exceptions: []Exception{{X: 70, Tolerance: Tolerance{Diameter: 0.1}}}}
	if v := verdict(tight); v != Outside {
		t.Errorf("0.3 mm within the station's 0.1: %s", v)
	}
	for _, bad := range []Options{{Exceptions: []Exception{{X: 180}}}, {Tolerance: Tolerance{Diameter: -1}}, {Tolerance: Tolerance{Station: math.NaN()}}} {
		if _, err := Compare(o, c, bad); err == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
}

// TestABareTrace compares a measured trace without a pattern: diameters yes, places no.
func TestABareTrace(t *testing.T) {
	o := Piece{Pattern: pattern(baluster())}
	c := seenWith("copy", pattern(baluster()), 0.1, 0.2, dice(5))
	c.Pattern = profile.Pattern{}
	r, err := Compare(o, c, Options{})
	if err != nil || len(r.Positions) != 0 {
		t.Fatalf("%v, %d positions", err, len(r.Positions))
	}
	for _, row := range r.Stations {
		if row.X < 60 && row.Verdict != NotSeen {
			t.Errorf("a trace is held against a square's side at %.1f", row.X)
		}
		if row.Verdict == Outside {
			t.Errorf("%s at %.1f: outside by %+.2f +- %.2f", row.What, row.X, row.Deviation, row.U)
		}
	}
	if _, err := Compare(o, Piece{}, Options{}); !errors.Is(err, ErrPiece) {
		t.Errorf("an empty piece: %v", err)
	}
}

// truthOf reads a bench photograph's true shape.
func truthOf(t *testing.T, name string) (profile.Pattern, []known) {
	t.Helper()
	folder := os.Getenv("SPINDLESTICK_BENCH")
	if folder == "" {
		t.Skip("SPINDLESTICK_BENCH names no folder of bench photographs")
	}
	data, err := os.ReadFile(filepath.Join(folder, name+".json"))
	if err != nil {
		t.Skipf("the bench has no pair: %v", err)
	}
	var f struct {
		Elements []struct {
			Kind           profile.Kind
			X0, X1, D0, D1 float64
			Extra          map[string]float64
		}
		Deviations []struct {
			Element int
			Param   string
			Delta   float64 `json:"delta_mm"`
		}
	}
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	var shapes []shape
	for _, e := range f.Elements {
		shapes = append(shapes, shape{e.Kind, e.X1 - e.X0, e.D0, e.D1, e.Extra["peak_diameter"] + e.Extra["min_diameter"]})
	}
	var out []known
	for _, d := range f.Deviations {
		out = append(out, known{float64(d.Element), d.Param, d.Delta})
	}
	return pattern(shapes), out
}

// TestBenchPairTruth compares the true shapes of the bench's original and copy, seen with errors of a photograph's size.
func TestBenchPairTruth(t *testing.T) {
	o, _ := truthOf(t, "b13")
	c, deviations := truthOf(t, "b14")
	for seed := range uint64(10) {
		r, err := Compare(seenWith("b13", o, 0.08, 0.3, dice(seed)), seenWith("b14", c, 0.08, 0.3, dice(seed+50)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range deviations {
			e := o.Elements[int(k.x)]
			x, what := e.X0, string(e.Kind)
			switch k.what {
			case "peak_diameter":
				x, _, _ = e.Mid()
				what += ", crest"
			case "d1":
				x = e.X1
			case "width":
				continue // a place, see TestPositionsFollowTheLengths
			}
			row, ok := nearestRow(r, x, k.deviation)
			if !ok || math.Abs(row.Deviation-k.deviation) > row.U {
				t.Errorf("seed %d: %s (%s): %+.2f +- %.2f, made %+.2f", seed, what, k.what, row.Deviation, row.U, k.deviation)
			}
		}
		for _, row := range r.Stations {
			if row.Differs() && !near(o, deviations, row.X) {
				t.Errorf("seed %d: %s at %.1f is claimed to differ by %+.2f +- %.2f", seed, row.What, row.X, row.Deviation, row.U)
			}
		}
	}
}

// nearestRow is the row at station x (to 1 mm) that is nearest to a deviation: a step has two.
func nearestRow(r Report, x, deviation float64) (best Row, ok bool) {
	for _, s := range r.Stations {
		if math.Abs(s.X-x) < 1 && (!ok || math.Abs(s.Deviation-deviation) < math.Abs(best.Deviation-deviation)) {
			best, ok = s, true
		}
	}
	return best, ok
}

// near reports whether x belongs to one of the changed elements, ends included.
func near(p profile.Pattern, changed []known, x float64) bool {
	for _, k := range changed {
		if e := p.Elements[int(k.x)]; x > e.X0-1 && x < e.X1+1 {
			return true
		}
	}
	return false
}
