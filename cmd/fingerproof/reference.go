package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fingerproof/policies"
	"fingerproof/rules/lint/all"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// reference gives the commands with their options, the exit statuses, the rules of lint and the keys of house styles,
// in Markdown, as the code has them.
func reference(root *cobra.Command) string {
	var b strings.Builder
	b.WriteString("# Reference\n\n## Exit status\n\n| status | means |\n|---|---|\n")
	for _, line := range strings.Split(strings.TrimSpace(exitStatusHelp), "\n")[1:] {
		code, means, _ := strings.Cut(strings.TrimSpace(line), " ")
		fmt.Fprintf(&b, "| %s | %s |\n", code, strings.TrimSpace(means))
	}
	b.WriteString("\nOf the commands only these end with 1 or 3:\n\n| command | 1 | 3 |\n|---|---|---|\n")
	for _, name := range slices.Sorted(maps.Keys(statusesOf)) {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", name, statusesOf[name].one, statusesOf[name].three)
	}
	for _, cmd := range visibleCommands(root) {
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n\n    %s\n", cmd.CommandPath(), cmd.Short, cmd.UseLine())
		if long := strings.TrimSpace(strings.Replace(cmd.Long, exitStatusHelp, "", 1)); long != "" {
			fmt.Fprintf(&b, "\n```text\n%s\n```\n", long)
		}
		if cmd.LocalNonPersistentFlags().HasAvailableFlags() {
			b.WriteString("\n| option | what it does |\n|---|---|\n")
			cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
				if !f.Hidden && f.Name != "help" {
					fmt.Fprintf(&b, "| `--%s` | %s |\n", f.Name, cell(f.Usage))
				}
			})
		}
	}
	b.WriteString("\n## Rules of lint\n\n| rule | severity | what it finds |\n|---|---|---|\n")
	for _, r := range all.Rules() {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", r.Name, r.Severity, cell(r.Title))
	}
	// The keys have a reference of their own, one level deeper here.
	_, keys, _ := strings.Cut(string(policies.MakeReference()), "\n# ")
	b.WriteString("\n## " + strings.ReplaceAll(keys, "\n## ", "\n### "))
	return b.String()
}

// visibleCommands gives the program and all commands that help lists, depth first.
func visibleCommands(from *cobra.Command) []*cobra.Command {
	all := []*cobra.Command{from}
	for _, c := range from.Commands() {
		if c.IsAvailableCommand() {
			all = append(all, visibleCommands(c)...)
		}
	}
	return all
}

// cell makes text fit for a table of Markdown.
func cell(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\n", " "), "|", "\\|")
}
