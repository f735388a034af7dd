package main

import (
	"context"
	"fmt"
	"os"
	"time"
)

// Build tags: migrated_fynedo tells the window's toolkit that the code hands work to the main thread by itself;
// ci selects its software driver, so that tests need no display.
const (
	programTags = "migrated_fynedo"
	testTags    = "ci,migrated_fynedo"
)

// beat is the pause between signs of life; shorter would crowd the output, longer looks like a hang.
const beat = 30 * time.Second

// step says what comes, runs the command in sight, and while it runs shows on the standard error that time passes:
// compiling the C++ binding writes nothing for minutes.
func (h host) step(ctx context.Context, what string, c command) error {
	h.say("%s: %s", what, c)
	done := make(chan struct{})
	defer close(done)
	go ticks(what, time.Now(), done)
	return h.Show(ctx, c)
}

func ticks(what string, start time.Time, done <-chan struct{}) {
	t := time.NewTicker(beat)
	defer t.Stop()
	for {
		select {
		case <-done:
			return
		case now := <-t.C:
			fmt.Fprintf(os.Stderr, "  %s: %v so far\n", what, now.Sub(start).Round(time.Second))
		}
	}
}
