package state

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Known is a finding of an earlier report.
type Known struct {
	Piece       string
	File        string
	Rule        string
	Severity    string
	Message     string // with its place
	Fingerprint string // as in Finding
	Address     string
}

// Baseline holds the findings of an earlier report, by piece.
type Baseline struct{ known map[string][]Known }

// NewBaseline makes a baseline of what was known.
func NewBaseline(known []Known) *Baseline {
	b := &Baseline{known: map[string][]Known{}}
	for _, k := range known {
		b.known[k.Piece] = append(b.known[k.Piece], k)
	}
	return b
}

// Since is how the findings of a piece, those let stand too, stand to an
// earlier report.
type Since struct {
	standing map[string]string // by fingerprint
	// Absent is what was known of the piece and is found no more, in the earlier report's order; none where the
	// piece failed.
	Absent []Known
}

// Standing says of a finding of the piece: "new", "unchanged", or "updated"
// where it is the same with another severity.
func (s *Since) Standing(f *Finding) string { return s.standing[f.Fingerprint] }

// Since compares a piece with the earlier report, rule by rule. A finding that says the same at the same address is the
// same; of the others each is known again by the music it stands in, and what is left then by its address. Where the music
// alone finds more of them again, it goes before what is said: measures came or went before faults that are all alike. Each
// known one is found again once.
func (b *Baseline) Since(o *Outcome) *Since {
	s := &Since{standing: map[string]string{}}
	if o.Problem != "" {
		return s
	}
	known := map[string][]Known{}
	var rules []string
	of := map[string][]*Finding{}
	for _, k := range b.known[o.Piece] {
		if known[k.Rule] == nil {
			rules = append(rules, k.Rule)
		}
		known[k.Rule] = append(known[k.Rule], k)
	}
	for _, f := range o.all() {
		of[f.Rule] = append(of[f.Rule], f)
		s.standing[f.Fingerprint] = "new"
	}
	absent := map[string]bool{} // by fingerprint and address
	for _, rule := range rules {
		pairs := pair(known[rule], of[rule], sameWords, sameMusic, sameAddress)
		if more := pair(known[rule], of[rule], sameMusic, sameAddress); len(more) > len(pairs) {
			pairs = more
		}
		for i, k := range known[rule] {
			switch f := pairs[i]; {
			case f == nil:
				absent[k.Fingerprint+" "+k.Address] = true
			case f.Severity == k.Severity:
				s.standing[f.Fingerprint] = "unchanged"
			default:
				s.standing[f.Fingerprint] = "updated"
			}
		}
	}
	for _, k := range b.known[o.Piece] {
		if absent[k.Fingerprint+" "+k.Address] {
			s.Absent = append(s.Absent, k)
		}
	}
	return s
}

// names gives the names by which a known finding and one of now are the same; "" for none.
type names struct {
	known func(*Known) string
	now   func(*Finding) string
}

var (
	sameMusic   = names{func(k *Known) string { return k.Fingerprint }, func(f *Finding) string { return f.Fingerprint }}
	sameAddress = names{func(k *Known) string { return k.Address }, func(f *Finding) string { return f.Address }}
	sameWords   = names{
		func(k *Known) string { return said(k.Address, k.Message) }, func(f *Finding) string { return said(f.Address, f.Advice()) },
	}
)

func said(address, message string) string {
	if address == "" {
		return ""
	}
	return address + " " + message
}

// pair finds known findings of one rule again, by one kind of name after the other: by the index of the known one.
func pair(known []Known, found []*Finding, kinds ...names) map[int]*Finding {
	out, taken := map[int]*Finding{}, map[*Finding]bool{}
	for _, kind := range kinds {
		at := map[string]*Finding{}
		for _, f := range found {
			if !taken[f] {
				at[kind.now(f)] = f
			}
		}
		for i := range known {
			name := kind.known(&known[i])
			if f := at[name]; out[i] == nil && name != "" && f != nil && !taken[f] {
				out[i], taken[f] = f, true
			}
		}
	}
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
		return NewBaseline(
			KnownOf(&Outcome{Piece: r.Piece, File: r.Summary.Score, Findings: r.Findings, Stets: r.Stets})), nil
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
		out = append(out, KnownOf(&Outcome{Piece: p.Piece, File: p.Score, Findings: p.Findings, Stets: p.Stets})...)
	}
	return NewBaseline(out), nil
}

// KnownOf lists the findings of a piece, those let stand too, as a later
// report knows them.
func KnownOf(o *Outcome) (out []Known) {
	for _, f := range o.all() {
		out = append(out, Known{
			Piece: o.Piece, File: o.File, Rule: f.Rule, Severity: f.Severity,
			Message: f.Advice(), Fingerprint: f.Fingerprint, Address: f.Address,
		})
	}
	return out
}

// all lists the findings of a piece, then those let stand.
func (o *Outcome) all() (out []*Finding) {
	for i := range o.Findings {
		out = append(out, &o.Findings[i])
	}
	for i := range o.Stets {
		out = append(out, &o.Stets[i].Finding)
	}
	return out
}
