package job_test

import (
	"bytes"
	"strings"
	"testing"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// The rounding is kept with the job, and the measured pattern beside it.
func TestRoundingIsKeptWithTheJob(t *testing.T) {
	j := job.Job{Rounding: profile.Sixteenths, Pattern: profile.Pattern{Length: 100.3, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 40.1, D0: 20.3, D1: 20.3}, {Kind: profile.Taper, X0: 40.1, X1: 100.3, D0: 20.3, D1: 15},
	}}}
	var b bytes.Buffer
	if err := job.Write(&b, j); err != nil {
		t.Fatal(err)
	}
	k, err := job.Read(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if k.Rounding != profile.Sixteenths || k.Pattern.Elements[0].X1 != 40.1 {
		t.Errorf("read back rounding %q, station %v", k.Rounding, k.Pattern.Elements[0].X1)
	}
	p, report, err := k.Workshop()
	if err != nil || len(report) == 0 || p.Length != 100.3 || p.Elements[0].X1 == 40.1 {
		t.Errorf("workshop sizes: %+v, %d changes, %v", p.Elements, len(report), err)
	}
	j.Rounding = "a foot"
	b.Reset()
	if err := job.Write(&b, j); err != nil {
		t.Fatal(err)
	}
	if _, err := job.Read(b.Bytes()); err == nil || !strings.Contains(err.Error(), "is not a rounding") {
		t.Errorf("a rounding to a foot: %v", err)
	}
}
