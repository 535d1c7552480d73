package lint

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/wording"
)

// Together makes one finding of those that say the same of several places of a piece (Finding.Together): at the first
// of them, with the measures of the others. Findings must be sorted; their order is kept. The notes by which it is let
// stand (Finding.At) are played wherever one of the measure is: a singer's note is none that a decision could name.
func Together(s *score.Score, p *playing.Playing, found []Finding) []Finding {
	type same struct{ rule, key string }
	first, others := map[same]int{}, map[int]bool{} // others: what was said of other notes
	there := map[int][]place{}
	var out []Finding
	rank := func(n int) int {
		switch {
		case p.Plays(n):
			return 2
		case s.Notes[n].Kind == score.Pitched:
			return 1
		}
		return 0 // a rest: no decision names it
	}
	anchors := map[int]int{} // the first note of each measure that is played; where none is, the first of another part, or a rest
	for i := range s.Notes {
		if k, known := anchors[s.Notes[i].Measure]; !known || rank(i) > rank(k) {
			anchors[s.Notes[i].Measure] = i
		}
	}
	at := func(f *Finding) []int {
		if len(f.Notes) > 0 && rank(f.Notes[0]) > 0 && (rank(f.Notes[0]) > 1 || rank(anchors[f.Measure]) < 2) {
			return f.Notes[:1:1]
		}
		if n, found := anchors[f.Measure]; found {
			return []int{n}
		}
		return nil
	}
	for _, f := range found {
		key := same{f.Rule, f.Together}
		k, seen := first[key]
		if f.Together == "" || !seen {
			if f.Together != "" {
				first[key] = len(out)
				f.Notes = slices.Clone(f.Notes)
			}
			if f.Together != "" || len(f.Notes) == 0 {
				f.At = slices.Clone(at(&f))
			}
			out = append(out, f)
			continue
		}
		others[k] = others[k] || f.Message != out[k].Message
		out[k].Notes, out[k].At = append(out[k].Notes, f.Notes...), append(out[k].At, at(&f)...)
		out[k].Severity = max(out[k].Severity, f.Severity)
		out[k].Again = append(out[k].Again, f.Measure)
		there[k] = append(there[k], place{f.There, f.Measure})
	}
	for k := range out {
		if len(out[k].Again) == 0 && len(out[k].Notes) > 0 && slices.Equal(out[k].At, out[k].Notes[:1]) {
			out[k].At = nil
		}
		if len(out[k].Again) > 0 {
			also := Again
			if others[k] {
				also = Likewise + "other notes: "
			}
			if out[k].There != "" {
				out[k].Message += With + alsoThere(s, place{out[k].There, out[k].Measure}, there[k])
			} else {
				out[k].Message += also + alsoIn(s, out[k].Measure, out[k].Again)
			}
		}
	}
	return out
}

// OnceAPiece is Finding.Together for what is told once a piece.
const OnceAPiece = "once a piece"

// Again goes between what a finding says and where else it is so, Likewise where it is so of other notes.
const (
	Again    = "; the same again in "
	Likewise = "; likewise in "
	With     = "; likewise "
)

// First is what is said of the first place of a message, without those that follow.
func First(message string) string {
	for _, also := range []string{Again, Likewise, With} {
		message, _, _ = strings.Cut(message, also)
	}
	return message
}

// Said is what a finding says without the measures of other places, which a measure put in elsewhere renumbers.
func (f *Finding) Said() string {
	return fmt.Sprint(First(f.Message), len(f.Again))
}

// place is what stands, in short, in a measure.
type place struct {
	there   string
	measure int
}

// longest is how long a list of things of other places grows, in letters; more than that nobody reads.
const longest = 65

// alsoThere says what stands elsewhere, and in which measures: "C3 and E4 with 5 and 1 (m. 7, 9)". What stands at the first
// place too is left out.
func alsoThere(s *score.Score, first place, places []place) string {
	in := map[string][]string{}
	var order []string
	for _, x := range places {
		number := s.Measures[x.measure].Number
		if in[x.there] == nil {
			order = append(order, x.there)
		}
		if !slices.Contains(in[x.there], number) {
			in[x.there] = append(in[x.there], number)
		}
	}
	const fewMeasures = 3
	var names []string
	left, letters := 0, 0
	for _, what := range order {
		name := what
		if what == first.there {
			name = "this"
		}
		measures := in[what]
		more := ""
		if len(measures) > fewMeasures {
			measures, more = measures[:fewMeasures], " …"
		}
		name += " (m. " + strings.Join(measures, ", ") + more + ")"
		if letters += len(name); letters > longest {
			left++
			continue
		}
		names = append(names, name)
	}
	if left > 0 {
		names = append(names, fmt.Sprintf("%d more", left))
	}
	return wording.List(names)
}

// mostMeasures is how many measures, or rows of measures, are named; more than that nobody reads.
const mostMeasures = 8

// alsoIn says where else something stands: "this measure, m. 4 and m. 8–10".
func alsoIn(s *score.Score, first int, places []int) string {
	var names []string
	slices.Sort(places)
	named, left := slices.Compact(places), 0
	if named[0] == first {
		names, named = append(names, "this measure"), named[1:]
	}
	for i := 0; i < len(named); {
		end := i
		for end+1 < len(named) && named[end+1] == named[end]+1 {
			end++
		}
		switch number := s.Measures[named[i]].Number; {
		case len(names) >= mostMeasures:
			left += end - i + 1
		case end == i:
			names = append(names, "m. "+number)
		default:
			names = append(names, "m. "+number+"–"+s.Measures[named[end]].Number)
		}
		i = end + 1
	}
	if left > 0 {
		names = append(names, fmt.Sprintf("%d more", left))
	}
	return wording.List(names)
}
