package app

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// tableOf opens the pattern's step and returns its table.
func tableOf(t *testing.T, w *Window) *widget.Table {
	t.Helper()
	w.showStep(stepPattern)
	var table *widget.Table
	walkObjects(w.panels[stepPattern], func(o fyne.CanvasObject) {
		if found, ok := o.(*widget.Table); ok {
			table = found
		}
	})
	if table == nil {
		t.Fatal("there is no table")
	}
	return table
}

func TestPickingANumberInTheTableEditsIt(t *testing.T) {
	w := bench(t)
	table := tableOf(t, w)
	table.OnSelected(widget.TableCellID{Row: 2, Col: 3}) // where the taper ends
	if w.model.selected != 2 {
		t.Fatalf("element %d is selected, want the taper", w.model.selected)
	}
	field, ok := w.win.Canvas().Focused().(*hintEntry)
	if !ok || field.Text != "90.00" {
		t.Fatalf("the keyboard is at %T", w.win.Canvas().Focused())
	}
	field.SetText("88mm")
	field.OnSubmitted(field.Text)
	if got := w.model.pattern().Elements[2].X1; got != 88 {
		t.Errorf("the taper ends at %v, want 88", got)
	}
	if w.win.Canvas().Focused() != fyne.Focusable(w.tracks) {
		t.Error("Enter does not give the keyboard back to the tracks")
	}
	table.OnSelected(widget.TableCellID{Row: 0, Col: 1})
	if w.model.selected != 0 || w.win.Canvas().Focused() != fyne.Focusable(w.tracks) {
		t.Error("picking a word does not select alone")
	}
}

func TestEscapeInAFieldKeepsTheNumber(t *testing.T) {
	w := bench(t)
	table := tableOf(t, w)
	table.OnSelected(widget.TableCellID{Row: 2, Col: 4})
	field := w.win.Canvas().Focused().(*hintEntry)
	field.SetText("99")
	field.TypedKey(typed(fyne.KeyEscape))
	if field.Text != "16.00" || w.model.pattern().Elements[2].D0 != 16 {
		t.Errorf("after Esc the field says %q, the taper starts at %v", field.Text, w.model.pattern().Elements[2].D0)
	}
}

func TestTheTableSaysHowManyOfWhat(t *testing.T) {
	w := bench(t)
	table := tableOf(t, w)
	if rows, cols := table.Length(); rows != 4 || cols != len(columns()) {
		t.Errorf("%d rows, %d columns", rows, cols)
	}
	cell := table.CreateCell()
	table.UpdateCell(widget.TableCellID{Row: 1, Col: 5}, cell)
	if got := cellLabel(cell).Text; got != "22.00" { // the bead: 16 mm and a sagitta of 3 mm on both sides
		t.Errorf("the bead's crest reads %q", got)
	}
	table.UpdateCell(widget.TableCellID{Row: 9, Col: 5}, cell)
	if got := cellLabel(cell).Text; got != "" {
		t.Errorf("a row that is not there reads %q", got)
	}
}
