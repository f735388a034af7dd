package app

import (
	"io"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app/job"
	"spindlestick/profile/check"
	"spindlestick/profile/sheet"
	"spindlestick/profile/whole"
)

// tableRow is a row of a table, to scroll to.
func tableRow(i int) widget.TableCellID { return widget.TableCellID{Row: i} }

// add adds a copy to be read with calipers, and asks for its first reading.
func (c *copies) add() {
	set := c.set()
	name := phrase("copy {{.N}}", "N", len(set.Copies)+1)
	set.Copies = append(slices.Clip(set.Copies), check.Piece{Name: name, Gauged: true})
	c.chosen, c.place = len(set.Copies)-1, 0
	c.window.model.keepCopies(lang.L("add a copy"), "", set)
	c.list.ScrollToBottom()
	c.focus()
	c.window.services.after(focusAgain, c.focus) // the press that led here may still be under way
}

// remove takes the copy chosen out of the set.
func (c *copies) remove() {
	set := c.set()
	if c.chosen >= len(set.Copies) {
		return
	}
	set.Copies = slices.Delete(slices.Clone(set.Copies), c.chosen, c.chosen+1)
	c.window.model.keepCopies(lang.L("take out a copy"), "", set)
}

// rename asks what the copy chosen is called.
func (c *copies) rename() {
	all := c.set().Copies
	if c.chosen >= len(all) {
		return
	}
	entry := c.window.line.entry(lang.L("What the chosen copy is called in lists and on paper."))
	entry.SetText(all[c.chosen].Name)
	c.window.askText(lang.L("The copy's name"), entry, func() error {
		name := strings.TrimSpace(entry.Text)
		if name == "" {
			return errorText(lang.L("Write a name, a number or a place: third step, left."))
		}
		set := c.set()
		set.Copies = slices.Clone(set.Copies)
		set.Copies[c.chosen].Name = name
		c.window.model.keepCopies(lang.L("name a copy"), "", set)
		return nil
	})
}

// choose asks for a copy's file.
func (c *copies) choose() {
	c.window.chooseFile(append([]string{job.Extension, ".json", ".csv"}, photoEndings()...), c.compare)
}

// compare adds what a file holds to the set, beside the window.
func (c *copies) compare(path string) {
	w := c.window
	ctx, turn := w.busy.begin()
	original, options := c.original(), c.set().Options
	hints := w.model.job.Hints
	hints.Axis, hints.Rule = nil, nil // those marks belong to the other photograph
	w.services.start(func() {
		var more []check.Piece
		var err error
		if strings.EqualFold(filepath.Ext(path), ".csv") {
			more, err = readReadings(path, original, options)
		} else {
			var j job.Job
			j, err = w.readPiece(ctx, turn, path, hints)
			more = []check.Piece{j.Piece(filepath.Base(path))}
		}
		if err == nil {
			_, err = check.Set{Options: options, Copies: more}.Reports(original)
		}
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			c.join(more)
		})
	})
}

// readReadings reads the copies of a file of readings.
func readReadings(path string, original check.Piece, o check.Options) ([]check.Piece, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, err
	}
	copies, err := check.ReadCSV(strings.NewReader(string(data)), filepath.Base(path))
	if err != nil {
		return nil, err
	}
	for _, p := range copies {
		if err := check.Accept(original, p, o); err != nil {
			return nil, err
		}
	}
	return copies, nil
}

// join adds copies to the set and shows the last.
func (c *copies) join(more []check.Piece) {
	set := c.set()
	set.Copies = append(slices.Clip(set.Copies), more...)
	c.chosen = len(set.Copies) - 1
	c.window.model.keepCopies(lang.L("add a copy"), "", set)
	c.list.ScrollToBottom()
	c.window.say(c.set().Copies[c.chosen].Name + ": " + verdictWords(c.rows()))
}

func (c *copies) writeReport() {
	w, reports, times := c.window, c.reports, c.set().Exaggeration
	w.askFile(lang.L("Write the report"), w.fileName(" check.pdf"), ".pdf", func(path string) {
		w.writeFile(path, func() error {
			doc, err := check.Paper(reports, check.PaperOptions{Paper: w.isoOrLetter(), Date: today(), Exaggeration: times})
			if err != nil {
				return err
			}
			return sheet.WriteFile(path, doc)
		})
	})
}

func (c *copies) writeCSV() {
	w, reports := c.window, c.reports
	w.askFile(lang.L("Write the table"), w.fileName(" check.csv"), ".csv", func(path string) {
		w.writeFile(path, func() error {
			return whole.WriteFile(path, func(out io.Writer) error { return check.WriteCSV(out, reports) })
		})
	})
}
