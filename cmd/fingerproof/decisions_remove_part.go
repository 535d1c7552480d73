package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
)

// staying gives what holds of entries that are taken out for what is gone of them, as entries of their own, and says so.
func staying(w *pipeline.PieceRun, entries []string) (out []decision.Decision, said string) {
	for _, entry := range entries {
		if stays, gone, ok := w.Holding(entry); ok {
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

// fallsWith says which digits fall with entries that are taken out whole: how many, and in which measures. What another entry
// decides, of the same editor or another, stays decided by that.
func fallsWith(root string, remove []addition) (string, error) {
	var fall []decision.Decision
	digits, stay, again := 0, 0, false
	for _, a := range remove {
		file := filepath.Join(root, decision.Folder, a.file)
		all, err := decision.ReadAsOf(filepath.Join(root, decision.Folder), a.piece, nil)
		if err != nil {
			return "", fmt.Errorf("reading decisions: %w", err)
		}
		goes := func(d *decision.Decision) bool {
			return slices.ContainsFunc(remove, func(o addition) bool {
				return filepath.Base(d.File) == o.file && slices.Contains(o.remove, d.Line)
			})
		}
		gives := func(d *decision.Decision) bool {
			return d.On == decision.Notes && (d.Verb == decision.Take || d.Verb == decision.Amend)
		}
		decided := map[string]bool{} // by what stays
		for i := range all {
			for k := range all[i].Notes {
				if gives(&all[i]) && !goes(&all[i]) {
					decided[sameNote(&all[i].Notes[k])] = true
				}
			}
		}
		for i := range all {
			d := all[i]
			if filepath.Base(d.File) != filepath.Base(file) || !goes(&d) || !gives(&d) {
				continue
			}
			with := len(d.Notes)
			d.Notes = slices.DeleteFunc(slices.Clone(d.Notes), func(n decision.NoteRef) bool { return decided[sameNote(&n)] })
			digits, stay, again = digits+len(d.Notes), stay+with-len(d.Notes), again || d.Returns && len(d.Notes) > 0
			if len(d.Notes) > 0 {
				fall = append(fall, d)
			}
		}
	}
	said := ""
	switch digits {
	case 0:
	case 1:
		said = "; with it falls 1 digit, " + measuresOf(fall)
	default:
		said = fmt.Sprintf("; with it fall %d digits, %s", digits, measuresOf(fall))
	}
	if again {
		said += ", and those that came with them where their music stands again"
	}
	if stay > 0 {
		said += fmt.Sprintf("; %s decided by another entry", map[bool]string{true: "1 digit stays", false: fmt.Sprintf("%d digits stay", stay)}[stay == 1])
	}
	return said, nil
}

// sameNote names a note of a decision as files of several editors do.
func sameNote(n *decision.NoteRef) string {
	at := n.Address()
	at.Measure = -1 // older files know the printed number alone
	return n.Printed + " " + at.String()
}
