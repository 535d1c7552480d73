package commentary

import (
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/decision-query"
	"fingerproof/rules/lint/personal-fingering"
	"fingerproof/rules/lint/return-differs"
	"fingerproof/rules/lint/value-against-length"
	"fingerproof/rules/lint/value-unreadable"
)

// mostPlaces is how many places of one remark are named by their beats; of more the measures are named.
const mostPlaces = 6

// sectionOfStets is the section of what was let stand. Rules speak English alone: in another language it says what is not told.
func (p *pieceRemarks) sectionOfStets() Section {
	s := Section{Heading: p.Say("section.stets"), Remarks: p.stets()}
	if len(s.Remarks) > 0 && p.Language != "en" {
		s.Opening = p.Say("stets.opening")
	}
	return s
}

// stets lists what is found in the text or in the fingering and an editor let stand, with the editor's reason: like places
// of one hand, let stand for one reason, once.
func (p *pieceRemarks) stets() (out []string) {
	type like struct{ hand, what, why string }
	var order []like
	at := map[like][]*state.Finding{}
	several, first := p.saidOtherwise(), map[ruleAndWhy]string{}
	for i := range p.result.Stets {
		s := &p.result.Stets[i]
		if s.Finding.Rule == decisionquery.Rule.Name || s.Why == "" || s.NotFound || ofTheFile[s.Finding.Rule] {
			continue // a query is told as one; what is not found as the edition stands is none of its readers' business
		}
		l := like{p.handOfFinding(&s.Finding), p.found(&s.Finding), strings.TrimSuffix(s.Why, ".")}
		if of := (ruleAndWhy{s.Finding.Rule, s.Why}); several[of] > mostOfOneReason {
			if first[of] == "" {
				first[of] = l.what
			}
			l.hand, l.what = "", first[of]+"; at the other places the like of other notes"
		}
		if at[l] == nil {
			order = append(order, l)
		}
		at[l] = append(at[l], &s.Finding)
	}
	for _, l := range order {
		where := p.placesOf(at[l])
		if l.hand != "" {
			where = l.hand + ", " + where
		}
		out = append(out, where+p.Say("colon")+l.what+p.Say("reason", l.why))
	}
	return out
}

// mostOfOneReason is how many like findings that were let stand for one reason are told one by one, each in its own words; more
// are told in one line with their places, in the words of the first.
const mostOfOneReason = 3

// ofTheFile are the rules that speak of how the file writes the music, not of what its reader sees: what was let stand there
// is no business of a printed commentary. The page and the decisions keep it.
var ofTheFile = map[string]bool{
	valueagainstlength.Rule.Name: true, valueunreadable.Rule.Name: true,
}

type ruleAndWhy struct{ rule, why string }

// saidOtherwise counts the words in which a rule speaks of places that were let stand for one reason. Only in English: in other
// languages notes are named.
func (p *pieceRemarks) saidOtherwise() map[ruleAndWhy]int {
	out, seen := map[ruleAndWhy]int{}, map[string]bool{}
	for i := range p.result.Stets {
		s := &p.result.Stets[i]
		of := ruleAndWhy{s.Finding.Rule, s.Why}
		key := s.Finding.Rule + "\n" + s.Why + "\n" + s.Finding.Hand.String() + "\n" + p.found(&s.Finding)
		if p.Language != "en" || s.NotFound || seen[key] || all.Rule(s.Finding.Rule) == nil || s.Finding.Rule == personalfingering.Rule.Name {
			continue
		}
		seen[key] = true
		out[of]++
	}
	return out
}

func (p *pieceRemarks) handOfFinding(f *state.Finding) string {
	if f.Hand == score.NoHand {
		return ""
	}
	part := ""
	if len(f.Notes) > 0 && p.byN[f.Notes[0]] != nil {
		part = p.byN[f.Notes[0]].Part
	}
	return p.handOf(part, f.Hand)
}

var pitchForm = regexp.MustCompile(`\b[A-G](?:#{1,2}|b{1,2})-?\d\b`)

// found says what a finding is about. Rules speak English; in another language the notes are named that it speaks of, with
// their fingers where it is one on the fingering. So are digits of the editor's that the check holds against others: the
// reader of an edition has no such others.
func (p *pieceRemarks) found(f *state.Finding) string {
	personal := f.Rule == personalfingering.Rule.Name
	if p.Language == "en" && !personal {
		said := f.Message
		if f.Rule == returndiffers.Rule.Name {
			said, _, _ = strings.Cut(said, "; ") // how many digits of the passage differ is another at each place
		}
		said = pitchForm.ReplaceAllStringFunc(strings.Join(strings.Fields(said), " "), pitch)
		return strings.TrimSuffix(said, ".") // it goes on after its place
	}
	rule := all.Rule(f.Rule)
	var keys []string
	var notes []state.RedistributedNote
	for _, n := range f.Notes {
		note := p.byN[n]
		if note == nil || !personal && note.MeasureIndex != f.MeasureIndex {
			continue
		}
		if note.Finger > 0 {
			notes = append(notes, state.RedistributedNote{N: n, Finger: note.Finger})
		}
		if !slices.Contains(keys, pitch(note.Pitch)) {
			keys = append(keys, pitch(note.Pitch))
		}
	}
	switch {
	case len(notes) > 0 && (rule == nil || !rule.Text):
		return p.spell(p.withFingers(notes), f.MeasureIndex)
	case len(keys) > 0:
		return p.Say("stet.music", strings.Join(keys, " "))
	}
	return p.Say("stet.measure")
}

// placesOf names places in their order: "m. 5, beat 1; beat 3; m. 10, beat 1", of many of them the measures.
func (p *pieceRemarks) placesOf(findings []*state.Finding) string {
	var words []string
	var in []*state.Note
	last, named := -1, map[string]bool{} // beats of the measure
	for _, f := range findings {
		place, beat := "", ""
		if f.MeasureIndex != last {
			place, named = p.Say("measure", f.Measure), map[string]bool{}
			in = append(in, &state.Note{Measure: f.Measure, MeasureIndex: f.MeasureIndex})
		}
		if f.Beat != "" {
			beat = p.Say("beat", p.beatOfFinding(f))
		}
		switch {
		case place != "" && beat != "":
			words = append(words, place+", "+beat)
		case place+beat != "" && !named[beat]:
			words = append(words, place+beat)
		}
		named[beat] = true
		last = f.MeasureIndex
	}
	if len(words) > mostPlaces {
		return p.measures(in)
	}
	return strings.Join(words, p.Say("semicolon"))
}
