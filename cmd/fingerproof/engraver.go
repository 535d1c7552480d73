package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"fingerproof/corpus/files"
	"fingerproof/reports/engrave"

	"github.com/spf13/cobra"
)

// How this program calls itself to draw: a process of its own can be stopped wherever it is.
const (
	engraverCommand = "engraver"
	engraverServes  = "serve"
)

func newEngraverCommand(env *environment) *cobra.Command {
	cmd := &cobra.Command{
		Use:   engraverCommand,
		Short: "Say whether pages can show notation, and install the engraver",
		Long: `engraver says whether the engraver that draws notation on pages is installed.

It is a package of its own. With Node, npm puts it beside the program: "bash
.ci/demo" in the source does that. Without Node, take a bundle that someone else made
with "engraver bundle", and install it with "engraver install".
` + exitStatusHelp,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			options, err := engraverOptions(env, ".")
			if err != nil {
				return err
			}
			if folder, ready := engrave.Installed(options); ready {
				fmt.Fprintf(env.Stdout, "The engraver, Verovio %s, is installed in %s.\n", engrave.Version(), folder)
				return nil
			}
			if options.Package != "" {
				fmt.Fprintf(env.Stdout, "The engraver's package lies in %s; the first run with pages makes it ready, which needs Node once.\n",
					options.Package)
				return nil
			}
			fmt.Fprintf(env.Stdout, "The engraver is not installed: pages come without notation.\n%s\n", engraverHint)
			return nil
		},
	}
	cmd.AddCommand(newEngraverInstall(env), newEngraverBundle(env), newEngraverServe(env))
	return cmd
}

// engraverHint is what a user can do where notation is missing.
const engraverHint = "hint: with npm, `npm install --ignore-scripts --prefix DIR verovio@6.3.0 binaryen@132.0.0`, then `fingerproof engraver install DIR`; " +
	"without it, `fingerproof engraver install FILE` with a bundle from a machine that has one (`fingerproof engraver bundle`)"

func newEngraverInstall(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "install FILE|DIR",
		Short: "Install the engraver from a bundle, or from a folder with its npm packages",
		Long: `install puts the engraver in place for this user. FILE is a bundle that "engraver
bundle" wrote on another machine; DIR holds a bundle's files, or node_modules
with verovio and binaryen (that needs Node). It is checked by its hash: nothing
but the engraver that this program was made for is put in place.
` + exitStatusHelp,
		Example: `  fingerproof engraver install engraver.zip`,
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			cache, err := engraverCache()
			if err != nil {
				return err
			}
			options := engrave.Options{CacheDir: cache}
			fmt.Fprintln(env.Stderr, "checking and preparing the engraver: a minute, more on a machine that is busy; later runs find it ready")
			done := stillAtIt(env, atItEvery)
			err = engrave.Install(cmd.Context(), options, args[0])
			done()
			if err != nil {
				return err
			}
			folder, _ := engrave.Installed(options)
			fmt.Fprintf(env.Stdout, "The engraver, Verovio %s, is installed in %s.\n", engrave.Version(), folder)
			return nil
		},
	}
}

// atItEvery is how often a long step without pieces to count says that it goes on.
const atItEvery = 20 * time.Second

// stillAtIt says from time to time how long something has been going on, until what it gives is called.
func stillAtIt(env *environment, every time.Duration) (done func()) {
	begun, over, ended := time.Now(), make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		tick := time.NewTicker(every)
		defer tick.Stop()
		for {
			select {
			case <-over:
				return
			case <-tick.C:
				fmt.Fprintf(env.Stderr, "still preparing, %d seconds so far\n", int(time.Since(begun).Seconds()))
			}
		}
	}()
	return func() {
		close(over)
		<-ended
	}
}

func newEngraverBundle(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "bundle FILE",
		Short: "Write the engraver as one file, to be installed where there is no Node",
		Long: `bundle writes the engraver that is installed here as one file. It is the same for
every system. "engraver install FILE" takes it on another machine.
` + exitStatusHelp,
		Example: `  fingerproof engraver bundle engraver.zip`,
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			options, err := engraverOptions(env, ".")
			if err != nil {
				return err
			}
			var made bytes.Buffer
			if err := engrave.Bundle(cmd.Context(), options, &made); err != nil {
				return err
			}
			if err := files.Write(args[0], made.Bytes()); err != nil {
				return fmt.Errorf("writing the bundle: %w", err)
			}
			fmt.Fprintf(env.Stdout, "%s holds the engraver, Verovio %s.\n", args[0], engrave.Version())
			return nil
		},
	}
}

func newEngraverServe(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:    engraverServes + " CACHE",
		Short:  "Draw what a run orders on standard input; runs start this by themselves",
		Long:   "serve draws for a run, which starts it by itself. CACHE is where the prepared engraver lies.\n" + exitStatusHelp,
		Hidden: true,
		Args:   cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return engrave.Serve(cmd.Context(), engrave.Options{CacheDir: args[0]}, env.Stdin, env.Stdout)
		},
	}
}

// engraverOptions finds the engraver's package, near the folders given or the program, and the place of its prepared form.
func engraverOptions(env *environment, near ...string) (engrave.Options, error) {
	if env.Program != "" {
		near = append(near, filepath.Dir(env.Program))
	}
	cache, err := engraverCache()
	if err != nil {
		return engrave.Options{}, err
	}
	return engrave.Options{Package: engrave.FindPackage(near...), CacheDir: cache}, nil
}

// engraverCache is where the prepared engraver is kept.
func engraverCache() (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("looking for a folder to keep the engraver in: %w", err)
	}
	return filepath.Join(cache, "fingerproof"), nil
}
