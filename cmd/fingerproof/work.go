package main

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"
	"fingerproof/rules/lint"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// workOptions are the options of commands that work through a collection.
type workOptions struct {
	policy  string
	hand    string
	weights string
	// plainWeights leaves out what was adapted to this collection, which is what is being fitted.
	plainWeights bool
	reports      []string
	requests     []request // reports, checked
	workers      int
	failOn       string
	today        string
	baseline     string
	prefix       string // before the files' names in reports
	timed        bool
	progress     string // how it is written; "" as the terminal wants it
	profile      profile
	cache        cacheOptions
	shards       shardOptions
	earlier      func(piece string) *saidOfPiece // of pieces that need no work; may be nil
	saidBefore   func(piece string) bool         // that nothing says whose its digits are; may be nil
	askedFirst   bool                            // it was asked before the work began whose digits are
	lost         []string                        // what the volume's house style says in vain for pieces that have another
	strays       []error                         // decisions that are read for no piece
}

// addInputs adds the options that say what is worked on.
func (o *workOptions) addInputs(cmd *cobra.Command) {
	f := cmd.Flags()
	o.addStyle(f)
	f.StringVar(&o.hand, "hand", "", "finger for this hand in place of the policy's: octave, ninth or tenth "+
		"(a separate edition for a smaller hand)")
	f.IntVar(&o.workers, "workers", runtime.GOMAXPROCS(0), "pieces worked on at once")
	f.Lookup("workers").DefValue = "as many as processors" // on any machine, so that manual and reference are the same
	f.StringVar(&o.today, "today", "",
		"the day by which a stet on a finding may have expired, as 2026-03-01 (default: today)")
}

// addStyle adds the options that say by which style and weights.
func (o *workOptions) addStyle(f *pflag.FlagSet) {
	f.StringVar(&o.policy, "policy", "", "house style: a policy file, or the name of a shipped style "+
		"(default: policy.yaml, looked for upward from the collection)")
	f.StringVar(&o.weights, "weights", "", "table of weights to use in place of the one that comes with the program")
}

// add adds those, and the options that say what becomes of findings.
func (o *workOptions) add(cmd *cobra.Command) {
	o.addInputs(cmd)
	f := cmd.Flags()
	f.StringArrayVar(&o.reports, "report", nil, "also write findings as FORMAT=PATH, FORMAT text, json, sarif, junit, "+
		"annotations, summary, commentary or preface (these two as Markdown, HTML or PDF, by the path's ending), "+
		"PATH - for standard output; may be repeated")
	o.addPrefix(f)
	f.StringVar(&o.baseline, "baseline", "", "an earlier report (sarif, json, or results of a piece): "+
		"findings that stood there do not decide the exit status")
	f.BoolVar(&o.timed, "timings", false,
		"work on one piece after the other, and say of each how long it took and the most memory there was meanwhile, "+
			"and of each stage how long it took in all")
	f.StringVar(&o.progress, "progress", "", "how far the work is, on standard error: json (lines for programs) or none "+
		"(default: one line on a terminal, else a line every ten seconds)")
	o.profile.add(f)
	f.StringVar(&o.failOn, "fail-on", "", "the mildest finding that gives exit status 1: error, warning, note or never "+
		"(default: as the policy says)")
}

// addPrefix adds the option for reports that are read from another folder than this.
func (o *workOptions) addPrefix(f *pflag.FlagSet) {
	f.StringVar(&o.prefix, "path-prefix", "", "stands before the files' names in the reports sarif, junit and "+
		"annotations: the working folder as it is named from the top of the repository")
}

// alreadyAsked says that it was asked before whose the digits of a piece are: once is enough, its page goes on saying it.
func (o *workOptions) alreadyAsked(piece string) bool {
	return o.saidBefore != nil && o.saidBefore(piece)
}

// check refuses options that make no sense, before any work is done.
func (o *workOptions) check() error {
	if o.workers < 1 || o.workers > 1024 {
		return fmt.Errorf("--workers cannot be %d\nhint: from 1 to 1024", o.workers)
	}
	if words := []string{"", "error", "warning", "note", "never"}; !slices.Contains(words, o.failOn) {
		return fmt.Errorf("--fail-on cannot be %q\nhint: error, warning, note or never", o.failOn)
	}
	if words := []string{"", progressJSON, progressNone}; !slices.Contains(words, o.progress) {
		return fmt.Errorf("--progress cannot be %q\nhint: json or none", o.progress)
	}
	if strings.ContainsAny(o.prefix, "\\:\n") || path.IsAbs(o.prefix) {
		return fmt.Errorf("--path-prefix cannot be %q\nhint: a folder with /, from the top of the repository, as in editions/op1",
			o.prefix)
	}
	if o.today == "" {
		o.today = time.Now().Format(time.DateOnly)
	}
	if _, err := time.Parse(time.DateOnly, o.today); err != nil {
		return fmt.Errorf("--today cannot be %q\nhint: a day as 2026-03-01", o.today)
	}
	var err error
	o.requests, err = parseRequests(o.reports, reportFormats, "json=findings.json or text=-")
	return err
}

