package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"time"
)

// command is one program to run.
type command struct {
	Name  string
	Args  []string
	Env   []string // added to the environment, as NAME=value
	Input string   // what the program reads from its standard input
	Quiet bool     // Show passes on its standard error alone
}

// cmd makes a command without extra environment or input.
func cmd(name string, args ...string) command { return command{Name: name, Args: args} }

// String returns the command as one would type it.
func (c command) String() string {
	words := append(append([]string{}, c.Env...), c.Name)
	return strings.Join(append(words, c.Args...), " ")
}

// machine runs programs; tests put a fake in its place.
type machine interface {
	// Has reports whether a program of that name can be started.
	Has(name string) bool
	// Ask runs a command out of sight and returns what it wrote to its standard output.
	Ask(ctx context.Context, c command) (string, error)
	// Show runs a command and passes on what it writes, as it writes it.
	Show(ctx context.Context, c command) error
}

// grace is how long an interrupted child may take to end before it is killed: `go build` needs a moment
// to remove its work folder.
const grace = 10 * time.Second

// realMachine is this computer, with dir as the folder in which commands run.
type realMachine struct{ dir string }

var _ machine = realMachine{}

func (realMachine) Has(name string) bool {
	_, err := exec.LookPath(name)
	return err == nil
}

func (m realMachine) Ask(ctx context.Context, c command) (string, error) {
	child := m.child(ctx, c)
	var out, complaint bytes.Buffer
	child.Stdout, child.Stderr = &out, &complaint
	if err := child.Run(); err != nil {
		return out.String(), fmt.Errorf("%s: %w: %s", c, err, strings.TrimSpace(complaint.String()))
	}
	return out.String(), nil
}

func (m realMachine) Show(ctx context.Context, c command) error {
	child := m.child(ctx, c)
	child.Stderr = os.Stderr
	if !c.Quiet {
		child.Stdout = os.Stdout
	}
	if err := child.Run(); err != nil {
		return fmt.Errorf("%s: %w", c, err)
	}
	return nil
}

// child prepares the process. It stays in our process group, so that Ctrl+C in a terminal reaches it and
// all that it started; when only we are signalled, the context passes the interrupt on.
func (m realMachine) child(ctx context.Context, c command) *exec.Cmd {
	child := exec.CommandContext(ctx, c.Name, c.Args...)
	child.Dir = m.dir
	child.Env = append(os.Environ(), c.Env...)
	if c.Input != "" {
		child.Stdin = strings.NewReader(c.Input)
	}
	child.Cancel = func() error { return child.Process.Signal(os.Interrupt) }
	child.WaitDelay = grace
	return child
}
