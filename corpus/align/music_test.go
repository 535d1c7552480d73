package align_test

import (
	"math/rand/v2"
	"strings"

	"fingerproof/corpus/score"
)

// music builds a two-staff score from measures written as
// "C5/1 D5+F5/1/2 ~F5/1 ; C3/2": tokens of the upper staff, then of the lower;
// a chord joined by +, a duration in quarters after the slash, - for a rest,
// g before a grace note, ~ before a note tied to the one before it.
func music(measures ...string) *score.Score {
	s := &score.Score{Parts: []score.Part{{ID: "P1", Name: "Piano", Staves: 2, Keyboard: true}}}
	start := score.Fraction{}
	last := map[int]int{} // by key, for ties
	for i, text := range measures {
		m := score.Measure{
			Index: i, Number: string(rune('a' + i%26)), Start: start, Nominal: score.Whole(4), Beats: "4/4",
			BeatUnit: score.Whole(1),
		}
		for staff, row := range strings.Split(text, ";") {
			at := score.Fraction{}
			for _, token := range strings.Fields(row) {
				keys, duration, _ := strings.Cut(token, "/")
				d, err := score.ParseFraction(duration)
				if err != nil {
					panic(err)
				}
				for k, name := range strings.Split(keys, "+") {
					n := score.Note{
						Measure: i, Onset: at, Duration: d, Staff: staff + 1, HomeStaff: staff + 1,
						Voice: []string{"1", "5"}[staff], TiedFrom: -1, TiedTo: -1, Chord: k > 0,
					}
					tied := strings.HasPrefix(name, "~")
					name = strings.TrimPrefix(name, "~")
					if strings.HasPrefix(name, "g") {
						n.Grace, n.Duration, name = 1, score.Fraction{}, name[1:]
					}
					if name == "-" {
						n.Kind = score.Rest
					} else {
						n.Pitch = pitchOf(name)
						n.Midi = n.Pitch.Midi()
						if tied {
							n.TiedFrom = last[n.Midi]
							s.Notes[n.TiedFrom].TiedTo = len(s.Notes)
						}
						last[n.Midi] = len(s.Notes)
					}
					s.Notes = append(s.Notes, n)
				}
				if !strings.HasPrefix(keys, "g") {
					at = at.Add(d)
				}
			}
			m.Length = score.Max(m.Length, at)
		}
		start = start.Add(m.Length)
		s.Measures = append(s.Measures, m)
	}
	return s
}

func pitchOf(name string) score.Pitch {
	p := score.Pitch{Step: name[0], Octave: int8(name[len(name)-1] - '0')}
	for _, c := range name[1 : len(name)-1] {
		if c == '#' {
			p.Alter++
		} else {
			p.Alter--
		}
	}
	return p
}

var steps = []string{"C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}

// wander writes measures of random music, about 12 notes each, with returns of
// earlier measures as real pieces have them.
func wander(rng *rand.Rand, measures int) []string {
	out := make([]string, 0, measures)
	key := 36
	for len(out) < measures {
		if len(out) > 8 && rng.IntN(6) == 0 { // a return of some measures
			from := rng.IntN(len(out) - 4)
			out = append(out, out[from:from+1+rng.IntN(4)]...)
			continue
		}
		var b strings.Builder
		for range 8 {
			key = min(max(key+rng.IntN(9)-4, 24), 59)
			b.WriteString(steps[key%12] + string(rune('1'+key/12)) + "/1/2 ")
		}
		b.WriteString("; ")
		for range 2 {
			low := rng.IntN(16)
			b.WriteString(
				steps[low%12] + string(rune('1'+low/12)) + "+" + steps[(low+7)%12] + string(rune('1'+(low+7)/12)) + "/2 ",
			)
		}
		out = append(out, b.String())
	}
	return out[:measures]
}
