package plan

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// textWidth is how wide paragraphs are set, characters.
const textWidth = 100

// textGap stands between a table's columns.
const textGap = "  "

// WriteText writes sections as plain text.
func WriteText(w io.Writer, sections []Section) error {
	var b bytes.Buffer
	for i, s := range sections {
		if i > 0 {
			fmt.Fprintln(&b)
		}
		fmt.Fprintf(&b, "%s\n%s\n", s.Title, strings.Repeat("-", min(textWidth, utf8.RuneCountInString(s.Title))))
		for _, block := range s.Blocks {
			block.write(&b)
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

func (k Block) write(b *bytes.Buffer) {
	if k.Table != nil {
		k.Table.write(b)
		return
	}
	head, hang := "", ""
	if k.Caution {
		head, hang = "! ", "  "
	}
	fits := func(s string) bool { return utf8.RuneCountInString(s) <= textWidth-len(hang) }
	for _, l := range wrap(k.Text, fits) {
		fmt.Fprintf(b, "%s%s\n", head, l)
		head = hang
	}
}

func (t Table) write(b *bytes.Buffer) {
	widths := t.widths(func(s string) float64 { return float64(utf8.RuneCountInString(s)) })
	line := func(cell func(i int) string) {
		var cells []string
		for i, c := range t.Columns {
			pad := strings.Repeat(" ", int(widths[i])-utf8.RuneCountInString(cell(i)))
			if c.Right {
				cells = append(cells, pad+cell(i))
			} else {
				cells = append(cells, cell(i)+pad)
			}
		}
		fmt.Fprintln(b, textGap+strings.TrimRight(strings.Join(cells, textGap), " "))
	}
	line(func(i int) string { return t.Columns[i].Head })
	for _, r := range t.Rows {
		line(func(i int) string { return r[i] })
	}
}

// widths returns how wide each column must be, in the measure's units.
func (t Table) widths(measure func(string) float64) []float64 {
	out := make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = measure(c.Head)
		for _, r := range t.Rows {
			out[i] = max(out[i], measure(r[i]))
		}
	}
	return out
}
