package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fingerproof/corpus/files"
	"fingerproof/pipeline"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

func newManCommand(env *environment) *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "man [COMMAND]...",
		Short: "Print a manual page, or write all of them into a folder",
		Long: `man prints the manual page of the program, or of one of its commands, in the form that the
program man of Unix systems shows. With --out it writes all pages into a folder: put them into a folder
man1 of your MANPATH.
` + exitStatusHelp,
		Example: "  fingerproof man run | man -l -\n  fingerproof man --out ~/.local/share/man/man1",
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			if out != "" && len(args) > 0 {
				return fmt.Errorf("--out writes all pages, and one is named\nhint: leave one of the two out")
			}
			if out != "" {
				return writeManual(env, root, out)
			}
			of, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return fmt.Errorf("there is no command %q, and no page of it\nhint: `fingerproof --help` lists the commands",
					strings.Join(args, " "))
			}
			page, err := manualPage(of)
			if err != nil {
				return err
			}
			_, err = env.Stdout.Write(page)
			return err
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "write all pages into this folder, a file each")
	return cmd
}

// manualPage gives the page of a command. It carries no day: the same program gives the same page.
func manualPage(cmd *cobra.Command) ([]byte, error) {
	var b bytes.Buffer
	cmd.DisableAutoGenTag = true
	header := doc.GenManHeader{
		Section: "1", Source: "fingerproof, engine " + pipeline.EngineVersion, Manual: "fingerproof", Date: new(time.Time),
	}
	long := cmd.Long
	cmd.Long = forManual(long)
	err := doc.GenMan(cmd, &header, &b)
	cmd.Long = long
	if err != nil {
		return nil, fmt.Errorf("writing the manual page of %s: %w", cmd.CommandPath(), err)
	}
	return bytes.Replace(b.Bytes(), []byte(`"Jan 0001"`), []byte(`""`), 1), nil
}

// forManual gives a help text as Markdown: what is set in from the margin keeps its lines, and the statuses are a part of
// their own.
func forManual(long string) string {
	text, statuses, found := strings.Cut(long, "\nEXIT STATUS\n")
	if found {
		text += "\n# EXIT STATUS\n\n" + statuses
	}
	var b strings.Builder
	inside := false
	for line := range strings.Lines(text) {
		set := strings.HasPrefix(line, "  ")
		if set != inside && strings.TrimSpace(line) != "" {
			b.WriteString("\n")
			inside = set
		}
		if set {
			b.WriteString("  ")
		}
		b.WriteString(line)
	}
	return b.String()
}

func writeManual(env *environment, root *cobra.Command, dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("writing the manual: %w", err)
	}
	for _, cmd := range visibleCommands(root) {
		page, err := manualPage(cmd)
		if err != nil {
			return err
		}
		path := filepath.Join(dir, strings.ReplaceAll(cmd.CommandPath(), " ", "-")+".1")
		if err := files.Write(path, page); err != nil {
			return fmt.Errorf("writing the manual: %w", err)
		}
		fmt.Fprintf(env.Stdout, "wrote %s\n", path)
	}
	return nil
}
