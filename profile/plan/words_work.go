package plan

import (
	"fmt"
	"math"
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
	"spindlestick/profile/sizing"
)

// work returns a section for each step.
func (p Plan) work() []Section {
	var out []Section
	for _, step := range p.Steps {
		s := Section{Title: fmt.Sprintf("%d. %s", step.No, step.Title)}
		s.heed(step.Cautions)
		p.step(&s, step)
		out = append(out, s)
	}
	return out
}

func (p Plan) step(s *Section, step Step) {
	switch step.No {
	case stepRough:
		p.rough(s)
		return
	case stepMark:
		s.say(fmt.Sprintf("Carry over all %d stations: lengths, shoulders, beads, hollows, and every place where the calipers are set. Where waste is left at the hook end, the stick's zero goes to the line of the finished end.", len(sheet.Numbered(p.Pattern))))
		return
	case stepSize:
		p.sizing(s)
		return
	case stepSand:
		p.sand(s)
		return
	}
	if step.No == stepPommel && !p.squares() {
		s.say("Nothing stays square.")
		return
	}
	if len(step.Items) == 0 && step.No != stepPommel {
		s.say("This piece has none.")
		return
	}
	p.how(s, step.No)
	s.show(p.passTable(step.Items))
	if step.No == stepTapers {
		p.straightedge(s)
	}
}

// squares reports whether a part stays square.
func (p Plan) squares() bool { return p.Blank.Square > 0 }

// how says how a step's cuts run.
func (p Plan) how(s *Section, step int) {
	switch step {
	case stepPommel:
		s.say("From the corners' line to the round end, light cuts; square shoulders straight in at their line with the long point of the skew.")
	case stepVees:
		s.say("From both rims to the bottom, with the skew's point, by turns.")
	case stepBeads:
		s.say("From the crest down to each side.")
		p.pointed(s)
	case stepCoves:
		s.say("From both rims to the bottom, never up the other side.")
	case stepFillets:
		s.say("Level, flush with the marks; the pommel down to what stands beside it.")
	case stepTapers:
		s.say("Down the slope from large to small; level stretches either way.")
	}
}

// pointed lists the marks that no sizing cut serves.
func (p Plan) pointed(s *Section) {
	for _, q := range p.Points {
		s.say(fmt.Sprintf("At %s two shapes meet in a crease of %s diameter: no parting tool fits, set it in with the skew's point.", both(q.X), both(q.Diameter)))
	}
}

func (p Plan) rough(s *Section) {
	t := Table{Columns: []Column{figures("from, mm"), figures("to, mm"), figures("diameter, mm"), figures("in"), left("")}}
	for _, c := range p.Cylinders {
		note := ""
		if c.Short {
			note = "the blank leaves less than the sizing allowance here"
		}
		t.Rows = append(t.Rows, []string{mm(c.From), mm(c.To), mm(c.Diameter), inchOver(c.Diameter), note})
	}
	if len(t.Rows) == 0 {
		s.say("Nothing is turned round.")
		return
	}
	way := "From the middle of each stretch outwards to its ends."
	if p.squares() {
		way = "In short bites that run away from the pommel, each begun a little nearer to it; never back into the square corners."
	}
	s.say(way + " Stations from the hook end; under zero and past the length lies the waste.")
	s.show(t)
}

// sizing lists the cuts by setting of the calipers.
func (p Plan) sizing(s *Section) {
	if len(p.Cuts) == 0 {
		s.say("This piece has none: the rough cylinder is its size.")
		return
	}
	s.say(fmt.Sprintf("%d cuts with %d settings of the calipers, the largest first. Diameters are with the allowance: %s, on beads %s for sanding alone. Cut on the downhill side of the mark. Calipers serve all cuts within %s, at the largest, beads within a tenth; inches are rounded up. The letter is the story stick's.",
		len(p.Cuts), len(p.Settings), both(p.Options.Allowance), both(p.Options.Sanding), both(p.Options.Group)))
	t := Table{Columns: []Column{figures("set"), left("stick"), figures("calipers, mm"), figures("in"), figures("at, mm"), figures("in"), figures("finished, mm"), left("where"), left("element")}}
	for n, set := range p.Settings {
		for k, i := range set.Cuts {
			c := p.Cuts[i]
			row := []string{"", "", "", "", mm(c.Mark), inch(c.Mark), mm(c.Finished), where(c), p.name(c.Element)}
			if p.doubtful(c.Element) {
				row[7] += ", not certain"
			}
			if k == 0 {
				row[0], row[1], row[2], row[3] = ordinal(n), set.Letter, mm(set.Diameter), inchOver(set.Diameter)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	s.show(t)
}

// where says in words where the tool goes.
func where(c sizing.Cut) string {
	words := "far side of the mark"
	switch {
	case c.Place == sizing.Across:
		words = "its whole width"
	case c.Place == sizing.Top:
		words = "its whole width, for the crest"
	case c.Place == sizing.Crest:
		words = "over the crest"
	case c.Place == sizing.Bottom:
		words = "at the bottom"
	case c.To <= c.Mark+equal:
		words = "hook side of the mark"
	}
	if c.Narrow {
		words += ", narrow tool"
	}
	return words
}

// sand lists the sanding by stage.
func (p Plan) sand(s *Section) {
	stages := []string{"First, crisp details", "Then coves and broad parts", "By hand, lathe stopped"}
	lists := make([][]string, len(stages))
	for _, item := range p.Steps[stepSand-1].Items {
		at := StageOf(p.Pattern.Elements[item.Element].Kind)
		lists[at] = append(lists[at], p.name(item.Element))
	}
	for i, names := range lists {
		if len(names) > 0 {
			s.say(stages[i] + ": " + strings.Join(names, ", ") + ".")
		}
	}
}

// passTable lists the cuts of a step, from where to where.
func (p Plan) passTable(items []Item) Table {
	t := Table{Columns: []Column{left("element"), figures("from, mm"), figures("in"), figures("to, mm"), figures("in"),
		figures("Ø from, mm"), figures("in"), figures("Ø to, mm"), figures("in")}}
	for _, item := range items {
		e := p.Pattern.Elements[item.Element]
		for k, pass := range item.Passes {
			name := ""
			if k == 0 {
				name = p.name(item.Element)
			}
			a, b := e.At(pass.From), e.At(pass.To)
			t.Rows = append(t.Rows, []string{name, mm(pass.From), inch(pass.From), mm(pass.To), inch(pass.To), mm(a), inch(a), mm(b), inch(b)})
		}
	}
	return t
}

// straightedge lists the checks of straight runs.
func (p Plan) straightedge(s *Section) {
	if len(p.Checks) == 0 {
		return
	}
	s.say("Straightedge along each of these, lathe stopped: no light under it from end to end, and the calipers read:")
	t := Table{Columns: []Column{left("element"), figures("at, mm"), figures("in"), figures("diameter, mm"), figures("in"), left("")}}
	for _, c := range p.Checks {
		for k, st := range c.Stations {
			row := []string{"", mm(st.X), inch(st.X), mm(st.Diameter), inch(st.Diameter), ""}
			if k == 0 {
				row[0], row[5] = p.name(c.Element), c.slope()
			}
			t.Rows = append(t.Rows, row)
		}
	}
	s.show(t)
}

func (c Check) slope() string {
	if c.Half == 0 {
		return "level"
	}
	return fmt.Sprintf("%.3f in a foot, %.2f° a side", c.PerFoot/profile.MMPerInch, c.Half*180/math.Pi)
}
