package compare_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"

	"github.com/stretchr/testify/require"
)

// linesOf lists what a report makes of a piece, one line a cause.
func linesOf(p compare.Piece) (out []string) {
	for _, l := range p.Lines() {
		old, new := l.Values()
		out = append(out, fmt.Sprintf("%s: %s: %s → %s", l.Place(), l.Kind(), old, new))
	}
	return out
}

// What runs through is one line, and its changes keep their places.
func TestOneCauseIsOneLine(t *testing.T) {
	row := func(digit func(k int) string) string {
		out := ""
		for k, pitch := range []string{"C4", "D4", "E4", "F4"} {
			out += n(pitch, 2, fingers(digit(k+1)))
		}
		return out
	}
	styled := func(attributes string) string {
		return row(func(k int) string { return fmt.Sprintf("<fingering%s>%d</fingering>", attributes, k) })
	}
	compared := func(a, b []string) compare.Piece {
		return compare.Scores("x", bare(read(t, a...)), bare(read(t, b...)))
	}
	twice := func(m string) []string { return []string{m, m} }

	p := compared(twice(styled(` placement="above"`)), twice(styled(` placement="below"`)))
	require.Equal(t, []string{"throughout: 8 digits, the first at m. 1, right hand, beat 1, C4: placement: above → below"}, linesOf(p))
	require.Len(t, p.Changes, 8, "each keeps its place")
	require.Equal(t, map[compare.Kind]int{compare.Placement: 8}, p.Counts())

	p = compared(twice(styled(` font-weight="bold"`)), twice(styled(``)))
	require.Equal(t, []string{"throughout: 8 digits, the first at m. 1, right hand, beat 1, C4: style: bold → plain"}, linesOf(p))

	none := n("C4", 2) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	p = compared(twice(styled(``)), []string{none, none})
	require.Equal(t, []string{"throughout: 8 digits, the first at m. 1, right hand, beat 1, C4: digit-missing:  → "}, linesOf(p))
	require.True(t, p.Causes[0].Lost)

	// One of them alone is a change of its own, and so are few among many.
	p = compared(twice(styled(``)), []string{styled(``), strings.Replace(styled(``), fingers(f("3")), "", 1)})
	require.Empty(t, p.Causes)
	p = compared([]string{styled(``), styled(``), styled(``), styled(``)}, []string{
		strings.Replace(styled(``), `<fingering>1`, `<fingering font-style="italic">1`, 1), styled(``),
		strings.Replace(styled(``), `<fingering>2`, `<fingering font-style="italic">2`, 1), styled(``),
	})
	require.Empty(t, p.Causes)

	// In a row on one staff: a cause with its measures.
	p = compared([]string{styled(``), styled(``), styled(``), styled(``)},
		[]string{styled(``), styled(` font-style="italic"`), styled(` font-style="italic"`), styled(``)})
	require.Equal(t, []string{
		"mm. 2–3, upper staff: 8 digits, the first at m. 2, right hand, beat 1, C4: style: plain → italic",
	}, linesOf(p))
}

// Notes that went in a row have readings of their own: few of them are told one by one.
func TestFewThatWentAreToldOneByOne(t *testing.T) {
	full := n("C4", 1) + n("D4", 1) + n("E4", 1) + n("F4", 1) + n("G4", 1) + n("A4", 1) + n("B4", 1) + n("C5", 1)
	chords := ""
	for _, pitch := range []string{"C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5"} {
		chords += n(pitch, 1) + chord(n("G3", 1))
	}
	some := chords[:strings.Index(chords, n("G4", 1))] + n("G4", 1) + n("A4", 1) + n("B4", 1) + n("C5", 1)
	p := compare.Scores("x", bare(read(t, chords, full, full)), bare(read(t, some, full, full)))
	require.Len(t, p.Changes, 4)
	require.Empty(t, p.Causes)
	p = compare.Scores("x", bare(read(t, chords, chords, full)), bare(read(t, full, full, full)))
	require.Len(t, p.Changes, 16)
	require.Empty(t, p.Causes, "between them stand notes that stayed")
}

