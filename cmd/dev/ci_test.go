package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// checkout copies the check script into a folder of its own and returns the script's path.
func checkout(t *testing.T) (top, script string) {
	t.Helper()
	text, err := os.ReadFile("../../.ci/run")
	if err != nil {
		t.Fatal(err)
	}
	top = filepath.Join(t.TempDir(), "tree")
	script = filepath.Join(top, ".ci", "run")
	if err := os.MkdirAll(filepath.Dir(script), 0o755); err != nil {
		t.Fatal(err)
	}
	writeFile(t, script, string(text))
	return top, script
}

// runScript runs the script with a go command that prints its folder, its arguments and the variable, and fails
// as told.
func runScript(t *testing.T, script, status string, env ...string) (string, error) {
	t.Helper()
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("bash is not here")
	}
	bin := t.TempDir()
	writeFile(t, filepath.Join(bin, "go"), "#!/bin/sh\necho \"$PWD|$*|${SPINDLESTICK_BENCH-unset}\"\nexit "+status+"\n")
	if err := os.Chmod(filepath.Join(bin, "go"), 0o700); err != nil {
		t.Fatal(err)
	}
	c := exec.Command("bash", script)
	c.Env = append([]string{"PATH=" + bin + ":/usr/bin:/bin"}, env...)
	out, err := c.Output()
	return strings.TrimSpace(string(out)), err
}

func TestCheckScript(t *testing.T) {
	top, script := checkout(t)
	if got, err := runScript(t, script, "0"); err != nil || got != top+"|run ./cmd/dev test|unset" {
		t.Errorf("without photographs: %q, %v", got, err)
	}
	bench := filepath.Join(filepath.Dir(top), "shared", "bench")
	if err := os.MkdirAll(bench, 0o755); err != nil {
		t.Fatal(err)
	}
	if got, err := runScript(t, script, "0"); err != nil || got != top+"|run ./cmd/dev test|"+bench {
		t.Errorf("with photographs: %q, %v", got, err)
	}
	if got, err := runScript(t, script, "0", "SPINDLESTICK_BENCH=/other"); err != nil || !strings.HasSuffix(got, "|/other") {
		t.Errorf("with another folder chosen: %q, %v", got, err)
	}
	if _, err := runScript(t, script, "1"); err == nil {
		t.Error("a failure gave exit status 0")
	}
}
