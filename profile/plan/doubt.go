package plan

import (
	"math"

	"spindlestick/profile"
)

// Doubt is an element whose sizes are not known well enough to cut by.
type Doubt struct {
	Element int
	State   profile.State // hidden, damaged or inferred; visible where it is the uncertainty alone
	U       float64       // largest expanded uncertainty of its diameters, mm; 0 = not known
}

// doubts returns the elements that the photograph does not show whole, and those less sure than what the sizing cut
// leaves: such a cut may go under size.
func doubts(p profile.Pattern, o Options) []Doubt {
	var out []Doubt
	for i, e := range p.Elements {
		d := Doubt{i, e.State, math.Max(e.U.D0, math.Max(e.U.D1, e.U.Mid))}
		if d.State == "" {
			d.State = profile.Visible
		}
		if d.State != profile.Visible || d.U > o.Allowance {
			out = append(out, d)
		}
	}
	return out
}

// unsure is the section about what to settle before cutting.
func (p Plan) unsure() Section {
	s := Section{Title: "What is not certain"}
	s.heed([]string{"These sizes are guesses or nearly: measure the original there, look at a sound piece, or decide, and correct the pattern before you cut."})
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
		return "less sure than the sizing allowance"
	case profile.Hidden:
		return "hidden in the photograph"
	case profile.Damaged:
		return "damaged: what it was is not known"
	case profile.Inferred:
		return "not seen: follows from what is beside it"
	}
	return string(d.State)
}
