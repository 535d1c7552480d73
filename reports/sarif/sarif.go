// Package sarif writes findings in SARIF 2.1.0 (OASIS standard): every rule
// with its help, one-line messages, fingerprints of music and address,
// findings let stand as suppressions, and how each stands to a baseline.
package sarif

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"net/url"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/lint"
)

// The names of the partial fingerprints. A number rises when equal places may
// give another one.
const (
	MusicName   = "music/v1"          // the rule in the music it stands in
	AddressName = "musicalAddress/v1" // the rule at measure, moment and key
)

const (
	version = "2.1.0"
	schema  = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
	root    = "%SRCROOT%"
)

// Report is what a log of findings is made of.
type Report struct {
	Version  string // of this program
	Rules    []*lint.Rule
	Outcomes []state.Outcome
	Task     string // what was asked: lint where it is "", or check
	// Off says that the house style of a piece leaves a rule out; nil: none.
	Off func(o *state.Outcome, rule string) bool
}

// Write writes the log, indented.
func Write(out io.Writer, report Report) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(logOf(report)); err != nil {
		return fmt.Errorf("writing findings as SARIF: %w", err)
	}
	return nil
}

func logOf(report Report) log {
	r := run{
		ColumnKind: "unicodeCodePoints",
		Automation: automation{ID: "fingerproof/" + cmp.Or(report.Task, "lint") + "/"},
		Bases:      map[string]location{root: {Description: &text{Text: "the folder from which the scores are named"}}},
		Results:    []result{},
	}
	r.Tool.Driver = driver{Name: "fingerproof", Version: report.Version, Rules: []rule{}}
	index := map[string]int{}
	for i, l := range report.Rules {
		index[l.Name] = i
		r.Tool.Driver.Rules = append(r.Tool.Driver.Rules, ruleOf(l))
	}
	work := invocation{Successful: true, Overrides: report.leftOut()}
	for i := range report.Outcomes {
		o := &report.Outcomes[i]
		if o.Problem != "" {
			work.Successful = false
			work.Notifications = append(work.Notifications, notification{
				Level: "error", Message: text{Text: oneLine(o.Piece + " could not be worked on: " + o.ProblemLine())},
				Locations: []place{{Physical: physical{Artifact: artifact(o.File)}}},
			})
		}
		if o.Earlier {
			work.Notifications = append(work.Notifications, notification{
				Level:     "note",
				Message:   text{Text: oneLine(o.Piece + ": " + o.LeftWords("this is what an earlier run left; this run did not look at it"))},
				Locations: []place{{Physical: physical{Artifact: artifact(o.File)}}},
			})
		}
		for _, said := range o.Notices {
			work.Notifications = append(work.Notifications, notification{
				Level: "note", Message: text{Text: oneLine(o.Piece + ": " + said)},
				Locations: []place{{Physical: physical{Artifact: artifact(o.File)}}},
			})
		}
		for k := range o.Findings {
			r.Results = append(r.Results, resultOf(index, o, &o.Findings[k]))
		}
		for k := range o.Stets {
			s := resultOf(index, o, &o.Stets[k].Finding)
			s.Suppressions = []suppression{{Kind: "external", Status: "accepted", Justification: o.Stets[k].Words()}}
			r.Results = append(r.Results, s)
		}
	}
	for i := range report.Outcomes {
		if since := report.Outcomes[i].Since; since != nil {
			for _, k := range since.Absent {
				r.Results = append(r.Results, absent(index, k))
			}
		}
	}
	r.Invocations = []invocation{work}
	return log{Version: version, Schema: schema, Runs: []run{r}}
}

