package app

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/check"
)

// keyboard types into whatever has the focus, as a hand does that never leaves the keys.
type keyboard struct {
	t *testing.T
	w *Window
}

func (k keyboard) types(text string) {
	k.t.Helper()
	f := k.w.win.Canvas().Focused()
	if f == nil {
		k.t.Fatal("nothing has the keyboard")
	}
	for _, r := range text {
		f.TypedRune(r)
	}
}

func (k keyboard) press(key fyne.KeyName) {
	k.t.Helper()
	f := k.w.win.Canvas().Focused()
	if f == nil {
		k.t.Fatal("nothing has the keyboard")
	}
	f.TypedKey(&fyne.KeyEvent{Name: key})
}

// reads types a reading and takes it.
func (k keyboard) reads(text string) {
	k.types(text)
	k.press(fyne.KeyReturn)
}

// TestReadingsAreTypedInWorkshopOrder with the keyboard alone: along the first copy, then along the second.
func TestReadingsAreTypedInWorkshopOrder(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.add()
	w.copies.goTo(0, 0)
	w.copies.focus()
	k := keyboard{t, w}
	n := len(w.copies.gauges)
	for copied := range 2 {
		for i, g := range w.copies.gauges {
			if w.copies.chosen != copied || w.copies.place != i {
				t.Fatalf("copy %d place %d is asked for, want %d and %d", w.copies.chosen, w.copies.place, copied, i)
			}
			if copied == 1 && i == 1 {
				k.press(fyne.KeyReturn) // skipped
				continue
			}
			k.reads(decimals(g.Diameter+0.2*float64(copied), 2))
		}
	}
	if !strings.Contains(w.status.Text, "last place") {
		t.Errorf("after the last the status says %q", w.status.Text)
	}
	first, second := w.copies.reports[0], w.copies.reports[1]
	if got, _ := first.Measured(); got != n || first.Standing() != check.Inside {
		t.Errorf("the first copy: %d of %d, %s", got, n, first.Standing())
	}
	if got, _ := second.Measured(); got != n-1 || second.Standing() != check.NotMeasured {
		t.Errorf("the second copy: %d of %d, %s", got, n, second.Standing())
	}
	for _, r := range second.Stations {
		if !r.Absent && math.Abs(r.Deviation-0.2) > 0.006 {
			t.Errorf("at %.1f mm it is off by %.2f", r.X, r.Deviation)
		}
	}
	if !strings.Contains(w.copies.pairs.Text, "copy 1 with copy 2 (0.20)") {
		t.Errorf("the pairs: %q", w.copies.pairs.Text)
	}
}

func TestReadingsPlaceByPlace(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.add()
	w.copies.across = true
	w.copies.goTo(0, 0)
	for i := range 4 {
		if w.copies.chosen != i%2 || w.copies.place != i/2 {
			t.Errorf("after %d: copy %d, place %d", i, w.copies.chosen, w.copies.place)
		}
		w.copies.take("")
	}
}

func TestKeysGoAlongThePiece(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.add()
	w.copies.focus()
	k := keyboard{t, w}
	for _, c := range []struct {
		key           fyne.KeyName
		copied, place int
	}{
		{fyne.KeyDown, 1, 1}, {fyne.KeyDown, 1, 2}, {fyne.KeyUp, 1, 1}, {fyne.KeyPageUp, 0, 1}, {fyne.KeyPageUp, 0, 1}, {fyne.KeyUp, 0, 0},
		{fyne.KeyUp, 0, 0}, {fyne.KeyPageDown, 1, 0}, {fyne.KeyPageDown, 1, 0},
	} {
		k.press(c.key)
		if w.copies.chosen != c.copied || w.copies.place != c.place {
			t.Errorf("%s: copy %d, place %d, want %d and %d", c.key, w.copies.chosen, w.copies.place, c.copied, c.place)
		}
	}
}

