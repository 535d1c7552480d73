package parallel_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var noteForm = regexp.MustCompile(`^(~?)([A-G])([#b]?)(\d)$`)

// lineOf reads "C4/8 D4 E4+G4/4 r/2 | …": /8 is an eighth and holds on, + sounds together, r rests, ~C4 is tied from the note before, "C4:2" lasts for
// two of the values. Ids count from the number given.
func lineOf(t testing.TB, hand fingering.Hand, id int, text string) parallel.Line {
	t.Helper()
	l := parallel.Line{Hand: hand}
	at, value := score.Fraction{}, score.Frac(1, 2)
	for _, token := range strings.Fields(strings.ReplaceAll(text, "|", " ")) {
		word, length, given := strings.Cut(token, "/")
		if given {
			n, err := strconv.Atoi(length)
			require.NoError(t, err, token)
			value = score.Frac(4, int64(n))
		}
		if word != "r" {
			for _, p := range strings.Split(word, "+") {
				p, times, long := strings.Cut(p, ":")
				m := noteForm.FindStringSubmatch(p)
				require.NotNil(t, m, token)
				step := strings.IndexByte("CDEFGAB", m[2][0])
				octave, _ := strconv.Atoi(m[4])
				key := 12*(octave+1) + [7]int{0, 2, 4, 5, 7, 9, 11}[step] + map[string]int{"": 0, "#": 1, "b": -1}[m[3]]
				end := at.Add(value)
				if long {
					n, _ := strconv.Atoi(times)
					end = at.Add(value.Mul(score.Whole(int64(n))))
				}
				l.Notes = append(l.Notes, fingering.Note{ID: id, Key: key, Onset: moment(at), End: moment(end), Tied: m[1] != ""})
				l.Degrees = append(l.Degrees, 7*octave+step)
				id++
			}
		}
		at = at.Add(value)
	}
	return l
}

func moment(f score.Fraction) fingering.Moment { return fingering.Moment{Num: f.Num(), Den: f.Den()} }

func common(score.Fraction) score.Fraction { return score.Whole(4) }

// told prints returns as "exact 0-5>8-13", first and last ids of both passages, with the shift of transposed ones.
func told(returns []parallel.Return) string {
	var out []string
	for _, r := range returns {
		shift := ""
		if r.Kind == parallel.Transposed {
			shift = fmt.Sprintf("%+d", r.Shift)
		}
		n := len(r.First)
		out = append(out, fmt.Sprintf("%s%s %d-%d>%d-%d", r.Kind, shift, r.First[0], r.First[n-1], r.Later[0], r.Later[n-1]))
	}
	return strings.Join(out, ", ")
}