// What came or went is asked for at each place of its extent: those that stay are named.
func TestWhatStaysAmongWhatCameIsNamed(t *testing.T) {
	bar := func(digits string) (out string) {
		for k, pitch := range []string{"C5", "D5", "E5", "F5"} {
			if digits[k] == '-' {
				out += n(pitch, 2)
			} else {
				out += n(pitch, 2, fingers(f(digits[k:k+1])))
			}
		}
		return out
	}
	of := func(bars ...string) compare.Side {
		for k := range bars {
			bars[k] = bar(bars[k])
		}
		return bare(read(t, bars...))
	}
	full := func() compare.Side { return of("1234", "1234", "1234", "1234", "1234", "1234") }
	none := func() compare.Side { return of("----", "----", "----", "----", "----", "----") }
	one := func() compare.Side { return of("----", "-2--", "----", "----", "----", "----") }

	p := compare.Scores("x", none(), full())
	require.Equal(t, "throughout: 24 digits", p.Causes[0].Extent)
	require.Equal(t, "take out each digit", p.Causes[0].Ask())
	p = compare.Scores("x", one(), full())
	require.Equal(t, []string{
		"23 of 24 digits (all except at m. 2, right hand, beat 2, D5), the first at m. 1, right hand, beat 1, C5: digit-added:  → ",
	}, linesOf(p))
	require.Equal(t, "take out each digit, but not at the places excepted", p.Causes[0].Ask())
	p = compare.Scores("x", full(), one())
	require.Equal(t, "23 of 24 digits (all except at m. 2, right hand, beat 2, D5)", p.Causes[0].Extent)
	require.Equal(t, "put in each digit as approved, but not at the places excepted", p.Causes[0].Ask())

	// With more of them no line stands for those around them; a row that no whole measures hold names its beats.
	p = compare.Scores("x", of("12--", "--34", "12--", "--34", "12--", "--34"), full())
	require.Empty(t, p.Causes)
	require.Len(t, p.Changes, 12)
	p = compare.Scores("x", of("12--", "----", "----", "---4", "1234", "1234"), full())
	require.Equal(t, []string{
		"m. 1, beat 3 to m. 4, beat 3, upper staff: 13 digits, the first at m. 1, right hand, beat 3, E5: digit-added:  → ",
	}, linesOf(p))

	// A chord of which one digit stays, among slurs and signs of each kind.
	two := func(low string) string { return n("C5", 8, fingers(f("5"))) + chord(n("E4", 8, low)) }
	p = compare.Scores("x", bare(read(t, two(fingers(f("1"))), two(fingers(f("1"))), two(fingers(f("1"))))),
		bare(read(t, n("C5", 8)+chord(n("E4", 8, fingers(f("1")))), n("C5", 8)+chord(n("E4", 8)), n("C5", 8)+chord(n("E4", 8)))))
	require.NotContains(t, strings.Join(linesOf(p), "\n"), "throughout")
	signs := func(sign string) string { return n("C5", 4, sign) + chord(n("E4", 4, sign)) + n("D5", 4, sign) }
	dots, plain := signs(`<articulations><staccato/></articulations>`), signs("")
	p = compare.Scores("x", bare(read(t, dots, dots, dots)), bare(read(t, plain, plain, plain)))
	require.Equal(t, "throughout: 6 places", p.Causes[0].Extent)
	require.Empty(t, p.Causes[0].Except)
}

