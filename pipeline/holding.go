package pipeline

import (
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// Holding gives what holds of an entry of decisions of which notes are gone: digits that no later entry decides. Who takes out
// what is gone leaves them as they are. gone names the notes; ok is false where the entry falls whole, as all but digits do.
func (w *PieceRun) Holding(entry string) (stays decision.Decision, gone []string, ok bool) {
	i := slices.IndexFunc(w.Decisions, func(d decision.Decision) bool { return d.Place() == entry })
	if i < 0 || !givesDigits(&w.Decisions[i]) {
		return stays, nil, false
	}
	d := &w.Decisions[i]
	for _, u := range w.Decided.Unplaced {
		if u.Decision.Place() == entry {
			gone = append(gone, u.Ref.Pitch+" in m. "+u.Ref.Printed)
		}
	}
	f := decision.NewFinder(w.Score)
	stays = decision.Decision{Verb: d.Verb, On: d.On, By: d.By, When: d.When, Why: d.Why, Returns: d.Returns, Except: d.Except, Print: d.Print}
	for k := range d.Notes {
		n, _, _ := f.Find(&d.Notes[k])
		if n >= 0 && w.Decided.Deciding[n] != nil && w.Decided.Deciding[n].Place() == entry {
			stays.Notes = append(stays.Notes, f.Ref(n, d.Notes[k].Fingers))
		}
	}
	return stays, gone, len(gone) > 0 && len(stays.Notes) > 0
}

// givesDigits says that an entry decides digits, each for itself.
func givesDigits(d *decision.Decision) bool {
	return d.On == decision.Notes && (d.Verb == decision.Take || d.Verb == decision.Amend)
}

// LostEntry is an entry of decisions that has lost notes: as it is written, and what stays of it, written too, once they are
// taken out; "" where nothing holds of it.
type LostEntry struct{ Written, Stays string }

// LostEntries gives, by the place where each stands, the entries that have lost notes and can be taken out without anything
// else being lost: digits, and what is undone as a whole when a note of it goes.
func (w *PieceRun) LostEntries() map[string]LostEntry {
	out := map[string]LostEntry{}
	for _, u := range w.Decided.Unplaced {
		d, at := u.Decision, u.Decision.Place()
		if _, known := out[at]; known || !givesDigits(d) && state.WholeWith(string(d.On)) == "" {
			continue
		}
		lost := LostEntry{Written: decision.AsWritten(*d)}
		if stays, _, ok := w.Holding(at); ok {
			lost.Stays = decision.Entry(stays)
		}
		out[at] = lost
	}
	return out
}