// The passages are ours; what counts as a return is common practice, in the terms the package states.
func TestWhatReturns(t *testing.T) {
	const figure = "C4/16 E4 G4 C5 B4 G4 D4 F4 A4 G4 E4 C4 "
	for _, c := range []struct{ name, right, left, want string }{
		{"to the end, nothing parts", figure + "r/4 r/2 " + figure, "", "exact 0-11>12-23"},
		{"the comparison stops before the passages part", figure + "C5/4 r " + figure + "E4/4 F4", "", "exact 0-9>13-22"},
		{"a rest parts them: the hand comes anew", figure + "r/2 D4/4 r/1 " + figure + "r/2 A5/4", "", "exact 0-11>13-24"},
		{"too short to be remembered", "C4/16 E4 G4 r r/2 F#5/4 C4/16 E4 G4 r r/2 D5/4", "", ""},
		{"a whole measure of fewer notes", "C4/8 G4 E4 F4 D4 A4 B4 G4 | D5/1 | A4/2 B4 | C4/8 G4 E4 F4 D4 A4 B4 G4 | C6/1", "", "exact 0-5>11-16"},
		{"another rhythm is another passage", figure + "r/2 C4/8 E4 G4/16 C5 B4/8 G4/4 D4/16 F4/8 A4/16 G4/8 E4/16 C4/8", "", ""},
		{"a held voice makes it another passage", "C3:8+C4/8 D4 E4 F4 G4 A4 B4 C5 r/1 C4/8 D4 E4 F4 G4 A4 B4 C5", "", ""},
		{"up a fourth, on the same pattern", figure + "r/4 r/2 F4/16 A4 C5 F5 E5 C5 G4 Bb4 D5 C5 A4 F4", "", "transposed+5 0-11>12-23"},
		{"a step up within the key", figure + "r/4 r/2 D4/16 F4 A4 D5 C5 A4 E4 G4 B4 A4 F4 D4", "", "transposed+2 0-11>12-23"},
		{"a sequence is told once for each time", "C4/16 E4 D4 F4 D4 F4 E4 G4 E4 G4 F4 A4 F4 A4 G4 B4 r/1 A4/4", "", "transposed+2 0-3>4-7, transposed+4 0-3>8-11"},
		{"a figure that goes on and on returns to its first time", strings.Repeat("C3/16 G3 E3 G3 ", 4) + "r/1 C5/4", "", "exact 0-3>4-7, exact 0-3>8-11"},
		{"a scale is no sequence of itself, but returns an octave higher", "C4/16 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5 A5 B5 C6 D6 E6 F6 G6", "", "transposed+12 0-6>7-13, transposed+24 0-2>14-16"},
		{"nor is a chromatic one", "C4/16 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4 C5", "", ""},
		{"the hands mirror each other", "D4/8 E4 F4 A4 G4 F4 E4 F4 D4 r/1", "D4/8 C4 B3 G3 A3 B3 C4 B3 D4 r/1", "mirrored 0-8>100-108"},
		{"the left hand answers upside down", "D4/8 E4 F4 A4 G4 F4 E4 F4 D4 r r/1", "r/1 r/4 D3/8 C3 B2 G2 A2 B2 C3 B2 D3", "mirrored 0-8>100-108"},
		{"hands that go together mirror nothing", "C4/8 D4 G4 F4 A4 D4 E4 C4", "C3/8 D3 G3 F3 A3 D3 E3 C3", ""},
		{"the left hand returns to itself", "", "C3/16 G3 E3 G3 B2 G3 D3 F3 A3 D3 E3 C3 r/4 r/8 r/1 C3/16 G3 E3 G3 B2 G3 D3 F3 A3 D3 E3 C3", "exact 100-111>112-123"},
		{"the third time returns to the first", figure + "r/1 " + figure + "r/1 " + figure, "", "exact 0-11>12-23, exact 0-11>24-35"},
		{"exact goes before transposed", figure + "r/1 D4/16 F#4 A4 D5 C#5 A4 E4 G4 B4 A4 F#4 D4 r/1 D4/16 F#4 A4 D5 C#5 A4 E4 G4 B4 A4 F#4 D4", "", "transposed+2 0-11>12-23, exact 12-23>24-35"},
		{"chords", "C4+E4+G4/8 D4+G4+B4 C4+E4+C5 B3+D4+G4 A3+C4+F4 G3+B3+D4 F3+A3+D4 G3+B3+D4 r/1 C4+E4+G4/8 D4+G4+B4 C4+E4+C5 B3+D4+G4 A3+C4+F4 G3+B3+D4 F3+A3+D4 G3+B3+D4", "", "exact 0-23>24-47"},
		{"one note less in a chord is another passage", "C4+E4+G4/4 D4+G4+B4 C4+E4+C5 B3+D4+G4 r/1 C4+E4+G4/4 D4+B4 C4+E4+C5 B3+D4+G4", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines := []parallel.Line{lineOf(t, fingering.Right, 0, c.right), lineOf(t, fingering.Left, 100, c.left)}
			require.Equal(t, c.want, told(parallel.Find(lines, common)))
		})
	}
}

// music draws lines in which much returns: figures from a small stock, moved about.
func music() *rapid.Generator[[]parallel.Line] {
	return rapid.Custom(func(t *rapid.T) []parallel.Line {
		figures := [][]int{{0, 4, 7, 12, 11, 7, 2, 5}, {0, 2, 4, 5}, {0, 7, 4, 7}, {0, -1, 3, 12}, {0}}
		var lines []parallel.Line
		id := 0
		for h := range 2 {
			l := parallel.Line{Hand: fingering.Hand(h)}
			at := score.Fraction{}
			for range rapid.IntRange(0, 12).Draw(t, "figures") {
				start := rapid.SampledFrom([]int{60, 60, 62, 67}).Draw(t, "start")
				for _, k := range rapid.SampledFrom(figures).Draw(t, "figure") {
					next := at.Add(score.Frac(1, 4))
					l.Notes = append(l.Notes, fingering.Note{ID: id, Key: start + k, Onset: moment(at), End: moment(next), Tied: rapid.IntRange(0, 19).Draw(t, "tied") == 0})
					l.Degrees = append(l.Degrees, 7*(start+k)/12)
					id, at = id+1, next
				}
			}
			lines = append(lines, l)
		}
		return lines
	})
}

