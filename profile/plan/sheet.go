package plan

import (
	"fmt"

	"spindlestick/profile/sheet"
)

// SheetOptions choose how the plan is laid out on paper. The zero value is an A4 sheet without a title.
type SheetOptions struct {
	Title string
	Date  string      // as it is; may be empty
	Paper sheet.Paper // A4 or Letter; empty = A4
}

// The measures of a plan sheet, mm.
const (
	margin   = 12.0
	headRoom = 9.0
	bodyCap  = 1.9 // height of a capital
	bodyLine = 4.2 // from one line to the next
	titleCap = 2.5
)

// paperSize is width and height, mm: A4 after ISO 216; Letter 8.5 x 11 in.
func (o SheetOptions) paperSize() (width, height float64, err error) {
	switch o.Paper {
	case sheet.A4, "":
		return 210, 297, nil
	case sheet.Letter:
		return 8.5 * 25.4, 11 * 25.4, nil
	}
	return 0, 0, fmt.Errorf("%w: the plan is laid out for a4 or letter paper, not %q", ErrOption, string(o.Paper))
}

// Sheet lays the plan out on pages: the piece in its blank with the sizing cuts, then every section.
func (p Plan) Sheet(o SheetOptions) (sheet.Document, error) {
	width, height, err := o.paperSize()
	if err != nil {
		return sheet.Document{}, err
	}
	if o.Title == "" {
		o.Title = "Work plan"
	}
	rows := p.rows(width - 2*margin)
	doc := sheet.Document{Title: o.Title}
	pages := paginate(rows, height-2*margin-headRoom)
	for i, part := range pages {
		page := sheet.Page{Name: "Work plan", Width: width, Height: height}
		o.head(&page, fmt.Sprintf("page %d of %d", i+1, len(pages)))
		stack(&page, part)
		doc.Pages = append(doc.Pages, page)
	}
	total := 2*margin + headRoom
	for _, r := range rows {
		total += r.height
	}
	doc.Whole = sheet.Page{Name: "Work plan", Width: width, Height: total}
	o.head(&doc.Whole, "")
	stack(&doc.Whole, rows)
	return doc, nil
}

func (o SheetOptions) head(s *sheet.Page, number string) {
	right := s.Width - margin
	s.Write(sheet.Text{At: sheet.Point{X: margin, Y: margin + 4}, S: "Work plan: " + o.Title, Cap: 3, Bold: true, Layer: sheet.Lettered})
	s.Write(sheet.Text{At: sheet.Point{X: right, Y: margin + 4}, S: o.Date + "   " + number, Cap: bodyCap, Anchor: sheet.End, Layer: sheet.Lettered})
	s.Stroke([]sheet.Point{{X: margin, Y: margin + 6}, {X: right, Y: margin + 6}}, false, thin())
}

func thin() sheet.Pen { return sheet.Pen{Layer: sheet.Furnish, Width: 0.15} }

// row is something that stands across a page and is not divided.
type row struct {
	height float64
	keep   bool // stays with the next row
	head   *row // of the table that the row stands in, set again where a page begins with the row; nil = none
	draw   func(s sheet.Surface, x, y float64)
}

func stack(page *sheet.Page, rows []row) {
	y := margin + headRoom
	for _, r := range rows {
		r.draw(page, margin, y)
		y += r.height
	}
}

// paginate divides rows into pages; rows that are kept with their next go over with it.
func paginate(rows []row, height float64) [][]row {
	var pages [][]row
	var page []row
	used := 0.0
	for i := 0; i < len(rows); {
		n, need := 1, rows[i].height
		for rows[i+n-1].keep && i+n < len(rows) {
			need += rows[i+n].height
			n++
		}
		if used+need > height && len(page) > 0 {
			pages, page, used = append(pages, page), nil, 0
			if h := rows[i].head; h != nil {
				page, used = append(page, *h), h.height
			}
		}
		page = append(page, rows[i:i+n]...)
		used += need
		i += n
	}
	return append(pages, page)
}
