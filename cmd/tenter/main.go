// Tenter is the shared production tracker of a small pattern studio.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"tenter/models"
	"tenter/models/calc"
)

// Exit codes: 0 done, 1 failed, 2 bad input.
const (
	exitFailed   = 1
	exitBadInput = 2
)

type commands struct {
	Serve   serveCommand   `cmd:"" help:"Serve the studio."`
	Demo    demoCommand    `cmd:"" help:"Serve an invented studio on a throwaway database."`
	Migrate migrateCommand `cmd:"" help:"Bring the database's schema up to date and stop."`
	Backup  backupCommand  `cmd:"" help:"Make a verified copy of the database, while it is served."`
	Restore restoreCommand `cmd:"" help:"Put a copy back in the place of the database."`
	Archive archiveCommand `cmd:"" help:"The whole studio as one file, out and in."`
	Check   checkCommand   `cmd:"" help:"Check the database: its file, what its rows point at, and the studio's rules."`
	Person  personCommand  `cmd:"" help:"People who sign in."`
	Calc    calcCommand    `cmd:"" help:"Carry out a calculation: JSON in, JSON out."`
	Health  healthCommand  `cmd:"" help:"Ask the server on this machine whether it is ready: exit 0 when it is."`
	Version versionCommand `cmd:"" help:"Print the version."`
}

// streams are the program's ends, so that tests can hold them.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

func main() {
	told, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// The first signal asks the server to finish; from then on the system deals
	// with signals, and a second one ends it at once.
	ctx, cancel := context.WithCancel(context.Background())
	context.AfterFunc(told, func() { stop(); cancel() })
	code := run(ctx, os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr})
	stop()
	os.Exit(code)
}

// run parses the arguments and carries out the command; it returns the exit code.
func run(ctx context.Context, args []string, io streams) int {
	var cli commands
	exit := -1
	parser, err := kong.New(&cli, kong.Name("tenter"), kong.UsageOnError(), kong.Writers(io.out, io.err),
		kong.Exit(func(code int) { exit = code }),
		kong.Description("The shared production tracker of a small pattern studio."),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(io))
	if err != nil {
		fmt.Fprintln(io.err, "tenter:", err)
		return exitFailed
	}
	parsed, err := parser.Parse(args)
	if exit >= 0 { // --help has answered
		return exit
	}
	if err != nil {
		fmt.Fprintln(io.err, "tenter:", err)
		return exitBadInput
	}
	if err := parsed.Run(); err != nil {
		fmt.Fprintln(io.err, "tenter:", err)
		return codeOf(err)
	}
	return 0
}

// codeOf tells bad input, which the caller can mend, from what failed.
func codeOf(err error) int {
	var input interface{ FieldPath() string }
	var unknown *calc.UnknownError
	if errors.As(err, &input) || errors.As(err, &unknown) || models.KindOf(err) == models.Invalid {
		return exitBadInput
	}
	return exitFailed
}

// invalid is an input or a setting at fault, named.
func invalid(field, format string, args ...any) error {
	return &models.Error{Kind: models.Invalid, Fields: []models.FieldProblem{{Field: field, Problem: fmt.Sprintf(format, args...)}}}
}
