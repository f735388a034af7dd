package main

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// tree is a fake machine with everything installed and a source tree on which chosen checks fail.
type tree struct {
	*debian
	unformatted string   // what gofmt lists
	failing     []string // commands that fail, by their beginning
	gofmtArgs   []string
}

func (r *tree) Ask(ctx context.Context, c command) (string, error) {
	switch line := c.String(); {
	case line == "git ls-files -z *.go":
		return "a.go\x00b c.go\x00", nil
	case line == "go env GOROOT":
		return "/opt/go\n", nil
	case line == "go list -tags ci,migrated_fynedo ./...":
		return "spindlestick/app\nspindlestick/app/job\nspindlestick/profile\nspindlestick/profile/fit\nspindlestick/profiler\nspindlestick/vision\n", nil
	case c.Name == "/opt/go/bin/gofmt":
		r.gofmtArgs = c.Args
		return r.unformatted, nil
	}
	return r.debian.Ask(ctx, c)
}

func (r *tree) Show(_ context.Context, c command) error {
	r.shown = append(r.shown, c.String())
	for _, f := range r.failing {
		if strings.HasPrefix(c.String(), f) {
			return errNo
		}
	}
	return nil
}

const (
	vetCall    = "go vet -tags ci,migrated_fynedo ./..."
	staticCall = "go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 -tags ci,migrated_fynedo ./..."
	testCall   = "go test -tags ci,migrated_fynedo ./..."
)

func TestChecksAllRunAndTestsComeLast(t *testing.T) {
	tests := []struct {
		name        string
		unformatted string
		failing     []string
		want        string // part of the error, none when empty
	}{
		{"all well", "", nil, ""},
		{"format", "b c.go\n", nil, "gofmt -w on: b c.go"},
		{"vet", "", []string{"go vet"}, "no"},
		{"static analysis", "", []string{"go run"}, "no"},
		{"tests", "", []string{"go test"}, "no"},
		{"several", "a.go\nb c.go\n", []string{"go vet", "go test"}, "gofmt -w on: a.go b c.go\nno\nno"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := &tree{debian: newDebian(everything()...), unformatted: tt.unformatted, failing: tt.failing}
			h, _ := hostOf(r)
			err := test(context.Background(), h, false)
			if (err == nil) != (tt.want == "") || err != nil && !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
			if diff := cmp.Diff([]string{vetCall, staticCall, testCall}, r.shown); diff != "" {
				t.Errorf("commands (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff([]string{"-l", "a.go", "b c.go"}, r.gofmtArgs); diff != "" {
				t.Errorf("gofmt (-want +got):\n%s", diff)
			}
		})
	}
}

func TestAllAddsSlowTestsAndTheRaceDetector(t *testing.T) {
	r := &tree{debian: newDebian(everything()...), failing: []string{allVariable + " go test -tags ci,migrated_fynedo -timeout 60m -race"}}
	h, _ := hostOf(r)
	if err := test(context.Background(), h, true); !errors.Is(err, errNo) {
		t.Errorf("error %v, want the failure under the race detector", err)
	}
	const call = "SPINDLESTICK_ALL=1 go test -tags ci,migrated_fynedo -timeout 60m "
	want := []string{vetCall, staticCall,
		call + "-race spindlestick/app/job spindlestick/profile spindlestick/profile/fit",
		call + "spindlestick/app spindlestick/profiler spindlestick/vision"}
	if diff := cmp.Diff(want, r.shown); diff != "" {
		t.Errorf("commands (-want +got):\n%s", diff)
	}
}

func TestChecksStopWhenInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	r := &tree{debian: newDebian(everything()...)}
	h, _ := hostOf(interrupting{r, cancel})
	if err := test(ctx, h, false); !errors.Is(err, context.Canceled) || len(r.shown) != 1 {
		t.Errorf("error %v, commands %q; want to stop after the first", err, r.shown)
	}
}

// interrupting is a machine on which somebody presses Ctrl+C during the first command shown.
type interrupting struct {
	machine
	cancel context.CancelFunc
}

func (i interrupting) Show(ctx context.Context, c command) error {
	i.cancel()
	return errors.Join(i.machine.Show(ctx, c), ctx.Err())
}
