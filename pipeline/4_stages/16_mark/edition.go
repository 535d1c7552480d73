package mark

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// Input is everything the stage looks at. Slices run parallel to Score.Notes.
type Input struct {
	Text         edition.Text // what marks are put into
	Score        *score.Score
	Whose        [][]score.Responsibility
	Playing      *playing.Playing
	Decided      *decide.Placed
	Bound        []decide.Digit
	Suggestion   *suggest.Suggestion
	Credited     credit.Output
	Print        []bool // whether a digit is added
	Alternatives []int  // fingers printed beside others, 0 for none
	// Redistributions are those offered and those decided.
	Redistributions []fingering.Redistribution
	Rolls           []fingering.Roll // offered and decided
	Policy          *policies.Policy
	Press           bool // nothing is marked that is open
	Unattributed    bool // nothing tells whose the digits in the text are
}

// Output is the edition.
type Output struct {
	Edits  []source.Edit // of Input.Text.Document
	Data   []byte        // the edition's file
	Record *source.Record
	Occurs policies.Occurs // what a legend has to explain
}

// Edition marks a piece in the house style, and splices the marks into its text.
func Edition(in Input) (out Output, err error) {
	marking, options, occurs := printed(in)
	out.Occurs = occurs
	if out.Edits, err = edition.Pack(in.Text, marking, embedded(in, &marking), options); err != nil {
		return out, err
	}
	out.Data, out.Record, err = in.Text.Document.Edition(out.Edits)
	return out, err
}

// Prints gives all that an edition prints beside its text, in no format's terms.
func Prints(in Input) (score.Marking, score.SpliceOptions) {
	marking, options, _ := printed(in)
	return marking, options
}

func printed(in Input) (score.Marking, score.SpliceOptions, policies.Occurs) {
	fingered := fingeredOf(in)
	marking := Marking(fingered)
	named(in, &marking)
	Redistributed(fingered, WithoutGainsaid(fingered, redistributions(in)), &marking)
	Rolled(in.Score, rolls(in), in.Policy, &marking)
	HandChanges(fingered, in.Redistributions, &marking)
	does := occurs(fingered, &marking)
	if in.Policy.PrintsLegend() {
		w := in.Policy.Words()
		marking.Legend = policies.LegendWords(w, in.Policy.LegendOf(w, does))
	}
	options := score.SpliceOptions{}
	if in.Policy.Levels() {
		options.Level = "editorial"
	}
	return marking, options, does
}

// named says by which name someone is responsible for the digits that are theirs.
func named(in Input, marking *score.Marking) {
	for i := range marking.Marks {
		m := &marking.Marks[i]
		for k := range m.Digits {
			if c := in.Credited.Credits[m.Note]; c.Who == m.Digits[k].Who {
				m.Digits[k].Agent = c.Agent
			}
		}
	}
}

// fingeredOf is the score with all that becomes a mark.
func fingeredOf(in Input) Fingered {
	f := Fingered{
		Score: in.Score, Whose: in.Whose, Playing: in.Playing, Finger: in.Suggestion.Fingers(), Print: in.Print,
		Policy: in.Policy, Unattributed: in.Unattributed,
		Substitution: in.Credited.Changes, Row: in.Credited.Rows, Alternatives: in.Alternatives,
		Credit: make([]Credit, len(in.Score.Notes)),
	}
	for i, c := range in.Credited.Credits {
		f.Credit[i] = Credit{Who: c.Who, Single: c.Single}
	}
	return f
}

// redistributions leaves out what is only offered where nothing open is marked.
func redistributions(in Input) []fingering.Redistribution {
	if in.Policy.PrintsOpen(in.Press) {
		return in.Redistributions
	}
	return slices.DeleteFunc(slices.Clone(in.Redistributions),
		func(r fingering.Redistribution) bool { return !r.Decided })
}

