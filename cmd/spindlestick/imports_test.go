package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// layer is a package and what it must not lean on, directly or through others.
type layer struct {
	pkg       string
	forbidden []string
}

// layers: imports point one way, cmd -> app and vision; app -> app/job -> profile/...; vision -> profile/view -> profile.
func layers() []layer {
	const fyne, gocv = "fyne.io/fyne", "gocv.io/x/gocv"
	own := []string{"spindlestick/app", "spindlestick/vision", "spindlestick/cmd"}
	pure := append([]string{fyne, gocv, "image"}, own...)
	drawing := append([]string{fyne, gocv}, own...) // may know images
	return []layer{
		{"spindlestick/profile", append([]string{"spindlestick/profile/"}, pure...)},
		{"spindlestick/profile/lsq", append([]string{"spindlestick/profile/view", "spindlestick/profile/fit"}, pure...)},
		{"spindlestick/profile/whole", append([]string{"spindlestick/profile/view"}, pure...)},
		{"spindlestick/profile/view", append([]string{"spindlestick/profile/fit", "spindlestick/profile/sheet"}, pure...)},
		{"spindlestick/profile/fit", append([]string{"spindlestick/profile/sheet"}, pure...)},
		{"spindlestick/profile/sizing", append([]string{"spindlestick/profile/view", "spindlestick/profile/fit", "spindlestick/profile/sheet"}, pure...)},
		{"spindlestick/profile/sheet", append([]string{"spindlestick/profile/view", "spindlestick/profile/fit"}, drawing...)},
		{"spindlestick/profile/check", append([]string{"spindlestick/profile/view", "spindlestick/profile/fit"}, drawing...)},
		{"spindlestick/profile/plan", append([]string{"spindlestick/profile/view", "spindlestick/profile/fit"}, drawing...)},
		{"spindlestick/app/job", []string{fyne, gocv, "spindlestick/vision", "spindlestick/cmd"}},
		{"spindlestick/app", []string{gocv, "spindlestick/vision", "spindlestick/cmd"}},
		{"spindlestick/vision", []string{fyne, "spindlestick/app", "spindlestick/cmd", "spindlestick/profile/fit", "spindlestick/profile/sheet"}},
		{"spindlestick/cmd/dev", append([]string{"spindlestick/profile", "runtime/cgo"}, pure...)},
	}
}

func TestImportsPointOneWay(t *testing.T) {
	for _, l := range layers() {
		out, err := exec.Command("go", "list", "-tags", "ci,migrated_fynedo", "-deps", l.pkg).Output()
		if err != nil {
			t.Fatalf("go list -deps %s: %v", l.pkg, err)
		}
		deps := strings.Fields(string(out))
		if !slices.Contains(deps, l.pkg) {
			t.Fatalf("go list knows no %s", l.pkg)
		}
		for _, d := range deps {
			for _, f := range l.forbidden {
				if d != l.pkg && (d == f || strings.HasPrefix(d, strings.TrimSuffix(f, "/")+"/")) {
					t.Errorf("%s leans on %s", l.pkg, d)
				}
			}
		}
	}
}
