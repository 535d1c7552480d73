// Package keydoubtful checks key signatures against the notes and against each other.
package keydoubtful

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a key signature fits neither the notes nor the other parts.
var Rule = &lint.Rule{
	Name:  "key-doubtful",
	Title: "a key signature does not fit the notes or the other parts",
	Checks: "The key signature with which a piece begins: of the notes of the piano whose letters it alters, one " +
		"in six or fewer are altered so. As a note, a signature with one sign too many or too few for the notes up to the next: those of its last letter are " +
		"otherwise nearly all, or all of the letter that would come next are altered, and the rest are as it says. And key signatures set at one moment that differ between the piano and " +
		"another part that does not transpose; a key that changes within the piece in the piano alone, or in another part and not in the piano; and " +
		"staves of the piano that have different keys.",
	Why:      "Every note of it is read otherwise than it sounds, or has an accidental for nothing.",
	Before:   "three sharps, and B flat, E flat and A flat throughout",
	After:    "three flats",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.20",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const (
	enough = 12 // notes of the altered letters from which the notes say what the key is
	share  = 6  // one in so many is altered as the key says, or fewer
)

func run(p *lint.Inspection) {
	againstNotes(p)
	againstParts(p)
	alone(p)
	ofStaves(p)
	oneSignOff(p)
}

// firstKey gives the key signature at the beginning of a part, and the first measure with another; nil for none.
func firstKey(s *score.Score, part int) (first *score.Item, until int) {
	until = len(s.Measures)
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemKey || i.Part != part {
			continue
		}
		switch {
		case i.Measure == 0 && i.Onset.Sign() == 0 && first == nil:
			first = i
		case i.Measure > 0:
			return first, min(until, i.Measure)
		}
	}
	return first, until
}

func againstNotes(p *lint.Inspection) {
	s := p.Score
	for part := range s.Parts {
		key, until := firstKey(s, part)
		if key == nil || !p.PianoParts()[part] || s.Parts[part].Transposed != 0 {
			continue
		}
		fifths := s.Measures[0].Fifths
		as, all := 0, 0
		for n := range s.Notes {
			x := &s.Notes[n]
			if x.Part != part || x.Kind != score.Pitched || x.Measure >= until {
				continue
			}
			if alter := lint.OfKey(x.Pitch.Step, fifths); alter != 0 {
				all++
				if int(x.Pitch.Alter) == alter {
					as++
				}
			}
		}
		if all >= enough && as*share <= all {
			p.ReportItem(key, lint.Finding{
				Message: fmt.Sprintf("the key signature has %s, and of %d notes that they alter %d are so", key.Reading, all, as),
				Fix:     "correct the key signature",
			})
		}
	}
}

func againstParts(p *lint.Inspection) {
	s, piano := p.Score, p.PianoParts()
	for k := range s.Items {
		a := &s.Items[k]
		if a.Kind != score.ItemKey || !piano[a.Part] || strings.HasSuffix(a.Reading, lint.NotShown) || s.Parts[a.Part].Transposed != 0 || a.Staff > 1 {
			continue
		}
		for j := range s.Items {
			b := &s.Items[j]
			if b.Kind == score.ItemKey && b.Part != a.Part && b.Measure == a.Measure && b.Onset == a.Onset && b.Reading != a.Reading &&
				!strings.HasSuffix(b.Reading, lint.NotShown) && s.Parts[b.Part].Transposed == 0 {
				p.ReportItem(a, lint.Finding{
					Message: fmt.Sprintf("the key signature has %s, and that of the part %q %s", a.Reading, s.Parts[b.Part].Name, b.Reading),
					Fix:     "correct one of the two",
				})
				break
			}
		}
	}
}

// alone reports a key signature set within the piece in the piano and in no other part, or in all others and not in the
// piano, where the parts had one key before.
func alone(p *lint.Inspection) {
	s, piano := p.Score, p.PianoParts()
	type moment struct {
		measure int
		onset   score.Fraction
	}
	set := map[moment]map[int]*score.Item{}
	parts := map[int]bool{} // that have keys and do not transpose
	var order []moment
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemKey || i.Staff > 1 || s.Parts[i.Part].Transposed != 0 {
			continue
		}
		parts[i.Part] = true
		at := moment{i.Measure, i.Onset}
		if set[at] == nil {
			set[at] = map[int]*score.Item{}
			order = append(order, at)
		}
		set[at][i.Part] = i
	}
	if len(parts) < 2 {
		return
	}
	key := map[int]string{} // in force
	slices.SortFunc(order, func(a, b moment) int { return cmp.Or(a.measure-b.measure, a.onset.Cmp(b.onset)) })
	var found []*score.Item
	for _, at := range order {
		var changes *score.Item
		same, missing := true, 0
		for part := range s.Parts {
			if !parts[part] {
				continue
			}
			if i := set[at][part]; i == nil {
				missing++
			} else if i.Reading != key[part] && (changes == nil || !piano[changes.Part]) {
				changes = i
			}
			same = same && key[part] == key[firstOf(parts)]
		}
		ofPiano := 0
		for part := range set[at] {
			if piano[part] {
				ofPiano++
			}
		}
		if at.measure > 0 && same && missing > 0 && changes != nil && !strings.HasSuffix(changes.Reading, lint.NotShown) &&
			(ofPiano == 0 || ofPiano == len(set[at])) {
			found = append(found, changes)
		}
		for part, i := range set[at] {
			key[part] = i.Reading
		}
	}
	for _, i := range found {
		who := "in the piano alone"
		if !piano[i.Part] {
			who = "in another part and not in the piano"
		}
		p.ReportItem(i, lint.Finding{Message: fmt.Sprintf("the key changes to %s %s", i.Reading, who), Fix: "set it in all parts, or take it out"})
	}
}

// firstOf gives the first of some parts.
func firstOf(parts map[int]bool) int {
	first := -1
	for part := range parts {
		if first < 0 || part < first {
			first = part
		}
	}
	return first
}

// ofStaves reports key signatures that differ between the staves of the piano.
func ofStaves(p *lint.Inspection) {
	s, piano := p.Score, p.PianoParts()
	for k := range s.Items {
		b := &s.Items[k]
		if b.Kind != score.ItemKey || !piano[b.Part] || b.Staff < 2 {
			continue
		}
		for j := range k {
			a := &s.Items[j]
			if a.Kind == score.ItemKey && a.Part == b.Part && a.Staff == 1 && a.Measure == b.Measure && a.Onset == b.Onset && a.Reading != b.Reading {
				p.ReportItem(b, lint.Finding{
					Message: fmt.Sprintf("the upper staff has %s, and the lower %s", a.Reading, b.Reading), Fix: "give both the same key",
				})
			}
		}
	}
}
