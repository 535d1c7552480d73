package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"fingerproof/corpus"
	"fingerproof/policies"

	"github.com/spf13/cobra"
	"gopkg.in/yaml.v3"
)

func newInitCommand(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "init [DIR]",
		Short: "Make a collection of a folder of scores",
		Long: `init writes into DIR (the working folder if none is named): collection.yaml with the
scores it finds there, policy.yaml with the house style to fill in, its schema for
completion in editors, and a folder for decisions. It overwrites nothing: where one of
them is there already, it writes none.
` + exitStatusHelp,
		Example: "  fingerproof init\n  fingerproof init editions/op1",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			dir := "."
			if len(args) == 1 {
				dir = args[0]
			}
			return initCollection(env, dir)
		},
	}
}

func initCollection(env *environment, dir string) error {
	_, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no folder %s\nhint: make it and put scores (MusicXML) into it first", dir)
	}
	if err != nil {
		return fmt.Errorf("reading the folder: %w", err)
	}
	files := map[string][]byte{
		corpus.ManifestName:   nil,
		policies.FileName:     []byte(policyTemplate),
		"policy.schema.json":  policies.Schema,
		"decisions/README.md": []byte("Decisions of the editors lie here, one file a piece and editor.\n"),
	}
	for name := range files {
		if _, err := os.Lstat(filepath.Join(dir, strings.Split(name, "/")[0])); err == nil {
			return fmt.Errorf("%s is there already; nothing was written\nhint: init never overwrites; move it away, or edit it", filepath.Join(dir, strings.Split(name, "/")[0]))
		}
	}
	scores := 0
	if c, err := corpus.Open(dir); err == nil {
		files[corpus.ManifestName], scores = manifestOf(c), len(c.Pieces)
	} else {
		files[corpus.ManifestName] = manifestOf(&corpus.Collection{})
	}
	for _, name := range []string{corpus.ManifestName, policies.FileName, "policy.schema.json", "decisions/README.md"} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return fmt.Errorf("making a folder: %w", err)
		}
		f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644) // never overwrites, whoever came in between
		if err != nil {
			return fmt.Errorf("writing %s: %w", name, err)
		}
		_, err = f.Write(files[name])
		if err = errors.Join(err, f.Close()); err != nil {
			return fmt.Errorf("writing %s: %w", name, err)
		}
		fmt.Fprintf(env.Stdout, "wrote %s\n", path)
	}
	if scores == 0 {
		fmt.Fprintf(env.Stdout, "There is no score in %s yet: put MusicXML files there and list them in %s.\n", dir, corpus.ManifestName)
		return nil
	}
	fmt.Fprintf(env.Stdout, "%d scores are listed. Next: fingerproof run %s\n", scores, dir)
	return nil
}

func manifestOf(c *corpus.Collection) []byte {
	var b strings.Builder
	b.WriteString("# The pieces of this edition. Paths start from this folder.\ntitle: Complete piano works\ncomposer: \"\"\npublisher: \"\"\n\n# Of a piece can be said: id, title, score, year, tempo ([88, 104]),\n# scoring (" + strings.Join(scoringWords(), ", ") + "),\n# parts, text_digits (whose the digits in the text are), policy, witnesses.\n")
	if len(c.Pieces) == 0 {
		b.WriteString("pieces: []\n")
		return []byte(b.String())
	}
	b.WriteString("pieces:\n")
	for _, p := range c.Pieces {
		name, err := yaml.Marshal(p.Score)
		if err != nil {
			panic(err) // a string
		}
		b.WriteString("  - score: " + string(name))
	}
	return []byte(b.String())
}

func scoringWords() []string {
	var out []string
	for _, s := range corpus.Scorings() {
		out = append(out, string(s))
	}
	return out
}

const policyTemplate = `# yaml-language-server: $schema=policy.schema.json
# The house style. Every key and what it does: fingerproof policy schema.
# What holds, and from where: fingerproof policy show.

# What it builds on: study (many digits), performance (few) or scholarly (the
# composer's alone).
extends: study

# The hand the edition is fingered for: octave, ninth or tenth.
hand: ninth

# How digits of each responsibility look. composer-upright: the composer's
# upright and bold, the editor's small italics; composer-italic: the reverse.
marks:
  tradition: composer-upright
`
