package thin

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/policies"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// Input is everything the stage looks at. Slices run parallel to Score.Notes.
type Input struct {
	Score      *score.Score
	Whose      [][]score.Responsibility
	Playing    *playing.Playing
	Returns    []parallel.Return
	Decided    *decide.Placed
	Bound      []decide.Digit
	Suggestion *suggest.Suggestion
	Beside     []int // fingers offered beside the composer's digits; nil: none
	Credited   credit.Output
	Policy     *policies.Policy
	Profile    hand.Profile
	Press      bool    // nothing is printed that is open
	Draft      [][]int // fingers of an editor's own draft by note; nil: none
}

// Output is what is printed. Slices run parallel to Score.Notes.
type Output struct {
	// Print marks the notes that get a digit.
	Print []bool
	// Why says why each of them gets it.
	Why []Why
	// Open lists the notes whose digit the house style prints and nobody has decided.
	Open []int
	// Alternatives are the fingers that are printed beside others, 0 for none. All are open but those that an editor decided
	// (decide.Placed.Seconds).
	Alternatives []int
}

// Digits chooses the digits that are printed. For press they are chosen as for any run, and what is open is left out then: so
// both ask for the same digits.
func Digits(in Input) Output {
	plain := in
	plain.Press = false
	out := Output{Alternatives: alternatives(plain)}
	out.Print, out.Why = PlanAndWhy(FingeredOf(plain))
	asDecided(plain, &out)
	oneOfTwo(plain, &out)
	if in.Press {
		for _, i := range out.Open {
			out.Print[i] = false
		}
		out.Alternatives = alternatives(in)
	}
	return out
}

// oneOfTwo leaves of the digits that two voices of a hand would have on one key that they strike together a single one: that
// which was decided, or else the first. A note of a chord keeps its own, and one that says more than its finger.
func oneOfTwo(in Input, out *Output) {
	for l := range in.Playing.Lines {
		for _, st := range in.Playing.Lines[l].Strokes {
			for _, i := range st.Notes {
				for _, j := range st.Notes {
					if i != j && out.Print[i] && in.doubled(i, j, st.Notes, out) {
						out.Print[i] = false
						out.Open = slices.DeleteFunc(out.Open, func(n int) bool { return n == i })
					}
				}
			}
		}
	}
}

// doubled says that the digit of a note says what that of another voice on its key says, which stays.
func (in *Input) doubled(i, j int, stroke []int, out *Output) bool {
	a, b := &in.Score.Notes[i], &in.Score.Notes[j]
	finger := in.Suggestion.Notes[i].Finger
	more := func(n int) bool {
		return out.Alternatives[n] != 0 || in.Credited.Changes[n] > 0 || len(in.Credited.Rows[n]) > 1
	}
	if a.Midi != b.Midi || finger != in.Suggestion.Notes[j].Finger || out.Alternatives[i] != 0 || len(in.Credited.Rows[i]) > 1 {
		return false
	}
	for _, k := range stroke {
		if k != i && k != j && in.Score.Notes[k].InVoiceOf(a) {
			return false
		}
	}
	// A change on the held key that the text has at the other voice is said there; one that it has not is ours to say.
	then := in.Credited.Changes[i]
	if standsAlready(b, []int{int(finger)}) && (then == 0 || then == in.Credited.Changes[j]) {
		return true
	}
	if then > 0 {
		return false
	}
	decided, other := in.Bound[i].Finger() > 0, in.Bound[j].Finger() > 0
	return out.Print[j] && (more(j) || other && !decided || other == decided && j < i)
}

// FingeredOf is the fingered score that the reader goes through.
func FingeredOf(in Input) Fingered {
	f := Fingered{
		Score: in.Score, Playing: in.Playing,
		Finger: in.Suggestion.Fingers(), Stands: stands(in), Must: make([]bool, len(in.Score.Notes)),
		Returns: in.Returns, Profile: in.Profile, Style: StyleOf(in.Policy),
	}
	second := alternatives(in) // the first stands with it: a lone digit in parentheses is none's alternative
	for i := range f.Must {
		credited, d := &in.Credited.Credits[i], &in.Bound[i]
		switch {
		case in.Policy.Digits() == "composer-only": // those that witnesses have are the composer's as well
			f.Must[i] = printsWitness(in, i) && credited.Who == score.Composer
		case second[i] > 0 || in.Credited.Changes[i] > 0 || printsWitness(in, i):
			f.Must[i] = true
		case len(in.Credited.Rows[i]) > 1 && in.Policy.PrintsRows():
			f.Must[i] = true
		default:
			f.Must[i] = (d.Always || in.drafted(i)) && !in.stands(i, d.Fingers)
		}
	}
	return f
}

// StyleOf is what a policy says about the number of digits.
func StyleOf(p *policies.Policy) Style {
	c := p.Courtesy()
	return Style{
		Digits: p.Digits(), Chords: p.ChordDigits(), Density: p.Density(), EachTime: p.FiguresEachTime(),
		First: c.First, RestQuarters: c.RestQuarters, System: c.System, Return: c.Return,
	}
}