// Whatever is found holds: each later note once, each first note earlier (or at the same time in the other hand), the keys as the kind says.
func TestWhatIsFoundHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := music().Draw(t, "music")
		notes, hand := map[int]fingering.Note{}, map[int]fingering.Hand{}
		for _, l := range lines {
			for _, n := range l.Notes {
				notes[n.ID], hand[n.ID] = n, l.Hand
			}
		}
		returns := parallel.Find(lines, common)
		require.Equal(t, returns, parallel.Find(lines, common), "the same every time")
		later := map[int]bool{}
		for _, r := range returns {
			require.Len(t, r.Later, len(r.First))
			for k := range r.Later {
				a, b := notes[r.First[k]], notes[r.Later[k]]
				require.False(t, later[b.ID], "note %d returns two", b.ID)
				later[b.ID] = true
				require.False(t, a.Tied || b.Tied, "only strokes are fingered")
				switch r.Kind {
				case parallel.Exact:
					require.Equal(t, a.Key, b.Key)
					require.Less(t, fingering.Before(&a, &b), 0)
					require.Equal(t, hand[a.ID], hand[b.ID])
				case parallel.Transposed:
					require.Less(t, fingering.Before(&a, &b), 0)
					require.Equal(t, hand[a.ID], hand[b.ID])
				case parallel.Mirrored:
					require.LessOrEqual(t, fingering.Before(&a, &b), 0)
					require.NotEqual(t, hand[a.ID], hand[b.ID])
				}
			}
		}
	})
}

func TestAnOctaveHigherReturnsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := music().Draw(t, "music")
		want := parallel.Find(lines, common)
		for l := range lines {
			for k := range lines[l].Notes {
				lines[l].Notes[k].Key += 12
				lines[l].Degrees[k] += 7
			}
		}
		require.Equal(t, want, parallel.Find(lines, common))
	})
}

func TestNothingReturnsInNothing(t *testing.T) {
	require.Empty(t, parallel.Find(nil, nil))
	require.Empty(t, parallel.Find([]parallel.Line{{}, {Hand: fingering.Left}}, nil))
}

// longLines are music of many notes: a figure that stands ten thousand times, and music without return.
var longLines = map[string]func(i int) int{
	"one figure":  func(i int) int { return [4]int{48, 55, 52, 55}[i%4] },
	"two figures": func(i int) int { return [4]int{48, 55, 52, 55}[i%4] + i/4*i/64%3 },
	"no figure":   func(i int) int { return 40 + (i*i*7+i*13+i*i*i)%41 },
}

func longLine(n int, key func(i int) int) []parallel.Line {
	var l parallel.Line
	for i := range n {
		l.Notes = append(l.Notes, fingering.Note{ID: i, Key: key(i), Onset: fingering.Moment{Num: int64(i), Den: 4}, End: fingering.Moment{Num: int64(i + 1), Den: 4}})
	}
	return []parallel.Line{l}
}

// Long pieces come to an end, and what returns in them is found.
func TestLongPiecesAreNoTrouble(t *testing.T) {
	require.NotEmpty(t, parallel.Find(longLine(40_000, longLines["one figure"]), nil))
	for _, key := range longLines {
		parallel.Find(longLine(40_000, key), nil)
	}
}

// BenchmarkLongPieces reports how much longer four times the notes take
// ("times"; 4 in proportion, more in short runs, which end before memory is
// collected):
//
//	go test -run '^$' -bench LongPieces -benchtime 3x ./rules/parallel
func BenchmarkLongPieces(b *testing.B) {
	for name, key := range longLines {
		b.Run(strings.ReplaceAll(name, " ", "-"), func(b *testing.B) {
			short, long := longLine(10_000, key), longLine(40_000, key)
			var first, second time.Duration
			for b.Loop() {
				begun := time.Now()
				parallel.Find(short, nil)
				middle := time.Now()
				parallel.Find(long, nil)
				first += middle.Sub(begun)
				second += time.Since(middle)
			}
			b.ReportMetric(float64(second)/float64(max(first, time.Millisecond)), "times")
		})
	}
}
