package job_test

import (
	"bytes"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"spindlestick/app/job"
	"spindlestick/profile/check"
)

func TestCopiesAreKept(t *testing.T) {
	j := rung()
	j.Copies = check.Set{
		Options: check.Options{
			Align: check.AtStation, Station: 30, Tolerance: check.Tolerance{Diameter: 0.3}, Calipers: 0.1,
			Exceptions: []check.Exception{{X: 30, Tolerance: check.Tolerance{Diameter: 0.2, Station: 0.5}}},
		},
		Exaggeration: 5,
		Copies: []check.Piece{
			{Name: "first", Gauged: true, Readings: []check.Reading{{X: 0, D: 10.1}, {X: 30, Side: check.HookSide, D: 9.8}}},
			{Name: "second", Gauged: true},
			{Name: "third", Pattern: rung().Pattern, Trace: rung().Measurement.Trace},
		},
	}
	var buf bytes.Buffer
	if err := job.Write(&buf, j); err != nil {
		t.Fatal(err)
	}
	got, err := job.Read(buf.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(j, got, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
}

// TestJobsWithoutCopiesOpen: files from before copies were kept, and files of jobs without any, have no such entry.
func TestJobsWithoutCopiesOpen(t *testing.T) {
	var buf bytes.Buffer
	if err := job.Write(&buf, rung()); err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(buf.Bytes(), []byte("copies.json")) {
		t.Error("a job without copies has an entry for them")
	}
	old := archive(t, map[string]string{"job.json": `{"format":"spindlestick-job","version":1,"title":"old"}`})
	j, err := job.Read(old)
	if err != nil || !j.Copies.Empty() || j.Title != "old" {
		t.Errorf("%v, %+v", err, j.Copies)
	}
}

func TestDamagedCopiesAreRefused(t *testing.T) {
	const body = `{"format":"spindlestick-job","version":1}`
	for name, text := range map[string]string{
		"not JSON":       `copies`,
		"another format": `{"format":"something"}`,
		"newer":          `{"format":"spindlestick-copies","version":2}`,
		"a thin copy":    `{"format":"spindlestick-copies","version":1,"copies":[{"calipers":true,"readings":[{"x":3,"d":-1}]}]}`,
		"nothing in one": `{"format":"spindlestick-copies","version":1,"copies":[{"name":"a"}]}`,
		"no pattern":     `{"format":"spindlestick-copies","version":1,"copies":[{"pattern":{"format":"spindlestick-pattern","version":1,"length":5,"elements":[]}}]}`,
		"a tolerance":    `{"format":"spindlestick-copies","version":1,"tolerance":{"diameter":-1}}`,
	} {
		if _, err := job.Read(archive(t, map[string]string{"job.json": body, "copies.json": text})); !errors.Is(err, job.ErrFile) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
