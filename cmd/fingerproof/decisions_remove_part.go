package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"fingerproof/corpus/files"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
)

// holding gives what holds of an entry of which notes are gone: digits that no later entry decides. A line that takes out what
// is gone leaves them as they are. gone names the notes; ok is false where the entry falls whole, as all but digits do.
func holding(w *pipeline.PieceRun, entry string) (stays decision.Decision, gone []string, ok bool) {
	i := slices.IndexFunc(w.Decisions, func(d decision.Decision) bool { return d.Place() == entry })
	if i < 0 {
		return stays, nil, false
	}
	d := &w.Decisions[i]
	if d.On != decision.Notes || d.Verb != decision.Take && d.Verb != decision.Amend {
		return stays, nil, false
	}
	for _, u := range w.Decided.Unplaced {
		if u.Decision.Place() == entry {
			gone = append(gone, u.Ref.Pitch+" in m. "+u.Ref.Printed)
		}
	}
	f := decision.NewFinder(w.Score)
	stays = decision.Decision{Verb: d.Verb, On: d.On, By: d.By, When: d.When, Why: d.Why, Returns: d.Returns, Print: d.Print}
	for k := range d.Notes {
		n, _, _ := f.Find(&d.Notes[k])
		if n >= 0 && w.Decided.Deciding[n] != nil && w.Decided.Deciding[n].Place() == entry {
			stays.Notes = append(stays.Notes, f.Ref(n, d.Notes[k].Fingers))
		}
	}
	return stays, gone, len(gone) > 0 && len(stays.Notes) > 0
}

// staying gives what holds of entries that are taken out for what is gone of them, as entries of their own, and says so.
func staying(w *pipeline.PieceRun, entries []string) (out []decision.Decision, said string) {
	for _, entry := range entries {
		if stays, gone, ok := holding(w, entry); ok {
			out = append(out, stays)
			falls := map[bool]string{true: "falls", false: "fall"}[len(gone) == 1]
			said += fmt.Sprintf("; of it only %s %s, %s", wording.List(gone), falls, staysWords(len(stays.Notes)))
		}
	}
	return out, said
}

// staysWords says how many digits of an entry stay decided.
func staysWords(n int) string {
	if n == 1 {
		return "its other digit stays"
	}
	return fmt.Sprintf("its %d other digits stay", n)
}

// fallsWith says which digits fall with entries that are taken out whole: how many, and in which measures.
func fallsWith(root string, remove []addition) (string, error) {
	var fall []decision.Decision
	digits := 0
	for _, a := range remove {
		file := filepath.Join(root, decision.Folder, a.file)
		data, err := files.ReadIfThere(file, files.StateLimit)
		if err != nil {
			return "", fmt.Errorf("reading decisions: %w", err)
		}
		all, _, err := decision.Parse(file, data)
		if err != nil {
			return "", err
		}
		for _, d := range all {
			if slices.Contains(a.remove, d.Line) && d.On == decision.Notes && (d.Verb == decision.Take || d.Verb == decision.Amend) {
				fall, digits = append(fall, d), digits+len(d.Notes)
			}
		}
	}
	switch digits {
	case 0:
		return "", nil
	case 1:
		return "; with it falls 1 digit, " + measuresOf(fall), nil
	}
	return fmt.Sprintf("; with it fall %d digits, %s", digits, measuresOf(fall)), nil
}
