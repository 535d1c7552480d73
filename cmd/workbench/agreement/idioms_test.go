package agreement

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
)

// Each idiom is shown by fingers that show it and not by others, and asks only where the music does.
func TestIdiomsAreTold(t *testing.T) {
	for _, c := range []struct{ idiom, keys, shows, shuns string }{
		{"one finger, a step, joined", "c5 d5", "33", "23"},
		{"one finger, third to fifth, joined", "c5 f5", "33", "25"},
		{"one finger, wider, joined", "c5 c6", "55", "15"},
		{"3, 4 and 5 crossed", "c5 c#5", "43", "34"},
		{"2 crossed by 3, 4 or 5", "e5 f5", "32", "23"},
		{"thumb passed", "e5 f5", "31", "12"},
		{"thumb passed onto black", "e5 f#5", "31", "23"},
		{"thumb passed by 4 or 5", "e5 f5", "41", "31"},
		{"thumb on black in a run", "c5 d5 e5 f#5 g5 a5 b5", "1231234", "1234123"},
		{"a step, fingers left out, joined", "c5 d5", "13", "12"},
		{"neighbours stretched to a fourth, joined", "c5 f5", "34", "14"},
		{"1 and 2 opened to a sixth, joined", "c5 a5", "12", "15"},
		{"another finger, key back after one", "c5 d5 c5", "231", "232"},
		{"hand shifted within a fifth", "c5 d5 e5 f5", "1231", "1234"},
		{"chord again, otherwise, slow", "c5+e5+g5 c5+e5+g5", "135124", "135135"},
		{"double note again, otherwise, slow", "c5+e5 c5+e5", "1324", "1313"},
		{"double note back after one, otherwise", "c5+e5 g4 c5+e5", "13124", "13113"},
		{"chord a third time, otherwise", "c5+e5+g5 c5+e5+g5 c5+e5+g5", "135135124", "135135135"},
		{"one thumb on two keys of a grip", "c5+d5+g5", "115", "125"},
		{"third by 4 and 5, alone", "g4 c5+e5 g4", "1451", "1351"},
		{"5 twice in a row, joined", "c5 e5", "55", "45"},
		{"key thrice, to and fro without the thumb", "c5 c5 c5", "323", "321"},
		{"third by neighbours", "c5+e5", "23", "13"},
		{"sixth by 1 and 5", "c5+a5", "15", "14"},
		{"octave by 1 and 4", "c5+c6", "14", "15"},
		{"chord of three spread 1-2-5 or 1-3-5", "c5+e5+g5", "135", "124"},
	} {
		line := fingering.NewLine(fingering.Right, written.Notes(c.keys, 700_000), hand.NinthHand.Fits)
		for fingers, want := range map[string]bool{c.shows: true, c.shuns: false} {
			d := &digits{line: line, of: make([]fingering.Finger, len(line.Strikes))}
			for s := range d.of {
				d.of[s] = fingering.Finger(fingers[s] - '0')
			}
			asked, shown := 0, 0
			for _, idiom := range idioms {
				for e := range line.Events {
					if yes, pattern := idiom.at(d, e); yes && idiom.name == c.idiom {
						asked++
						shown += one(pattern)
					}
				}
			}
			require.Positive(t, asked, "%s: %s", c.idiom, c.keys)
			require.Equal(t, want, shown > 0, "%s: %s %s", c.idiom, c.keys, fingers)
		}
	}
}

// A figure is held against the last time it stood, and not against a run.
func TestFiguresAreHeldAgainstTheirLastTime(t *testing.T) {
	found := func(keys string, like bool) (out [][2]int) {
		line := fingering.NewLine(fingering.Right, written.Notes(keys, 0), hand.NinthHand.Fits)
		figuresAgain(line, like, func(before, now [figureStrokes]int) { out = append(out, [2]int{before[0], now[0]}) })
		return out
	}
	require.Equal(t, [][2]int{{0, 5}}, found("g4 a4 g4 f4 c5 g4 a4 g4 f4 e5", false))
	require.Empty(t, found("c5 d5 e5 f5 a5 c5 d5 e5 f5 b4", false), "a run")
	require.Equal(t, [][2]int{{0, 5}}, found("e4 f4 e4 d4 c5 b4 c5 b4 a4 e5", true))
	require.Empty(t, found("e4 f4 e4 d4 c5 b4 c5 b4 a4 e5", false), "other keys")
}
