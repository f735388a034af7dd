package main

import (
	"context"
	"fmt"
	"strings"
)

// tools are the commands cgo will use, each as a program and its fixed arguments.
type tools struct{ CC, CXX, PkgConfig []string }

// askTools asks the Go tool which compilers and which pkg-config it will call, so that the probes use the same.
func askTools(ctx context.Context, m machine) (tools, error) {
	text, err := m.Ask(ctx, cmd("go", "env", "CC", "CXX", "PKG_CONFIG"))
	if err != nil {
		return tools{}, fmt.Errorf("the go command does not work: %w", err)
	}
	lines := strings.Split(text, "\n")
	word := func(i int, otherwise string) []string {
		if i < len(lines) && strings.TrimSpace(lines[i]) != "" {
			return strings.Fields(lines[i])
		}
		return []string{otherwise}
	}
	return tools{CC: word(0, "cc"), CXX: word(1, "c++"), PkgConfig: word(2, "pkg-config")}, nil
}

// call makes a command of a tool and further arguments.
func call(tool []string, args ...string) command {
	return cmd(tool[0], append(append([]string{}, tool[1:]...), args...)...)
}