// TestBadReadingsAreNotTaken: each is said, and the place stays in hand.
func TestBadReadingsAreNotTaken(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.focus()
	k := keyboard{t, w}
	for _, text := range []string{"thick", "-14", "140", "1.4", "14..2", "14,2,1", "1e1", "999999999999999999999"} {
		w.say("")
		k.reads(text)
		if w.copies.place != 0 || len(w.model.job.Copies.Copies[0].Readings) > 0 || w.status.Text == "" {
			t.Errorf("%q: place %d, readings %v, status %q", text, w.copies.place, w.model.job.Copies.Copies[0].Readings, w.status.Text)
		}
		w.copies.entry.SetText("")
	}
	for _, text := range []string{"14,2", "14.2mm", "1.42cm", "9/16"} {
		w.copies.goTo(0, 0)
		k.reads(text) // over what is there
		if w.copies.place != 1 {
			t.Errorf("%q is not taken: %q", text, w.status.Text)
		}
	}
}

func TestAReadingIsTakenBackAndUndone(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.take("14.1")
	w.copies.goTo(0, 0)
	w.copies.take("14.10") // as it is shown: nothing changes
	steps := w.model.history.UndoName()
	w.copies.goTo(0, 0)
	w.copies.take("0")
	if len(w.model.job.Copies.Copies[0].Readings) != 0 || steps == "" {
		t.Errorf("%v", w.model.job.Copies.Copies[0].Readings)
	}
	w.model.undo()
	if r := w.model.job.Copies.Copies[0].Readings; len(r) != 1 || r[0].D != 14.1 {
		t.Errorf("after undo: %v", r)
	}
	w.model.undo()
	w.model.undo()
	if len(w.model.job.Copies.Copies) != 0 || w.copies.chosen != 0 {
		t.Errorf("after three: %v", w.model.job.Copies.Copies)
	}
}

// TestCopiesGoIntoTheFile and come back with the readings.
func TestCopiesGoIntoTheFile(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.take("14.1")
	path := filepath.Join(t.TempDir(), "kept.turning")
	w.saveTo(path, nil)
	j, err := job.Open(path)
	if err != nil || len(j.Copies.Copies) != 1 || j.Copies.Copies[0].Readings[0].D != 14.1 {
		t.Fatalf("%v, %+v", err, j.Copies)
	}
	w.open(path)
	w.showStep(stepCopies)
	if n, _ := w.copies.reports[0].Measured(); n != 1 {
		t.Errorf("%d readings after opening", n)
	}
}

// asked types a path into the question that asks for one.
func asked(t *testing.T, w *Window, path string) {
	t.Helper()
	f := w.win.Canvas().Focused()
	if f == nil {
		t.Fatal("no file is asked for")
	}
	f.(interface{ SetText(string) }).SetText(path)
	f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

func TestReportAndTableAreWritten(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.take("14.9")
	dir := t.TempDir()
	w.copies.writeReport()
	asked(t, w, filepath.Join(dir, "r.pdf"))
	if data, err := os.ReadFile(filepath.Join(dir, "r.pdf")); err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Errorf("the report: %v, %s", err, w.status.Text)
	}
	w.copies.writeCSV()
	asked(t, w, filepath.Join(dir, "r.csv"))
	data, err := os.ReadFile(filepath.Join(dir, "r.csv"))
	if err != nil || !strings.Contains(string(data), "14.90,0.90") {
		t.Errorf("the table: %v\n%s", err, data)
	}
	// What was written comes back as a second copy.
	w.copies.compare(filepath.Join(dir, "r.csv"))
	if n := len(w.copies.reports); n != 2 || w.copies.reports[1].Stations[0].Copy != 14.9 {
		t.Errorf("%d copies: %s", n, w.status.Text)
	}
}

