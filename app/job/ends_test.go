package job_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/app/job"
	"spindlestick/profile"
)

// half is a turning that is its own mirror image about 60 mm, broken off 15 mm from its hook end: what is left starts
// there.
func half() job.Job {
	j := job.Job{Pattern: profile.Pattern{Length: 105, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: 25, D0: 20, D1: 20}, {Kind: profile.Bead, X0: 25, X1: 65, D0: 20, D1: 20, Sagitta: 5},
		{Kind: profile.Cylinder, X0: 65, X1: 95, D0: 20, D1: 20}, {Kind: profile.Fillet, X0: 95, X1: 105, D0: 16, D1: 16},
	}}}
	j.Measurement.Trace = profile.Trace{Length: 105, Samples: []profile.Sample{{X: 45, R: 15}}}
	j.Measurement.Scene.Axis.E = r3.Vec{X: 1}
	return j
}

// What was measured keeps its place: the crest of the bead lies where the trace and the camera have it.
func TestCompleteAtTheHookEndMovesTheMeasurement(t *testing.T) {
	j, err := half().Complete(profile.Near, 45)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(j.Pattern.Length-120) > 1e-9 || len(j.Pattern.Elements) != 5 || j.Pattern.Elements[0].Kind != profile.Fillet {
		t.Fatalf("completed to %.1f mm: %+v", j.Pattern.Length, j.Pattern.Elements)
	}
	if err := j.Pattern.Validate(); err != nil {
		t.Fatal(err)
	}
	crest, _, _ := j.Pattern.Elements[2].Mid()
	if s := j.Measurement.Trace.Samples[0]; math.Abs(s.X-crest) > 1e-9 {
		t.Errorf("the crest lies at %v, the trace has it at %v", crest, s.X)
	}
	if p := j.Measurement.Scene.Axis.P; p.X != -15 {
		t.Errorf("station 0 lies at %+v, want 15 mm before where it was", p)
	}
	if half().Measurement.Trace.Samples[0].X != 45 {
		t.Error("the job before was changed")
	}
}

func TestAppendAtBothEnds(t *testing.T) {
	for _, end := range []profile.End{profile.Near, profile.Far} {
		j, err := half().Append(end, profile.Taper, 12, 10)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(j.Pattern.Length-117) > 1e-9 || j.Pattern.Validate() != nil {
			t.Errorf("end %d: %.1f mm, %v", end, j.Pattern.Length, j.Pattern.Validate())
		}
		e := j.Pattern.Elements[4]
		if end == profile.Near {
			e = j.Pattern.Elements[0]
		}
		if e.Kind != profile.Taper || e.State != profile.Inferred || math.Min(e.D0, e.D1) != 10 {
			t.Errorf("end %d: %+v", end, e)
		}
	}
}
