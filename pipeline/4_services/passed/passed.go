// Package passed keeps the state in which a piece was last passed for press:
// every digit, the findings, and the resolved inputs it stood on, so that a
// later comparison can put each of them back. Files are sorted, hold relative
// paths only, carry a version, and change in git where the music's fingering
// changed and nowhere else.
package passed

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// Version of the files' form.
const Version = 1

// Folder is where passed states lie, below the collection's folder.
const Folder = "passed"

// State is a piece as it was passed.
type State struct {
	Piece     string
	By        string // initials of who passed it, "" where not said
	When      string // 2026-03-01
	Anyway    string // why it was passed though digits were open or errors stood, "" where nothing was left
	Press     bool   // only decided digits were printed
	Engine    string
	Rules     string   // SHA-256 of the rules of lint, "" in states of older programs
	Weights   string   // SHA-256 of the table
	Score     string   // path relative to the collection
	ScoreSum  string   // SHA-256
	Witnesses []string // SHA-256 of each, in the manifest's order
	Draft     string   // SHA-256 of the file in which the editor's draft stands, "" where there was none
	Settings  map[string]string
	Heads     map[string]string // what prints of it and stands in no score (corpus.Heads); nil in states of older programs
	Policy    map[string]string // resolved, by key
	Decisions []decision.Decision
	Snapshot
}

// Snapshot is what of a result is compared.
type Snapshot struct {
	Notes           []NoteState // in written order
	Findings        []string
	Redistributions []string
	Rolls           []string
	Seconds         []string // fingers that print beside others; nil in states of older programs
	Rows            bool     // rows of digits at signs are among the notes; false in states of older programs
}

// NoteState is one note as passed.
type NoteState struct {
	Measure string // as printed
	Hand    score.Hand
	At      string // onset in quarters, ".g2" behind it for a grace note
	Pitch   string
	Fingers string // "5", "5-4" with a change on the held key, "-" for none
	Printed bool
	Whose   string // composer, earlier, editor:AB; "" while open
	Row     string // the digits that print at a trill, turn or mordent, "5-4-3-4"; "" where there is no such row
}

// String writes a note in words divided by spaces, as files hold it.
func (n *NoteState) String() string {
	s := n.At + " " + n.Hand.String() + " " + n.Pitch + " " + n.Fingers
	if n.Printed {
		s += " printed"
	}
	if n.Whose != "" {
		s += " " + n.Whose
	}
	if n.Row != "" {
		s += " " + rowMark + n.Row
	}
	return s
}

// rowMark stands before a row of digits in a note's line.
const rowMark = "row:"

// Same reports whether two notes are fingered, printed and attributed alike.
func (n *NoteState) Same(o *NoteState) bool {
	return n.Hand == o.Hand && n.Fingers == o.Fingers && n.Printed == o.Printed && n.Whose == o.Whose && n.Row == o.Row
}

// fingersForm is "5", "5-4" with a change on the held key, or "-" for none.
var fingersForm = regexp.MustCompile(`^(-|[1-5](-[1-5])*)$`)

func parseNote(measure, s string) (NoteState, error) {
	f := strings.Fields(s)
	if len(f) < 4 || len(f) > 7 {
		return NoteState{}, fmt.Errorf("m. %s: %q is no note", measure, s)
	}
	n := NoteState{Measure: measure, At: f[0], Pitch: f[2], Fingers: f[3]}
	if err := n.Hand.UnmarshalText([]byte(f[1])); err != nil || n.Hand == score.NoHand {
		return NoteState{}, fmt.Errorf("m. %s: %q names no hand", measure, s)
	}
	if !fingersForm.MatchString(n.Fingers) {
		return NoteState{}, fmt.Errorf("m. %s: %q gives no fingers", measure, s)
	}
	rest := f[4:]
	if len(rest) > 0 && rest[0] == "printed" {
		n.Printed, rest = true, rest[1:]
	}
	if len(rest) > 0 && !strings.HasPrefix(rest[0], rowMark) {
		n.Whose, rest = rest[0], rest[1:]
	}
	if len(rest) > 0 && strings.HasPrefix(rest[0], rowMark) {
		if n.Row = strings.TrimPrefix(rest[0], rowMark); n.Row == "-" || !fingersForm.MatchString(n.Row) {
			return NoteState{}, fmt.Errorf("m. %s: %q gives no row of digits", measure, s)
		}
		rest = rest[1:]
	}
	if len(rest) > 0 {
		return NoteState{}, fmt.Errorf("m. %s: %q says more than a note has", measure, s)
	}
	return n, nil
}

// secondsOf are the fingers that are printed beside others, an editor's alternatives and those beside the composer's, in the
// order of the music; none is an empty list.
func secondsOf(r *state.Result) []string {
	out := []string{}
	for i := range r.Notes {
		n := &r.Notes[i]
		finger := cmp.Or(n.Second, n.Beside)
		if finger == 0 {
			continue
		}
		line := fmt.Sprintf("m. %s, %s, %s quarters into the measure, %s: %d", n.Measure, n.Hand.Words(), n.Onset, n.Pitch, finger)
		if n.SecondFor != "" {
			line += ", for " + n.SecondFor
		}
		out = append(out, line)
	}
	return out
}

// SnapshotOf takes what is compared out of a result.
func SnapshotOf(r *state.Result) Snapshot {
	var s Snapshot
	for i := range r.Notes {
		n := &r.Notes[i]
		out := NoteState{
			Measure: n.Measure, Hand: n.Hand, At: n.Onset.String(), Pitch: n.Pitch, Fingers: "-",
			Printed: n.Printed,
		}
		if n.Grace > 0 {
			out.At += ".g" + strconv.Itoa(n.Grace)
		}
		if n.Finger > 0 {
			out.Fingers = decision.Digits(append([]int{n.Finger}, n.Substitution...))
		}
		if len(n.Fingers) > 1 && n.Printed {
			out.Row = decision.Digits(n.Fingers)
		}
		switch {
		case n.Responsibility == score.Editor && n.Agent != "":
			out.Whose = "editor:" + n.Agent
		case n.Responsibility != score.Unattributed:
			out.Whose = n.Responsibility.String()
		}
		s.Notes = append(s.Notes, out)
	}
	for _, f := range r.Findings {
		s.Findings = append(s.Findings, f.Fingerprint+" "+f.Severity+" "+f.Rule+": "+f.Sentence())
	}
	pitch := map[int]string{} // by place in the document, which other things move
	for i := range r.Notes {
		pitch[r.Notes[i].N] = r.Notes[i].Pitch
	}
	for _, d := range r.Redistributions {
		line := fmt.Sprintf("%s to %s:", d.ID, d.To)
		for _, n := range d.Notes {
			line += fmt.Sprintf(" %s=%d", pitch[n.N], n.Finger)
		}
		s.Redistributions = append(s.Redistributions, line)
	}
	for _, roll := range r.Rolls {
		line := fmt.Sprintf("%s %s:", roll.ID, roll.Direction)
		for _, n := range roll.Notes {
			line += " " + pitch[n]
		}
		s.Rolls = append(s.Rolls, line)
	}
	s.Seconds, s.Rows = secondsOf(r), true
	slices.Sort(s.Rolls)
	slices.Sort(s.Findings)
	slices.Sort(s.Redistributions)
	return s
}
