package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
)

// staticcheck is pinned, so that a new release cannot fail an unchanged tree.
const staticcheck = "honnef.co/go/tools/cmd/staticcheck@v0.8.2"

// allVariable asks the tests for their slow cases too.
const allVariable = "SPINDLESTICK_ALL=1"

// test prepares the machine and runs every check. A failed check does not keep the later ones from running; the
// tests come last, so that their summary is what one sees at the end.
func test(ctx context.Context, h host, all bool) error {
	if err := prepare(ctx, h, append(buildNeeds(h.OS), testNeeds()...)); err != nil {
		return err
	}
	var failed []error
	for _, check := range checks(all) {
		if err := check(ctx, h); err != nil {
			failed = append(failed, err)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	return errors.Join(failed...)
}

// check is one check of the whole tree.
type check func(ctx context.Context, h host) error

func checks(all bool) []check {
	list := []check{
		formatted,
		stepCheck("Vet", cmd("go", "vet", "-tags", testTags, "./...")),
		stepCheck("Static analysis", cmd("go", "run", staticcheck, "-tags", testTags, "./...")),
	}
	if all {
		return append(list, testAll)
	}
	return append(list, stepCheck("Tests (a first build takes several minutes)", cmd("go", "test", "-tags", testTags, "./...")))
}

func stepCheck(what string, c command) check {
	return func(ctx context.Context, h host) error { return h.step(ctx, what, c) }
}

// formatted runs gofmt, from the toolchain in use, over all Go files that git knows.
func formatted(ctx context.Context, h host) error {
	list, err := h.Ask(ctx, cmd("git", "ls-files", "-z", "*.go"))
	if err != nil {
		return fmt.Errorf("the list of source files: %w", err)
	}
	root, err := h.Ask(ctx, cmd("go", "env", "GOROOT"))
	if err != nil {
		return err
	}
	files := strings.FieldsFunc(list, func(r rune) bool { return r == 0 })
	h.say("Format: gofmt -l over %d files", len(files))
	if len(files) == 0 {
		return errors.New("git knows no Go files here")
	}
	gofmt := filepath.Join(strings.TrimSpace(root), "bin", "gofmt"+exeSuffix(h.OS))
	wrong, err := h.Ask(ctx, cmd(gofmt, append([]string{"-l"}, files...)...))
	if err != nil {
		return fmt.Errorf("gofmt: %w", err)
	}
	if wrong = strings.TrimSpace(wrong); wrong != "" {
		return fmt.Errorf("not formatted; run gofmt -w on: %s", strings.ReplaceAll(wrong, "\n", " "))
	}
	return nil
}

// testAll runs the slow tests too, with the race detector where no C++ library takes part: it would have to be
// rebuilt, and the detector sees nothing of it.
func testAll(ctx context.Context, h host) error {
	list, err := h.Ask(ctx, cmd("go", "list", "-tags", testTags, "./..."))
	if err != nil {
		return fmt.Errorf("the list of packages: %w", err)
	}
	pure, rest := splitPure(strings.Fields(list))
	return errors.Join(
		h.testPackages(ctx, "Tests with the race detector", pure, "-race"),
		h.testPackages(ctx, "Tests", rest),
	)
}

// slowLimit is the time one package may take with its slow tests under the race detector; go test's own limit of
// ten minutes is meant for quick ones.
const slowLimit = "60m"

func (h host) testPackages(ctx context.Context, what string, packages []string, options ...string) error {
	if len(packages) == 0 || ctx.Err() != nil {
		return ctx.Err()
	}
	args := append([]string{"test", "-tags", testTags, "-timeout", slowLimit}, options...)
	c := cmd("go", append(args, packages...)...)
	c.Env = []string{allVariable}
	return h.step(ctx, what, c)
}

// splitPure separates the packages that are Go alone, by the layers of the design, from the rest.
func splitPure(packages []string) (pure, rest []string) {
	for _, name := range packages {
		_, path, _ := strings.Cut(name, "/")
		if path == "profile" || strings.HasPrefix(path, "profile/") || path == "app/job" {
			pure = append(pure, name)
		} else {
			rest = append(rest, name)
		}
	}
	return pure, rest
}
