package main

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// childVariable makes the test program play a child: it says that it is ready, waits for an interrupt, says so and ends.
const childVariable = "DEV_TEST_CHILD"

func TestMain(m *testing.M) {
	if path := os.Getenv(childVariable); path != "" {
		os.Exit(waitForInterrupt(path))
	}
	os.Exit(m.Run())
}

func waitForInterrupt(path string) int {
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt)
	if err := os.WriteFile(path+".ready", nil, 0o600); err != nil {
		return 1
	}
	<-interrupts
	if err := os.WriteFile(path, []byte("interrupted"), 0o600); err != nil {
		return 1
	}
	return 3
}

func TestInterruptReachesTheChild(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot send an interrupt to one child there")
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "child")
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		for !exists(path + ".ready") {
			runtime.Gosched()
		}
		cancel()
	}()
	c := cmd(self)
	c.Env = []string{childVariable + "=" + path}
	err = realMachine{dir: "."}.Show(ctx, c)
	var exit *exec.ExitError
	if !errors.As(err, &exit) && !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "interrupted" {
		t.Errorf("the child was not interrupted but killed: %q, %v", text, err)
	}
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func TestAsk(t *testing.T) {
	m := realMachine{dir: t.TempDir()}
	if !m.Has("go") || m.Has("no-such-program-anywhere") {
		t.Error("Has is wrong about the go command or about none")
	}
	c := cmd("go", "run", "-")
	if _, err := m.Ask(context.Background(), c); err == nil || !strings.Contains(err.Error(), "go run -: exit status 1: ") {
		t.Errorf("a failure must carry the command, its status and its complaint: %v", err)
	}
	c = cmd("go", "env", "GOEXPERIMENT_OF_NONE", "GOARCH")
	c.Env = []string{"GOARCH=riscv64"}
	if got, err := m.Ask(context.Background(), c); err != nil || got != "\nriscv64\n" {
		t.Errorf("got %q, %v", got, err)
	}
	c = cmd("gofmt")
	c.Input = "package  a\n"
	if !m.Has("gofmt") {
		t.Skip("gofmt is not on PATH")
	}
	if got, err := m.Ask(context.Background(), c); err != nil || got != "package a\n" {
		t.Errorf("got %q, %v", got, err)
	}
}

func TestSourceTop(t *testing.T) {
	top := t.TempDir()
	inner := filepath.Join(top, "cmd", "dev")
	if err := os.MkdirAll(inner, 0o755); err != nil {
		t.Fatal(err)
	}
	// A module of another name on the way does not count.
	writeFile(t, filepath.Join(top, "cmd", "go.mod"), "module other\n")
	if got, err := sourceTop(inner); err == nil {
		t.Errorf("found %s where there is none", got)
	}
	writeFile(t, filepath.Join(top, "go.mod"), "module spindlestick\n\ngo 1.26.0\n")
	if got, err := sourceTop(inner); err != nil || got != top {
		t.Errorf("got %s, %v, want %s", got, err, top)
	}
}

func TestAddGo(t *testing.T) {
	t.Setenv("PATH", "/bin")
	empty, full := t.TempDir(), t.TempDir()
	if err := addGo([]string{empty}); err == nil {
		t.Error("a folder without the go command passed")
	}
	writeFile(t, filepath.Join(full, "go"+exeSuffix(runtime.GOOS)), "")
	if err := addGo([]string{empty, full}); err != nil {
		t.Fatal(err)
	}
	if want := "/bin" + string(os.PathListSeparator) + full; os.Getenv("PATH") != want {
		t.Errorf("PATH is %q, want %q", os.Getenv("PATH"), want)
	}
	root := func(name string) string { return map[string]string{"GOROOT": "/opt/go"}[name] }
	if got := goFolders(root); got[0] != filepath.Join("/opt/go", "bin") || got[1] != "/usr/local/go/bin" {
		t.Errorf("folders %q", got)
	}
}
