package main

import (
	"context"
	"strings"
	"testing"
)

// lacking finds three needs wanting on a machine of another distribution.
func lacking() []need {
	var lack []need
	for _, n := range append(buildNeeds("linux"), testNeeds()...) {
		if strings.Contains(n.what, "OpenCV") || strings.Contains(n.what, "Xcursor") || strings.Contains(n.what, "ezdxf") {
			lack = append(lack, n)
		}
	}
	return lack
}

func TestAdviceWithoutApt(t *testing.T) {
	const (
		dnf    = "`sudo dnf install opencv-devel libXcursor-devel python3-ezdxf`"
		pacman = "`sudo pacman -S --needed opencv libxcursor` (pacman has no package known here for: ezdxf for /usr/bin/python3, which reads DXF)"
		brew   = "`brew install opencv` (brew has no package known here for: the header X11/Xcursor/Xcursor.h; ezdxf for /usr/bin/python3, which reads DXF)"
	)
	tests := []struct {
		name     string
		programs []string
		want     string
	}{
		{"dnf", []string{"dnf"}, "run " + dnf + ", then"},
		{"pacman", []string{"pacman"}, "run " + pacman + ", then"},
		{"brew", []string{"brew"}, "run " + brew + ", then"},
		{"none", nil, "run " + dnf + " or " + pacman + " or " + brew + ", then"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := &fakeMachine{programs: tt.programs}
			h, _ := hostOf(f)
			err := install(context.Background(), h, lacking())
			if err == nil || !strings.Contains(err.Error(), tt.want) || strings.Contains(err.Error(), "\n") {
				t.Errorf("error %v\nwant one line with %s", err, tt.want)
			}
			if len(f.shown) > 0 {
				t.Errorf("ran %q", f.shown)
			}
		})
	}
}

func TestAdviceOnWindowsNamesNoPackageManager(t *testing.T) {
	h, _ := hostOf(&fakeMachine{})
	h.OS = "windows"
	text := advice(h, buildNeeds("windows"))
	if strings.Contains(text, "dnf") || !strings.Contains(text, "C++ compiler") || !strings.Contains(text, "OpenCV") {
		t.Error(text)
	}
}

func TestAdviceWithoutAnyPackage(t *testing.T) {
	lack := []need{{what: "a thing"}}
	if got, want := managers()[0].line(lack), "(dnf has no package known here for: a thing)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestOtherSystemsNeedNoX11(t *testing.T) {
	for _, goos := range []string{"darwin", "windows"} {
		for _, n := range buildNeeds(goos) {
			if strings.Contains(n.what, "X11") || strings.Contains(n.what, "GL/") {
				t.Errorf("%s asks for %s", goos, n.what)
			}
		}
	}
}
