package plan

import (
	"fmt"
	"math"
	"strings"
)

// Sections returns the whole plan in words, in the order in which it is used.
func (p Plan) Sections() []Section {
	out := []Section{p.before()}
	if len(p.Doubts) > 0 {
		out = append(out, p.unsure())
	}
	out = append(out, p.blank())
	if p.Species != nil {
		out = append(out, p.wordsOfWood())
	}
	out = append(out, p.stock(), p.running())
	out = append(out, p.work()...)
	if p.Guard != nil {
		out = append(out, p.guard())
	}
	original := Section{Title: "The original"}
	original.heed(Original())
	return append(out, original)
}

func (p Plan) before() Section {
	s := Section{Title: "Before the lathe is started"}
	s.heed(Before())
	return s
}

func (p Plan) blank() Section {
	b := p.Blank
	s := Section{Title: "Blank"}
	s.say(fmt.Sprintf("%s square, %s long. The finished piece is %s long; %s of waste at the hook end and %s at the far end hold the centres (common practice; a setting).",
		both(b.Side), both(b.Length), both(p.Pattern.Length), both(b.Waste[0]), both(b.Waste[1])))
	switch {
	case b.Square > 0 && len(b.Reduced) == 0:
		s.say(fmt.Sprintf("That is about 1/32 in over the finished square of %s; 1/8 in over would be a mistake.", both(b.Square)))
	case b.Square == 0:
		s.say(fmt.Sprintf("That is the largest diameter, %s, with the sizing allowance and about 1/32 in over.", both(b.Round)))
	}
	for _, side := range b.Reduced {
		s.say(fmt.Sprintf("The square of %s is smaller than the blank: plane it down after turning, or glue on for the larger parts.", both(side)))
	}
	s.say("Plane it from: " + b.sizes() + ".")
	s.say("Square these lines across all four faces before the blank goes on the lathe; the waste is sawn off at the ends' lines when all else is done.")
	t := Table{Columns: []Column{figures("from hook end, mm"), figures("in"), figures("from the blank's end, mm"), left("line")}}
	for _, l := range p.Lines {
		t.Rows = append(t.Rows, []string{mm(l.X), inch(l.X), mm(l.X + b.Waste[0]), l.What})
	}
	s.show(t)
	return s
}

// sizes names the next sizes of stock.
func (b Blank) sizes() string {
	var out []string
	if b.Lumber != nil {
		out = append(out, fmt.Sprintf("nominal %s lumber (actual %s square, PS 20)", b.Lumber.Name, both(b.Lumber.Actual)))
	}
	if b.Metric > 0 {
		out = append(out, fmt.Sprintf("%.0f mm sawn stock (thickness after EN 1313-2, from memory: ask the yard)", b.Metric))
	}
	if len(out) == 0 {
		return "a square sawn to order or glued up, it is larger than the sizes known here"
	}
	return strings.Join(out, ", or ")
}

func (p Plan) wordsOfWood() Section {
	w := p.Species
	s := Section{Title: "Wood: " + w.Name}
	s.say(fmt.Sprintf("Shrinks %.1f %% radially and %.1f %% tangentially from green to oven-dry; for 1 %% of moisture between 6 and 14 %% it moves %.3f %% and %.3f %% (Wood Handbook FPL-GTR-190%s).",
		w.Radial, w.Tangential, 100*w.CR, 100*w.CT, memoryWords(w.Memory)))
	if m := p.Movement; m != nil {
		s.say(fmt.Sprintf("Turned at %g %% moisture for use at %g %%: every diameter in this plan is %.2f %% of the pattern's, so that it comes to size across the growth rings' tangent. The story stick's stations stay, its diameters do not hold.",
			m.Turned, m.Use, 100*m.Factor))
		s.say(fmt.Sprintf("The largest round part will then be about %.2f mm out of round, for the other direction moves less.", m.Oval))
	}
	switch {
	case w.Gravity > 0:
		s.say(fmt.Sprintf("The finished piece holds %.0f cm³ and weighs about %.2f kg, the blank %.2f kg (specific gravity %.2f at 12 %% moisture, Wood Handbook table 5-3, from memory; single boards differ by a tenth).",
			p.Weight.Volume/1000, p.Weight.Piece, p.Weight.Blank, w.Gravity))
	default:
		s.say(fmt.Sprintf("The finished piece holds %.0f cm³; its weight is left out, no density of this wood is known here.", p.Weight.Volume/1000))
	}
	return s
}

func memoryWords(memory bool) string {
	if memory {
		return ", from memory"
	}
	return ""
}

