// Package suggest is the stage that works out a fingering for every note: it
// asks the engine about the line of each hand, and lays the answers back beside
// the notes.
package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// Input is everything the stage looks at.
type Input struct {
	Score *score.Score
	// Whose says for each note and each of its indications whose it is. Open
	// digits, suggested before and not decided, bind nothing.
	Whose [][]score.Responsibility
	// Witnesses gives the finger that a witness gives a note and that binds, 0
	// for none; digits of the text come before it. It may be nil.
	Witnesses []int
	// Free leaves the digits of text and witnesses unbound: what would be done were it not for them.
	Free    bool
	Playing *playing.Playing // who plays what, in what order
	Tempo   *tempo.Tempo
	Policy  *policies.Policy
	Touch   string // how unmarked notes are joined: the policy's word
	Profile hand.Profile
	Weights *effort.Weights
	// Returns are the passages that return; Apart marks notes that are declared to be fingered for themselves (nil:
	// none).
	Returns []parallel.Return
	Apart   []bool
	// Leading marks notes that carry the line (nil: none).
	Leading []bool
	// Why asks of which notes it is to be told why their choices cost more; nil: of none.
	Why func(note int) bool
	// Bare asks for fingers and their effort alone: no choices, nothing of practice, nothing of a smaller hand.
	Bare bool
	// OtherHands asks what the fingering costs other hands more; nil: none.
	OtherHands []hand.Profile
	// Decided gives each note what the editors settled; nil where there is nothing.
	Decided []Decided
	// Draft gives the fingers of an editor's own draft by note, the one that strikes first; nil where there is none. They
	// bind where nothing is decided and nothing stands, and are judged like suggestions.
	Draft [][]int
	// AsRead says that Draft is what a page of ours tells its reader: nothing is searched for beside it.
	AsRead bool

	slurred []bool // UnderSlurs of the score
	limits  bool   // Bare, of digits that leave little open: nothing is remembered, and what the fingers cost is not asked for
}

// Suggestion is a fingering for the whole piece.
type Suggestion struct {
	// Notes runs parallel to Score.Notes; entries of notes that no hand plays are empty.
	Notes []NoteFingering
	// Lines sums each hand of each player, in order of player, right hand first.
	Lines []LineSum
	// Added holds the answers for strokes that signs add, by their ids, which begin after those of the notes.
	Added map[int]engine.Fingered
	// Figures are those that come again nearby and are remembered; ids are indices into Score.Notes.
	Figures []parallel.Return
	// Collapses are passages whose best fingering in practice does not hold at the tempo; ids are indices into
	// Score.Notes.
	Collapses []engine.Collapse
	// Smaller are the passages that exceed the policy's smaller hand, with what that hand does instead.
	Smaller []SmallerPassage
	// MoreForHands is, for each of the other hands asked for and by note, what the fingering costs that hand more than
	// this one, in 1/4096 nat; of notes struck together the first has it for all.
	MoreForHands [][]int64
}

// Fingers lists the finger of every note, 0 where there is none.
func (s *Suggestion) Fingers() []int {
	out := make([]int, len(s.Notes))
	for i := range out {
		out[i] = int(s.Notes[i].Finger)
	}
	return out
}

// NoteFingering is what the engine says of one note, and what the text gives it.
type NoteFingering struct {
	engine.Fingered
	Given int // the finger that the text gives and that constrains, 0 if none
	// Row holds the fingers of a sign that stands for more notes (a trill, a turn, a key repeated fast), in the order
	// of playing; nil where the note is just itself.
	Row []int
	// Detached says that the key is let go at once and nothing has to be joined.
	Detached bool
}

// LineSum is one hand of one player.
type LineSum struct {
	Player int
	Part   int // index of the part its first note stands in
	Hand   score.Hand
	Notes  int
	Effort []engine.Effort
}

// Suggest fingers every line of the piece. The result depends on the input
// alone.
func Suggest(in Input) *Suggestion {
	out := &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes)), Added: map[int]engine.Fingered{}}
	parts := partsOf(in, out)
	work := newWorkers(len(parts))
	defer work.giveBack()
	if !in.Bare && len(in.OtherHands) > 0 {
		out.MoreForHands = noneMore(in)
	}
	agreed := agreeing(work, in)
	switch {
	case in.limits:
	case agreed != nil:
		out.Figures = agreed.figures
		agreed.follow(parts)
	default:
		out.Figures = remember(work, in, parts)
	}
	options := engine.Options{
		Decode: engine.MostAgreement, Choices: true, Explain: true, Why: in.Why, Aims: AimsIn(in),
		PracticePercent: in.Policy.PracticePercent(), OtherHands: in.OtherHands,
	}
	if in.Bare {
		options = engine.Options{Decode: engine.MostAgreement, Explain: !in.limits, Aims: options.Aims}
	}
	for i, p := range parts {
		h := fingering.HandOf(p.hand)
		if in.limits { // a line that need not be searched for them is not, whatever another line needs
			if result, sure := engine.Limits(h, in.Profile, p.line); sure {
				out.lay(in, p, result)
				continue
			}
		}
		result := work.of(i).Finger(h, in.Profile, in.Weights, p.line, options)
		addMore(out.MoreForHands, result.MoreForHands)
		written := out.lay(in, p, result)
		added := func(id int) bool { return id >= len(in.Score.Notes) }
		if !in.Bare {
			out.Smaller = append(out.Smaller, forSmallerHand(work.of(len(parts)), in, h, p.line, result, added)...)
		}
		out.Lines = append(out.Lines, LineSum{
			Player: p.player, Part: in.Score.Notes[p.line[0].ID].Part, Hand: p.hand, Notes: written,
			Effort: result.Effort,
		})
	}
	if agreed != nil {
		agreed.changes(in, out)
	}
	followTies(in, out)
	changeAsBound(in, out)
	openDraft(in, out)
	return out
}

