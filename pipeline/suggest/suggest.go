// Package suggest is the stage that works out a fingering for every note: it
// decides who plays what and how fast, hands each hand's line to the engine,
// and lays the answers back beside the notes.
package suggest

import (
	"fingerproof/corpus/score"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Input is everything the stage looks at.
type Input struct {
	Score *score.Score
	// Whose says for each note and each of its indications whose it is. Open
	// digits, suggested before and not decided, bind nothing.
	Whose   [][]score.Responsibility
	Hands   *Hands
	Tempo   *Tempo
	Policy  *policies.Policy
	Touch   string // how unmarked notes are joined: the policy's word
	Profile hand.Profile
	Weights *effort.Weights
}

// Suggestion is a fingering for the whole piece.
type Suggestion struct {
	// Notes runs parallel to Score.Notes; entries of notes that no hand plays are empty.
	Notes []Note
	// Lines sums each hand of each player, in order of player, right hand first.
	Lines []Line
}

// Note is what the engine says of one note, and what the text gives it.
type Note struct {
	engine.Note
	Given int // the finger that the text gives and that constrains, 0 if none
}

// Line is one hand of one player.
type Line struct {
	Player int
	Part   int // index of the part its first note stands in
	Hand   score.Hand
	Notes  int
	Effort []engine.Effort
}

// Suggest fingers every line of the piece. The result depends on the input
// alone.
func Suggest(in Input) *Suggestion {
	out := &Suggestion{Notes: make([]Note, len(in.Score.Notes))}
	var worker engine.Worker
	for player := range 2 * len(in.Score.Parts) {
		for _, h := range [2]score.Hand{score.Right, score.Left} {
			line := lineOf(in, player, h, out)
			if len(line) == 0 {
				continue
			}
			result := worker.Finger(fingering.HandOf(h), in.Profile, in.Weights, line, engine.Options{Decode: engine.MostAgreement, Choices: true, Explain: true, Aims: AimsOf(in.Policy)})
			for i, n := range result.Notes {
				out.Notes[line[i].ID].Note = n
			}
			out.Lines = append(out.Lines, Line{Player: player, Part: in.Score.Notes[line[0].ID].Part, Hand: h, Notes: len(line), Effort: result.Effort})
		}
	}
	followTies(in, out)
	return out
}

// afterNoteFirst leaves room for the after-notes of the note before in front
// of the grace notes of the note that follows at the same moment.
// Rolled notes follow the grace notes.
const (
	afterNoteFirst = 100
	rolledFirst    = 200
)

// NotesOf gives the notes of one hand of one player as the engine is asked
// about them: measurements look at the same line.
func NotesOf(in Input, player int, h score.Hand) []fingering.Note {
	return lineOf(in, player, h, &Suggestion{Notes: make([]Note, len(in.Score.Notes))})
}

// lineOf gathers what the engine needs of one hand's notes.
func lineOf(in Input, player int, h score.Hand, out *Suggestion) []fingering.Note {
	var line []fingering.Note
	s := in.Score
	for i := range s.Notes {
		if !in.Hands.Piano[i] || in.Hands.Player[i] != player || in.Hands.Hand[i] != h {
			continue
		}
		n := &s.Notes[i]
		at := s.At(i)
		note := fingering.Note{
			ID: i, Key: n.Midi, Onset: moment(at), End: moment(at.Add(n.Duration)), Grace: n.Grace,
			Tied:     n.TiedFrom >= 0 && in.Hands.Piano[n.TiedFrom] && in.Hands.Hand[n.TiedFrom] == h && in.Hands.Player[n.TiedFrom] == player,
			Detached: n.Marks&(score.Staccato|score.Staccatissimo) != 0,
			Micros:   in.Tempo.Micros(at),
		}
		if n.Grace > 0 && !n.GraceAfter {
			note.Grace += afterNoteFirst
		}
		if given := GivenFinger(n, in.Whose[i]); given > 0 && in.Policy.Constrains() && !note.Tied {
			note.Allowed = fingering.Only(fingering.Finger(given))
			out.Notes[i].Given = given
		}
		line = append(line, note)
	}
	join(in, line)
	loosen(in, line)
	unroll(in, line)
	return line
}

func moment(f score.Fraction) fingering.Moment { return fingering.Moment{Num: f.Num(), Den: f.Den()} }

// GivenFinger is the finger that strikes a note by the digits at it: the first
// of a row or of a change. Alternatives, hidden digits and open ones do not
// count; 0 if there is none.
func GivenFinger(n *score.Note, whose []score.Responsibility) int {
	for k, ind := range n.Indications {
		if !ind.Alternate && !ind.Hidden && !ind.Substitution && len(ind.Fingers) > 0 && whose[k] != score.Open {
			return ind.Fingers[0]
		}
	}
	return 0
}

// followTies gives tied notes the finger that then holds: a digit at a tied
// note is a change on the held key (FACTS §5.2, common practice), and goes on
// to hold.
func followTies(in Input, out *Suggestion) {
	for i := range in.Score.Notes {
		n := &out.Notes[i]
		if !n.Tied {
			continue
		}
		if given := GivenFinger(&in.Score.Notes[i], in.Whose[i]); given > 0 {
			n.Finger, n.Given, n.Constrained = fingering.Finger(given), given, true
			continue
		}
		if before := &out.Notes[in.Score.Notes[i].TiedFrom]; before.Tied && before.Given > 0 {
			n.Finger = before.Finger
		}
	}
}
