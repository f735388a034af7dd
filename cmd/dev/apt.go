package main

import (
	"context"
	"strings"
)

// aptPlan is one installation of Debian packages.
type aptPlan struct {
	prefix   []string // what gives the right to install: nothing or sudo
	packages []string
}

// run installs the packages. The lists are fetched only when apt cannot place a package, or when the lists it has
// name files that the server no longer keeps.
func (p aptPlan) run(ctx context.Context, h host) error {
	h.say("Installing Debian packages: %s", strings.Join(p.packages, " "))
	_, err := h.Ask(ctx, cmd("apt-get", p.installArgs("-s", "-qq")...))
	fresh := err != nil
	if fresh {
		if err := p.update(ctx, h); err != nil {
			return err
		}
	}
	err = h.Show(ctx, p.apt(p.installArgs("-q", "-y")...))
	if err == nil || fresh || ctx.Err() != nil {
		return err
	}
	if err := p.update(ctx, h); err != nil {
		return err
	}
	return h.Show(ctx, p.apt(p.installArgs("-q", "-y")...))
}

func (p aptPlan) update(ctx context.Context, h host) error {
	h.say("Fetching the package lists ...")
	return h.Show(ctx, p.apt("-q", "update"))
}

// installArgs are apt-get's arguments for these packages and nothing merely recommended.
func (p aptPlan) installArgs(options ...string) []string {
	return append(append(options, "--no-install-recommends", "install"), p.packages...)
}

// apt makes an apt-get command that asks no questions and waits for another installation to end. sudo drops
// most of the environment, so env sets the variable behind it.
func (p aptPlan) apt(args ...string) command {
	words := append(append([]string{}, p.prefix...), "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-o", "DPkg::Lock::Timeout=300")
	words = append(words, args...)
	return cmd(words[0], words[1:]...)
}

// byHand is the command for a person to type.
func (p aptPlan) byHand() string {
	return "apt-get update && apt-get install --no-install-recommends " + strings.Join(p.packages, " ")
}
