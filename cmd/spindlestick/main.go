package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"

	"github.com/alecthomas/kong"

	_ "spindlestick/cmd/spindlestick/locale" // before the window toolkit
)

// The exit codes.
const (
	exitDone  = 0
	exitFail  = 1
	exitUsage = 2
)

// commands is the command line.
type commands struct {
	Window windowCmd `cmd:"" default:"withargs" help:"Open the window, on a photograph or a job where one is named."`
	Trace  traceCmd  `cmd:"" help:"Photographs to patterns."`
	Join   joinCmd   `cmd:"" help:"Jobs of overlapping photographs along one piece to one job."`
	Oval   ovalCmd   `cmd:"" help:"Two jobs of one piece, turned by a quarter between them: how round it is."`
	Sheet  sheetCmd  `cmd:"" help:"A job to its story stick, drawing, template and table on paper."`
	Plan   planCmd   `cmd:"" help:"A job to its work plan: blank, sizing cuts, order of work, cautions."`
	Check  checkCmd  `cmd:"" help:"Copies against their original, station by station."`
	Board  boardCmd  `cmd:"" help:"The scale boards to print."`
}

// environment is what a command works with.
type environment struct {
	ctx            context.Context
	stdout, stderr io.Writer
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := run(environment{ctx, os.Stdout, os.Stderr}, os.Args[1:])
	stop()
	os.Exit(code)
}

// run does what args say and returns the exit code. Anything that goes wrong is one line on stderr.
func run(env environment, args []string) int {
	var c commands
	exited := -1
	parser, err := kong.New(&c, kong.Name("spindlestick"), kong.Writers(env.stdout, env.stderr),
		kong.Description("From a photograph of an old turning to what is needed at the lathe to make it again."),
		kong.Exit(func(code int) { exited = code }), kong.ConfigureHelp(kong.HelpOptions{Compact: true}))
	if err != nil {
		fmt.Fprintln(env.stderr, "spindlestick:", err)
		return exitFail
	}
	call, err := parser.Parse(args)
	if exited >= 0 { // help was asked for and printed
		return exited
	}
	if err != nil {
		fmt.Fprintf(env.stderr, "spindlestick: %v (spindlestick --help lists the commands)\n", err)
		return exitUsage
	}
	if err := call.Run(env); err != nil {
		fmt.Fprintln(env.stderr, "spindlestick:", err)
		return exitFail
	}
	return exitDone
}
