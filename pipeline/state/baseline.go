package state

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
)

// Known is a finding of an earlier report.
type Known struct {
	Piece       string
	File        string
	Rule        string
	Severity    string
	Message     string // with its place
	Fingerprint string
}

// Baseline holds the findings of an earlier report, by piece and fingerprint.
type Baseline struct{ known map[[2]string]Known }

// NewBaseline makes a baseline of what was known.
func NewBaseline(known []Known) *Baseline {
	b := &Baseline{known: map[[2]string]Known{}}
	for _, k := range known {
		b.known[[2]string{k.Piece, k.Fingerprint}] = k
	}
	return b
}

// State says how a finding stands to the baseline: "new", "unchanged", or
// "updated" where it is the same with another severity.
func (b *Baseline) State(piece string, f *Finding) string {
	k, known := b.known[[2]string{piece, f.Fingerprint}]
	switch {
	case !known:
		return "new"
	case k.Severity != f.Severity:
		return "updated"
	}
	return "unchanged"
}

// Absent lists what the baseline knew of these pieces and is found no more,
// sorted by piece and fingerprint. Pieces that failed say nothing.
func (b *Baseline) Absent(outcomes []Outcome) []Known {
	worked := map[string]bool{}
	here := map[[2]string]bool{}
	for i := range outcomes {
		o := &outcomes[i]
		worked[o.Piece] = o.Problem == ""
		for _, f := range o.Findings {
			here[[2]string{o.Piece, f.Fingerprint}] = true
		}
		for _, s := range o.Stets {
			here[[2]string{o.Piece, s.Finding.Fingerprint}] = true
		}
	}
	var out []Known
	for key, k := range b.known {
		if worked[k.Piece] && !here[key] {
			out = append(out, k)
		}
	}
	slices.SortFunc(out, func(x, y Known) int {
		return cmp.Or(cmp.Compare(x.Piece, y.Piece), cmp.Compare(x.Fingerprint, y.Fingerprint))
	})
	return out
}

// ReadBaseline reads a baseline of ours: a results file, or the report of
// findings as JSON.
func ReadBaseline(data []byte) (*Baseline, error) {
	if bytes.Contains(data, append([]byte{'\n'}, notesLine...)) {
		r, err := DecodeHead(bytes.NewReader(data))
		if err != nil {
			return nil, err
		}
		return NewBaseline(knownOf(r.Piece, r.Summary.Score, r.Findings, r.Stets)), nil
	}
	var list struct {
		Pieces []struct {
			Piece    string    `json:"piece"`
			Score    string    `json:"score"`
			Findings []Finding `json:"findings"`
			Stets    []Stet    `json:"stets"`
		} `json:"pieces"`
	}
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, fmt.Errorf("reading an earlier report: %w", err)
	}
	if list.Pieces == nil {
		return nil, fmt.Errorf("reading an earlier report: it names no pieces")
	}
	var out []Known
	for _, p := range list.Pieces {
		out = append(out, knownOf(p.Piece, p.Score, p.Findings, p.Stets)...)
	}
	return NewBaseline(out), nil
}

func knownOf(piece, file string, findings []Finding, stets []Stet) []Known {
	var out []Known
	add := func(f Finding) {
		out = append(out, Known{Piece: piece, File: file, Rule: f.Rule, Severity: f.Severity, Message: f.Advice(), Fingerprint: f.Fingerprint})
	}
	for _, f := range findings {
		add(f)
	}
	for _, s := range stets {
		add(s.Finding)
	}
	return out
}
