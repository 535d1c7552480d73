package main

import (
	"fmt"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/rules/lint"
)

// changesSince counts what differs from what was passed before, "" where nothing was or nothing does, and the warnings among
// it that are new.
func changesSince(store passed.Store, old *passed.State, w *pipeline.PieceRun) (said string, warnings int) {
	if old == nil {
		return "", 0
	}
	text, err := store.Text(old)
	if err != nil { // its signs and words cannot be compared then; fingers and findings can
		text = nil
	}
	changes := check.Compare(w, old, text).Changes
	for i := range changes {
		c := &changes[i]
		if c.Kind == check.FindingNew && strings.Contains(" "+c.New, " "+lint.Warning.String()+" ") &&
			!strings.Contains(" "+c.New, " decision-") { // what decisions lack is counted by itself
			warnings++
		}
	}
	if len(changes) > 0 {
		printed := map[int]bool{}
		for i := range w.Result.Notes {
			printed[w.Result.Notes[i].N] = w.Result.Notes[i].Printed
		}
		said = "; since it was passed on " + old.When + ": " + countedChanges(changes, printed)
	}
	return said, warnings
}

// countedChanges counts changes by what a reader of the page would see of them, each note once: notes; digits that print no longer,
// that print now, that are others; fingers that do not print. That a digit which stays as it was is decided now changes nothing on the page, and is counted apart.
func countedChanges(changes []check.Change, printed map[int]bool) string {
	const (
		note = iota
		lost
		added
		inPrint
		unprinted
		decided
		reopened
		credited
		finding
		heading
		other
	)
	var counts [other + 1]int
	as := map[int]int{} // by note, the gravest of its changes
	for i := range changes {
		c, kind := &changes[i], other
		switch c.Kind {
		case check.Text, check.NoteAdded, check.NoteMissing:
			kind = note
		case check.Printed:
			if kind = added; c.New == check.NotInPrint {
				kind = lost
			}
		case check.Fingers, check.Hand:
			if kind = unprinted; printed[c.N] {
				kind = inPrint
			}
		case check.Whose:
			switch {
			case c.Old == check.Undecided:
				kind = decided
			case c.New == check.Undecided:
				kind = reopened
			default:
				kind = credited
			}
		case check.FindingNew, check.FindingGone, check.FindingLetStand:
			kind = finding
		case check.Heading:
			kind = heading
		}
		if kind >= finding || c.N < 0 {
			counts[kind]++
			continue
		}
		// A note that is another one and its digit are two things that a reader sees.
		if before, met := as[c.N]; met && before != note {
			if before <= kind {
				continue
			}
			counts[before]--
		}
		as[c.N] = kind
		counts[kind]++
	}
	var parts []string
	for kind, words := range [...][2]string{
		note: {"1 note changed", "%d notes changed"}, lost: {"1 note without its digit in print", "%d notes without their digit in print"},
		added:     {"1 note with a digit in print that had none", "%d notes with a digit in print that had none"},
		inPrint:   {"1 note with another digit in print", "%d notes with another digit in print"},
		unprinted: {"1 note with another finger that does not print", "%d notes with another finger that does not print"},
		decided:   {"1 note newly decided as it was", "%d notes newly decided as they were"},
		reopened:  {"1 note open again as it was", "%d notes open again as they were"},
		credited:  {"1 note whose digit is now another’s", "%d notes whose digits are now another’s"},
		finding:   {"1 finding come, gone or let stand", "%d findings come, gone or let stand"},
		heading:   {"1 other title or text beside the music", "%d other titles or texts beside the music"},
		other:     {"1 change more", "%d changes more"},
	} {
		switch n := counts[kind]; {
		case n == 1:
			parts = append(parts, words[0])
		case n > 1:
			parts = append(parts, fmt.Sprintf(words[1], n))
		}
	}
	return strings.Join(parts, ", ")
}