// leftOut are the rules that the house style of every piece leaves out: that nothing is said of them does not mean that nothing
// was found.
func (r *Report) leftOut() (out []override) {
	worked := slices.DeleteFunc(slices.Clone(r.Outcomes), func(o state.Outcome) bool { return o.Problem != "" })
	if r.Off == nil || len(worked) == 0 {
		return nil
	}
	for i, rule := range r.Rules {
		if slices.ContainsFunc(worked, func(o state.Outcome) bool { return !r.Off(&o, rule.Name) }) {
			continue
		}
		var one override
		one.Descriptor.ID, one.Descriptor.Index = rule.Name, i
		out = append(out, one)
	}
	return out
}

// options names the keys of a policy that change what a rule reports.
func options(l *lint.Rule) string {
	return strings.Join(append([]string{"lint." + l.Name}, l.Options...), ", ")
}

func ruleOf(l *lint.Rule) rule {
	return rule{
		ID: l.Name, Short: text{Text: l.Title}, Full: text{Text: l.Checks},
		Configuration: configuration{Level: l.Severity.String()},
		Help: help{
			Text: fmt.Sprintf(
				"What it checks: %s\n\nWhy it matters: %s\n\nBefore: %s\n\nAfter: %s\n\nOptions, in the policy: %s\n",
				l.Checks, l.Why, l.Before, l.After, options(l),
			),
			Markdown: fmt.Sprintf(
				"**What it checks.** %s\n\n**Why it matters.** %s\n\n**Before.** %s\n\n**After.** %s\n\n"+
					"**Options, in the policy.** %s\n",
				plain(l.Checks), plain(l.Why), plain(l.Before), plain(l.After), plain(options(l)),
			),
		},
		Properties: ruleProperties{Since: l.Since, Tags: []string{"fingering"}},
	}
}

func resultOf(index map[string]int, o *state.Outcome, f *state.Finding) result {
	r := result{
		RuleID: f.Rule, Level: f.Severity, Message: text{Text: f.Advice()},
		Locations: []place{{
			Physical: physical{Artifact: artifact(o.File)},
			Logical:  []logical{logicalOf(o, f)},
		}},
		Fingerprints: prints(f.Fingerprint, f.Address),
		Properties: &properties{
			Piece: o.Piece, Measure: f.Measure, Onset: f.Onset.String(), Fix: f.Fix, Fixable: f.Fixable, Earlier: o.Earlier,
		},
	}
	if f.Line > 0 { // none in a packed score: what is inside means nothing to a viewer
		r.Locations[0].Physical.Region = &region{Line: f.Line, Column: f.Column}
	}
	if i, ok := index[f.Rule]; ok {
		r.RuleIndex = &i
	}
	if o.Since != nil {
		r.Baseline = o.Since.Standing(f)
	}
	return r
}

// logicalOf names a place in the music: a measure, or the piece as a whole.
func logicalOf(o *state.Outcome, f *state.Finding) logical {
	if f.Measure == "" {
		return logical{Name: o.Piece, Full: o.Piece}
	}
	return logical{Name: "m. " + f.Measure, Full: o.Piece + ": " + f.Place()}
}

func absent(index map[string]int, k state.Known) result {
	r := result{
		RuleID: k.Rule, Level: k.Severity, Message: text{Text: oneLine(k.Message)}, Baseline: "absent",
		Locations:    []place{{Physical: physical{Artifact: artifact(k.File)}}},
		Fingerprints: prints(k.Fingerprint, k.Address),
		Properties:   &properties{Piece: k.Piece},
	}
	if i, ok := index[k.Rule]; ok {
		r.RuleIndex = &i
	}
	return r
}

func prints(music, address string) map[string]string {
	out := map[string]string{MusicName: music}
	if address != "" { // absent ones of an older report
		out[AddressName] = address
	}
	return out
}

// artifact names a file by a relative reference, escaped as RFC 3986 asks.
func artifact(file string) location {
	u := url.URL{Path: file}
	return location{URI: u.String(), Base: root}
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// plain keeps Markdown from reading signs of its own into a text.
func plain(s string) string {
	return strings.NewReplacer(
		`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", "[", `\[`, "]", `\]`,
	).Replace(s)
}
