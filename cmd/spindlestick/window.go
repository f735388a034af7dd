package main

import (
	"errors"
	"fmt"
	"os"
	"runtime"

	fyneapp "fyne.io/fyne/v2/app"

	"spindlestick/app"
	"spindlestick/vision"
)

// appID names the program's settings.
const appID = "org.spindlestick.bench"

type windowCmd struct {
	File string `arg:"" optional:"" help:"A photograph, a job or a pattern."`
}

// Run opens the window and returns when it is closed.
func (c windowCmd) Run(env environment) error {
	if !hasDisplay() {
		return errors.New("no display was found: set DISPLAY or WAYLAND_DISPLAY, or use the commands that need no window (spindlestick --help)")
	}
	w, err := app.New(fyneapp.NewWithID(appID), app.Services{Tracer: vision.Tracer{}})
	if err != nil {
		return fmt.Errorf("open the window: %w", err)
	}
	w.Run(c.File)
	return nil
}

// hasDisplay reports whether a window can be opened; without one the window toolkit would end the process.
func hasDisplay() bool {
	return runtime.GOOS == "windows" || runtime.GOOS == "darwin" || os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}
