package main

import (
	"fmt"
	"strings"

	"fingerproof/corpus/strictyaml"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/spf13/cobra"
)

func newExplainCommand(env *environment) *cobra.Command {
	var list bool
	cmd := &cobra.Command{
		Use:     "explain RULE",
		Short:   "Tell what a rule of lint checks and why",
		Long:    "explain tells what a rule of lint checks, why an editor cares, and gives an example.\n" + exitStatusHelp,
		Example: "  fingerproof explain span-beyond-hand\n  fingerproof explain --list",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if list || len(args) == 0 {
				for _, r := range all.Rules() {
					fmt.Fprintf(env.Stdout, "%-26s %-8s %s\n", r.Name, r.Severity, r.Title)
				}
				return nil
			}
			r := all.Rule(args[0])
			if r == nil {
				var names []string
				for _, r := range all.Rules() {
					names = append(names, r.Name)
				}
				hint := "`fingerproof explain --list` names them all"
				var like []string
				for _, n := range names {
					if strings.Contains(n, strings.ToLower(args[0])) {
						like = append(like, n)
					}
				}
				if len(like) > 0 {
					hint = "did you mean " + strings.Join(like, " or ") + "?"
				} else if near := strictyaml.Nearest(args[0], names); near != "" {
					hint = fmt.Sprintf("did you mean %s?", near)
				}
				return fmt.Errorf("there is no rule %q\nhint: %s", args[0], hint)
			}
			fmt.Fprint(env.Stdout, ruleText(r))
			return nil
		},
	}
	cmd.Flags().BoolVar(&list, "list", false, "list every rule")
	return cmd
}

func ruleText(r *lint.Rule) string {
	return fmt.Sprintf("%s (%s, since %s)\n%s\n\nWhat it checks\n%s\n\nWhy it matters\n%s\n\nBefore\n%s\n\nAfter\n%s\n",
		r.Name, r.Severity, r.Since, r.Title, fold(r.Checks), fold(r.Why), fold(r.Before), fold(r.After))
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
