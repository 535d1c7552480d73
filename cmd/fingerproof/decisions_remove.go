package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"

	"github.com/spf13/cobra"
)

func newDecisionsRemove(env *environment) *cobra.Command {
	var in string
	cmd := &cobra.Command{
		Use:   "remove ENTRY...",
		Short: "Take whole entries out of a file of decisions",
		Long: `remove takes entries out of an editor's file of decisions, each by the file and line at which it
begins, as ` + "`decisions show`" + `, pages and messages name it. It says what falls with them: the digits of an
entry are asked again at the next run. Where only a note of an entry is gone, #7 remove, keyed in from a
sheet, takes that note out and leaves the others. ` + "`decisions undo`" + ` puts it back. A single digit of a long entry is reopened by a line:
12 r 3 open, keyed in with ` + "`decisions enter`" + `.
` + exitStatusHelp,
		Example: `  fingerproof decisions show op7-nocturne
  fingerproof decisions remove decisions/op7-nocturne.AB.yaml:31`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return fmt.Errorf("remove needs an entry, by file and line\n" +
					"hint: fingerproof decisions remove decisions/op7-nocturne.AB.yaml:31; `decisions show` lists them")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if !cmd.Flags().Changed("in") {
				in = collectionOf(args)
			}
			c, err := corpus.Open(in)
			if err != nil {
				return err
			}
			remove, err := removals(c, args)
			if err != nil {
				return err
			}
			falls, err := fallsWith(c.Root, remove)
			if err != nil {
				return err
			}
			what := takenOut(remove) + falls
			if err := addDecisions(cmd.Context(), env, c.Root, "", what, remove); err != nil {
				return err
			}
			fmt.Fprintf(env.Stdout, "%s; `fingerproof decisions undo` puts it back\n", what)
			return nil
		},
	}
	cmd.Flags().StringVar(&in, "in", ".", "the collection, folder or score")
	return cmd
}

// collectionOf is the collection in which entries lie that are named by the paths of their files: the folder above that of the
// decisions; this folder where the paths say nothing of it.
func collectionOf(entries []string) string {
	in := ""
	for _, entry := range entries {
		file, _, _ := cutLast(filepath.Clean(entry), ":")
		dir := filepath.Dir(file)
		if _, err := os.Stat(file); err != nil || filepath.Base(dir) != decision.Folder || in != "" && in != filepath.Dir(dir) {
			return "."
		}
		in = filepath.Dir(dir)
	}
	return in
}

// removals gathers what is taken out of each file, entries named by file and line.
func removals(c *corpus.Collection, entries []string) (out []addition, err error) {
	for _, entry := range entries {
		name, number, found := cutLast(filepath.Base(filepath.ToSlash(entry)), ":")
		line, wrong := strconv.Atoi(number)
		if !found || wrong != nil || line < 1 {
			return nil, fmt.Errorf("%q names no entry\nhint: file and line, as in decisions/op7-nocturne.AB.yaml:31", entry)
		}
		piece := pieceOfFile(c, name)
		if piece == "" {
			return nil, fmt.Errorf("%s is the file of no piece of this collection\n"+
				"hint: decisions/PIECE.INITIALS.yaml:LINE, as `decisions show` names it; --in names another collection than that of %s", name, asTyped(c.Root))
		}
		i := slices.IndexFunc(out, func(a addition) bool { return a.file == name })
		if i < 0 {
			i = len(out)
			out = append(out, addition{piece: piece, file: name})
		}
		if !slices.Contains(out[i].remove, line) {
			out[i].remove = append(out[i].remove, line)
		}
	}
	return out, nil
}

// takenOut says what is taken out of which files.
func takenOut(remove []addition) string {
	var parts []string
	for _, a := range remove {
		count := "1 entry"
		if n := len(a.remove); n > 1 {
			count = fmt.Sprintf("%d entries", n)
		}
		parts = append(parts, fmt.Sprintf("%s of %s (%s)", count, a.file, wording.List(linesOf(a.remove))))
	}
	return "taken out: " + strings.Join(parts, ", ")
}

func linesOf(numbers []int) (out []string) {
	for _, n := range numbers {
		out = append(out, fmt.Sprintf("line %d", n))
	}
	return out
}

func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// pieceOfFile is the piece of a collection that a file of decisions speaks of by its name, "" where there is none.
func pieceOfFile(c *corpus.Collection, name string) string {
	for i := range c.Pieces {
		rest, own := strings.CutPrefix(name, c.Pieces[i].ID)
		initials, yaml := strings.CutSuffix(strings.TrimPrefix(rest, "."), ".yaml")
		if own && (rest == ".yaml" || yaml && strings.HasPrefix(rest, ".") && decision.AreInitials(initials)) {
			return c.Pieces[i].ID
		}
	}
	return ""
}

// removing is a line that takes out of their files the entries of which the findings of a passage speak.
var removing = regexp.MustCompile(`^(#\d+) remove$`)

// entriesToRemove are the entries that a line takes out, by file and line; nil for other lines.
func entriesToRemove(k *keying.Keying, line, by string) ([]string, error) {
	m := removing.FindStringSubmatch(line)
	if m == nil {
		return nil, nil
	}
	i := slices.IndexFunc(k.Passages, func(p keying.SheetPassage) bool { return fmt.Sprintf("#%d", p.Number) == m[1] })
	if i < 0 {
		return nil, fmt.Errorf("there is no passage %s on the sheet", m[1])
	}
	var out []string
	for _, f := range k.Passages[i].Findings {
		if f.Entry == "" || slices.Contains(out, f.Entry) {
			continue
		}
		if !strings.Contains(f.Entry, "."+by+".yaml:") {
			return nil, fmt.Errorf("the entry at %s is not in the file of %s\nhint: fingerproof decisions remove %s", f.Entry, by, f.Entry)
		}
		out = append(out, f.Entry)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s speaks of no entry that could be taken out\n"+
			"hint: 12 r 3 open reopens a decided digit", m[1])
	}
	return out, nil
}

// entryAt is the entry of decisions on a piece that begins at a place, as it is written.
func entryAt(p *decidedPiece, place string) string {
	for i := range p.run.Decisions {
		if p.run.Decisions[i].Place() == place {
			return p.run.Decisions[i].Written
		}
	}
	return ""
}
