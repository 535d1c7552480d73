package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"fingerproof/policies"

	"github.com/spf13/cobra"
)

func newPolicyCommand(env *environment) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "policy",
		Short: "Check and show a house style",
		Long: `policy checks a house style, shows it resolved with where each value comes from, or
prints its JSON schema for completion in editors.
` + exitStatusHelp,
		Example: `  fingerproof policy verify
  fingerproof policy show study
  fingerproof policy schema > policy.schema.json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("policy has no command %q\nhint: verify, show or schema", args[0])
			}
			return cmd.Help()
		},
	}
	cmd.AddCommand(newPolicyVerify(env), newPolicyShow(env), newPolicySchema(env))
	return cmd
}

// chosenPolicy is the policy of the argument (a file, or a shipped style), or
// the one found from the working folder.
func chosenPolicy(args []string) (*policies.Policy, string, error) {
	if len(args) == 1 {
		if slices.Contains(policies.Shipped(), args[0]) {
			p, err := policies.ByName(args[0])
			return p, args[0] + " (shipped)", err
		}
		p, err := policies.Load(args[0])
		return p, args[0], err
	}
	path, found, err := policies.Find(".")
	if err != nil {
		return nil, "", err
	}
	if !found {
		return policies.Default(), "the default (no policy.yaml from here upward)", nil
	}
	p, err := policies.Load(path)
	return p, path, err
}

func newPolicyVerify(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:     "verify [FILE]",
		Short:   "Check a policy file and all it extends",
		Long:    "verify reads a policy and names every fault with file, line and column.\n" + exitStatusHelp,
		Example: "  fingerproof policy verify\n  fingerproof policy verify house/policy.yaml",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			_, name, err := chosenPolicy(args)
			if err != nil {
				return err
			}
			fmt.Fprintf(env.Stdout, "%s: in order\n", name)
			return nil
		},
	}
}

func newPolicyShow(env *environment) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "show [FILE|STYLE]",
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
				fmt.Fprintf(env.Stdout, "%s%s# %s\n", setting, strings.Repeat(" ", max(42-len(setting), 1)), v.Origin)
			}
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
		Use:     "schema",
		Short:   "Print the JSON schema of policy files",
		Long:    "schema prints the JSON schema of policy files. Editors complete keys by it where the\nfile begins with the line that `fingerproof init` writes.\n" + exitStatusHelp,
		Example: "  fingerproof policy schema > policy.schema.json",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := env.Stdout.Write(policies.Schema)
			return err
		},
	}
}
