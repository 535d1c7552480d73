package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
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

// namedPolicy is a policy with what it is called by.
type namedPolicy struct {
	*policies.Policy
	name string
}

// chosenPolicy is the policy of the argument (a file, a shipped style, a folder or a manifest, whose policy is found as a
// run finds it), or the one that holds in the working folder. own are those that pieces have of their own there.
func chosenPolicy(args []string) (chosen namedPolicy, own []namedPolicy, err error) {
	from := "."
	if len(args) == 1 {
		if slices.Contains(policies.Shipped(), args[0]) {
			p, err := policies.ByName(args[0])
			return namedPolicy{p, args[0] + " (shipped)"}, nil, err
		}
		if info, err := os.Stat(args[0]); (err != nil || !info.IsDir()) && filepath.Base(args[0]) != corpus.ManifestName {
			p, err := policies.Load(args[0])
			return namedPolicy{p, args[0]}, nil, err
		}
		from = args[0]
	}
	c, err := manifestIn(from)
	if err != nil {
		return namedPolicy{}, nil, err
	}
	if c == nil {
		chosen, err = policyAbove(from)
		return chosen, nil, err
	}
	if c.Policy != "" {
		chosen, err = policyOfManifest(c, c.Policy)
	} else {
		chosen, err = policyAbove(c.Root)
	}
	seen := map[string]bool{"": true, c.Policy: true}
	for i := range c.Pieces {
		if name := c.Pieces[i].Policy; !seen[name] {
			seen[name] = true
			p, fault := policyOfManifest(c, name)
			own, err = append(own, p), errors.Join(err, fault)
		}
	}
	return chosen, own, err
}

// manifestIn reads the manifest of a folder, or the manifest named; nil where there is none.
func manifestIn(path string) (*corpus.Collection, error) {
	if filepath.Base(path) != corpus.ManifestName {
		path = filepath.Join(path, corpus.ManifestName)
	}
	if _, err := os.Lstat(path); err != nil {
		return nil, nil
	}
	data, err := strictyaml.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading the manifest: %w", err)
	}
	return corpus.ParseManifest(path, data)
}

// policyOfManifest is a policy that a manifest names: a shipped style, or a file by its path from there.
func policyOfManifest(c *corpus.Collection, name string) (namedPolicy, error) {
	p, err := policies.Open(name, c.Root)
	if slices.Contains(policies.Shipped(), name) {
		return namedPolicy{p, name + " (shipped), which " + corpus.ManifestName + " names"}, err
	}
	return namedPolicy{p, asTyped(filepath.Join(c.Root, name)) + ", which " + corpus.ManifestName + " names"}, err
}

// policyAbove is the policy found from a folder upward.
func policyAbove(dir string) (namedPolicy, error) {
	path, found, err := policies.Find(dir)
	if err != nil {
		return namedPolicy{}, err
	}
	if !found {
		return namedPolicy{policies.Default(), "the default (no policy.yaml from here upward)"}, nil
	}
	path = asTyped(path)
	p, err := policies.Load(path)
	return namedPolicy{p, path}, err
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
there are not, by file and line, once nothing else is wrong. A key that does nothing as
the others stand is named, too, and is no fault. Of a folder it checks the policy by which
a run of it goes, and those that its manifest names for pieces; without FILE, of the
working folder.
` + exitStatusHelp,
		Example: "  fingerproof policy verify\n  fingerproof policy verify house/policy.yaml",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			chosen, own, err := chosenPolicy(args)
			if err != nil {
				return err
			}
			all := append([]namedPolicy{chosen}, own...)
			var faults []error
			for _, p := range all {
				faults = append(faults, unknownRules(p.Policy))
			}
			if err := errors.Join(faults...); err != nil {
				return err
			}
			for _, p := range all {
				fmt.Fprintf(env.Stdout, "%s: in order\n", p.name)
				for _, line := range idleKeys(p.Policy) {
					fmt.Fprintf(env.Stdout, "  %s\n", line)
				}
			}
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
	if info, err := os.Stat(from); (err != nil || !info.IsDir()) && filepath.Base(from) != corpus.ManifestName {
		return ""
	}
	c, err := manifestIn(from)
	if err != nil || c == nil {
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
			p, _, err := chosenPolicy(args)
			if err != nil {
				return err
			}
			if asJSON {
				return showJSON(env, p.Policy)
			}
			fmt.Fprintf(env.Stdout, "# %s\n", p.name)
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
