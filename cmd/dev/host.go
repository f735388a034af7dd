package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// host is what the work needs to know about the computer it runs on.
type host struct {
	machine
	OS       string              // as runtime.GOOS
	Root     bool                // packages may be installed without asking
	Terminal bool                // somebody can type a password
	Getenv   func(string) string // the environment
	Dir      string              // the top folder of the source
	Out      io.Writer           // progress for the reader
}

// newHost looks at this computer. It puts the Go tool on the search path for all children: they call `go` by name.
func newHost(out io.Writer) (host, error) {
	here, err := os.Getwd()
	if err != nil {
		return host{}, fmt.Errorf("cannot tell the current folder: %w", err)
	}
	dir, err := sourceTop(here)
	if err != nil {
		return host{}, err
	}
	m := realMachine{dir: dir}
	if !m.Has("go") {
		if err := addGo(goFolders(os.Getenv)); err != nil {
			return host{}, err
		}
	}
	return host{
		machine: m, OS: runtime.GOOS, Root: os.Geteuid() == 0, Terminal: terminal(),
		Getenv: os.Getenv, Dir: dir, Out: out,
	}, nil
}

// say prints one line of progress.
func (h host) say(format string, args ...any) { fmt.Fprintf(h.Out, format+"\n", args...) }

// sourceTop walks up from a folder to the one that holds this module's go.mod.
func sourceTop(from string) (string, error) {
	for dir := from; ; dir = filepath.Dir(dir) {
		data, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil && strings.HasPrefix(string(data), "module spindlestick\n") {
			return dir, nil
		}
		if dir == filepath.Dir(dir) {
			return "", fmt.Errorf("%s is not inside the source of this program: change to its top folder and start again", from)
		}
	}
}

// goFolders lists where the Go tool lives when it is not on the search path.
func goFolders(getenv func(string) string) []string {
	folders := []string{"/usr/local/go/bin"}
	if root := getenv("GOROOT"); root != "" {
		folders = append([]string{filepath.Join(root, "bin")}, folders...)
	}
	return folders
}

// addGo appends the first folder that holds the Go tool to the search path.
func addGo(folders []string) error {
	for _, folder := range folders {
		if _, err := os.Stat(filepath.Join(folder, "go"+exeSuffix(runtime.GOOS))); err == nil {
			return os.Setenv("PATH", os.Getenv("PATH")+string(os.PathListSeparator)+folder)
		}
	}
	return errors.New("the go command is not on PATH: add its folder to PATH and start again")
}

// exeSuffix is what a program's file name ends with.
func exeSuffix(goos string) string {
	if goos == "windows" {
		return ".exe"
	}
	return ""
}

// terminal reports whether this process has a controlling terminal. Standard input does not tell: it may be a pipe
// in a terminal, or the null device, which looks like one.
func terminal() bool {
	f, err := os.OpenFile("/dev/tty", os.O_RDWR, 0)
	if err != nil {
		return false
	}
	f.Close()
	return true
}
