package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// The demonstration photograph, and how its piece was held: packed up by half its square, so that its axis lies in
// the plane of the boards' squares.
const (
	demoPhoto  = "assets/demo/demo.jpg"
	demoHeight = "raised"
)

// outFolder takes all that the demonstration makes; git ignores it.
const outFolder = "out"

// demo prepares the machine, builds the program, traces the demonstration photograph, prints what was found, and
// opens the window on it where there is a display.
func demo(ctx context.Context, h host) error {
	if err := prepare(ctx, h, buildNeeds(h.OS)); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(h.Dir, outFolder), 0o755); err != nil {
		return fmt.Errorf("no folder for the results: %w", err)
	}
	start := time.Now()
	program := filepath.Join(outFolder, "spindlestick"+exeSuffix(h.OS))
	h.say("A first build takes several minutes, later ones seconds.")
	if err := h.step(ctx, "Build", buildCommand(program)); err != nil {
		return err
	}
	// A name with a folder in it is looked up there, on every system.
	run := "." + string(filepath.Separator) + program
	for _, s := range demoSteps(run) {
		if err := h.step(ctx, s.what, s.command); err != nil {
			return err
		}
		if s.after != nil {
			if err := s.after(h); err != nil {
				return err
			}
		}
	}
	if err := listResults(h, start); err != nil {
		return err
	}
	return openWindow(ctx, h, run)
}

// buildCommand builds the program. It does not ask git for the revision: a checkout that belongs to another user
// would make that fail.
func buildCommand(program string) command {
	return cmd("go", "build", "-buildvcs=false", "-tags", programTags, "-o", program, "./cmd/spindlestick")
}

// demoStep is one use of the built program, and what to show of its result.
type demoStep struct {
	what    string
	command command
	after   func(host) error
}

func demoSteps(run string) []demoStep {
	trace := cmd(run, "trace", demoPhoto, "--height", demoHeight,
		"--job", result("turning"), "--csv", result("csv"), "--pattern", result("json"))
	// The table below takes the place of the one that the program prints: it has every length in inches too.
	trace.Quiet = true
	return []demoStep{
		{"Trace", trace, printPattern},
		{"Sheets as PDF", sheetCommand(run, "pdf"), nil},
		{"Sheets as PNG", sheetCommand(run, "png"), nil},
	}
}

func sheetCommand(run, format string) command {
	return cmd(run, "sheet", result("turning"), "-o", result(format), "--show", "all", "--paper", "a4")
}

// result names one of the demonstration's files.
func result(ending string) string { return outFolder + "/demo." + ending }

// printPattern shows the station table of the pattern file.
func printPattern(h host) error {
	data, err := os.ReadFile(filepath.Join(h.Dir, result("json")))
	if err != nil {
		return fmt.Errorf("the trace wrote no pattern: %w", err)
	}
	p, err := readPattern(data)
	if err != nil {
		return err
	}
	return p.table(h.Out)
}

// listResults names the files that the demonstration has written since it started; a drawing of several pages
// may be several files.
func listResults(h host, start time.Time) error {
	paths, err := filepath.Glob(filepath.Join(h.Dir, outFolder, "demo*"))
	if err != nil {
		return err
	}
	h.say("Written:")
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			return fmt.Errorf("a result is gone: %w", err)
		}
		// File systems may keep whole seconds only.
		if info.ModTime().Before(start.Truncate(time.Second)) {
			continue
		}
		h.say("  %s/%s  %.1f kB", outFolder, info.Name(), float64(info.Size())/1000)
	}
	return nil
}

// openWindow opens the job and waits until the window is closed.
func openWindow(ctx context.Context, h host, run string) error {
	c := cmd(run, result("turning"))
	if !h.display() {
		h.say("No display was found, so no window opens. Where there is one: %s", c)
		return nil
	}
	h.say("Opening the window on the job; close it to end.")
	return h.Show(ctx, c)
}

// display reports whether a window can open.
func (h host) display() bool {
	if h.OS == "windows" || h.OS == "darwin" {
		return true
	}
	return h.Getenv("DISPLAY") != "" || h.Getenv("WAYLAND_DISPLAY") != ""
}
