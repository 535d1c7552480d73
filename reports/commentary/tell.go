package commentary

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/state"
	"fingerproof/policies"
)

// teller puts the results of one piece into remarks.
type teller struct {
	r      *state.Result
	policy *policies.Policy
	byN    map[int]*state.Note
}

// place names a note as a musician would: "m. 4, right hand, C#5".
func place(n *state.Note) string {
	hand := "right hand"
	if n.Hand == score.Left {
		hand = "left hand"
	}
	return fmt.Sprintf("m. %s, %s, %s", n.Measure, hand, strings.ReplaceAll(strings.ReplaceAll(n.Pitch, "#", "♯"), "b", "♭"))
}

func (t *teller) redistributions() (out []string) {
	for _, d := range t.r.Redistributions {
		if len(d.Notes) == 0 || t.byN[d.Notes[0].N] == nil {
			continue
		}
		first := t.byN[d.Notes[0].N]
		to, word := "the right hand", "suggested"
		if d.To == score.Left {
			to = "the left hand"
		}
		if d.Decided {
			word = "decided"
		}
		var notes []string
		for _, n := range d.Notes {
			if note := t.byN[n.N]; note != nil {
				notes = append(notes, fmt.Sprintf("%s (%d)", note.Pitch, n.Finger))
			}
		}
		out = append(out, fmt.Sprintf("m. %s: %s takes %s (%s): %s.", first.Measure, to, strings.Join(notes, " "), word, d.Reason))
	}
	return out
}

// composers lists, measure by measure and hand by hand, where the composer's
// digits stand, and each note on which the fingering is another.
func (t *teller) composers() (out []string) {
	measures, notes := []string{}, 0
	var differ []string
	for i := range t.r.Notes {
		n := &t.r.Notes[i]
		f := composersFinger(n)
		if f == 0 {
			continue
		}
		notes++
		if len(measures) == 0 || measures[len(measures)-1] != n.Measure {
			if !slices.Contains(measures, n.Measure) {
				measures = append(measures, n.Measure)
			}
		}
		if n.Finger > 0 && f != n.Finger {
			differ = append(differ, fmt.Sprintf("%s: the composer's %d; ours %d.", place(n), f, n.Finger))
		}
	}
	if notes == 0 {
		return nil
	}
	return append([]string{fmt.Sprintf("Digits of the composer's on %d notes, in m. %s.", notes, strings.Join(measures, ", "))}, differ...)
}

// readings lists what witnesses have and the text has not, or otherwise.
func (t *teller) readings() (out []string) {
	for i := range t.r.Notes {
		n := &t.r.Notes[i]
		var text []string
		for _, s := range n.Source {
			if !s.WitnessOnly {
				word := s.Text
				if len(s.Witnesses) > 0 {
					word += " (also " + strings.Join(s.Witnesses, ", ") + ")"
				}
				text = append(text, word)
			}
		}
		for _, s := range n.Source {
			if !s.WitnessOnly {
				continue
			}
			said := "no digit"
			if len(text) > 0 {
				said = strings.Join(text, ", ")
			}
			shown := digits(fingersOf(s))
			if shown == "" {
				shown = "“" + s.Text + "”, which is no finger in its numbering"
			}
			out = append(out, fmt.Sprintf("%s: text %s; %s %s.", place(n), said, strings.Join(s.Witnesses, ", "), shown))
		}
	}
	return out
}

func digits(fingers []int) string {
	words := make([]string, len(fingers))
	for k, f := range fingers {
		words[k] = fmt.Sprint(f)
	}
	return strings.Join(words, "-")
}

func (t *teller) returns() (out []string) {
	for _, r := range t.r.Returns {
		if r.Apart {
			out = append(out, fmt.Sprintf("%s returns from %s and is fingered for itself.", r.Later, r.First))
		}
	}
	return out
}

func (t *teller) queries() (out []string) {
	for _, f := range t.r.Findings {
		if f.Rule == queryRule {
			out = append(out, f.Sentence())
		}
	}
	return out
}