// An octave line that is gone, and the notes written where they were: one line.
func TestAnOctaveLineGoesWithItsNotes(t *testing.T) {
	high, low := n("C6", 2)+n("D6", 2)+n("E6", 2)+n("F6", 2), n("C5", 2)+n("D5", 2)+n("E5", 2)+n("F5", 2)
	fill := n("G4", 2) + n("A4", 2) + n("B4", 2) + n("C5", 2)
	a := read(t, fill, marksOf(`<octave-shift type="down" size="8"/>`)+high+marksOf(`<octave-shift type="stop"/>`), fill)
	p := compare.Scores("x", bare(a), bare(read(t, fill, low, fill)))
	require.Equal(t, []string{
		"m. 2: 4 notes, the first at m. 2, right hand, beat 1, C5: octave-line: 8va to the end of m. 2 → ",
	}, linesOf(p))
	require.Len(t, p.Changes, 5)
	require.Len(t, p.Causes[0].Changes, 5)
	cause := p.CauseOf()
	for k := range p.Changes {
		require.Same(t, &p.Causes[0], cause[k])
	}
}

// A cause of which notes went to an octave line counts those that are left.
func TestACauseCountsWhatAnOctaveLineLeavesIt(t *testing.T) {
	high, low := n("C6", 2)+n("D6", 2)+n("E6", 2)+n("F6", 2), n("C5", 2)+n("D5", 2)+n("E5", 2)+n("F5", 2)
	under := marksOf(`<octave-shift type="down" size="8"/>`) + high + marksOf(`<octave-shift type="stop"/>`)
	p := compare.Scores("x", bare(read(t, high, high, high, high, under, under)), bare(read(t, low, low, low, low, low, low)))
	sum := 0
	for _, c := range p.Causes {
		notes := len(c.Changes)
		if c.Kind == compare.OctaveLine {
			notes--
		}
		sum += len(c.Changes)
		require.Contains(t, c.Extent, fmt.Sprintf(": %d notes", notes))
	}
	require.Equal(t, len(p.Changes), sum)
	require.Equal(t, "mm. 1–4, upper staff: 16 notes", p.Causes[0].Extent)
}

// What holds for all parts is told once; a part that one side lacks is one line.
func TestPartsAreCompared(t *testing.T) {
	song := func(parts ...string) *score.Score {
		list, music := "", ""
		for k, p := range parts {
			list += fmt.Sprintf(`<score-part id="P%d"><part-name>%s</part-name></score-part>`, k, []string{"Voice", "Piano", "Violin"}[k])
			music += fmt.Sprintf(`<part id="P%d"><measure number="1">%s</measure></part>`, k, p)
		}
		return parsed(t, `<score-partwise version="4.0"><part-list>`+list+`</part-list>`+music+`</score-partwise>`)
	}
	start := `<attributes><divisions>2</divisions><key><fifths>%d</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>%s</attributes>`
	voice := func(fifths int, notes string) string { return fmt.Sprintf(start, fifths, "") + notes }
	piano := func(fifths int, notes string) string { return fmt.Sprintf(start, fifths, "<staves>2</staves>") + notes }
	melody, hands := n("C5", 2)+n("D5", 2)+n("E5", 4), n("C4", 4)+n("E4", 4)
	listed := func(a, b *score.Score) []string { return linesOf(compare.Scores("x", bare(a), bare(b))) }
	whole := song(voice(0, melody), piano(0, hands))
	require.Equal(t, []string{"m. 1: key: no sharps or flats → 2 flats"}, listed(whole, song(voice(-2, melody), piano(-2, hands))))
	require.Equal(t, []string{"m. 1, beat 2, F5: pitch: D5 → F5"},
		listed(whole, song(voice(0, strings.Replace(melody, `<step>D`, `<step>F`, 1)), piano(0, hands))))
	require.Equal(t, []string{"whole piece: part-missing: part 1 of 2, 3 notes → "},
		listed(whole, parsed(t, `<score-partwise><part-list><score-part id="P"><part-name>Piano</part-name></score-part></part-list>`+
			`<part id="P"><measure number="1">`+piano(0, hands)+`</measure></part></score-partwise>`)))
	require.Equal(t, []string{"whole piece: part-added:  → part 3 of 3, 1 note"},
		listed(whole, song(voice(0, melody), piano(0, hands), fmt.Sprintf(start, 0, "")+n("C6", 8))))
}