// lay puts the engine's answers for one hand beside the notes and gives how many of them are written notes, not
// strokes of signs.
func (out *Suggestion) lay(in Input, p part, result engine.Result) (written int) {
	all := len(in.Score.Notes)
	for i, n := range result.Notes {
		if p.signs.answered(n.ID, n.Finger) {
			out.Added[n.ID] = n
			continue
		}
		written++
		told := &out.Notes[n.ID]
		told.Fingered, told.Detached = n, p.line[i].Detached
		told.Pedal = told.Pedal || p.line[i].Rank.IsRolled() // a rolled grip beyond the hand is kept by the pedal
		told.Spared = told.Spared && !p.line[i].Rank.IsRolled()
		for c := range told.Choices {
			told.Choices[c].Passage = writtenSteps(told.Choices[c].Passage, all)
		}
	}
	for i := range p.line {
		if id := p.line[i].ID; id < all {
			out.Notes[id].Row = p.signs.row(id)
		}
	}
	for _, c := range result.Collapses {
		if c.Steps = writtenSteps(c.Steps, all); len(c.Steps) > 0 {
			out.Collapses = append(out.Collapses, c)
		}
	}
	return written
}

// NotesOf gives the notes of one hand of one player as the engine is asked about them, the strokes that signs add
// among them (Suggestion.Added answers for those): measurements look at the same line.
func NotesOf(in Input, player int, h score.Hand) []fingering.Note {
	in.slurred = UnderSlurs(in.Score)
	line, _ := lineOf(in, player, h, &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes))})
	return line
}

// EachLine visits the hands of a piece that play, in order of player, right hand first, with their notes as NotesOf
// gives them.
func EachLine(in Input, visit func(player int, h score.Hand, notes []fingering.Note)) {
	for _, p := range partsOf(in, &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes))}) {
		visit(p.player, p.hand, p.line)
	}
}

// writtenSteps leaves the strokes that signs add out of a passage.
func writtenSteps(steps []engine.Step, notes int) (out []engine.Step) {
	if !slices.ContainsFunc(steps, func(s engine.Step) bool { return s.ID >= notes }) {
		return steps
	}
	for _, s := range steps {
		if s.ID < notes {
			out = append(out, s)
		}
	}
	return out
}

// lineOf gathers what the engine needs of one hand's notes, and of the strokes that signs add to them.
func lineOf(in Input, player int, h score.Hand, out *Suggestion) ([]fingering.Note, *ornaments) {
	played := in.Playing.Line(player, h)
	if played == nil {
		return nil, nil
	}
	line := make([]fingering.Note, 0, len(played.Written))
	s := in.Score
	for _, i := range played.Written {
		n := &s.Notes[i]
		at := s.At(i)
		note := fingering.Note{
			ID: i, Key: n.Midi, Onset: moment(at), End: moment(at.Add(n.Duration)), Rank: playing.RankOf(s, i),
			Tied:     in.Playing.HeldOn(i),
			Detached: n.Marks&score.LetGo != 0,
			Micros:   in.Tempo.Micros(at), Leads: in.Leading != nil && in.Leading[i],
		}
		given := in.bound(i)
		if given == 0 && in.Witnesses != nil && !in.Free && !in.decided(i).Stands {
			given = in.Witnesses[i]
		}
		note.Then = fingering.Finger(in.boundChange(i))
		if note.Tied { // a digit at a tied note is a change on the held key
			note.Then = fingering.Finger(max(int(note.Then), given))
		}
		if given > 0 && !note.Tied {
			note.Allowed = fingering.Only(fingering.Finger(given))
			out.Notes[i].Given = given
		}
		line = append(line, note)
	}
	join(in, line)
	loosen(in, line)
	pedalWithFingers(in, played, line)
	tremolos(in, line)
	glissandi(in, line, h)
	unroll(in, played, line)
	line, signs := speak(in, line, h, 2*player+int(fingering.HandOf(h)))
	repetitions(in, line, signs)
	return line, signs
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
// note is a change on the held key (FACTS §5.4, common practice), and goes on
// to hold.
func followTies(in Input, out *Suggestion) {
	for i := range in.Score.Notes {
		n := &out.Notes[i]
		if !n.Tied {
			continue
		}
		given := GivenFinger(&in.Score.Notes[i], in.Whose[i])
		if d := in.decided(i); d.Finger > 0 {
			given = d.Finger
		}
		if given > 0 {
			n.Finger, n.Given, n.Constrained = fingering.Finger(given), given, true
			continue
		}
		if before := &out.Notes[in.Score.Notes[i].TiedFrom]; before.Tied && before.Given > 0 {
			n.Finger = before.Finger
		}
	}
}
