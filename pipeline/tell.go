package pipeline

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"slices"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// EngineVersion rises when equal inputs may give another fingering.
const EngineVersion = "0.3"

// Regrets, in milli-nats, up to which a note tells what its effort is made of
// and lists a second other finger: beyond them nobody asks, and results should
// not outweigh the score. The best other finger is always listed.
const (
	closeChoice  = 300
	secondChoice = 1500
)

// tell lays down everything worked out as results.
func tell(w *PieceRun) error {
	r := &state.Result{
		Version: state.Version, Piece: w.Piece.ID,
		Inputs: state.Inputs{Score: Sum(w.Data), Policy: w.Policy.Sum(), Decisions: decision.Sum(w.Decisions), Weights: w.Weights.Sum, Setting: w.Setting, Engine: EngineVersion},
		Notes:  []state.Note{},
	}
	t := w.Tempo
	r.Summary = state.Summary{
		Title: titleOf(w), Score: w.Piece.Score, Edition: w.Edition, Measures: len(w.Score.Measures),
		Hand: w.Profile.Description(), Scoring: string(w.Piece.Scoring),
		Tempo: state.Tempo{Low: t.Low, High: t.High, Beat: t.Beat.String(), Source: t.Source},
	}
	for i := range w.Score.Notes {
		if w.Playing.Plays(i) {
			r.Notes = append(r.Notes, tellNote(w, i))
			count(&r.Summary, &r.Notes[len(r.Notes)-1])
		}
	}
	r.Summary.Hands = tellHands(w)
	r.Redistributions = tellRedistributions(w)
	r.Collapses, r.SmallerHand = tellCollapses(w), tellSmaller(w)
	r.Returns = tellReturns(w)
	r.Witnesses = tellWitnesses(w)
	tellDecisions(w, r)
	var told []*lint.Finding // what is let stand, too: a finding keeps its marks when it is decided
	for i := range w.Settled.Findings {
		told = append(told, &w.Settled.Findings[i])
	}
	for i := range w.Settled.Stets {
		told = append(told, &w.Settled.Stets[i].Finding)
	}
	marks := fingerprintsOf(w.Score, told)
	for i, f := range w.Settled.Findings {
		r.Findings = append(r.Findings, tellFinding(w, f, marks[i]))
		switch f.Severity {
		case lint.Error:
			r.Summary.Severities.Error++
		case lint.Warning:
			r.Summary.Severities.Warning++
		default:
			r.Summary.Severities.Note++
		}
	}
	for i, f := range w.Settled.Stets {
		d := f.By
		r.Stets = append(r.Stets, state.Stet{Finding: tellFinding(w, f.Finding, marks[len(w.Settled.Findings)+i]), By: d.By, When: d.When, Until: d.Until, Why: d.Why})
	}
	r.Summary.Stetted = len(r.Stets)
	w.Result = r
	return nil
}

// Sum is the SHA-256 of bytes in hexadecimal.
func Sum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func titleOf(w *PieceRun) string {
	switch {
	case w.Piece.Title != "":
		return w.Piece.Title
	case w.Score.Subtitle != "":
		return w.Score.Title + ": " + w.Score.Subtitle
	}
	return w.Score.Title
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

func tellNote(w *PieceRun, i int) state.Note {
	n, e := &w.Score.Notes[i], &w.Suggestion.Notes[i]
	out := state.Note{
		N: i, Measure: w.Score.Measures[n.Measure].Number, MeasureIndex: n.Measure, Onset: n.Onset, Grace: n.Grace,
		Staff: n.Staff, Voice: n.Voice, Pitch: n.Pitch.String(), Midi: n.Midi, Hand: w.Playing.Hand(i),
		Finger: int(e.Finger), Tied: n.TiedFrom >= 0, OutOfReach: string(e.OutOfReach), Printed: w.Print[i],
		CostsMore: e.CostsMore,
	}
	if several(w.Playing.Parts()) {
		out.Part = w.Score.Parts[n.Part].ID
	}
	if then := w.Credited.Changes[i]; then > 0 {
		out.Substitution = []int{then}
	}
	out.Fingers = w.Credited.Rows[i]
	if w.Beside != nil {
		out.Beside = w.Beside[i]
	}
	switch {
	case e.Pedal:
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
			Responsibility: w.Whose[i][k], Agent: ind.Agent, Witnesses: w.Sources.Sigla[i][k],
		})
		if e.Finger > 0 && !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 && ind.Fingers[0] == int(e.Finger) {
			out.Printed = true
			if w.Whose[i][k] != score.Open {
				out.Responsibility = w.Whose[i][k]
			}
		}
	}
	tellWhose(w, i, &out)
	tellReadings(w, i, &out)
	if !out.Tied && e.Finger > 0 {
		tellChoice(&out, e.Note)
		if e.Reach < 10000 {
			reach := state.PercentOf(int64(e.Reach), 10000)
			out.Reach = &reach
		}
	}
	return out
}

// tellChoice adds what the engine says of other fingers, where the finger is
// not given.
func tellChoice(out *state.Note, e engine.Note) {
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

// tellHands sums each line, criteria in their own order, and finds its widest grip.
func tellHands(w *PieceRun) []state.HandTotal {
	out := []state.HandTotal{}
	for _, l := range w.Suggestion.Lines {
		t := state.HandTotal{Hand: l.Hand, Notes: l.Notes, Effort: shares(l.Effort), Measures: make([]int64, len(w.Score.Measures))}
		if t.Effort == nil {
			t.Effort = state.Effort{}
		}
		if several(w.Playing.Parts()) {
			t.Part = w.Score.Parts[l.Part].ID
		}
		for _, i := range w.Playing.Line(l.Player, l.Hand).Written {
			for _, e := range w.Suggestion.Notes[i].Effort {
				t.Measures[w.Score.Notes[i].Measure] += int64(e.Cost)
			}
			chord := w.Playing.Together(i)
			if len(chord) < 2 || chord[len(chord)-1] != i || w.Score.Notes[i].Arpeggio.Rolled {
				continue
			}
			width := int(hand.Distance(w.Score.Notes[chord[0]].Midi, w.Score.Notes[i].Midi))
			if t.Widest == nil || width > t.Widest.Span {
				t.Widest = &state.Grip{Note: i, Span: width, Reach: state.PercentOf(int64(w.Suggestion.Notes[i].Reach), 10000)}
			}
		}
		out = append(out, t)
	}
	return out
}

// tellFinding gives a finding its place and the marks by which it is known again.
func tellFinding(w *PieceRun, f lint.Finding, marks fingerprints) state.Finding {
	beat := ""
	if len(f.Notes) > 0 || f.Placed {
		beat = w.Score.Beat(f.Measure, f.Onset)
	}
	return state.Finding{
		Beat: beat, Fixable: len(f.Edit) > 0,
		Rule: f.Rule, Severity: f.Severity.String(), Message: f.Message, Notes: f.Notes,
		Measure: w.Score.Measures[f.Measure].Number, MeasureIndex: f.Measure, Onset: f.Onset, Hand: f.Hand,
		Line: f.Line, Column: f.Column, Fingerprint: marks.music, Address: marks.address, Fix: f.Fix,
	}
}

// Criteria lists the criteria of an effort in the order results use.
func Criteria() []string { return effort.Criteria }

// EditionName is the file name of a piece's edition: that of its score.
func EditionName(p *corpus.Piece) string { return path.Base(p.Score) }
