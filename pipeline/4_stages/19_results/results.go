// Package results is the stage that lays down everything worked out of a piece
// as its results.
package results

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/pipeline/4_stages/18_stet"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
	"fingerproof/rules/parallel"
)

// Regrets, in milli-nats, up to which a note tells what its effort is made of
// and lists a second other finger: beyond them nobody asks, and results should
// not outweigh the score. The best other finger is always listed.
const (
	closeChoice  = 300
	secondChoice = 1500
)

// Input is everything the stage looks at. Slices of notes run parallel to Score.Notes.
type Input struct {
	Piece   *corpus.Piece
	Inputs  state.Inputs // sums of what the results stand on
	Edition string       // file name of the edition, "" where none is asked for
	Press   bool         // nothing is printed that is open
	Packed  bool         // the score is packed in its file: nobody opens a line of what is inside

	Score           *score.Score
	Whose           [][]score.Responsibility
	Witnesses       []witnesses.Witness
	Sources         *attribute.Sources
	Playing         *playing.Playing
	Profile         hand.Profile
	Tempo           *tempo.Tempo
	Returns         []parallel.Return
	Same            []parallel.Return // the notes of each whose music is the same all round
	Apart           []bool            // notes that are fingered for themselves where their passage returns; nil: none
	Decided         *decide.Placed
	Bound           []decide.Digit
	Suggestion      *suggest.Suggestion
	Beside          []int // fingers offered beside the composer's digits; nil: none
	Credited        credit.Output
	Redistributions []fingering.Redistribution
	Rolls           []fingering.Roll
	Print           []bool // notes that get a digit
	Draft           *attribute.Draft
	Unattributed    bool  // nothing tells whose the digits in the text are
	Open            []int // notes whose digit the house style prints and nobody has decided
	Remaining       []lint.Finding
	LetStand        []stet.LetStand
}

// Build lays down everything worked out as results.
func Build(given Input) *state.Result {
	in := &given
	r := &state.Result{
		Version: state.Version, Piece: in.Piece.ID,
		Inputs: in.Inputs,
		Notes:  make([]state.Note, 0, len(in.Score.Notes)),
	}
	t := in.Tempo
	r.Summary = state.Summary{
		Title: titleOf(in), Composer: strings.Join(strings.Fields(in.Score.Composer), " "), Score: in.Piece.Score, Edition: in.Edition, Measures: len(in.Score.Measures),
		Hand: in.Profile.Description(), Scoring: string(in.Piece.Scoring),
		Tempo: state.Tempo{Low: t.Low, High: t.High, Beat: t.Beat.String(), Source: t.Source},
	}
	for i := range in.Score.Notes {
		if in.Playing.Plays(i) {
			r.Notes = append(r.Notes, noteOf(in, i))
			count(&r.Summary, &r.Notes[len(r.Notes)-1])
		}
	}
	r.Summary.Hands = handTotals(in)
	r.Redistributions = redistributionsOf(in)
	r.Rolls = rollsOf(in)
	r.Collapses, r.SmallerHand = collapsesOf(in), smallerHandOf(in)
	r.Returns = returnsOf(in)
	r.Witnesses = witnessesOf(in)
	r.Summary.Unattributed = in.Unattributed
	r.Draft, r.Reasons = DraftOf(in.Draft, in.Piece), reasonsOf(in)
	addDecisions(in, r)
	var listed []*lint.Finding // what is let stand, too: a finding keeps its marks when it is decided
	for i := range in.Remaining {
		listed = append(listed, &in.Remaining[i])
	}
	for i := range in.LetStand {
		listed = append(listed, &in.LetStand[i].Finding)
	}
	marks := fingerprintsOf(in.Score, listed)
	for i, f := range in.Remaining {
		r.Findings = append(r.Findings, findingOf(in, f, marks[i]))
		switch f.Severity {
		case lint.Error:
			r.Summary.Severities.Error++
		case lint.Warning:
			r.Summary.Severities.Warning++
		default:
			r.Summary.Severities.Note++
		}
	}
	for i, f := range in.LetStand {
		d := f.By
		r.Stets = append(r.Stets, state.Stet{
			Finding: findingOf(in, f.Finding, marks[len(in.Remaining)+i]), By: d.By, When: d.When,
			Until: d.Until, Why: d.Why, NotFound: f.NotFound,
		})
	}
	r.Summary.Stetted = len(r.Stets)
	return r
}