// Titles and what is printed beside them, wherever a file keeps them; numbers of measures where both scores print them.
func TestTitlesAndNumbers(t *testing.T) {
	with := func(head, number, numbering string) *score.Score {
		return parsed(t, `<score-partwise>`+head+`<part-list><score-part id="P"><part-name>Piano</part-name></score-part></part-list>`+
			`<part id="P"><measure number="`+number+`">`+numbering+`<attributes><divisions>2</divisions></attributes>`+n("C4", 8)+`</measure></part></score-partwise>`)
	}
	listed := func(a, b *score.Score) []string { return linesOf(compare.Scores("x", bare(a), bare(b))) }
	title := `<work><work-title>Waltz</work-title></work>`
	require.Equal(t, []string{"whole piece: title: Waltz → Valse"}, listed(with(title, "1", ""), with(`<movement-title>Valse</movement-title>`, "1", "")))
	require.Empty(t, listed(with(title, "1", ""), with(`<movement-title>Waltz</movement-title>`, "1", "")))
	require.Empty(t, listed(with(title, "1", ""), with(title+`<credit page="1"><credit-words>Waltz</credit-words></credit>`, "1", "")))
	require.Equal(t, []string{"whole piece: credit:  → Da capo al fine"},
		listed(with(title, "1", ""), with(title+`<credit page="1"><credit-words>Da capo al fine</credit-words></credit>`, "1", "")))
	require.Equal(t, []string{"whole piece: creator: A. B. (composer) → A. C. (composer)"},
		listed(with(`<identification><creator type="composer">A. B.</creator></identification>`, "1", ""),
			with(`<identification><creator type="composer">A. C.</creator></identification>`, "1", "")))
	require.Equal(t, []string{"whole piece: rights: 1901 → 1902"}, listed(
		with(`<identification><rights>1901</rights></identification>`, "1", ""), with(`<identification><rights>1902</rights></identification>`, "1", "")))
	numbered := `<print><measure-numbering>measure</measure-numbering></print>`
	require.Empty(t, listed(with(title, "1", ""), with(title, "7", "")))
	require.Equal(t, []string{"numbers of measures, which not both files say that they print (m. 1 is now 7)"},
		compare.Scores("x", bare(with(title, "1", "")), bare(with(title, "7", numbered))).NotSaid)
	require.Empty(t, compare.Scores("x", bare(with(title, "1", "")), bare(with(title, "1", ""))).NotSaid)
	require.Empty(t, compare.Scores("x", bare(with(title, "1", numbered)), bare(with(title, "7", numbered))).NotSaid)
	require.Contains(t, compare.NotCompared(compare.Classes()), "numbers of measures where not both files say that they print them")
	require.Equal(t, []string{"m. 7 (was m. 1): measure-number: 1 → 7"}, listed(with(title, "1", numbered), with(title, "7", numbered)))
}

// What a file leaves to the engraver is not called missing, and named as not compared.
func TestWhatAFileDoesNotSayIsNamed(t *testing.T) {
	sharp := func(accidental string) string {
		out := ""
		for _, pitch := range []string{"C5", "D5", "F5", "G5"} {
			out += strings.Replace(n(pitch, 2), `</step>`, `</step><alter>1</alter>`, 1)
		}
		return strings.ReplaceAll(out, `<duration>`, accidental+`<duration>`)
	}
	said, silent := read(t, sharp(`<accidental>sharp</accidental>`)), read(t, sharp(``))
	p := compare.Scores("x", bare(said), bare(silent))
	require.Empty(t, p.Changes)
	require.Contains(t, p.NotSaid, "printed accidentals (the new score does not give them)")
	require.NotContains(t, compare.Scores("x", bare(said), bare(said)).NotSaid, "printed accidentals (neither score gives them)")
	require.Contains(t, compare.Scores("x", bare(silent), bare(silent)).NotSaid, "printed accidentals (neither score gives them)")
}