func (p Plan) stock() Section {
	s := Section{Title: fmt.Sprintf("Stock for %s", copies(p.Options.Copies))}
	s.say(fmt.Sprintf("Each blank is %s long, each saw cut takes %s. Saw one blank more than there are copies: one that goes wrong early can then be changed for it.",
		both(p.Blank.Length), both(p.Options.Kerf)))
	t := Table{Columns: []Column{figures("stock length, mm"), figures("in"), figures("blanks from one"), figures("lengths to buy"), figures("left over, mm"), left("")}}
	best := BestYield(p.Yields)
	for i, y := range p.Yields {
		row := []string{mm(y.Length), inch(y.Length), fmt.Sprint(y.Each), fmt.Sprint(y.Count), mm(y.Left), ""}
		if y.Count == 0 {
			row[3], row[4], row[5] = "", "", "too short"
		}
		if i == best {
			row[5] = "least left over"
		}
		t.Rows = append(t.Rows, row)
	}
	s.show(t)
	return s
}

func copies(n int) string {
	if n == 1 {
		return "one copy"
	}
	return fmt.Sprintf("%d copies", n)
}

func (p Plan) running() Section {
	v, sl := p.Speeds, p.Slender
	s := Section{Title: "Speed and support"}
	s.say(fmt.Sprintf("Roughing: the corners swing %s. Start at the lathe's slowest, far under %s rpm, and stay under that until the work is round.", both(v.Swing), RPM(v.Roughing)))
	s.say(fmt.Sprintf("Finishing: %s to %s rpm for a swing of %s (diameter in inches times rpm between 6000 and 9000, a rule of thumb).%s The lathe's own manual governs.",
		RPM(v.Finishing.Low), RPM(v.Finishing.High), both(v.Round), p.fast()))
	s.say(fmt.Sprintf("Length over smallest diameter: %.1f (%s at %s from the hook end%s). %s", sl.Ratio, both(sl.Smallest.Diameter), both(sl.Smallest.X), p.ifDoubtful(sl.Smallest.X), sl.advice()))
	return s
}

// ifDoubtful adds a word where a station lies in a doubtful element.
func (p Plan) ifDoubtful(x float64) string {
	for _, d := range p.Doubts {
		if e := p.Pattern.Elements[d.Element]; x >= e.X0 && x <= e.X1 {
			return ", not certain"
		}
	}
	return ""
}

// fast says what to do about speeds that a lathe does not reach.
func (p Plan) fast() string {
	switch {
	case p.Options.TopSpeed > 0 && p.Speeds.Finishing.High >= p.Options.TopSpeed:
		return fmt.Sprintf(" Held to the lathe's top speed of %s rpm.", RPM(p.Options.TopSpeed))
	case p.Speeds.Finishing.High > usualTop:
		return " Few lathes reach all of that: thin work runs at what the lathe and the whip of the piece allow."
	}
	return ""
}

func (s Slenderness) advice() string {
	rest := ""
	if s.Rest >= 0 {
		rest = fmt.Sprintf(" It can run at %s, once that is round.", both(s.Rest))
	}
	switch s.Steady {
	case Advise:
		return "Past 11: use a steady rest." + rest
	case Watch:
		return "From 9 on a piece begins to whip: take light cuts, keep a steady rest at hand." + rest
	}
	return "Stiff enough to be turned between centres alone."
}

// RPM writes a speed to two figures, downwards: nobody sets a lathe closer.
func RPM(v float64) string {
	step := math.Pow(10, math.Floor(math.Log10(math.Max(v, 1)))-1)
	return fmt.Sprintf("%.0f", math.Floor(v/step+rounding)*step)
}

func (p Plan) guard() Section {
	g := p.Guard
	s := Section{Title: "Balusters"}
	s.say(fmt.Sprintf("At %s from middle to middle the widest opening is %s, beside the smallest facing diameter of %s at %s from the hook end.",
		both(g.Spacing), both(g.Opening), both(g.Smallest.Diameter), both(g.Smallest.X)))
	if g.Between[0] > 0 || g.Between[1] < p.Pattern.Length {
		s.say(fmt.Sprintf("Counted is what stands between the rails, from %s to %s: the ends beyond are tenons that the rails hide. If they stand free, say so: they are thinner.",
			both(g.Between[0]), both(g.Between[1])))
	}
	for _, sp := range Spheres() {
		verdict := "would pass"
		if g.Stops(sp) {
			verdict = "would not pass"
		}
		s.say(fmt.Sprintf("A sphere of %s (%s) %s.", both(sp.Diameter), sp.Source, verdict))
	}
	s.heed(Guards())
	return s
}