func titleOf(in *Input) string {
	switch {
	case in.Piece.Title != "":
		return in.Piece.Title
	case in.Score.Subtitle != "":
		return in.Score.Title + ": " + in.Score.Subtitle
	}
	return in.Score.Title
}

func count(s *state.Summary, n *state.Note) {
	s.Notes++
	if !n.Tied {
		s.Struck++
	}
	if n.Finger > 0 {
		s.Fingered++
	}
	if n.OutOfReach != "" {
		s.OutOfReach++
	}
	if n.Printed {
		s.Printed++
	}
	if slices.ContainsFunc(n.Source, func(s state.Source) bool { return !s.WitnessOnly }) {
		s.Given++
	}
}

func noteOf(in *Input, i int) state.Note {
	n, e := &in.Score.Notes[i], &in.Suggestion.Notes[i]
	out := state.Note{
		N: i, Measure: in.Score.Measures[n.Measure].Number, MeasureIndex: n.Measure, Onset: n.Onset, Grace: n.Grace,
		Staff: n.Staff, Voice: n.Voice, Pitch: n.Pitch.String(), Midi: n.Midi, Hand: in.Playing.Hand(i),
		Finger: int(e.Finger), Tied: n.TiedFrom >= 0, OutOfReach: string(e.OutOfReach), Printed: in.Print[i],
		CostsMore: e.CostsMore,
	}
	if several(in.Playing.Parts()) {
		out.Part = in.Score.Parts[n.Part].ID
	}
	if then := in.Credited.Changes[i]; then > 0 {
		out.Substitution = []int{then}
	}
	out.Fingers = in.Credited.Rows[i]
	if in.Beside != nil {
		out.Beside = in.Beside[i]
	}
	switch {
	case e.Pedal && !e.Spared:
		out.Touch = "pedal"
	case e.Detached:
		out.Touch = "detached"
	}
	for k, ind := range n.Indications {
		spelled := ind.Fingers
		if len(spelled) == 1 && ind.Text == fmt.Sprint(spelled[0]) {
			spelled = nil
		}
		out.Source = append(out.Source, state.Source{
			Text: ind.Text, Fingers: spelled, Alternate: ind.Alternate, Substitution: ind.Substitution,
			Responsibility: in.Whose[i][k], Agent: ind.Agent, Witnesses: in.Sources.Sigla[i][k],
		})
		if e.Finger > 0 && !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 && ind.Fingers[0] == int(e.Finger) {
			out.Printed = true
			if in.Whose[i][k] != score.Open {
				out.Responsibility = in.Whose[i][k]
			}
		}
	}
	addPiled(in, i, &out)
	addDecider(in, i, &out)
	if in.Decided.Seconds != nil && in.Decided.Seconds[i].Finger != out.Finger {
		out.Second, out.SecondFor = in.Decided.Seconds[i].Finger, in.Decided.Seconds[i].For
	}
	if out.Responsibility == score.Unattributed && in.drafted(i) {
		out.Draft = in.Piece.Draft.By
	}
	addReadings(in, i, &out)
	if !out.Tied && e.Finger > 0 {
		addChoices(&out, e.Fingered)
		if askedAsPile(in, i) {
			confidence := state.PercentOf(pileRead, 100)
			out.Confidence = &confidence
		}
		if e.Reach < 10000 {
			reach := state.PercentOf(int64(e.Reach), 10000)
			out.Reach = &reach
		}
	}
	return out
}

// addPiled says of a digit that stands at another note of its chord where it stands, and whose it is.
func addPiled(in *Input, i int, out *state.Note) {
	pile := in.Playing.Pile(i)
	if pile == nil || in.Playing.Piled(i) != out.Finger {
		return
	}
	at := &in.Score.Notes[pile.At]
	out.Piled, out.Printed = at.Pitch.String(), true
	for k := range at.Indications {
		if who := in.Whose[pile.At][k]; at.Indications[k].Finger() == out.Finger && who != score.Open {
			out.Responsibility = who
		}
	}
}

