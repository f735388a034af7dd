package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// stake is a garden stake with a bead, 200 mm long, of this project's own.
func stake() profile.Pattern {
	return profile.Pattern{Length: 200, Elements: []profile.Element{
		{Kind: profile.Taper, X0: 0, X1: 90, D0: 20, D1: 26},
		{Kind: profile.Bead, X0: 90, X1: 104, D0: 24, D1: 24, Sagitta: 4},
		{Kind: profile.Cylinder, X0: 104, X1: 200, D0: 22, D1: 22},
	}}
}

// shotOf writes a job that shows the stake from x0 to x1, its diameters times widen.
func shotOf(t *testing.T, folder, name string, x0, x1, widen float64) string {
	t.Helper()
	p := stake()
	j := job.Job{Title: name, Pattern: profile.Pattern{Length: x1 - x0}}
	for _, e := range p.Elements {
		if e.X1 > x0 && e.X0 < x1 {
			from, to := math.Max(e.X0, x0), math.Min(e.X1, x1)
			d0, d1 := e.At(from)*widen, e.At(to)*widen
			e.X0, e.X1, e.D0, e.D1, e.Sagitta = from-x0, to-x0, d0, d1, e.Sagitta*widen
			j.Pattern.Elements = append(j.Pattern.Elements, e)
		}
	}
	j.Measurement.Trace = profile.Trace{Length: x1 - x0, ULength: 0.2}
	for x := x0; x <= x1; x += 0.2 {
		d, _ := p.DiameterAt(math.Min(x, p.Length))
		r := d / 2 * widen
		j.Measurement.Trace.Samples = append(j.Measurement.Trace.Samples,
			profile.Sample{X: x - x0, R: r, U: 0.1, State: profile.Visible, Sides: [2]float64{r, r}})
	}
	path := filepath.Join(folder, name+job.Extension)
	if err := job.Save(path, j); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestJoinCommand(t *testing.T) {
	dir := t.TempDir()
	a, b := shotOf(t, dir, "foot", 0, 140, 1), shotOf(t, dir, "head", 60, 200, 1)
	out, table := filepath.Join(dir, "whole.turning"), filepath.Join(dir, "whole.csv")
	if got := call("join", a, b, "-o", out, "--csv", table); got.code != exitDone || !strings.Contains(got.stderr, "continued by") {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	j, err := job.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Pattern.Elements) != 3 || math.Abs(j.Pattern.Length-200) > 0.3 {
		t.Errorf("joined to %d elements, %.2f mm", len(j.Pattern.Elements), j.Pattern.Length)
	}
	if data, err := os.ReadFile(table); err != nil || !strings.HasPrefix(string(data), "x_mm,") {
		t.Errorf("table: %v", err)
	}
	far := shotOf(t, dir, "other", 0, 60, 1.3)
	for _, args := range [][]string{{"join", a, "-o", out}, {"join", a, b, "-o", "whole.json"}} {
		if got := call(args...); got.code != exitUsage {
			t.Errorf("%v: exit %d", args, got.code)
		}
	}
	if got := call("join", a, far, "-o", filepath.Join(dir, "no.turning")); got.code != exitFail || strings.Count(strings.TrimSpace(got.stderr), "\n") > 0 {
		t.Errorf("parts that do not agree: exit %d: %s", got.code, got.stderr)
	}
	if _, err := os.Stat(filepath.Join(dir, "no.turning")); err == nil {
		t.Error("a job was written all the same")
	}
}

func TestOvalCommand(t *testing.T) {
	dir := t.TempDir()
	a, b := shotOf(t, dir, "first", 0, 200, 1), shotOf(t, dir, "second", 0, 200, 0.985)
	out, table := filepath.Join(dir, "mean.turning"), filepath.Join(dir, "oval.csv")
	got := call("oval", a, b, "-o", out, "--csv", table)
	if got.code != exitDone || !strings.Contains(got.stderr, "differ by 1.5 %") || !strings.Contains(got.stdout, "oval") {
		t.Fatalf("exit %d: %s\n%s", got.code, got.stderr, got.stdout)
	}
	j, err := job.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	if d, _ := j.Pattern.DiameterAt(150); math.Abs(d-22*(1+0.985)/2) > 0.02 {
		t.Errorf("the mean is %.3f mm", d)
	}
	if got := call("oval", a, filepath.Join(dir, "missing.turning")); got.code != exitFail {
		t.Errorf("a missing job: exit %d", got.code)
	}
}
