package robustness

import (
	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
)

// decided are decisions on the notes of a score, as their file has them.
type decided struct {
	original  *alteration.Original
	decisions []decision.Decision
	notes     [][]int // of the original, by decision and note
}

// landing is where one note of a decision stands in a changed version of the score.
type landing struct {
	decision int
	ref      *decision.NoteRef
	old      int // the note that was decided
	// truth is that note in the changed score, where it is there.
	truth int
	there bool
	// found is the note that the decision finds, -1 for none; why says why.
	found int
	why   string
}

// landings finds where the decisions stand in a draft of their score, note by note.
func (d *decided) landings(draft *alteration.Draft) (s *score.Score, f *decision.Finder, out []landing, err error) {
	text, err := draft.Doc.WriteToString()
	if err != nil {
		return nil, nil, nil, err
	}
	if s, err = opendata.ParseScore(d.original.Name, []byte(text)); err != nil {
		return nil, nil, nil, err
	}
	element := map[int]*etree.Element{}
	for e, n := range draft.OldN {
		element[n] = e
	}
	now := draft.Indices()
	f = decision.NewFinder(s)
	for k := range d.decisions {
		for j := range d.decisions[k].Notes {
			l := landing{decision: k, ref: &d.decisions[k].Notes[j], old: d.notes[k][j]}
			l.truth, l.there = now[element[l.old]]
			l.found, l.why, _ = f.Find(l.ref)
			out = append(out, l)
		}
	}
	return s, f, out, nil
}

// isRight says that a decision found its note in the changed score.
func (l *landing) isRight(s *score.Score) bool {
	return l.there && (l.found == l.truth || sameStroke(s, l.found, l.truth))
}

// sameStroke reports whether two notes are one key struck at one moment: two stems of a unison, which nobody can tell
// apart.
func sameStroke(s *score.Score, i, j int) bool {
	m, n := &s.Notes[i], &s.Notes[j]
	return alteration.SameKey(s, i, j) && m.Grace == n.Grace && m.Staff == n.Staff
}

// decideRun decides the fingers of notes in the order of playing, 1 to 5 and again.
func decideRun(f *decision.Finder, notes []int) decision.Decision {
	d := decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-01-01"}
	for i, n := range notes {
		d.Notes = append(d.Notes, f.Ref(n, []int{1 + i%5}))
	}
	return d
}
