package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spindlestick/profile"
)

// workshop is a fake machine on which everything is installed and the program writes the files it is asked for.
type workshop struct {
	*debian
	dir    string
	broken string // the command that fails
}

func (w *workshop) Show(_ context.Context, c command) error {
	w.shown = append(w.shown, c.String())
	if w.broken != "" && strings.Contains(c.String(), w.broken) {
		return errNo
	}
	for i, arg := range c.Args {
		if i == 0 || !strings.HasPrefix(c.Args[i-1], "-") || !strings.HasPrefix(arg, "out/demo.") {
			continue
		}
		if err := os.WriteFile(filepath.Join(w.dir, arg), w.content(arg), 0o600); err != nil {
			return err
		}
	}
	return nil
}

// content is a pattern where one is asked for.
func (w *workshop) content(name string) []byte {
	if !strings.HasSuffix(name, ".json") {
		return []byte("x")
	}
	var text strings.Builder
	cylinder := profile.Element{Kind: profile.Cylinder, X1: 50.8, D0: 25.4, D1: 25.4}
	if err := profile.WritePattern(&text, profile.Pattern{Length: 50.8, Elements: []profile.Element{cylinder}}); err != nil {
		panic(err)
	}
	return []byte(text.String())
}

func newWorkshop(t *testing.T) (*workshop, host, func() string) {
	w := &workshop{debian: newDebian(everything()...), dir: t.TempDir()}
	h, out := hostOf(w)
	h.Dir = w.dir
	return w, h, out.String
}

func demoCommands() []string {
	return []string{
		"go build -buildvcs=false -tags migrated_fynedo -o out/spindlestick ./cmd/spindlestick",
		"./out/spindlestick trace assets/demo/demo.jpg --height raised --job out/demo.turning --csv out/demo.csv --pattern out/demo.json",
		"./out/spindlestick sheet out/demo.turning -o out/demo.pdf --show all --paper a4",
		"./out/spindlestick sheet out/demo.turning -o out/demo.png --show all --paper a4",
	}
}

func TestDemoWithoutDisplay(t *testing.T) {
	w, h, out := newWorkshop(t)
	if err := demo(context.Background(), h); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(demoCommands(), w.shown); diff != "" {
		t.Errorf("commands (-want +got):\n%s", diff)
	}
	for _, want := range []string{
		"cylinder", "Overall length 50.80 mm, 2 in.", "several minutes",
		"out/demo.csv", "out/demo.json", "out/demo.pdf", "out/demo.png", "out/demo.turning",
		"No display was found, so no window opens. Where there is one: ./out/spindlestick out/demo.turning",
	} {
		if !strings.Contains(out(), want) {
			t.Errorf("the output lacks %q:\n%s", want, out())
		}
	}
}

func TestDemoOpensTheWindowWhereThereIsADisplay(t *testing.T) {
	for _, variable := range []string{"DISPLAY", "WAYLAND_DISPLAY"} {
		w, h, _ := newWorkshop(t)
		h.Getenv = func(name string) string {
			if name == variable {
				return ":0"
			}
			return ""
		}
		if err := demo(context.Background(), h); err != nil {
			t.Fatal(err)
		}
		if last := w.shown[len(w.shown)-1]; last != "./out/spindlestick out/demo.turning" {
			t.Errorf("with %s the last command is %q", variable, last)
		}
	}
}

func TestDisplayBySystem(t *testing.T) {
	h, _ := hostOf(&fakeMachine{})
	for goos, want := range map[string]bool{"linux": false, "freebsd": false, "darwin": true, "windows": true} {
		h.OS = goos
		if h.display() != want {
			t.Errorf("%s without variables: display %v", goos, h.display())
		}
	}
}

func TestDemoStopsAtTheFirstFailure(t *testing.T) {
	for i, broken := range []string{"go build", "trace", "demo.pdf", "demo.png"} {
		w, h, _ := newWorkshop(t)
		w.broken = broken
		if err := demo(context.Background(), h); !errors.Is(err, errNo) {
			t.Errorf("%s fails: error %v", broken, err)
		}
		if diff := cmp.Diff(demoCommands()[:i+1], w.shown); diff != "" {
			t.Errorf("%s fails: commands (-want +got):\n%s", broken, diff)
		}
	}
}

func TestDemoDoesNotListOldFiles(t *testing.T) {
	w, h, out := newWorkshop(t)
	old := filepath.Join(w.dir, "out", "demo-9.png")
	if err := os.MkdirAll(filepath.Dir(old), 0o755); err != nil {
		t.Fatal(err)
	}
	writeFile(t, old, "from an earlier run")
	info, err := os.Stat(old)
	if err != nil {
		t.Fatal(err)
	}
	before := info.ModTime().AddDate(0, 0, -1)
	if err := os.Chtimes(old, before, before); err != nil {
		t.Fatal(err)
	}
	if err := demo(context.Background(), h); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(out(), "demo-9.png") {
		t.Errorf("an old file is listed as written:\n%s", out())
	}
}

func TestPrintPatternRefusesAFileThatIsNone(t *testing.T) {
	w, h, _ := newWorkshop(t)
	if err := printPattern(h); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no file: error %v", err)
	}
	if err := os.Mkdir(filepath.Join(w.dir, "out"), 0o755); err != nil {
		t.Fatal(err)
	}
	writeFile(t, filepath.Join(w.dir, "out", "demo.json"), "{}")
	if err := printPattern(h); err == nil {
		t.Error("an empty object passed as a pattern")
	}
}
