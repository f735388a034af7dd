package main

import (
	"strings"
	"testing"

	"spindlestick/profile/view"
)

// A camera that was measured in the window counts on the command line too, and a note says so.
func TestTraceUsesAMeasuredCamera(t *testing.T) {
	home := t.TempDir()
	for _, name := range []string{"XDG_CONFIG_HOME", "HOME", "AppData"} { // where os.UserConfigDir looks
		t.Setenv(name, home)
	}
	// The camera that the photograph names, at the focal length it states.
	c := view.NewCamera(1600, 1200, 28)
	err := cameras().Save(view.Calibration{
		Make: "Ellowick", Model: "E9", Width: 1600, Height: 1200, Focal35: 28, F: c.F, Cx: c.Cx, Cy: c.Cy,
		SigmaF: 1, SigmaCx: 1, SigmaCy: 1, SigmaK1: 0.001, SigmaK2: 0.002, Photos: 6, RMS: 0.1, Date: "2026-11-12",
	})
	if err != nil {
		t.Fatal(err)
	}
	got := call("trace", photos+"leg.jpg", "--height", "level")
	if got.code != exitDone {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	if want := "note: Camera: measured 12 November 2026 from 6 photographs"; strings.Count(got.stderr, want) != 1 {
		t.Errorf("stderr does not say %q once:\n%s", want, got.stderr)
	}
}
