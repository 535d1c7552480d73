package commentary

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/rules/lint/decision-query"
)

// pieceRemarks words the remarks on one piece from its results.
type pieceRemarks struct {
	result *state.Result
	policy *policies.Policy
	beats  Beats
	byN    map[int]*state.Note
	// players numbers the parts in the order of the score.
	players map[string]int
}

// reasonWords says in a player's words why notes are offered to the other hand;
// %s is the hand that has them in the text.
var reasonWords = map[string]string{
	"reach":     "the grip of the %s goes beyond the hand",
	"speed":     "the leap of the %s leaves too little time",
	"line":      "the %s cannot join the line as slurred",
	"rhythm":    "the %s has two rhythms against each other",
	"held":      "the %s cannot hold a key for as long as it is written",
	"collision": "the hands meet on the same keys",
	"crossing":  "a voice of its own lies beyond the other keys of the %s, and the other hand is free to cross over",
	"clarity":   "the %s has two voices, and the other hand is free to make them clear",
	"evenness":  "the sweep of the %s goes on under the other hand, which is free",
	"turns":     "the %s leaps there and back, and the other hand, which is free, takes its turn",
}

// redistributions lists what the other hand takes or may take, with fingers,
// with what changes around it, and why.
func (p *pieceRemarks) redistributions() (out []string) {
	for i := range p.result.Redistributions {
		d := &p.result.Redistributions[i]
		if len(d.Notes) == 0 || p.byN[d.Notes[0].N] == nil {
			continue
		}
		taken := p.withFingers(d.Notes)
		from := score.Left
		if d.To == score.Left {
			from = score.Right
		}
		verb, why := "may take", fmt.Sprintf(strings.ReplaceAll(reasonWords[d.Reason], "%s", "%[1]s"), from.Words())
		if !strings.Contains(reasonWords[d.Reason], "%s") {
			why = reasonWords[d.Reason]
		}
		if why == "" {
			why = d.Reason
		}
		if d.Decided {
			verb, why = "takes", d.Why
			if why == "" {
				why = "decided by the editor"
			}
		}
		line := fmt.Sprintf(
			"m. %s%s: the %s %s %s", p.byN[d.Notes[0].N].Measure, p.beatOf(taken[0].note),
			p.taker(taken[0].note.Part, d.To), verb, spell(taken, taken[0].note.MeasureIndex),
		)
		line += ". Reason: " + strings.TrimSuffix(why, ".") + "."
		for _, h := range []score.Hand{score.Right, score.Left} {
			around := slices.DeleteFunc(p.withFingers(d.Around), func(f fingered) bool { return f.note.Hand != h })
			if len(around) > 0 {
				line += fmt.Sprintf(" With it in the %s: %s.", h.Words(), spell(around, taken[0].note.MeasureIndex))
			}
		}
		out = append(out, line)
	}
	return out
}

// taker names the hand that takes notes, and whose it is where several play.
func (p *pieceRemarks) taker(part string, h score.Hand) string {
	if len(p.players) < 2 {
		return h.Words()
	}
	return fmt.Sprintf("%s of player %d", h.Words(), p.players[part])
}

// fingered is a note with the finger it gets elsewhere.
type fingered struct {
	note   *state.Note
	finger int
}

// withFingers puts notes into the order of playing.
func (p *pieceRemarks) withFingers(notes []state.RedistributedNote) (out []fingered) {
	for _, n := range notes {
		if note := p.byN[n.N]; note != nil {
			out = append(out, fingered{note, n.Finger})
		}
	}
	slices.SortStableFunc(out, func(a, b fingered) int {
		if a.note.MeasureIndex != b.note.MeasureIndex {
			return a.note.MeasureIndex - b.note.MeasureIndex
		}
		return a.note.Onset.Cmp(b.note.Onset)
	})
	return out
}

