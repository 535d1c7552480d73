package clefdoubtful

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// What makes a clef wrong for all that stands under it.
const (
	outside   = 8  // steps from the middle line: two ledger lines
	farOut    = 16 // six ledger lines: nobody writes so, even where the other clef needs some
	manyNotes = 8  // from which the notes say which clef is meant
)

// wholeStretches reports clefs that are wrong for all that stands under them, and gives the notes that do.
func wholeStretches(p *lint.Inspection) map[int]bool {
	s := p.Score
	told, set, all := map[int]bool{}, p.Clefs(), stretchesOf(p)
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemClef || !p.PianoParts()[i.Part] || s.Parts[i.Part].Transposed != 0 {
			continue
		}
		notes := all.under(i)
		reading, hidden := strings.CutSuffix(i.Reading, lint.NotShown)
		if hidden || len(notes) == 0 {
			continue
		}
		if pitchless[reading] {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("the %s has no pitches, and %s stand under it", reading, p.Keys(notes[:min(len(notes), 3)])), Fix: "set the clef that is meant",
			})
			mark(told, notes)
			continue
		}
		if _, octave, is := strings.Cut(reading, ", "); is && (octave == "8 below" || octave == "15 below") {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("the %s stands at a staff of the piano", reading), Fix: "take the figure out",
			})
			continue
		}
		for _, c := range clefs {
			if len(notes) >= manyNotes && reading != c.name+" clef" && wrongFor(p, set, notes, c.middle, i.Measure == 0) {
				p.ReportItem(i, lint.Finding{
					Message: fmt.Sprintf("most notes under the %s need two ledger lines and more, and far fewer by the %s clef", reading, c.name),
					Fix:     "set the " + c.name + " clef, if it is meant",
				})
				mark(told, notes)
				break
			}
		}
	}
	return told
}

// pitchless are clefs that give no line a pitch (MusicXML 4.0, clef-sign).
var pitchless = map[string]bool{"percussion clef": true, "TAB clef": true, "none clef": true}

func mark(told map[int]bool, notes []int) {
	for _, n := range notes {
		told[n] = true
	}
}

// staff is a staff of a part.
type staff struct{ part, number int }

// stretches is what stands on each staff in the order of time.
type stretches struct {
	score *score.Score
	clefs map[staff][]score.Fraction
	notes map[staff][]int // that are shown, grace notes aside
}

func stretchesOf(p *lint.Inspection) *stretches {
	s := p.Score
	out := &stretches{s, map[staff][]score.Fraction{}, map[staff][]int{}}
	for k := range s.Items {
		if i := &s.Items[k]; i.Kind == score.ItemClef {
			at := staff{i.Part, max(i.Staff, 1)}
			out.clefs[at] = append(out.clefs[at], s.Measures[i.Measure].Start.Add(i.Onset))
		}
	}
	for n := range s.Notes {
		if x := &s.Notes[n]; x.Kind == score.Pitched && x.Grace == 0 && p.Shows(n) {
			at := staff{x.Part, x.Staff}
			out.notes[at] = append(out.notes[at], n)
		}
	}
	for _, clefs := range out.clefs {
		slices.SortFunc(clefs, score.Fraction.Cmp)
	}
	for _, notes := range out.notes {
		slices.SortStableFunc(notes, func(a, b int) int { return s.At(a).Cmp(s.At(b)) })
	}
	return out
}

// under lists the notes of a staff from a clef to the next, in the order of the score.
func (t *stretches) under(clef *score.Item) []int {
	s, at := t.score, staff{clef.Part, max(clef.Staff, 1)}
	begins := s.Measures[clef.Measure].Start.Add(clef.Onset)
	clefs, notes := t.clefs[at], t.notes[at]
	next := sort.Search(len(clefs), func(k int) bool { return begins.Less(clefs[k]) })
	from := sort.Search(len(notes), func(k int) bool { return !s.At(notes[k]).Less(begins) })
	to := len(notes)
	if next < len(clefs) {
		to = sort.Search(len(notes), func(k int) bool { return !s.At(notes[k]).Less(clefs[next]) })
	}
	out := slices.Clone(notes[from:max(from, to)])
	slices.Sort(out)
	return out
}

// wrongFor says that notes lie outside the staff by the clef in force, and inside it by one with another middle line.
func wrongFor(p *lint.Inspection, set *lint.Clefs, notes []int, middle int, opens bool) bool {
	far, still, dist, other := 0, 0, 0, 0
	for _, n := range notes {
		x := &p.Score.Notes[n]
		at := lint.Place(x.Pitch) - 7*p.OctavesAbove(n)
		now, known := set.Middle(x.Part, x.Staff, p.Score.At(n))
		if !known {
			return false
		}
		dist, other = dist+distance(at, now), other+distance(at, middle)
		if distance(at, now) >= outside {
			far++
		}
		if distance(at, middle) >= outside {
			still++
		}
	}
	if !opens { // a clef within the piece may come too early or too late
		return 3*far >= 2*len(notes) && 10*still <= len(notes)
	}
	return 3*far >= 2*len(notes) && 10*dist >= 18*other && (2*still <= len(notes) || dist >= farOut*len(notes))
}
