package main

import (
	"os"
	"strings"
	"testing"

	"spindlestick/profile"
)

// written returns a pattern as the program writes it and this command reads it back.
func written(p profile.Pattern) (pattern, error) {
	var text strings.Builder
	if err := profile.WritePattern(&text, p); err != nil {
		return pattern{}, err
	}
	return readPattern([]byte(text.String()))
}

// One inch is 25.4 mm; 19.05 mm is 3/4 in, 36.5125 mm is 1 7/16 in. The bead's arc is a semicircle: its crest stands
// half its length, 9.525 mm, over its ends.
func Example_table() {
	p, err := written(profile.Pattern{Length: 101.6, Elements: []profile.Element{
		{Kind: profile.Square, X0: 0, X1: 25.4, D0: 36.5125, D1: 36.5125, Side: 36.5125},
		{Kind: profile.Bead, X0: 25.4, X1: 44.45, D0: 19.05, D1: 19.05, Sagitta: 9.525, U: profile.Bounds{D0: 0.1, D1: 0.12, Mid: 0.3}},
		{Kind: profile.Vee, X0: 44.45, X1: 50.8, D0: 19.05, D1: 19.05, InnerX: 47.625, InnerD: 12.7},
		{Kind: profile.Ogee, X0: 50.8, X1: 76.2, D0: 19.05, D1: 31.75, InnerX: 63.5, InnerD: 25.4, Sagitta: 1},
		{Kind: profile.Taper, X0: 76.2, X1: 101.6, D0: 19.05, D1: 12.7, U: profile.Bounds{D0: 0.2}},
	}})
	if err == nil {
		err = p.table(os.Stdout)
	}
	if err != nil {
		panic(err)
	}
	// Output:
	// no.    kind   from      to   dia.   dia.  mid dia.    +-   from     to    dia.    dia.  mid dia.
	//                   mm      mm     mm     mm        mm    mm     in     in      in      in        in
	//     1  square   0.00   25.40  36.51  36.51         -     -      0      1  1 7/16  1 7/16         -
	//     2    bead  25.40   44.45  19.05  19.05     38.10  0.30      1  1 3/4     3/4     3/4     1 1/2
	//     3     vee  44.45   50.80  19.05  19.05     12.70     -  1 3/4      2     3/4     3/4       1/2
	//     4    ogee  50.80   76.20  19.05  31.75     25.40     -      2      3     3/4   1 1/4         1
	//     5   taper  76.20  101.60  19.05  12.70         -  0.20      3      4     3/4     1/2         -
	// Overall length 101.60 mm, 4 in.
}

func TestInchesAgreeWithTheProgram(t *testing.T) {
	for mm := 0.0; mm < 130; mm += 0.1 {
		if got, want := inches(mm), profile.FormatFraction(mm, 32); got != want {
			t.Errorf("%.1f mm: %s, the program writes %s", mm, got, want)
		}
	}
}

func TestReadPatternRefusesWhatIsNone(t *testing.T) {
	for _, text := range []string{"", "{}", "[]", `{"length":1,"elements":[]}`, `{"elements":[{"x0":"a"}]}`} {
		if p, err := readPattern([]byte(text)); err == nil {
			t.Errorf("%q read as %v", text, p)
		}
	}
}
