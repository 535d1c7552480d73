package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"fingerproof/cmd/fingerproof/handbook"
	"fingerproof/corpus/files"

	"github.com/spf13/cobra"
)

// referenceChapter is made from the code, unlike the others.
const referenceChapter = "reference"

func newHandbookCommand(env *environment) *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "handbook [CHAPTER]",
		Short: "Print the handbook: the first hour, a day's work, how it thinks, the reference",
		Long: `handbook lists its chapters, or prints one, as Markdown. With --out it writes all of
them into a folder.
` + exitStatusHelp,
		Example: `  fingerproof handbook first-hour
  fingerproof handbook --out handbook`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			chapters := append(handbook.Chapters(),
				handbook.Chapter{Name: referenceChapter, Title: "Reference", Text: reference(cmd.Root())})
			if out != "" {
				return writeHandbook(env, out, chapters)
			}
			if len(args) == 0 {
				fmt.Fprintf(env.Stdout, "Chapters, each printed by `fingerproof handbook CHAPTER`:\n\n")
				for _, c := range chapters {
					fmt.Fprintf(env.Stdout, "  %-24s %s\n", c.Name, c.Title)
				}
				return nil
			}
			var names []string
			for _, c := range chapters {
				if c.Name == args[0] {
					fmt.Fprint(env.Stdout, c.Text)
					return nil
				}
				names = append(names, c.Name)
			}
			return fmt.Errorf("the handbook has no chapter %q\nhint: it has %s", args[0], strings.Join(names, ", "))
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "write all chapters into this folder, a file each")
	return cmd
}

func writeHandbook(env *environment, dir string, chapters []handbook.Chapter) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("writing the handbook: %w", err)
	}
	for _, c := range chapters {
		path := filepath.Join(dir, c.Name+".md")
		if err := files.Write(path, []byte(c.Text)); err != nil {
			return fmt.Errorf("writing the handbook: %w", err)
		}
		fmt.Fprintf(env.Stdout, "wrote %s\n", path)
	}
	return fs.WalkDir(handbook.Pictures, "pictures", func(name string, entry fs.DirEntry, err error) error {
		path := filepath.Join(dir, filepath.FromSlash(name))
		switch {
		case err != nil:
			return err
		case entry.IsDir():
			err = os.MkdirAll(path, 0o755)
		default:
			var data []byte
			if data, err = handbook.Pictures.ReadFile(name); err == nil {
				err = files.Write(path, data)
			}
		}
		if err != nil {
			return fmt.Errorf("writing the handbook: %w", err)
		}
		return nil
	})
}
