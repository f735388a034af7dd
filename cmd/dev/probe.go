package main

import (
	"context"
	"slices"
	"strings"
)

// probe asks the machine for one thing; it answers true when the thing is there and works.
type probe func(ctx context.Context, m machine, t tools) bool

// succeeds is the probe that runs a command and looks at its exit status alone.
func succeeds(c command) probe {
	return func(ctx context.Context, m machine, _ tools) bool {
		_, err := m.Ask(ctx, c)
		return err == nil
	}
}

// present is the probe for programs on the search path; all must be there.
func present(names ...string) probe {
	return func(_ context.Context, m machine, _ tools) bool {
		return !slices.ContainsFunc(names, func(name string) bool { return !m.Has(name) })
	}
}

// cHeader preprocesses one header with the C compiler. A package may be installed and its headers not be: only the
// compiler knows its search path.
func cHeader(name string) probe {
	return func(ctx context.Context, m machine, t tools) bool {
		return preprocesses(ctx, m, call(t.CC, "-E", "-x", "c", "-"), name)
	}
}

// cxxHeader does the same with the C++ compiler.
func cxxHeader(name string) probe {
	return func(ctx context.Context, m machine, t tools) bool {
		return preprocesses(ctx, m, call(t.CXX, "-E", "-x", "c++", "-"), name)
	}
}

func preprocesses(ctx context.Context, m machine, c command, header string) bool {
	c.Input = "#include <" + header + ">\n"
	_, err := m.Ask(ctx, c)
	return err == nil
}

// pkgConfigWorks is the probe for pkg-config itself.
func pkgConfigWorks(ctx context.Context, m machine, t tools) bool {
	_, err := m.Ask(ctx, call(t.PkgConfig, "--version"))
	return err == nil
}

// module asks pkg-config for a library and wants its version to begin with the given text.
func module(name, version string) probe {
	return func(ctx context.Context, m machine, t tools) bool {
		text, err := m.Ask(ctx, call(t.PkgConfig, "--modversion", name))
		return err == nil && strings.HasPrefix(strings.TrimSpace(text), version)
	}
}

// both is the probe for a thing that needs two answers.
func both(a, b probe) probe {
	return func(ctx context.Context, m machine, t tools) bool { return a(ctx, m, t) && b(ctx, m, t) }
}

// missing returns the needs whose probe fails, in order.
func missing(ctx context.Context, m machine, t tools, needs []need) []need {
	var lack []need
	for _, n := range needs {
		if !n.found(ctx, m, t) {
			lack = append(lack, n)
		}
	}
	return lack
}
