package plan

import (
	"fmt"
	"math"
	"slices"

	"spindlestick/profile"
	"spindlestick/profile/check"
)

// Doubt is an element whose sizes are not known well enough to cut by.
type Doubt struct {
	Element int
	State   profile.State // hidden, damaged or inferred; visible where it is the uncertainty alone
	U       float64       // largest expanded uncertainty of its diameters, mm; 0 = not known
}

// sureEnough is how well a diameter must be known to be cut by, mm: half of what copies are held to.
func sureEnough() float64 { return check.DefaultTolerance().Diameter / 2 }

// doubts returns the elements that the photograph does not show whole, and those whose diameters are not known well
// enough.
func doubts(p profile.Pattern) []Doubt {
	var out []Doubt
	for i, e := range p.Elements {
		d := Doubt{i, e.State, math.Max(e.U.D0, math.Max(e.U.D1, e.U.Mid))}
		if d.State == "" {
			d.State = profile.Visible
		}
		if d.State != profile.Visible || d.U > sureEnough() {
			out = append(out, d)
		}
	}
	return out
}

// doubtful reports whether an element is among the doubts.
func (p Plan) doubtful(i int) bool {
	return slices.ContainsFunc(p.Doubts, func(d Doubt) bool { return d.Element == i })
}

// unsure is the section about what to settle before cutting.
func (p Plan) unsure() Section {
	s := Section{Title: "What is not certain"}
	s.heed([]string{fmt.Sprintf("These sizes are guesses, or good to no better than ±%s mm: measure the original there, look at a sound piece, or decide, and correct the pattern before you cut.", mm(sureEnough()))})
	t := Table{Columns: []Column{left("element"), figures("from, mm"), figures("to, mm"), figures("±, mm"), left("")}}
	for _, d := range p.Doubts {
		e := p.Pattern.Elements[d.Element]
		u := ""
		if d.U > 0 {
			u = mm(d.U)
		}
		t.Rows = append(t.Rows, []string{p.name(d.Element), mm(e.X0), mm(e.X1), u, d.words()})
	}
	s.show(t)
	return s
}

func (d Doubt) words() string {
	switch d.State {
	case profile.Visible:
		return "seen, but not known well"
	case profile.Hidden:
		return "hidden in the photograph"
	case profile.Damaged:
		return "damaged: what it was is not known"
	case profile.Inferred:
		return "not seen: follows from what is beside it"
	}
	return string(d.State)
}
