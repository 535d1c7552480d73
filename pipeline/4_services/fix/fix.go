// Package fix makes the safe fixes of findings in a score: side, order and looks
// of digits that stand.
package fix

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/format"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/rules/lint"
)

// Fixed is a score in which safe fixes were made.
type Fixed struct {
	Data   []byte
	Record *source.Record // takes them back, byte for byte
	Done   []lint.Finding // what they put right
}

// Input is a piece with what was found in it.
type Input struct {
	File     string // of the score, for errors
	Document *source.Document
	Layout   format.Layout
	Score    *score.Score
	Findings []lint.Finding // those that stand
}

// Make makes the safe fixes of a piece's findings: side, order and looks of
// digits that stand. Findings let stand are left alone. Where two ask for
// different things of a note, the first in order counts. nil where there is
// nothing to do. The music and every digit are compared before and after: a
// difference is an error, and nothing is given.
func Make(in Input) (*Fixed, error) {
	marks := map[int]*score.Mark{}
	out := &Fixed{}
	for _, f := range in.Findings {
		if len(f.Edit) == 0 || !mayJoin(marks, f.Edit) {
			continue
		}
		for _, m := range f.Edit {
			if m.Order != nil || len(m.Restyles) > 0 {
				joinFix(marks, m)
			}
		}
		out.Done = append(out.Done, f)
	}
	if len(out.Done) == 0 {
		return nil, nil
	}
	marking := score.Marking{}
	for _, m := range marks {
		marking.Marks = append(marking.Marks, *m)
	}
	slices.SortFunc(marking.Marks, func(a, b score.Mark) int { return cmp.Compare(a.Note, b.Note) })
	edits, err := in.Layout.Splice(in.Document, marking, score.SpliceOptions{})
	if err != nil {
		return nil, err
	}
	if len(edits) == 0 {
		return nil, nil
	}
	if out.Data, out.Record, err = in.Document.Edition(edits); err != nil {
		return nil, err
	}
	return out, untouched(in, out.Data)
}

// mayJoin says whether a fix only moves, reorders or restyles, and asks nothing
// of a digit that another one has decided.
func mayJoin(marks map[int]*score.Mark, edit []score.Mark) bool {
	for _, m := range edit {
		if len(m.Digits)+len(m.Directions) > 0 {
			return false // adds something: an editor's work
		}
		before := marks[m.Note]
		if before == nil {
			continue
		}
		if m.Order != nil && before.Order != nil {
			return false
		}
		for _, r := range m.Restyles {
			clashes := func(b score.Restyle) bool { return b.Ordinal == r.Ordinal && !compatible(b, r) }
			if slices.ContainsFunc(before.Restyles, clashes) {
				return false
			}
		}
	}
	return true
}

// compatible says whether two fixes of one digit can both be made: one moves
// it, the other restyles it, or both ask for the same.
func compatible(a, b score.Restyle) bool {
	side := a.Placement == b.Placement || a.Placement == score.PlacementUnset || b.Placement == score.PlacementUnset
	return side && a.Style == b.Style
}

func joinFix(marks map[int]*score.Mark, m score.Mark) {
	into := marks[m.Note]
	if into == nil {
		into = &score.Mark{Note: m.Note}
		marks[m.Note] = into
	}
	if m.Order != nil {
		into.Order = m.Order
	}
	for _, r := range m.Restyles {
		k := slices.IndexFunc(into.Restyles, func(b score.Restyle) bool { return b.Ordinal == r.Ordinal })
		if k < 0 {
			into.Restyles = append(into.Restyles, r)
		} else if r.Placement != score.PlacementUnset {
			into.Restyles[k].Placement = r.Placement
		}
	}
}

// untouched holds the fixed score against the one before: the same notes, each
// with the same digits in whatever order.
func untouched(in Input, data []byte) error {
	doc, err := source.Open(in.File, data, source.DefaultLimits())
	if err != nil {
		return fmt.Errorf("reading what was fixed: %w", err)
	}
	now, _, err := format.Read(doc)
	if err != nil {
		return fmt.Errorf("reading what was fixed: %w", err)
	}
	if len(now.Notes) != len(in.Score.Notes) {
		return fmt.Errorf("%s: a fix would have changed the text; nothing was written", in.File)
	}
	for i := range now.Notes {
		a, b := &in.Score.Notes[i], &now.Notes[i]
		samePlace := a.Measure == b.Measure && a.Onset.Cmp(b.Onset) == 0 && a.Duration.Cmp(b.Duration) == 0 &&
			a.Voice == b.Voice && a.Staff == b.Staff
		if a.Pitch != b.Pitch || a.Midi != b.Midi || !samePlace || !slices.Equal(digitsOf(a), digitsOf(b)) {
			return fmt.Errorf("%s: a fix would have changed the text at %s; nothing was written",
				in.File, in.Score.Place(i))
		}
	}
	return nil
}

func digitsOf(n *score.Note) []string {
	var out []string
	for _, ind := range n.Indications {
		out = append(out, ind.Text)
	}
	slices.Sort(out)
	return out
}
