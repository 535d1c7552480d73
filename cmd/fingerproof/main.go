// Command fingerproof prepares a composer's piano works as a practical
// edition: it fingers scores, marks them in the house style, checks and
// compares them, and writes reports for the editor who decides.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"time"

	"fingerproof/corpus"

	"github.com/spf13/cobra"
	"golang.org/x/term"
)

// environment is everything a command may touch outside its arguments; tests
// give their own.
type environment struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Getenv         func(string) string
	StderrIsTTY    bool
	StdoutIsTTY    bool
	Program        string // the file of this program, to start it once more; "" where it cannot be
	StdinIsTTY     bool
}

// complain writes a line of the program's own on standard error.
func (env *environment) complain(format string, args ...any) {
	fmt.Fprintf(env.Stderr, "fingerproof: "+format+"\n", args...)
}

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbageAllowed)
	}
	if !asksFor("--memprofile", os.Args[1:]) {
		runtime.MemProfileRate = 0
	}
	os.Exit(mainStatus())
}

// asksFor says that an option stands among arguments. What memory is asked for is noted from the start or not at all, long
// before they are read, and takes a hundredth of a run's time.
func asksFor(option string, args []string) bool {
	return slices.ContainsFunc(args, func(arg string) bool { return arg == option || strings.HasPrefix(arg, option+"=") })
}

// garbageAllowed is how much memory may be let go, in percent of what is in use, before it is collected: twice what the
// language does by itself. A run over many pieces takes a twentieth less time of a processor with it; with more it has
// to ask the system for memory instead.
const garbageAllowed = 200

// mainStatus runs the program in the real environment and gives its exit
// status; the script tests call it as well.
func mainStatus() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	done := make(chan struct{})
	defer close(done)
	program, err := os.Executable()
	if err != nil {
		program = ""
	}
	env := &environment{
		Program: program,
		Stdin:   os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Getenv: os.Getenv,
		StderrIsTTY: term.IsTerminal(int(os.Stderr.Fd())),
		StdoutIsTTY: term.IsTerminal(int(os.Stdout.Fd())),
		StdinIsTTY:  term.IsTerminal(int(os.Stdin.Fd())),
	}
	go func() {
		select {
		case <-done:
		case <-ctx.Done():
			time.Sleep(graceAfterSignal)
			select {
			case <-done:
			default:
				env.complain(interrupted)
				os.Exit(exitInterrupted)
			}
		}
	}()
	return execute(ctx, env, os.Args[1:])
}

// graceAfterSignal is how long a command has to come to an end by itself when the user stops it. Then it is ended
// wherever it is: files are put in place whole, so that nothing can be torn.
const graceAfterSignal = time.Second

const interrupted = "interrupted; every file written is whole, run again to finish the rest"

// execute runs one command line and gives the exit status (exit.go).
func execute(ctx context.Context, given *environment, args []string) int {
	out := &watched{Writer: given.Stdout}
	own := *given
	env := &own
	env.Stdout = out
	root := newRoot(env)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if ctx.Err() != nil {
		env.complain(interrupted)
		return exitInterrupted
	}
	var status exitError
	if out.err != nil && (err == nil || errors.As(err, &status) && status.said) {
		// Whatever the command made of it: what was to be read did not arrive.
		err = fmt.Errorf("writing to standard output: %w\nhint: what arrived there is not whole", out.err)
	}
	if err == nil {
		return exitClean
	}
	if errors.As(err, &status) && status.said {
		return status.code
	}
	env.complain("%s", plain(err))
	if errors.As(err, &status) {
		return status.code
	}
	return exitFailed
}

// watched remembers the first error of a writer: a line that is not written is easily overlooked.
type watched struct {
	io.Writer
	err error
}

func (w *watched) Write(p []byte) (int, error) {
	n, err := w.Writer.Write(p)
	if err != nil && w.err == nil {
		w.err = err
	}
	return n, err
}

func newRoot(env *environment) *cobra.Command {
	root := &cobra.Command{
		Use:   "fingerproof",
		Short: "Finger, mark, check and compare a collection of piano scores",
		Long: `fingerproof reads piano scores (MusicXML, MEI), works out a fingering for every note,
marks it in the house style without touching the text, and writes results and
pages for the editor, who decides.

A fingering is a suggestion. Reach is not comfort; pain is a reason to stop and
to see a clinician. Nothing here is medical advice: teachers and clinicians decide.
` + exitStatusHelp,
		Example: `  fingerproof run sonatina.musicxml --out out
  fingerproof run collection.yaml
  fingerproof lint scores/
  fingerproof diff before.musicxml after.musicxml`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			hint := "`fingerproof --help` lists the commands"
			if _, err := os.Stat(args[0]); err == nil || corpus.IsScore(args[0]) {
				hint = "fingerproof run " + args[0]
			} else if like := cmd.SuggestionsFor(args[0]); len(like) > 0 {
				hint = "fingerproof " + strings.Join(like, ", or fingerproof ")
			}
			return fmt.Errorf("unknown command %q\nhint: %s", args[0], hint)
		},
		SuggestionsMinimumDistance: 2,
		RunE: func(cmd *cobra.Command, _ []string) error {
			fmt.Fprint(env.Stdout, firstContact)
			return nil
		},
	}
	root.Version = "see the template" // makes the option --version
	root.SetVersionTemplate("{{" + versionTold + "}}")
	root.SetIn(env.Stdin)
	root.SetOut(env.Stdout)
	root.SetErr(env.Stderr)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return wrongOption(cmd, err)
	})
	root.CompletionOptions.DisableDefaultCmd = true // ours says how it is loaded
	addCommands(root, env)
	root.SetHelpCommand(newHelpCommand(root))
	root.PersistentPreRunE = func(cmd *cobra.Command, args []string) error { return takeDefaults(cmd, args) }
	takeWords(root)
	completeAll(root)
	return root
}

// newHelpCommand is the command help, which refuses what is no command.
func newHelpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Say what a command does, and its options",
		RunE: func(_ *cobra.Command, args []string) error {
			of, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return fmt.Errorf("there is no command %q\nhint: `fingerproof --help` lists the commands", strings.Join(args, " "))
			}
			return of.Help()
		},
	}
}

// firstContact is what somebody sees who only typed the name.
const firstContact = `fingerproof fingers piano scores for print and checks what is printed.

Begin with one score:      fingerproof run SCORE.musicxml --out out
or with a folder of them:  fingerproof run FOLDER --out out
Make a collection of it:   fingerproof init FOLDER

Then open out/review/index.html in a browser. What to do next, step by step:
` + "`fingerproof handbook first-hour`. `fingerproof --help`" + ` lists every command.
`
