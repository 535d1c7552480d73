package main

import (
	"fmt"
	"path/filepath"

	"fingerproof/corpus/strictyaml"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/6_checks/policytest"
	"fingerproof/policies"

	"github.com/spf13/cobra"
)

func newPolicyTest(env *environment) *cobra.Command {
	var policy string
	cmd := &cobra.Command{
		Use:   "test [FILE]...",
		Short: "Run the tests of a house style, from files of their own: small passages with what is expected of them",
		Long: `test takes small passages through the whole program and compares digits, what is
printed, how it looks, and findings with what is expected. The tests of a house style stand
in a file of their own that names it (a policy file itself holds none). Without FILE the
tests of the shipped styles are run, and no others.

` + policytest.Example + exitStatusHelp,
		Example: "  fingerproof policy test\n  fingerproof policy test house/tests.yaml --policy house/policy.yaml",
		RunE: func(_ *cobra.Command, args []string) error {
			r := policyTests{env: env, policy: policy, weights: pipeline.ShippedWeights()}
			for _, file := range args {
				data, err := strictyaml.ReadFile(file)
				if err != nil {
					return fmt.Errorf("reading the tests: %w", err)
				}
				if err := r.run(file, data); err != nil {
					return err
				}
			}
			if len(args) == 0 {
				for _, style := range policies.Shipped() {
					if data := policies.StyleTests(style); data != nil {
						if err := r.run(style+" (shipped)", data); err != nil {
							return err
						}
					}
				}
			}
			fmt.Fprintf(env.Stderr, "%s, %d failed\n", wording.Count(r.ran, "test"), r.failed)
			if r.failed > 0 {
				return exitWith(exitFindings)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&policy, "policy", "", "the policy under test, in place of the one that the file names")
	return cmd
}

// policyTests runs the tests of files and counts.
type policyTests struct {
	env         *environment
	policy      string // the policy under test, "" for the one that a file names
	weights     *pipeline.Weights
	ran, failed int
}

func (r *policyTests) run(file string, data []byte) error {
	tests, style, err := policytest.Parse(file, data)
	if err != nil {
		return err
	}
	p, err := policyUnderTest(r.policy, style, file)
	if err != nil {
		return err
	}
	for i := range tests {
		o := policytest.Run(&tests[i], p, r.weights)
		r.ran++
		if len(o.Faults) > 0 {
			r.failed++
		}
		for _, f := range o.Faults {
			fmt.Fprintf(r.env.Stdout, "%s: %s\n", tests[i].Place(), f)
		}
	}
	return nil
}

// policyUnderTest is the one asked for, else the one the tests name (a file
// by its path from theirs), else the one that holds where they lie, as for a run.
func policyUnderTest(asked, named, file string) (*policies.Policy, error) {
	switch {
	case asked != "":
		return policies.Open(asked, ".")
	case named != "":
		return policies.Open(named, filepath.Dir(file))
	}
	p, _, err := chosenPolicy([]string{filepath.Dir(file)})
	return p.Policy, err
}
