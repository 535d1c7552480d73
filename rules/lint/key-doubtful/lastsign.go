package keydoubtful

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

const (
	oneLetter = 6 // notes of the letter from which they say something, none of them as the signature has it
	rare      = 9 // of so many notes one is otherwise
	fits      = 5 // so many times as many notes of its other letters are as it says than are not
)

// oneSignOff reports key signatures with one sign too many or too few: of all notes up to the next signature those of its last
// letter are none as it says, and the others are; or those of the letter that would come next are all altered.
func oneSignOff(p *lint.Inspection) {
	s := p.Score
	for part := range s.Parts {
		if !p.PianoParts()[part] || s.Parts[part].Transposed != 0 {
			continue
		}
		var set []*score.Item
		for k := range s.Items {
			if i := &s.Items[k]; i.Kind == score.ItemKey && i.Part == part && i.Staff <= 1 && !strings.HasPrefix(i.Reading, "key of its own") {
				set = append(set, i)
			}
		}
		for k, i := range set {
			if strings.HasSuffix(i.Reading, lint.NotShown) {
				continue
			}
			to := len(s.Measures)
			if k+1 < len(set) {
				to = set[k+1].Measure
			}
			fifths := lint.Fifths(i.Reading)
			for _, off := range []int{-1, 1} {
				meant := fifths + off
				letter, alter, tooMany := changed(fifths, meant)
				if letter == 0 || alter < -1 || alter > 1 {
					continue
				}
				as, other, right, wrong := 0, 0, 0, 0
				for n := range s.Notes {
					x := &s.Notes[n]
					if x.Part != part || x.Kind != score.Pitched || x.Measure < i.Measure || x.Measure >= to || x.Grace > 0 {
						continue
					}
					switch a := int(x.Pitch.Alter); {
					case x.Pitch.Step == letter && a == alter:
						as++
					case x.Pitch.Step == letter:
						other++
					case a == lint.OfKey(x.Pitch.Step, meant):
						right++
					default:
						wrong++
					}
				}
				if right < fits*wrong {
					continue
				}
				message := ""
				switch all := as + other; {
				case tooMany && other >= oneLetter && as*rare <= other:
					message = fmt.Sprintf("the key signature has %s, and of %d notes on %c up to the next one %d are so", i.Reading, all, letter, as)
				case !tooMany && all >= 2*oneLetter && other == 0:
					message = fmt.Sprintf("the key signature has %s, and all %d notes on %c up to the next one are %s", i.Reading, all, letter, altered[alter])
				}
				if message != "" {
					p.ReportItem(i, lint.Finding{Severity: lint.Note, Message: message, Fix: "correct the key signature, if it is not meant"})
				}
			}
		}
	}
}

var altered = map[int]string{-1: "flat", 1: "sharp"}

// changed gives the letter in which two signatures differ that are one sign apart, how the one with more signs alters it, and
// whether that is the first.
func changed(fifths, meant int) (letter byte, alter int, tooMany bool) {
	for _, step := range []byte("CDEFGAB") {
		a, b := lint.OfKey(step, fifths), lint.OfKey(step, meant)
		switch {
		case a == b:
		case a != 0:
			return step, a, true
		default:
			return step, b, false
		}
	}
	return 0, 0, false
}
