// Perchbook is a fitting and order portal for bespoke makers of small hats.
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
	_ "time/tzdata" // time zones travel with the program
)

const usage = `Perchbook, a fitting and order portal for makers of small hats.

  perchbook serve [--demo] [--listen ADDRESS] [--data FOLDER] [--public-url URL] [--proxy ADDRESS]
      run the portal
  perchbook fit [--words] [--draw FOLDER] < case.json
      work one case out, by the same engine: as JSON or in words, with drawings and patterns
  perchbook key [--data FOLDER]
      print a new one-time link with which the milliner sets her password
  perchbook backup [--data FOLDER] FILE
      write a checked copy of the whole workroom to a new file
  perchbook restore [--data FOLDER] FILE
      put such a copy into a data folder that holds no workroom, without what was erased since
  perchbook healthy [--at URL]
      ask a running portal whether it is well

`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run carries one command out and returns the exit status: 0 done, 1 it failed, 2 it was not understood.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	if len(args) == 0 {
		fmt.Fprint(errs, usage)
		return 2
	}
	commands := map[string]func(context.Context, []string, io.Writer, io.Writer) error{
		"serve": serveCommand, "key": keyCommand, "backup": backupCommand, "restore": restoreCommand, "healthy": healthyCommand,
	}
	if args[0] == "fit" {
		return fitCommand(args[1:], in, out, errs)
	}
	command, ok := commands[args[0]]
	if !ok {
		fmt.Fprintf(errs, "There is no command %q.\n\n%s", args[0], usage)
		return 2
	}
	switch err := command(ctx, args[1:], out, errs); {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.As(err, new(misuse)):
		fmt.Fprintf(errs, "%v\n\n%s", err, usage)
		return 2
	default:
		fmt.Fprintf(errs, "perchbook %s: %v\n", args[0], err)
		return 1
	}
}

// A misuse is a command line that was not understood.
type misuse string

func (m misuse) Error() string { return string(m) }

// parse reads the flags and wants exactly rest further words.
func parse(f *flag.FlagSet, args []string, errs io.Writer, rest int) error {
	f.SetOutput(errs)
	if err := f.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return err
		}
		return misuse(err.Error())
	}
	if f.NArg() != rest {
		return misuse(fmt.Sprintf("%s takes %d words after its options, not %d.", f.Name(), rest, f.NArg()))
	}
	return nil
}
