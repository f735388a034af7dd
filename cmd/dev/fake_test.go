package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"
)

// fakeMachine answers commands from a function and keeps what it was asked to show.
type fakeMachine struct {
	programs []string
	answer   func(command) (string, error)
	shown    []string
}

var _ machine = (*fakeMachine)(nil)

func (f *fakeMachine) Has(name string) bool { return slices.Contains(f.programs, name) }

func (f *fakeMachine) Ask(_ context.Context, c command) (string, error) { return f.answer(c) }

func (f *fakeMachine) Show(_ context.Context, c command) error {
	f.shown = append(f.shown, c.String())
	_, err := f.answer(c)
	return err
}

var errNo = errors.New("no")

// debian is a fake Debian 12: each thing that is asked for is there once the package that brings it is installed.
type debian struct {
	fakeMachine
	installed []string
	lists     bool            // the package lists are there
	stale     bool            // the lists name files the server no longer keeps
	broken    map[string]bool // packages that install without bringing anything
}

// brings says which Debian 12 package holds what is asked for: `dpkg -S FILE` there.
func brings() map[string]string {
	return map[string]string{
		"stdlib.h": "libc6-dev", "vector": "g++", "GL/gl.h": "libgl-dev",
		"X11/Xlib.h": "libx11-dev", "X11/XKBlib.h": "libx11-dev", "X11/Xcursor/Xcursor.h": "libxcursor-dev",
		"X11/extensions/Xrandr.h": "libxrandr-dev", "X11/extensions/Xinerama.h": "libxinerama-dev",
		"X11/extensions/XInput2.h": "libxi-dev", "X11/extensions/xf86vmode.h": "libxxf86vm-dev",
		"opencv4": "libopencv-dev", "gl": "libgl-dev", "ezdxf": "python3-ezdxf",
		"pdfinfo": "poppler-utils", "pdftoppm": "poppler-utils", "pdftotext": "poppler-utils", "rsvg-convert": "librsvg2-bin",
	}
}

func newDebian(installed ...string) *debian {
	d := &debian{installed: installed, lists: true}
	d.programs = []string{"go", "apt-get"}
	d.answer = d.reply
	return d
}

func (d *debian) Has(name string) bool {
	return d.fakeMachine.Has(name) || d.there(name)
}

func (d *debian) there(thing string) bool {
	name := brings()[thing]
	return name != "" && slices.Contains(d.installed, name) && !d.broken[name]
}

// reply plays the commands that a set-up may run; any other is an error, so a test notices.
func (d *debian) reply(c command) (string, error) {
	line := c.String()
	switch {
	case line == "go env CC CXX PKG_CONFIG":
		return "gcc\ng++\npkg-config\n", nil
	case strings.HasPrefix(line, "gcc -E"), strings.HasPrefix(line, "g++ -E"):
		header := strings.TrimSuffix(strings.TrimPrefix(c.Input, "#include <"), ">\n")
		return "", okay(slices.Contains(d.installed, c.Name) && d.there(header))
	case c.Name == "pkg-config":
		last := c.Args[len(c.Args)-1]
		return "4.6.0\n", okay(slices.Contains(d.installed, "pkg-config") && (last == "--version" || d.there(last)))
	case line == "/usr/bin/python3 -c import ezdxf":
		return "", okay(d.there("ezdxf"))
	case slices.Contains(append(c.Args, c.Name), "apt-get"):
		return "", d.aptGet(append([]string{c.Name}, c.Args...))
	}
	return "", errors.New("not played here: " + line)
}

func (d *debian) aptGet(words []string) error {
	if slices.Contains(words, "update") {
		d.lists, d.stale = true, false
		return nil
	}
	if slices.Contains(words, "-s") {
		return okay(d.lists)
	}
	if !d.lists || d.stale {
		return errNo
	}
	d.installed = append(d.installed, words[slices.Index(words, "install")+1:]...)
	return nil
}

func okay(yes bool) error {
	if yes {
		return nil
	}
	return errNo
}

// hostOf puts a machine into a Linux host whose progress goes to the returned buffer.
func hostOf(m machine) (host, *bytes.Buffer) {
	var out bytes.Buffer
	return host{machine: m, OS: "linux", Root: true, Getenv: func(string) string { return "" }, Out: &out}, &out
}

func writeFile(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}