// rolls leaves out what is only offered where nothing open is marked.
func rolls(in Input) []fingering.Roll {
	return slices.DeleteFunc(slices.Clone(in.Rolls),
		func(r fingering.Roll) bool { return !r.Decided && (r.OtherHand || !in.Policy.PrintsOpen(in.Press)) })
}

// embedded gathers what the edition carries along: whose its digits are, and
// all that was decided of its fingering, printed or not.
func embedded(in Input, marking *score.Marking) edition.Embedded {
	e, then := edition.Embedded{Whose: edition.Letters(in.Whose), Unattributed: in.Unattributed}, following(in)
	for _, m := range marking.Marks {
		if len(m.Digits) == 0 || m.Note >= len(in.Credited.Credits) {
			continue
		}
		if c := in.Credited.Credits[m.Note]; c.Who != score.Open {
			e.Digits = append(e.Digits, edition.Digit{
				N: m.Note, Finger: int(in.Suggestion.Notes[m.Note].Finger), Then: then[m.Note], Who: c.Who,
				Agent: c.Agent, Sigla: c.Sigla,
			})
		}
	}
	for i := range in.Bound {
		if d := &in.Bound[i]; d.Verb != "" {
			k := edition.Decision{N: i, Verb: string(d.Verb), Fingers: d.Written(), By: d.By, Always: d.Always, Carried: d.Carried}
			if d.Verb == decision.Take {
				k.Entry = d.Entry
			}
			e.Decided = append(e.Decided, k)
		}
	}
	for i := range in.Decided.Redistributions {
		r := &in.Decided.Redistributions[i]
		k := edition.Redistribution{ID: r.ID, To: r.To, Why: r.Why, Notes: r.Notes}
		if r.Reason != "decided" {
			k.Reason = r.Reason
		}
		for _, f := range r.Fingers {
			k.Fingers = append(k.Fingers, int(f))
		}
		e.Redistributions = append(e.Redistributions, k)
	}
	for n := range in.Decided.Seconds {
		if d := &in.Decided.Seconds[n]; d.Finger > 0 {
			e.Seconds = append(e.Seconds, edition.Second{N: n, Finger: d.Finger, By: d.By, For: d.For})
		}
	}
	e.Declined = in.Decided.Declined
	for _, r := range in.Decided.Rolls {
		e.Rolls = append(e.Rolls, edition.Roll{
			ID: r.ID, Down: r.Down, By: r.By, Reason: r.Reason, Why: r.Why, Notes: r.Notes,
		})
	}
	e.Unrolled = in.Decided.Unrolled
	return e.WithMusic(in.Score, pageOf(in, marking))
}

// pageOf lists the digits of the edition by the music they stand at: those of
// the text, and those that are added.
func pageOf(in Input, marking *score.Marking) []edition.PageDigit {
	addresses := in.Score.Addresses()
	var out []edition.PageDigit
	for i := range in.Score.Notes {
		for k, ind := range in.Score.Notes[i].Indications {
			out = append(out, edition.PageDigit{At: addresses[i], Digit: ind.Text, Who: in.Whose[i][k]})
		}
	}
	for _, m := range marking.Marks {
		who := score.Open
		if m.Note < len(in.Credited.Credits) && in.Credited.Credits[m.Note].Who != score.Unattributed {
			who = in.Credited.Credits[m.Note].Who
		}
		for _, d := range m.Digits {
			out = append(out, edition.PageDigit{At: addresses[m.Note], Digit: d.Text, Who: who, Added: true})
		}
	}
	slices.SortStableFunc(out, func(p, q edition.PageDigit) int { return cmp.Compare(p.At.Measure, q.At.Measure) })
	return out
}

// following has by note the fingers that follow on its digit in print.
func following(in Input) [][]int {
	out := make([][]int, len(in.Score.Notes))
	for i := range out {
		if row := in.Credited.Rows[i]; len(row) > 1 && in.Policy.PrintsRows() {
			out[i] = row[1:]
		} else if then := in.Credited.Changes[i]; then > 0 {
			out[i] = []int{then}
		}
	}
	return out
}
