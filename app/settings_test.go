package app

import (
	"fmt"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// again opens a second window of the same program, as after a restart.
func again(t *testing.T, w *Window) *Window {
	t.Helper()
	next, err := New(w.app, Services{Tracer: &blindTracer{}, Go: func(f func()) { f() }, After: noTime})
	if err != nil {
		t.Fatal(err)
	}
	return next
}

func TestTheWindowComesBackAtItsSize(t *testing.T) {
	w := bench(t)
	w.win.Resize(fyne.NewSize(1100, 777))
	w.closing()
	if got := again(t, w).savedSize(); got != fyne.NewSize(1100, 777) {
		t.Errorf("the next window is %v", got)
	}
	w = emptyBench(t, &blindTracer{})
	if s := w.savedSize(); s.Width > 1366 || s.Height > 768 {
		t.Errorf("the first window does not fit a screen of 1366 x 768: %v", s)
	}
}

func TestRecentFilesLeadBackToThem(t *testing.T) {
	w := emptyBench(t, &blindTracer{})
	folder := t.TempDir()
	for i := range recentCount + 2 {
		j := railJob()
		j.Title = fmt.Sprint("rail ", i)
		path := filepath.Join(folder, fmt.Sprintf("rail%d.turning", i))
		if err := job.Save(path, j); err != nil {
			t.Fatal(err)
		}
		w.open(path)
	}
	items := w.menus.recent.ChildMenu.Items
	if len(items) != recentCount || items[0].Label != "rail9.turning" || items[recentCount-1].Label != "rail2.turning" {
		t.Fatalf("%d files are remembered, from %s", len(items), items[0].Label)
	}
	items[3].Action()
	if w.model.job.Title != "rail 6" {
		t.Errorf("the fourth opens %q", w.model.job.Title)
	}
	if got := w.menus.recent.ChildMenu.Items[0].Label; got != "rail6.turning" {
		t.Errorf("%s stands first after opening the fourth again", got)
	}
}

func TestUnitAndPaperAreRemembered(t *testing.T) {
	w := bench(t)
	w.setUnit(profile.Fraction)
	w.app.Preferences().SetString("paper", "letter")
	next := again(t, w)
	if next.model.unit != profile.Fraction || next.sheetChoice().paper != "letter" {
		t.Errorf("unit %s, paper %s", next.model.unit, next.sheetChoice().paper)
	}
}

// TestEverythingFitsASmallScreen: every step's least size fits 1366 x 768, and all but Copies, with its tables, also where
// everything is shown at 1.5 times its size on that screen.
func TestEverythingFitsASmallScreen(t *testing.T) {
	const bars = 60 // menu and title bar, units
	for _, locale := range []string{"en_US.UTF-8", "de_DE.UTF-8"} {
		inLanguage(t, locale)
		w := bench(t)
		for s := step(0); s < stepCount; s++ {
			w.showStep(s)
			w.model.selectElement(1)
			scale := float32(1.5)
			if s == stepCopies {
				scale = 1
			}
			if least := w.win.Content().MinSize(); least.Width > 1366/scale || least.Height > 768/scale-bars {
				t.Errorf("%s: step %s needs %v at %v times its size", locale, s.title(), least, scale)
			}
		}
	}
}
