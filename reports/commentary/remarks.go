package commentary

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/rules/lint/decision-query"
)

// pieceRemarks words the remarks on one piece from its results.
type pieceRemarks struct {
	*printwords.Words
	source bool // the digits in the text are called those of the source, not the composer's
	result *state.Result
	policy *policies.Policy
	beats  Beats
	byN    map[int]*state.Note
	keys   keys
	// players numbers the parts in the order of the score.
	players map[string]int
}

// say gives a sentence on the composer's digits, or on the source's where nothing tells whose they are.
func (p *pieceRemarks) say(key string, args ...any) string {
	if p.source {
		key += ".source"
	}
	return p.Say(key, args...)
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
		verb, why := "may.take", d.Reason
		if printwords.Has("reason." + d.Reason) {
			why = p.Say("reason."+d.Reason, p.Say("of.hand."+from.String()))
		}
		if d.Decided {
			verb = "takes"
			switch known := d.Reason != "decided" && d.Reason != ""; {
			case known && d.Why != "":
				why += p.Say("semicolon") + d.Why
			case d.Why != "":
				why = d.Why
			case !known:
				why = p.Say("reason.decided")
			}
		} else if p.result.Summary.Press {
			continue // nobody decided it: nothing of it is printed
		}
		where := p.Say("measure", p.byN[d.Notes[0].N].Measure) + p.beatOf(taken[0].note) + p.Say("colon")
		line := p.Say(verb, where, p.taker(taken[0].note.Part, d.To), p.spell(taken, taken[0].note.MeasureIndex))
		line += p.Say("reason", strings.TrimSuffix(why, "."))
		for _, h := range []score.Hand{score.Right, score.Left} {
			around := slices.DeleteFunc(p.withFingers(d.Around), func(f fingered) bool { return f.note.Hand != h })
			if len(around) > 0 {
				line += p.Say("with.it", p.Say("in.hand."+h.String()), p.spell(around, taken[0].note.MeasureIndex))
			}
		}
		out = append(out, line)
	}
	return out
}

// taker names the hand that takes notes, and whose it is where several play.
func (p *pieceRemarks) taker(part string, h score.Hand) string {
	if len(p.players) < 2 {
		return p.Say("the.hand." + h.String())
	}
	return p.Say("the.hand."+h.String()) + p.Say("of.player", p.players[part])
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

func (p *pieceRemarks) beatOf(n *state.Note) string {
	if p.beats == nil {
		return ""
	}
	return ", " + p.Say("beat", p.beats(n.MeasureIndex, n.Onset))
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
		return p.keys.differ(n, composersFinger)
	}), func(chord []*state.Note) string {
		return p.say("differs",
			each(chord, func(n *state.Note) string { return fmt.Sprint(composersFinger(n)) }),
			each(chord, func(n *state.Note) string { return fmt.Sprint(n.Finger) }), p.decidedBy(chord))
	})
	opening = p.say("stand", p.Say("on.notes", count), where)
	if len(differ) == 0 {
		opening += p.Say("kept")
	}
	if n, where := p.byHand(carried); n > 0 {
		opening += " " + p.Say("carried", n, where)
	}
	return opening, differ
}

// carried reports whether a finger is the composer's of a passage that returns: nobody has decided that it holds here.
func carried(n *state.Note) bool { return n.Carried }

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
	if p.result.Summary.Press {
		return nil // nobody decided them
	}
	return p.lines(p.groups(func(n *state.Note) bool {
		return n.Beside > 0 && !n.Tied
	}), func(chord []*state.Note) string {
		said := each(chord, func(n *state.Note) string {
			if f := composersFinger(n); f > 0 {
				return fmt.Sprint(f)
			}
			return "–"
		})
		return p.say("beside", said, each(
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
		said := p.Say("returns", p.passage(&r.Later), p.passage(&r.First))
		if r.Alike == r.Notes {
			said += p.Say("returns.alike")
		} else {
			said += p.Say("returns.other", r.Notes-r.Alike, p.Say("notes", r.Notes))
		}
		out = append(out, said)
	}
	return out
}

// passage says where a passage stands: "m. 1–4, beat 1, right hand".
func (p *pieceRemarks) passage(r *state.ReturnPassage) string {
	measures := r.Measure
	if r.ToMeasure != r.Measure {
		measures += "–" + r.ToMeasure
	}
	beat := r.Beat
	if n := p.byN[r.From]; n != nil && p.beats != nil && n.MeasureIndex == r.MeasureIndex {
		beat = p.beats(n.MeasureIndex, n.Onset)
	}
	return p.Say("measure", measures) + ", " + p.Say("beat", beat) + ", " + p.Say("hand."+r.Hand.String())
}

// queries lists what editors ask, each where it stands and in the editor's words.
func (p *pieceRemarks) queries() (out []string) {
	for _, f := range p.result.Findings {
		if f.Rule != decisionquery.Rule.Name {
			continue
		}
		who, question, ok := strings.Cut(f.Message, " asks: ")
		where := p.Say("measure", f.Measure)
		if f.Hand != score.NoHand {
			where += ", " + p.Say("hand."+f.Hand.String())
		}
		if f.Beat != "" {
			where += ", " + p.Say("beat", p.beatOfFinding(&f))
		}
		said := f.Message
		if ok {
			said = p.Say("query", who, question)
		}
		out = append(out, where+p.Say("colon")+strings.Join(strings.Fields(said), " "))
	}
	return out
}

// beatOfFinding names the beat of a finding by its first note, where that is known.
func (p *pieceRemarks) beatOfFinding(f *state.Finding) string {
	if len(f.Notes) > 0 && p.beats != nil {
		if n := p.byN[f.Notes[0]]; n != nil {
			return p.beats(n.MeasureIndex, n.Onset)
		}
	}
	return f.Beat
}
