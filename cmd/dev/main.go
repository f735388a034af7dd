package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
)

const usage = `usage: go run ./cmd/dev COMMAND

  demo         prepare this machine, build the program, trace the demonstration photograph
               and open the window on the result
  test [-all]  prepare this machine and run every check; -all adds the slow tests and the race detector
`

// errUsage marks a command line that was not understood; the exit status is then 2.
var errUsage = errors.New("wrong usage")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// A second Ctrl+C ends the command at once, even when a child will not stop.
	context.AfterFunc(ctx, stop)
	err := run(ctx, os.Args[1:], os.Stdout)
	switch {
	case err == nil:
		return
	case errors.Is(err, flag.ErrHelp):
		fmt.Print(usage)
		return
	case errors.Is(err, errUsage):
		fmt.Fprintf(os.Stderr, "dev: %v\n%s", err, usage)
		os.Exit(2)
	case ctx.Err() != nil:
		fmt.Fprintln(os.Stderr, "dev: stopped")
	default:
		fmt.Fprintln(os.Stderr, "dev:", err)
	}
	os.Exit(1)
}

// run reads the command line and does the work; it returns errUsage, flag.ErrHelp or the failure of the work.
func run(ctx context.Context, args []string, out io.Writer) error {
	what, all, err := parse(args)
	if err != nil {
		return err
	}
	h, err := newHost(out)
	if err != nil {
		return err
	}
	if what == "demo" {
		return demo(ctx, h)
	}
	return test(ctx, h, all)
}

// parse returns the command (demo or test) and whether -all was given.
func parse(args []string) (what string, all bool, err error) {
	if len(args) == 0 {
		return "", false, fmt.Errorf("%w: no command given", errUsage)
	}
	flags := flag.NewFlagSet(args[0], flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	switch args[0] {
	case "demo":
	case "test":
		flags.BoolVar(&all, "all", false, "slow tests and race detector too")
	case "help", "-h", "-help", "--help":
		return "", false, flag.ErrHelp
	default:
		return "", false, fmt.Errorf("%w: no command %q", errUsage, args[0])
	}
	if err := flags.Parse(args[1:]); errors.Is(err, flag.ErrHelp) {
		return "", false, err
	} else if err != nil {
		return "", false, fmt.Errorf("%w: %w", errUsage, err)
	}
	if flags.NArg() > 0 {
		return "", false, fmt.Errorf("%w: %s takes no argument %q", errUsage, args[0], flags.Arg(0))
	}
	return args[0], all, nil
}
