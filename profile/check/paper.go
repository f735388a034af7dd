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
	pages         []sheet.Page
	y             float64
}

// Paper lays out the reports of one or more copies for print: for each an overlay of both profiles, the deviations along
// the piece, and the tables.
func Paper(reports []Report, o PaperOptions) (sheet.Document, error) {
	p := &paper{width: 210, height: 297, options: o}
	switch o.Paper {
	case "", sheet.A4:
	case sheet.Letter:
		p.width, p.height = 8.5*25.4, 11*25.4
	default:
		return sheet.Document{}, fmt.Errorf("check: reports are printed on a4 or letter, not on %s", o.Paper)
	}
	if len(reports) == 0 {
		return sheet.Document{}, errors.New("check: there is no report to print")
	}
	if o.Exaggeration == 0 {
		p.options.Exaggeration = exaggeration
	}
	for _, r := range reports {
		p.report(r)
	}
	for i := range p.pages {
		p.pages[i].Write(sheet.Text{
			At: sheet.Point{X: p.width - paperMargin, Y: paperMargin + 3}, Cap: paperCap, Anchor: sheet.End, Layer: sheet.Lettered,
			S: strings.TrimSpace(fmt.Sprintf("%s   page %d of %d", o.Date, i+1, len(p.pages))),
		})
	}
	return sheet.Document{Title: "Check of " + reports[0].Copy.name(), Pages: p.pages, Whole: p.pages[0]}, nil
}

func (p *paper) report(r Report) {
	p.turn(r)
	for _, words := range []string{
		fmt.Sprintf("Original: %s.  Laid by the %s.", r.Original.name(), r.Alignment),
		fmt.Sprintf("Tolerance ±%.2f mm on diameters, ±%.2f mm on places along the axis, unless a line says otherwise.", r.Tolerance.Diameter, r.Tolerance.Station),
		r.Summary(),
	} {
		p.words(words, false)
	}
	p.y += sectionGap / 2
	p.overlay(r)
	p.plot(r)
	p.table(r, diameterTable(r))
	if len(r.Positions) > 0 {
		p.table(r, placeTable(r))
	}
	p.y += sectionGap / 3
	for _, words := range []string{
		"± is the expanded uncertainty (k = 2) of the deviation. Inside and outside are said only where they hold for all of it;",
		"otherwise it is too close to tell. * marks a deviation larger than its uncertainty.",
	} {
		p.room(r, paperLine)
		p.words(words, false)
	}
}

func (p *paper) page() *sheet.Page { return &p.pages[len(p.pages)-1] }

// turn begins a new page.
func (p *paper) turn(r Report) {
	p.pages = append(p.pages, sheet.Page{Name: "Check", Width: p.width, Height: p.height})
	title := sheet.Text{At: sheet.Point{X: paperMargin, Y: paperMargin + 3}, S: "Check of " + r.Copy.name(), Cap: 3, Bold: true, Layer: sheet.Lettered}
	p.page().Write(fitted(title, p.width-2*paperMargin-50))
	p.y = paperMargin + paperHead
}

// room turns the page when less than so many mm are left on it.
func (p *paper) room(r Report, need float64) bool {
	if p.y+need <= p.height-paperMargin {
		return false
	}
	p.turn(r)
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
