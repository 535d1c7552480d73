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

// Since compares a piece with the earlier report. A finding is known again by
// the music it stands in; of what is left then, by its address. Each known one
// is found again once.
func (b *Baseline) Since(o *Outcome) *Since {
	s := &Since{standing: map[string]string{}}
	if o.Problem != "" {
		return s
	}
	found := o.all()
	left := b.known[o.Piece]
	again := func(ofKnown func(Known) string, of func(*Finding) string) {
		at := map[string]*Finding{}
		for _, f := range found {
			if s.Standing(f) == "" {
				at[of(f)] = f
			}
		}
		var still []Known
		for _, k := range left {
			f := at[ofKnown(k)]
			switch {
			case ofKnown(k) == "" || f == nil:
				still = append(still, k)
			case k.Severity == f.Severity:
				s.standing[f.Fingerprint] = "unchanged"
			default:
				s.standing[f.Fingerprint] = "updated"
			}
		}
		left = still
	}
	again(func(k Known) string { return k.Fingerprint }, func(f *Finding) string { return f.Fingerprint })
	again(func(k Known) string { return k.Address }, func(f *Finding) string { return f.Address })
	for _, f := range found {
		if s.Standing(f) == "" {
			s.standing[f.Fingerprint] = "new"
		}
	}
	s.Absent = left
	return s
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