func TestTolerancesAreSetByStation(t *testing.T) {
	w := bench(t)
	j := newJudge(check.Set{}, profile.MM)
	j.diameter.SetText("0.3")
	j.at.SetText("36=0.1mm; 90 = 1/16in")
	j.times.SetText("5")
	j.align.SetSelectedIndex(2)
	j.station.SetText("30")
	set, err := j.read(w.model.job.Copies)
	if err != nil {
		t.Fatal(err)
	}
	want := check.Options{Align: check.AtStation, Station: 30, Tolerance: check.Tolerance{Diameter: 0.3}}
	if set.Align != want.Align || set.Station != want.Station || set.Tolerance != want.Tolerance || len(set.Exceptions) != 2 || set.Exaggeration != 5 {
		t.Errorf("%+v", set)
	}
	again, err := newJudge(set, profile.MM).read(check.Set{})
	if err != nil || again.Tolerance != set.Tolerance || len(again.Exceptions) != 2 || math.Abs(again.Exceptions[1].Diameter-25.4/16) > 0.005 {
		t.Errorf("shown and read again: %v, %+v", err, again)
	}
	for field, text := range map[string]string{"diameter": "wide", "at": "36", "times": "0.2", "calipers": "-1"} {
		j := newJudge(check.Set{}, profile.MM)
		map[string]interface{ SetText(string) }{"diameter": j.diameter, "at": j.at, "times": j.times, "calipers": j.calipers}[field].SetText(text)
		if _, err := j.read(check.Set{}); err == nil {
			t.Errorf("%s takes %q", field, text)
		}
	}
}

func TestTheQuestionOfTolerancesIsAsked(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.askJudge()
	if w.win.Canvas().Overlays().Top() == nil {
		t.Fatal("nothing is asked")
	}
	w.win.Canvas().Focused().(interface{ SetText(string) }).SetText("0.2")
	for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
		if b, ok := o.(*widget.Button); ok && b.Text == "OK" {
			test.Tap(b)
		}
	}
	if w.model.job.Copies.Tolerance.Diameter != 0.2 {
		t.Errorf("%+v", w.model.job.Copies.Tolerance)
	}
}

func FuzzReadExceptions(f *testing.F) {
	for _, s := range []string{"36=0.1mm; 90 = 1/16in", "36", "=", ";;", "a=b", "1=-1", "1=0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		all, err := readExceptions(text, profile.MM)
		if err != nil {
			return
		}
		for _, e := range all {
			if !(e.Diameter > 0) {
				t.Errorf("%q gives a tolerance of %v", text, e.Diameter)
			}
		}
	})
}

// TestOnlyWhatChangedIsComparedAnew, with what changed and not with what was.
func TestOnlyWhatChangedIsComparedAnew(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.add()
	w.copies.add()
	w.copies.goTo(0, 0)
	first := &w.copies.reports[1].Stations[0]
	w.copies.take("14.4")
	if w.copies.reports[0].Stations[0].Copy != 14.4 {
		t.Error("a reading does not count")
	}
	if &w.copies.reports[1].Stations[0] != first {
		t.Error("the other copy was compared anew")
	}
	if err := w.model.edit("thin it", "", func(p profile.Pattern) (profile.Pattern, error) { return profile.SetDiameter(p, 0, profile.Near, 13.5) }); err != nil {
		t.Fatal(err)
	}
	if got := w.copies.reports[0].Stations[0]; got.Original != 13.5 || !close2(got.Deviation, 0.9, 1e-9) {
		t.Errorf("after the original changed: %+v", got)
	}
	set := w.copies.set()
	set.Tolerance.Diameter = 2
	w.model.keepCopies("judge", "", set)
	if got := w.copies.reports[0].Stations[0]; got.Tolerance != 2 {
		t.Errorf("after the tolerance changed: %+v", got)
	}
}

func TestACopyIsNamed(t *testing.T) {
	w := bench(t)
	w.showStep(stepCopies)
	w.copies.tabs.SelectIndex(1)
	w.copies.add()
	w.copies.rename()
	asked(t, w, "  ")
	if w.win.Canvas().Overlays().Top() == nil || w.model.job.Copies.Copies[0].Name != "copy 1" {
		t.Error("an empty name is taken")
	}
	asked(t, w, "third step, left")
	if got := w.model.job.Copies.Copies[0].Name; got != "third step, left" || !strings.HasPrefix(w.copies.standing(0), got) {
		t.Errorf("it is called %q, the list says %q", got, w.copies.standing(0))
	}
}