// spell lists notes with their fingers, and the measure where it is another
// than the last one named: "C♯4 (2), E4 (1), in m. 5 D4 (3)".
func spell(notes []fingered, measure int) string {
	words := make([]string, len(notes))
	for k, f := range notes {
		words[k] = fmt.Sprintf("%s (%d)", pitch(f.note.Pitch), f.finger)
		if f.note.MeasureIndex != measure {
			measure = f.note.MeasureIndex
			words[k] = "in m. " + f.note.Measure + " " + words[k]
		}
	}
	return strings.Join(words, ", ")
}

func (p *pieceRemarks) beatOf(n *state.Note) string {
	if p.beats == nil {
		return ""
	}
	return ", beat " + p.beats(n.MeasureIndex, n.Onset)
}

// composers says where the composer's digits stand and where they are carried
// to returns, and lists each place at which the fingering is another.
func (p *pieceRemarks) composers() (opening string, differ []string) {
	stands := func(n *state.Note) bool { return composersFinger(n) > 0 }
	count, where := p.byHand(stands)
	if count == 0 {
		return "", nil
	}
	differ = p.lines(p.groups(func(n *state.Note) bool {
		return differs(n, composersFinger(n))
	}), func(chord []*state.Note) string {
		return fmt.Sprintf(
			"the composer's %s; ours %s%s.",
			each(chord, func(n *state.Note) string { return fmt.Sprint(composersFinger(n)) }),
			each(chord, func(n *state.Note) string { return fmt.Sprint(n.Finger) }), p.decidedBy(chord))
	})
	opening = fmt.Sprintf("The composer's digits stand on %s: %s.", many(count, "note"), where)
	if len(differ) == 0 {
		opening += " The fingering keeps them all."
	}
	if n, where := p.byHand(carried); n > 0 {
		opening += fmt.Sprintf(
			" They are carried to %s of passages that return, where they count as the editor's: %s.", many(n, "note"),
			where,
		)
	}
	return opening, differ
}

// carried reports whether a finger is the editor's because the composer's digit
// stands in a passage that returns: nobody has decided it.
func carried(n *state.Note) bool {
	return n.Responsibility == score.Editor && n.Agent == "" && !n.Tied &&
		!slices.ContainsFunc(n.Source, func(s state.Source) bool { return s.Responsibility == score.Editor })
}

// decidedBy names the editors who decided what stands on a chord.
func (p *pieceRemarks) decidedBy(chord []*state.Note) string {
	var who []string
	for _, n := range chord {
		if n.Agent != "" && !slices.Contains(who, n.Agent) {
			who = append(who, n.Agent)
		}
	}
	if len(who) == 0 {
		return ""
	}
	return " (" + strings.Join(who, ", ") + ")"
}

// beside lists the open alternatives that are offered beside the composer's digits.
func (p *pieceRemarks) beside() []string {
	return p.lines(p.groups(func(n *state.Note) bool {
		return n.Beside > 0 && !n.Tied
	}), func(chord []*state.Note) string {
		said := each(chord, func(n *state.Note) string {
			if f := composersFinger(n); f > 0 {
				return fmt.Sprint(f)
			}
			return "–"
		})
		return fmt.Sprintf("the composer's %s; beside it %s.", said, each(
			chord, func(n *state.Note) string { return fmt.Sprint(n.Beside) },
		))
	})
}

// returns lists the passages that are declared to be fingered for themselves.
func (p *pieceRemarks) returns() (out []string) {
	for _, r := range p.result.Returns {
		if !r.Apart {
			continue
		}
		said := fmt.Sprintf("%s returns from %s and is fingered for itself", r.Later, r.First)
		switch {
		case r.Alike == r.Notes:
			said += ", note for note with the same fingers all the same."
		default:
			said += fmt.Sprintf(": another finger on %d of %s.", r.Notes-r.Alike, many(r.Notes, "note"))
		}
		out = append(out, said)
	}
	return out
}

func (p *pieceRemarks) queries() (out []string) {
	for _, f := range p.result.Findings {
		if f.Rule == decisionquery.Rule.Name {
			out = append(out, f.Sentence())
		}
	}
	return out
}
