package main

import (
	"context"
	"errors"
	"fmt"
)

// prepare sees to it that all needs are met, installing Debian packages where it can. Its error says what is lacking
// and which command brings it.
func prepare(ctx context.Context, h host, needs []need) error {
	h.say("Looking for what the program is built with ...")
	t, err := askTools(ctx, h)
	if err != nil {
		return err
	}
	lack := missing(ctx, h, t, needs)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if len(lack) == 0 {
		h.say("All there.")
		return nil
	}
	h.say("Missing: %s.", names(lack))
	if err := install(ctx, h, lack); err != nil {
		return err
	}
	if lack = missing(ctx, h, t, lack); len(lack) > 0 {
		return fmt.Errorf("still missing after the packages were installed: %s", names(lack))
	}
	h.say("All there now.")
	return nil
}

// install brings in the packages for what is lacking, or says in its error how a person can.
func install(ctx context.Context, h host, lack []need) error {
	if !h.Has("apt-get") {
		return errors.New(advice(h, lack))
	}
	plan := aptPlan{packages: packages(lack, func(n need) string { return n.apt })}
	switch {
	case h.Root:
	case !h.Has("sudo"):
		return fmt.Errorf("this user may not install packages; run this as root, then start again: %s", plan.byHand())
	case h.Terminal:
		plan.prefix = []string{"sudo"}
	default:
		plan.prefix = []string{"sudo", "-n"}
	}
	if err := plan.run(ctx, h); err != nil {
		return fmt.Errorf("the packages could not be installed (%w); run this as root, then start again: %s", err, plan.byHand())
	}
	return nil
}
