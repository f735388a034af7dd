package check

import (
	"errors"
	"fmt"
	"strings"

	"spindlestick/profile/sheet"
)

// PaperOptions choose how a report is printed. The zero value prints on A4.
type PaperOptions struct {
	Paper        sheet.Paper // A4 or Letter; empty = A4
	Exaggeration float64     // of deviations in the overlay; 0 = 10
	Date         string      // stands on every page as it is; may be empty
}

// The page, mm: A4 by ISO 216, letter 8.5 x 11 in (ANSI/ASME Y14.1 size A).
const (
	paperMargin  = 14.0
	paperHead    = 9.0
	paperLine    = 4.6
	paperCap     = 2.2
	overlayRoom  = 52.0
	plotRoom     = 62.0
	sectionGap   = 5.0
	exaggeration = 10.0
)

// paper is the report's pages as they fill.
type paper struct {
	width, height float64
	options       PaperOptions
	title         string // of the pages from here on
	pages         []sheet.Page
	y             float64
}

// Paper lays out the reports of one or more copies for print: of several first how they stand and which to put side by
// side, then for each an overlay of both profiles, the deviations along the piece, and the tables.
func Paper(reports []Report, o PaperOptions) (sheet.Document, error) {
	if len(reports) == 0 {
		return sheet.Document{}, errors.New("check: there is no report to print")
	}
	p, err := newPaper(o)
	if err != nil {
		return sheet.Document{}, err
	}
	if len(reports) > 1 {
		p.set(reports)
	}
	for _, r := range reports {
		p.report(r)
	}
	return p.document("Check of " + reports[0].Copy.name()), nil
}

func newPaper(o PaperOptions) (*paper, error) {
	if o.Exaggeration == 0 {
		o.Exaggeration = exaggeration
	}
	p := &paper{width: 210, height: 297, options: o}
	switch o.Paper {
	case "", sheet.A4:
	case sheet.Letter:
		p.width, p.height = 8.5*25.4, 11*25.4
	default:
		return nil, fmt.Errorf("check: reports are printed on a4 or letter, not on %s", o.Paper)
	}
	return p, nil
}

// document numbers the pages.
func (p *paper) document(title string) sheet.Document {
	for i := range p.pages {
		p.pages[i].Write(sheet.Text{
			At: sheet.Point{X: p.width - paperMargin, Y: paperMargin + 3}, Cap: paperCap, Anchor: sheet.End, Layer: sheet.Lettered,
			S: strings.TrimSpace(fmt.Sprintf("%s   page %d of %d", p.options.Date, i+1, len(p.pages))),
		})
	}
	return sheet.Document{Title: title, Pages: p.pages, Whole: p.pages[0]}
}

func (p *paper) report(r Report) {
	p.turn("Check of " + r.Copy.name())
	for _, words := range []string{
		fmt.Sprintf("Original: %s.  Laid by the %s.", r.Original.name(), r.Alignment),
		fmt.Sprintf("Tolerance ±%.2f mm on diameters, ±%.2f mm on places along the axis, unless a line says otherwise.", r.Tolerance.Diameter, r.Tolerance.Station),
		r.Summary(),
	} {
		p.words(words, false)
	}
	p.y += sectionGap / 2
	if !r.Copy.Gauged {
		p.overlay(r)
	}
	p.plot(r)
	p.table(diameterTable(r))
	if len(r.Positions) > 0 {
		p.table(placeTable(r))
	}
	p.y += sectionGap / 3
	for _, words := range r.notes() {
		p.room(paperLine)
		p.words(words, false)
	}
}

// notes are the words under the tables.
func (r Report) notes() []string {
	out := []string{
		"± is the expanded uncertainty (k = 2) of the deviation. Inside and outside are said only where they hold for all of it;",
		"otherwise it is too close to tell. * marks a deviation larger than its uncertainty. Take off: of the diameter, to the original's.",
	}
	if r.Copy.Gauged {
		out = append(out, "Read with calipers at one turn: an old piece, and a new one that has dried, is oval; take a second reading a quarter turn on.")
	}
	if n := len(r.Stray); n > 0 {
		out = append(out, fmt.Sprintf("%d readings belong to no station of the original as it is now; they are kept, and left out here.", n))
	}
	return out
}

func (p *paper) page() *sheet.Page { return &p.pages[len(p.pages)-1] }

// turn begins a new page under a title.
func (p *paper) turn(title string) {
	p.title = title
	p.pages = append(p.pages, sheet.Page{Name: "Check", Width: p.width, Height: p.height})
	head := sheet.Text{At: sheet.Point{X: paperMargin, Y: paperMargin + 3}, S: title, Cap: 3, Bold: true, Layer: sheet.Lettered}
	p.page().Write(fitted(head, p.width-2*paperMargin-50))
	p.y = paperMargin + paperHead
}

// room turns the page when less than so many mm are left on it.
func (p *paper) room(need float64) bool {
	if p.y+need <= p.height-paperMargin {
		return false
	}
	p.turn(p.title)
	return true
}

// words writes a line of text.
func (p *paper) words(s string, bold bool) {
	t := sheet.Text{At: sheet.Point{X: paperMargin, Y: p.y + 3.2}, S: s, Cap: paperCap, Bold: bold, Layer: sheet.Lettered}
	p.page().Write(fitted(t, p.width-2*paperMargin))
	p.y += paperLine
}

// fitted shortens a text to a width, marking that it goes on.
func fitted(t sheet.Text, width float64) sheet.Text {
	r := []rune(t.S)
	for t.Width() > width && len(r) > 0 {
		r = r[:len(r)-1]
		t.S = strings.TrimSpace(string(r)) + "…"
	}
	return t
}
