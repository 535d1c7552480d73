package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/strictyaml"
	"fingerproof/policies"
	"fingerproof/reports/rulepage"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/spf13/cobra"
)

func newExplainCommand(env *environment) *cobra.Command {
	var list bool
	var options explainOptions
	cmd := &cobra.Command{
		Use:   "explain SCORE MEASURE | COLLECTION PIECE MEASURE | PIECE MEASURE | RULE | KEY",
		Short: "Tell why a measure is fingered as it is, what a rule of lint checks, or what a key of the house style does",
		Long: `explain SCORE MEASURE says why a measure is fingered as it is: the fingers chosen, the
next best where the choice is in doubt, how likely it is beside, what its way
takes in effort and why, and the
passage it would bring up to where both ways rejoin. MEASURE is the printed
number. A piece of a collection is named by its id: explain COLLECTION PIECE
MEASURE, or PIECE MEASURE in the collection's folder.

explain RULE says what a rule of lint checks, why an editor cares, and gives an
example: music that is reported, and the same put right. With --page they are
drawn; explain --list --page FILE draws those of every rule.

explain KEY says what a key of the house style does and what it takes.
` + exitStatusHelp,
		Example: `  fingerproof explain sonatina.musicxml 12
  fingerproof explain collection.yaml op7-nocturne 4 --hand L --page m4.html
  fingerproof explain span-beyond-hand
  fingerproof explain span-beyond-hand --page rule.html
  fingerproof explain marks.tradition
  fingerproof explain --list`,
		Args: cobra.MaximumNArgs(3),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 && !list && isPieceHere(args[0]) {
				args = append([]string{"."}, args...)
			}
			if len(args) > 1 && !list {
				return explainMeasure(cmd, env, &options, args)
			}
			if len(args) == 1 && corpus.IsScore(args[0]) {
				return fmt.Errorf("explain needs a measure\nhint: fingerproof explain %s 1", args[0])
			}
			if (list || len(args) == 0) && options.page != "" {
				return explainRules(cmd.Context(), env, all.Rules(), &options)
			}
			if list || len(args) == 0 {
				name, severities := 0, 0
				for _, r := range all.Rules() {
					name, severities = max(name, len(r.Name)), max(severities, len(r.Severities()))
				}
				for _, r := range all.Rules() {
					fmt.Fprintf(env.Stdout, "%-*s %-*s %s\n", name, r.Name, severities, r.Severities(), r.Title)
				}
				return nil
			}
			r := all.Rule(args[0])
			if k := keyNamed(args[0]); r == nil && k != nil {
				fmt.Fprint(env.Stdout, keyText(k))
				return nil
			}
			if r == nil {
				return fmt.Errorf("there is no rule of lint and no key of the house style %q\nhint: %s", args[0], likeRules(args[0]))
			}
			if options.page != "" {
				return explainRules(cmd.Context(), env, []*lint.Rule{r}, &options)
			}
			e, err := exampleOf(r)
			if err != nil {
				return err
			}
			fmt.Fprint(env.Stdout, ruleText(r, e))
			return nil
		},
	}
	cmd.Flags().BoolVar(&list, "list", false, "list every rule")
	options.add(cmd)
	return cmd
}

// likeRules is a hint: the rules that a wrong name may mean.
func likeRules(name string) string {
	var names, like []string
	for _, r := range all.Rules() {
		names = append(names, r.Name)
		if word := strings.ToLower(name); strings.Contains(r.Name, word) || strings.Contains(r.Name, strings.TrimSuffix(word, "s")) ||
			len(word) > 3 && strings.Contains(strings.ToLower(r.Title), word) {
			like = append(like, r.Name)
		}
	}
	if len(like) > 0 {
		return "did you mean " + strings.Join(like, " or ") + "?"
	}
	for _, k := range policies.Keys() {
		names = append(names, k.Path)
	}
	if near := strictyaml.Nearest(name, names); near != "" {
		return fmt.Sprintf("did you mean %s?", near)
	}
	return "`fingerproof explain --list` names the rules, `fingerproof policy show` the keys"
}

// isPieceHere says that a word names no file or folder, but a piece of the collection in the working folder.
func isPieceHere(word string) bool {
	if _, err := os.Lstat(word); err == nil {
		return false
	}
	c, err := corpus.Open(".")
	if err != nil || slices.Contains(idsOf(c), word) {
		return err == nil
	}
	at, err := byPart(idsOf(c), word)
	return at >= 0 || err != nil
}

// keyNamed is the key of house styles of that name; nil where there is none.
func keyNamed(name string) *policies.Key {
	for _, k := range policies.Keys() {
		if k.Path == name {
			return &k
		}
	}
	return nil
}

// keyText says what a key does and what it takes.
func keyText(k *policies.Key) string {
	return fmt.Sprintf("%s\n%s\n\nTakes\n%s\n\nWhat holds, and from where: fingerproof policy show\n",
		k.Path, fold(k.Doc), fold(k.Form()))
}

// ruleText is the documentation of a rule, with its example in words where it has one.
func ruleText(r *lint.Rule, e *rulepage.Example) string {
	text := fmt.Sprintf("%s (%s, since %s)\n%s", r.Name, r.Severities(), r.Since, r.Title)
	for _, part := range []struct{ title, text string }{
		{"What it checks", r.Checks}, {"Why it matters", r.Why}, {"Before", r.Before}, {"After", r.After},
	} {
		text += "\n\n" + part.title + "\n" + fold(part.text)
	}
	if e != nil {
		right := e.Right.Text
		if slices.Equal(right, e.Wrong.Text) { // keys and fingers are no other
			right = []string{"  the same keys and fingers: what differs are other signs; --page draws both"}
		}
		for _, part := range []struct {
			title string
			lines []string
		}{{"An example that is reported", e.Wrong.Text}, {"What is said of it", e.Says}, {"The same put right", right}} {
			text += "\n\n" + part.title
			for _, line := range part.lines {
				text += "\n" + fold(line)
			}
		}
		for _, b := range e.Beside {
			text += "\n\n" + b.Title
			for _, line := range b.Text {
				if b.Witness {
					line = strings.TrimLeft(fold(line), " ")
				}
				text += "\n  " + line
			}
		}
	}
	return text + "\n\nOptions, in the policy\n" + optionsText(r)
}

// optionsText lists the keys of a policy that change what a rule reports, each
// with its own words.
func optionsText(r *lint.Rule) string {
	var b strings.Builder
	fmt.Fprintf(&b, "  lint.%s\n", r.Name)
	b.WriteString(indent(fold("How severe its findings are: error, warning, note or off.")))
	for _, path := range r.Options {
		for _, k := range policies.Keys() {
			if k.Path == path {
				fmt.Fprintf(&b, "  %s\n%s", path, indent(fold(k.Doc)))
			}
		}
	}
	return b.String()
}

func indent(text string) string {
	return "  " + strings.ReplaceAll(text, "\n", "\n  ") + "\n"
}

// fold breaks a text into lines of at most 78 characters, indented by two.
func fold(text string) string {
	var b strings.Builder
	column := 0
	for _, w := range strings.Fields(text) {
		if column > 0 && column+1+len(w) > 76 {
			b.WriteString("\n")
			column = 0
		}
		if column == 0 {
			b.WriteString("  ")
		} else {
			b.WriteString(" ")
			column++
		}
		b.WriteString(w)
		column += len(w)
	}
	return b.String()
}
