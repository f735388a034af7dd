package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"

	"spindlestick/app"
	"spindlestick/app/job"
	"spindlestick/assets"
	"spindlestick/profile/view"
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
	a := fyneapp.NewWithID(appID)
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.Icon))
	w, err := app.New(a, services())
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

func services() app.Services {
	s := app.Services{
		Tracer:  vision.Tracer{},
		Fault:   faultOf,
		Cameras: cameras(), Calibrator: vision.Calibrator{},
		Example: app.Example{Name: "demo.jpg", Photo: assets.Demo, Hints: view.Hints{Height: view.Height{Mode: view.Raised}}},
	}
	if folder, err := os.UserConfigDir(); err == nil {
		s.Unsaved = filepath.Join(folder, "spindlestick", "unsaved")
	}
	return s
}

// faultOf sorts what the tracer could not do by the step of the window that helps.
func faultOf(err error) app.Fault {
	switch {
	case errors.Is(err, vision.ErrNoReference), errors.Is(err, vision.ErrMarks):
		return app.FaultScale
	case errors.Is(err, vision.ErrNoPiece), errors.Is(err, vision.ErrUnsure):
		return app.FaultOutline
	}
	return app.FaultPhoto
}

// cameras are the user's measured cameras.
func cameras() job.Calibrations {
	folder, err := os.UserConfigDir()
	if err != nil {
		return job.Calibrations{}
	}
	return job.Calibrations{Folder: filepath.Join(folder, "spindlestick", "cameras")}
}