// pileRead is in how many of a hundred piles of the open fingered scores the digits are those of the chord: as many as stand in the
// order of the keys (hands.Find), since real changes go either way.
const pileRead = 95

// askedAsPile says that a note has no digit but one of its chord's that stand at another of its notes, which the file calls a
// change, and that nobody decided it: its finger is as sure as the reading is.
func askedAsPile(in *Input, i int) bool {
	pile := in.Playing.Pile(i)
	return pile != nil && pile.AsChange && pile.At != i && in.Bound[i].Finger() == 0 && in.Suggestion.Notes[i].Constrained
}

// addChoices adds what the engine says of other fingers, where the finger is
// not given.
func addChoices(out *state.Note, e engine.Fingered) {
	if e.Constrained {
		out.CostsMore = 0
		return
	}
	confidence := state.PercentOf(int64(e.Confidence), 10000)
	out.Confidence = &confidence
	for k, c := range e.Choices {
		if k > 0 && c.Regret > secondChoice {
			break
		}
		out.Alternatives = append(out.Alternatives, state.Alternative{Finger: int(c.Finger), Regret: c.Regret})
	}
	if len(e.Choices) > 0 && e.CostsMore <= closeChoice {
		out.Effort = shares(e.Effort)
	}
}

func shares(efforts []engine.Effort) state.Effort {
	var out state.Effort
	for _, e := range efforts {
		out = append(out, state.Share{Criterion: e.Criterion, MilliNats: int64(e.Cost)})
	}
	return out
}

func several(parts []bool) bool {
	n := 0
	for _, p := range parts {
		if p {
			n++
		}
	}
	return n > 1
}

// handTotals sums each line, criteria in their own order, and finds its widest grip.
func handTotals(in *Input) []state.HandTotal {
	out := []state.HandTotal{}
	for _, l := range in.Suggestion.Lines {
		t := state.HandTotal{
			Hand: l.Hand, Notes: l.Notes, Effort: shares(l.Effort),
			Measures: make([]int64, len(in.Score.Measures)),
		}
		if t.Effort == nil {
			t.Effort = state.Effort{}
		}
		if several(in.Playing.Parts()) {
			t.Part = in.Score.Parts[l.Part].ID
		}
		for _, i := range in.Playing.Line(l.Player, l.Hand).Written {
			for _, e := range in.Suggestion.Notes[i].Effort {
				t.Measures[in.Score.Notes[i].Measure] += int64(e.Cost)
			}
			chord := in.Playing.Together(i)
			if len(chord) < 2 || chord[len(chord)-1] != i || in.Playing.Rolls(chord) {
				continue
			}
			width := int(hand.Distance(in.Score.Notes[chord[0]].Midi, in.Score.Notes[i].Midi))
			if t.Widest == nil || width > t.Widest.Span {
				t.Widest = &state.Grip{
					Note: i, Span: width, Reach: state.PercentOf(int64(in.Suggestion.Notes[i].Reach), 10000),
				}
			}
		}
		out = append(out, t)
	}
	return out
}

// findingOf gives a finding its place and the marks by which it is known again.
func findingOf(in *Input, f lint.Finding, marks fingerprints) state.Finding {
	beat := ""
	if len(f.Notes) > 0 || f.Placed {
		beat = in.Score.Beat(f.Measure, f.Onset)
	}
	if in.Packed {
		f.Line, f.Column = 0, 0
	}
	return state.Finding{
		Beat: beat, Fixable: len(f.Edit) > 0,
		Rule: f.Rule, Severity: f.Severity.String(), Message: f.Message, Notes: f.Notes, At: f.At,
		Measure: in.Score.Measures[f.Measure].Number, MeasureIndex: f.Measure, Onset: f.Onset, Hand: f.Hand,
		Line: f.Line, Column: f.Column, Fingerprint: marks.music, Address: marks.address, Fix: f.Fix,
	}
}
