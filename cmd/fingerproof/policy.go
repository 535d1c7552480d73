package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"fingerproof/corpus"
	"fingerproof/corpus/strictyaml"
	"fingerproof/corpus/wording"
	"fingerproof/policies"
	"fingerproof/rules/lint/all"

	"github.com/spf13/cobra"
)

func newPolicyCommand(env *environment) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "policy",
		Short: "Check and show a house style",
		Long: `policy checks a house style, shows it resolved with where each value comes from, prints
its JSON schema for completion in editors, and runs tests of it, which stand in files of
their own beside it.
` + exitStatusHelp,
		Example: `  fingerproof policy verify
  fingerproof policy show study
  fingerproof policy schema > policy.schema.json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("policy has no command %q\nhint: verify, show, schema or test", args[0])
			}
			return cmd.Help()
		},
	}
	cmd.AddCommand(newPolicyVerify(env), newPolicyShow(env), newPolicySchema(env), newPolicyTest(env))
	return cmd
}

// chosenPolicy is the policy of the argument (a file, a shipped style, or a
// folder, whose policy is found as a run finds it), or the one found from the
// working folder.
func chosenPolicy(args []string) (*policies.Policy, string, error) {
	from := "."
	if len(args) == 1 {
		if slices.Contains(policies.Shipped(), args[0]) {
			p, err := policies.ByName(args[0])
			return p, args[0] + " (shipped)", err
		}
		if info, err := os.Stat(args[0]); err != nil || !info.IsDir() {
			p, err := policies.Load(args[0])
			return p, args[0], err
		}
		from = args[0]
	}
	path, found, err := policies.Find(from)
	if err != nil {
		return nil, "", err
	}
	if !found {
		return policies.Default(), "the default (no policy.yaml from here upward)", nil
	}
	path = asTyped(path)
	p, err := policies.Load(path)
	return p, path, err
}

// unknownRules says which rules of lint a policy speaks of that do not exist:
// rules are not known where policies are read.
func unknownRules(p *policies.Policy) error {
	var names []string
	for _, r := range all.Rules() {
		names = append(names, r.Name)
	}
	var faults []error
	for _, rule := range p.LintRules() {
		if slices.Contains(names, rule) {
			continue
		}
		hint := "`fingerproof explain --list` names the rules"
		if near := strictyaml.Nearest(rule, names); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		v, _ := p.Get("lint." + rule)
		faults = append(faults,
			fmt.Errorf("%s: there is no rule of lint %s\nhint: %s", v.Origin, strictyaml.Quote(rule), hint))
	}
	return errors.Join(faults...)
}

func newPolicyVerify(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "verify [FILE|FOLDER|STYLE]",
		Short: "Check a policy file and all it extends",
		Long: `verify reads a policy and names every fault with file, line and column; rules of lint that
there are not, by file and line, once nothing else is wrong. Without FILE it takes the
policy found from the working folder upward.
` + exitStatusHelp,
		Example: "  fingerproof policy verify\n  fingerproof policy verify house/policy.yaml",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			p, name, err := chosenPolicy(args)
			if err != nil {
				return err
			}
			if err := unknownRules(p); err != nil {
				return err
			}
			fmt.Fprintf(env.Stdout, "%s: in order\n", name)
			return nil
		},
	}
}

// besidePolicy says what the collection of a folder says beside its policy: it holds before what the policy says.
func besidePolicy(args []string) string {
	from := "."
	if len(args) == 1 {
		from = args[0]
	}
	if info, err := os.Stat(from); err != nil || !info.IsDir() {
		return ""
	}
	c, err := corpus.Open(from)
	if err != nil || c.Manifest == "" {
		return ""
	}
	said := map[string]int{}
	for i := range c.Pieces {
		if p := &c.Pieces[i]; p.TextDigits != "" {
			said["text_digits: "+p.TextDigits]++
		}
		if p := &c.Pieces[i]; p.Policy != "" {
			said["policy: "+p.Policy]++
		}
	}
	out := ""
	for _, what := range slices.Sorted(maps.Keys(said)) {
		out += fmt.Sprintf("# the collection says of %s, before the policy: %s\n", wording.Count(said[what], "piece"), what)
	}
	return out
}

func newPolicyShow(env *environment) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "show [FILE|FOLDER|STYLE]",
		Short:   "Show a policy resolved, with where each value comes from",
		Long:    "show prints every key of a policy with its value and where it comes from.\n" + exitStatusHelp,
		Example: "  fingerproof policy show\n  fingerproof policy show performance --json",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			p, name, err := chosenPolicy(args)
			if err != nil {
				return err
			}
			if asJSON {
				return showJSON(env, p)
			}
			fmt.Fprintf(env.Stdout, "# %s\n", name)
			for _, path := range p.Paths() {
				v, _ := p.Get(path)
				setting := path + ": " + v.Text
				gap := strings.Repeat(" ", max(42-utf8.RuneCountInString(setting), 1))
				fmt.Fprintf(env.Stdout, "%s%s# %s\n", setting, gap, v.Origin)
			}
			fmt.Fprint(env.Stdout, besidePolicy(args))
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

func showJSON(env *environment, p *policies.Policy) error {
	type value struct {
		Key    string `json:"key"`
		Value  string `json:"value"`
		Origin string `json:"origin"`
	}
	var out []value
	for _, path := range p.Paths() {
		v, _ := p.Get(path)
		out = append(out, value{path, v.Text, v.Origin})
	}
	e := json.NewEncoder(env.Stdout)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

func newPolicySchema(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON schema of policy files",
		Long: `schema prints the JSON schema of policy files. Editors complete keys by it where the
file begins with the line that ` + "`fingerproof init`" + ` writes.
` + exitStatusHelp,
		Example: "  fingerproof policy schema > policy.schema.json",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := env.Stdout.Write(policies.Schema)
			return err
		},
	}
}