// drafted says that an editor's own digit is a note's finger: they set it where a reader wants it.
func (in *Input) drafted(i int) bool {
	return in.Draft != nil && len(in.Draft[i]) > 0 && in.Draft[i][0] == int(in.Suggestion.Notes[i].Finger)
}

// asDecided prints digits that are to be printed always, and those of notes that were given to the other hand, wherever nothing
// like them stands; what was amended prints by the house style, as what was taken does, but beside another digit. Beside a digit of the composer's that is another it prints what an
// editor decided, where the policy lets it, and nothing else.
func asDecided(in Input, out *Output) {
	when, _ := in.Policy.BesideComposer()
	besideAllowed := when != "never"
	taken := make([]bool, len(out.Print))
	for i := range in.Decided.Redistributions {
		for _, n := range in.Decided.Redistributions[i].Notes {
			taken[n] = true
		}
	}
	for i := range out.Print {
		d := &in.Bound[i]
		n := &in.Score.Notes[i]
		beside := d.Verb == decision.Amend && !d.Carried && hasDigit(n)
		asked := beside || d.Always || taken[i] && d.Finger() > 0 && n.TiedFrom < 0
		composers := attribute.ComposersFinger(n, in.Whose[i])
		if asked && in.Playing.Plays(i) && !in.stands(i, d.Fingers) && (composers == 0 || besideAllowed) {
			out.Print[i] = true
		}
		if composers > 0 && composers != int(in.Suggestion.Notes[i].Finger) && (d.Finger() == 0 || !besideAllowed) {
			out.Print[i] = false
		}
		if n.BySign { // there is no note on the page
			out.Print[i] = false
		}
		if c := &in.Credited.Credits[i]; out.Print[i] && d.Finger() == 0 && c.Who == score.Open {
			out.Open = append(out.Open, i)
		}
	}
}

// hasDigit says that a digit stands at a note, which without another beside it would be read as the note's.
func hasDigit(n *score.Note) bool {
	return slices.ContainsFunc(n.Indications, func(ind score.Indication) bool { return !ind.Hidden && !ind.Alternate && len(ind.Fingers) > 0 })
}

// stands says that the digits of the text give a note a finger: one that stands at it, or one of those of its chord that stand at
// one of the others.
func (in *Input) stands(i int, fingers []int) bool {
	return len(fingers) > 0 && in.Playing.Piled(i) == fingers[0] || standsAlready(&in.Score.Notes[i], fingers)
}

func standsAlready(n *score.Note, fingers []int) bool {
	return slices.ContainsFunc(n.Indications, func(ind score.Indication) bool {
		return !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 && ind.Fingers[0] == fingers[0]
	})
}

// printsWitness reports whether the policy prints a digit because a witness has it.
func printsWitness(in Input, i int) bool {
	if len(in.Credited.Credits[i].Sigla) == 0 {
		return false
	}
	switch in.Policy.WitnessPrints() {
	case "composer":
		return in.Credited.Credits[i].Who == score.Composer
	case "all":
		return true
	}
	return false
}

// stands says at which notes a digit stands already that says the finger.
func stands(in Input) []bool {
	out := make([]bool, len(in.Score.Notes))
	for i := range in.Score.Notes {
		if f := in.Playing.Piled(i); f > 0 {
			out[i] = f == int(in.Suggestion.Notes[i].Finger)
			continue
		}
		for _, ind := range in.Score.Notes[i].Indications {
			if !ind.Alternate && !ind.Hidden && !ind.Substitution && len(ind.Fingers) > 0 &&
				ind.Fingers[0] == int(in.Suggestion.Notes[i].Finger) {
				out[i] = true
			}
		}
	}
	return out
}

// alternatives are the fingers that are printed beside others: those that an editor decided, those offered
// beside the composer's, and those of the policy's smaller hand.
func alternatives(in Input) []int {
	out := openAlternatives(in)
	for i := range in.Decided.Seconds {
		d, first := &in.Decided.Seconds[i], int(in.Suggestion.Notes[i].Finger)
		// For press the first has to stand: an alternative alone is none.
		alone := in.Press && in.Bound[i].Finger() == 0 && !in.stands(i, []int{first})
		if d.Finger > 0 && d.Finger != first && !alone {
			out[i] = d.Finger
		}
	}
	return out
}

// openAlternatives are those that nobody has decided.
func openAlternatives(in Input) []int {
	out := make([]int, len(in.Score.Notes))
	if !in.Policy.PrintsOpen(in.Press) {
		return out
	}
	copy(out, in.Beside)
	if in.Policy.PrintsSmallerHand() {
		for _, p := range in.Suggestion.Smaller {
			for k, note := range p.Notes {
				if p.Fingers[k] != in.Suggestion.Notes[note].Finger && in.Score.Notes[note].TiedFrom < 0 {
					out[note] = int(p.Fingers[k])
				}
			}
		}
	}
	return out
}
