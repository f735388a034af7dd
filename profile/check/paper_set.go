package check

import (
	"fmt"

	"spindlestick/profile/sheet"
)

// set is the page before the reports of several copies: how each stands, what to take off where, and which to put side by
// side.
func (p *paper) set(reports []Report) {
	p.turn(fmt.Sprintf("%d copies of %s", len(reports), reports[0].Original.name()))
	p.table(standingTable(reports))
	if t := takeOffTable(reports); len(t.lines) > 0 {
		p.table(t)
		p.note("Take off is of the diameter, to the original's; half of it is the depth of the cut.")
	}
	p.sideBySide(reports)
}

// note is a paragraph, broken where the page is full.
func (p *paper) note(words string) {
	for _, line := range sheet.Wrap(words, paperCap, p.width-2*paperMargin) {
		p.room(paperLine)
		p.words(line, false)
	}
}

func standingTable(reports []Report) tableText {
	t := tableText{name: "How they stand", cells: []cell{
		{"copy", 0.3, false}, {"measured", 0.12, true}, {"inside", 0.08, true}, {"too close", 0.1, true}, {"outside", 0.1, true}, {"as a whole", 0.2, false},
	}}
	for _, r := range reports {
		n := map[Verdict]int{}
		for _, s := range r.Stations {
			n[s.Verdict]++
		}
		got, of := r.Measured()
		t.lines = append(t.lines, tableLine{[]string{
			r.Copy.name(), fmt.Sprintf("%d of %d", got, of), fmt.Sprint(n[Inside]), fmt.Sprint(n[Unsure]), fmt.Sprint(n[Outside]), string(r.Standing()),
		}, r.Standing() == Outside})
	}
	return t
}

func takeOffTable(reports []Report) tableText {
	t := tableText{name: "Outside the tolerance", cells: []cell{
		{"copy", 0.26, false}, {"no.", 0.06, true}, {"station", 0.1, true}, {"what", 0.26, false}, {"is", 0.09, true}, {"should be", 0.1, true}, {"take off", 0.13, true},
	}}
	for _, r := range reports {
		for _, s := range r.Stations {
			off := ""
			switch {
			case s.TakeOff() > 0:
				off = mm(s.TakeOff())
			case s.Lost():
				off = "too thin"
			default:
				continue
			}
			number := ""
			if s.Number > 0 {
				number = fmt.Sprint(s.Number)
			}
			t.lines = append(t.lines, tableLine{[]string{r.Copy.name(), number, mm(s.X), s.whatSide(), mm(s.Copy), mm(s.Original), off}, false})
		}
	}
	return t
}

// sideBySide lists the pairs.
func (p *paper) sideBySide(reports []Report) {
	pairing := SideBySide(reports)
	if len(pairing.Pairs) == 0 {
		return
	}
	t := tableText{name: "Side by side", cells: []cell{
		{"copy", 0.3, false}, {"beside", 0.3, false}, {"mean difference", 0.15, true}, {"largest", 0.1, true}, {"at", 0.1, true},
	}}
	for _, q := range pairing.Pairs {
		t.lines = append(t.lines, tableLine{[]string{reports[q.A].Copy.name(), reports[q.B].Copy.name(), mm(q.Mean), mm(q.Worst), mm(q.At)}, false})
	}
	p.table(t)
	p.note(pairing.Words(reports))
}

// Words says how the pairs were found, and who has no partner.
func (p Pairing) Words(reports []Report) string {
	least := 0
	for i, q := range p.Pairs {
		if i == 0 || q.Stations < least {
			least = q.Stations
		}
	}
	out := fmt.Sprintf("Paired so that the mean differences add up to the least, of the diameters that the eye compares: crests, ends and the outer sides of steps, %d or more of them.", least)
	if !p.Exact {
		out += fmt.Sprintf(" Of more than %d copies not every pairing is looked at: no exchange between two pairs betters this one.", mostExact)
	}
	for i, a := range p.Alone {
		switch i {
		case 0:
			out += " Without a partner: " + reports[a].Copy.name()
		default:
			out += ", " + reports[a].Copy.name()
		}
	}
	if len(p.Alone) > 0 {
		out += "."
	}
	return out
}