// job opens a collection and prepares the work on it.
func (o *workOptions) job(path string) (pipeline.Job, error) {
	if err := o.check(); err != nil {
		return pipeline.Job{}, err
	}
	c, err := corpus.Open(path)
	if err != nil {
		return pipeline.Job{}, err
	}
	if o.strays, err = straysIn(c); err != nil {
		return pipeline.Job{}, err
	}
	weights, err := readWeights(o.weights)
	if err == nil && c.HouseHand != "" && !o.plainWeights {
		weights, err = adaptedWeights(weights, c)
	}
	if err != nil {
		return pipeline.Job{}, err
	}
	shared, err := o.sharedPolicy(c)
	if err != nil {
		return pipeline.Job{}, err
	}
	if shared, err = shared.ForHand(o.hand); err != nil {
		return pipeline.Job{}, err
	}
	own, err := o.ownPolicies(c, shared)
	if err != nil {
		return pipeline.Job{}, err
	}
	return pipeline.Job{
		Collection: c, Weights: weights, Workers: o.workers, Today: o.today,
		Decisions: func(p *corpus.Piece) ([]decision.Decision, error) { return readDecisions(c, p.ID) },
		PolicyOf: func(p *corpus.Piece) (*policies.Policy, error) {
			if policy := own[p.Policy]; policy != nil {
				return policy, nil
			}
			return shared, nil
		},
	}, nil
}

// ownPolicies reads the policies that pieces have of their own, by name. All
// faults are named at once. Who initials are the volume's says for all its pieces.
func (o *workOptions) ownPolicies(c *corpus.Collection, shared *policies.Policy) (map[string]*policies.Policy, error) {
	own := map[string]*policies.Policy{}
	var faults []error
	for i := range c.Pieces {
		p := &c.Pieces[i]
		if p.Policy == "" || o.policy != "" || own[p.Policy] != nil || p.Fault != nil {
			continue
		}
		policy, err := policies.Open(p.Policy, c.Root)
		if err == nil {
			policy, err = policy.ForHand(o.hand)
		}
		if err != nil {
			faults = append(faults, err)
			continue
		}
		own[p.Policy] = policy.Knowing(shared)
	}
	o.lost = lostKeys(c, shared, own)
	return own, errors.Join(faults...)
}

// lostKeys says, for each house style that pieces have of their own, what the volume's own style says and does not hold there.
func lostKeys(c *corpus.Collection, shared *policies.Policy, own map[string]*policies.Policy) (out []string) {
	for _, name := range slices.Sorted(maps.Keys(own)) {
		keys := shared.LostTo(own[name])
		if len(keys) == 0 {
			continue
		}
		var pieces []string
		for i := range c.Pieces {
			if c.Pieces[i].Policy == name {
				pieces = append(pieces, c.Pieces[i].ID)
			}
		}
		out = append(out, fmt.Sprintf("the house style of %s is %s: what %s says of %s does not hold there", wording.List(pieces), name,
			asTyped(shared.File), wording.List(keys)))
	}
	return out
}

// sharedPolicy is what holds for pieces without a policy of their own: the
// one asked for, the one the manifest names, or the one found.
func (o *workOptions) sharedPolicy(c *corpus.Collection) (*policies.Policy, error) {
	switch {
	case o.policy != "":
		return policies.Open(o.policy, ".")
	case c.Policy != "":
		return policies.Open(c.Policy, c.Root)
	}
	path, found, err := policies.Find(c.Root)
	if err != nil || !found {
		return policies.Default(), err
	}
	return policies.Load(asTyped(path))
}

// asTyped is a path as people would type it: from the working folder where
// that is shorter.
func asTyped(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return path
	}
	if rel, err := filepath.Rel(here, path); err == nil && len(rel) < len(path) {
		return rel
	}
	return path
}

// failSeverity is the mildest severity that ends a command with status 1,
// and whether any does.
func (o *workOptions) failSeverity(p *policies.Policy) (lint.Severity, bool) {
	word := o.failOn
	if word == "" {
		word = p.FailOn()
	}
	s, ok := lint.ParseSeverity(word)
	return s, ok && s != lint.Off
}
