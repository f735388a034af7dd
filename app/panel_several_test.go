package app

import (
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// part is the rail's stretch from x0 to x1 as a job whose photograph shows no more.
func part(t *testing.T, name string, x0, x1, widen float64) string {
	t.Helper()
	p := rail()
	j := job.Job{Title: name, Pattern: profile.Pattern{Length: x1 - x0}}
	for _, e := range p.Elements {
		if e.X1 <= x0 || e.X0 >= x1 {
			continue
		}
		cut := e
		cut.X0, cut.X1 = max(e.X0, x0)-x0, min(e.X1, x1)-x0
		cut.D0, cut.D1 = e.At(max(e.X0, x0))*widen, e.At(min(e.X1, x1))*widen
		j.Pattern.Elements = append(j.Pattern.Elements, cut)
	}
	tr := profile.Trace{Length: x1 - x0, ULength: 0.2}
	for x := x0; x <= x1; x += 0.2 {
		if d, ok := p.DiameterAt(x); ok {
			r := d / 2 * widen
			tr.Samples = append(tr.Samples, profile.Sample{X: x - x0, R: r, U: 0.1, State: profile.Visible, Sides: [2]float64{r, r}})
		}
	}
	j.Measurement.Trace = tr
	path := filepath.Join(t.TempDir(), name+job.Extension)
	if err := job.Save(path, j); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestNextPartIsJoined(t *testing.T) {
	w := emptyBench(t, &blindTracer{})
	w.open(part(t, "one", 0, 80, 1))
	w.joinNext(part(t, "two", 20, 120, 1), "")
	if got := w.model.pattern(); len(got.Elements) != 4 || got.Length < 119.5 || got.Length > 120.5 {
		t.Fatalf("joined to %d elements, %.2f mm: %s", len(got.Elements), got.Length, w.status.Text)
	}
	if w.model.path != "" {
		t.Errorf("saving would write over %s", w.model.path)
	}
	w.model.undo()
	if got := w.model.pattern(); got.Length != 80 {
		t.Errorf("undo leaves %.2f mm", got.Length)
	}
	w.joinNext(part(t, "three", 20, 120, 1), "sixty")
	if got := w.model.pattern(); got.Length != 80 || w.status.Text == "" {
		t.Errorf("an overlap that is no length was taken: %s", w.status.Text)
	}
}

func TestQuarterTurnIsCompared(t *testing.T) {
	w := emptyBench(t, &blindTracer{})
	w.open(part(t, "one", 0, 120, 1))
	w.compareTurn(part(t, "two", 0, 120, 0.98))
	if !strings.Contains(w.model.job.Note, "2.0 %") {
		t.Errorf("the note says %q", w.model.job.Note)
	}
	if d, _ := w.model.pattern().DiameterAt(10); d < 13.8 || d > 13.95 {
		t.Errorf("the mean of 14 and 13.72 mm is %.2f", d)
	}
}
