package main

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const (
	aptCall      = "env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 "
	aptUpdate    = aptCall + "-q update"
	aptInstall   = aptCall + "-q -y --no-install-recommends install "
	compilers    = "gcc libc6-dev g++"
	buildPackage = "pkg-config libopencv-dev libgl-dev libx11-dev libxcursor-dev libxrandr-dev libxinerama-dev libxi-dev libxxf86vm-dev"
	testPackage  = "poppler-utils librsvg2-bin python3-ezdxf"
)

func everything() []string {
	return strings.Fields(compilers + " " + buildPackage + " " + testPackage)
}

func without(list []string, names ...string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(s string) bool { return slices.Contains(names, s) })
}

func TestPrepareInstallsWhatIsMissing(t *testing.T) {
	allNeeds := append(buildNeeds("linux"), testNeeds()...)
	tests := []struct {
		name  string
		d     *debian
		needs []need
		want  []string
	}{
		{"nothing missing", newDebian(everything()...), allNeeds, nil},
		{"bare, to build", newDebian(), buildNeeds("linux"), []string{aptInstall + compilers + " " + buildPackage}},
		{"bare but for compilers, to test", newDebian(strings.Fields(compilers)...), allNeeds,
			[]string{aptInstall + buildPackage + " " + testPackage}},
		{"one header", newDebian(without(everything(), "libxcursor-dev")...), allNeeds, []string{aptInstall + "libxcursor-dev"}},
		{"two packages", newDebian(without(everything(), "libgl-dev", "poppler-utils")...), allNeeds,
			[]string{aptInstall + "libgl-dev poppler-utils"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h, out := hostOf(tt.d)
			if err := prepare(context.Background(), h, tt.needs); err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			if diff := cmp.Diff(tt.want, tt.d.shown); diff != "" {
				t.Errorf("commands (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPrepareFetchesListsOnlyWhenNeeded(t *testing.T) {
	lack := without(everything(), "libxi-dev")
	tests := []struct {
		name string
		set  func(*debian)
		want []string
	}{
		{"lists there", func(*debian) {}, []string{aptInstall + "libxi-dev"}},
		{"no lists", func(d *debian) { d.lists = false }, []string{aptUpdate, aptInstall + "libxi-dev"}},
		{"stale lists", func(d *debian) { d.stale = true }, []string{aptInstall + "libxi-dev", aptUpdate, aptInstall + "libxi-dev"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := newDebian(lack...)
			tt.set(d)
			h, _ := hostOf(d)
			if err := prepare(context.Background(), h, buildNeeds("linux")); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, d.shown); diff != "" {
				t.Errorf("commands (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPrepareUsesTheRightsThereAre(t *testing.T) {
	const byHand = "apt-get update && apt-get install --no-install-recommends libxi-dev"
	tests := []struct {
		name                 string
		root, sudo, terminal bool
		want                 string // the one command, or part of the error
		fails                bool
	}{
		{"root", true, true, true, aptInstall + "libxi-dev", false},
		{"sudo with a terminal", false, true, true, "sudo " + aptInstall + "libxi-dev", false},
		{"sudo without a terminal", false, true, false, "sudo -n " + aptInstall + "libxi-dev", false},
		{"neither", false, false, true, byHand, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := newDebian(without(everything(), "libxi-dev")...)
			if tt.sudo {
				d.programs = append(d.programs, "sudo")
			}
			h, _ := hostOf(d)
			h.Root, h.Terminal = tt.root, tt.terminal
			err := prepare(context.Background(), h, buildNeeds("linux"))
			if tt.fails {
				if err == nil || !strings.Contains(err.Error(), tt.want) || len(d.shown) > 0 {
					t.Fatalf("error %v, commands %q; want an error with %q and no command", err, d.shown, tt.want)
				}
				return
			}
			if err != nil || len(d.shown) != 1 || d.shown[0] != tt.want {
				t.Fatalf("commands %q, error %v; want %q", d.shown, err, tt.want)
			}
		})
	}
}

func TestPrepareSaysWhatIsStillMissing(t *testing.T) {
	d := newDebian(without(everything(), "libxi-dev", "libgl-dev")...)
	d.broken = map[string]bool{"libxi-dev": true}
	h, _ := hostOf(d)
	err := prepare(context.Background(), h, buildNeeds("linux"))
	if err == nil || !strings.HasSuffix(err.Error(), ": the header X11/extensions/XInput2.h") {
		t.Fatalf("error %v; want it to name the header and nothing else", err)
	}
}

func TestPrepareSaysHowToInstallByHandWhenAptFails(t *testing.T) {
	d := newDebian(without(everything(), "libxi-dev")...)
	d.answer = func(c command) (string, error) {
		if strings.Contains(c.String(), "apt-get") {
			return "", errNo
		}
		return d.reply(c)
	}
	h, _ := hostOf(d)
	err := prepare(context.Background(), h, buildNeeds("linux"))
	if !errors.Is(err, errNo) || !strings.Contains(err.Error(), "install --no-install-recommends libxi-dev") {
		t.Fatalf("error %v", err)
	}
}

func TestPrepareStopsWhenInterrupted(t *testing.T) {
	d := newDebian()
	h, _ := hostOf(d)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := prepare(ctx, h, buildNeeds("linux")); !errors.Is(err, context.Canceled) || len(d.shown) > 0 {
		t.Fatalf("error %v, commands %q; want to stop before installing", err, d.shown)
	}
}

func TestOpenCVMustBeVersion4(t *testing.T) {
	for version, want := range map[string]bool{"4.6.0\n": true, "4.10.0\n": true, "3.4.16\n": false, "40.1\n": false, "": false} {
		f := &fakeMachine{answer: func(command) (string, error) { return version, nil }}
		got := module("opencv4", "4.")(context.Background(), f, tools{PkgConfig: []string{"pkg-config"}})
		if got != want {
			t.Errorf("version %q accepted: %v", version, got)
		}
	}
}

func TestProbesUseTheToolsGoUses(t *testing.T) {
	var asked []string
	f := &fakeMachine{answer: func(c command) (string, error) {
		asked = append(asked, c.String())
		return "clang -m64\nclang++\npkgconf\n", nil
	}}
	tl, err := askTools(context.Background(), f)
	if err != nil {
		t.Fatal(err)
	}
	cHeader("a.h")(context.Background(), f, tl)
	cxxHeader("a")(context.Background(), f, tl)
	pkgConfigWorks(context.Background(), f, tl)
	want := []string{"go env CC CXX PKG_CONFIG", "clang -m64 -E -x c -", "clang++ -E -x c++ -", "pkgconf --version"}
	if diff := cmp.Diff(want, asked); diff != "" {
		t.Errorf("commands (-want +got):\n%s", diff)
	}
}
