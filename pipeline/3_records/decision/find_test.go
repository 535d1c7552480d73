package decision_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// melody is a part of quarter notes, four a measure, measures parted by bars; a measure may name its number before
// a colon. A pitch is written C4; C4/2 stands on the second staff, +E4 joins the note before in a chord, ~C4 is a
// grace note.
func melody(t *testing.T, text string) *score.Score {
	t.Helper()
	var b strings.Builder
	for i, m := range strings.Split(text, "|") {
		number, notes, named := strings.Cut(m, ":")
		if !named {
			number, notes = fmt.Sprint(i+1), m
		}
		fmt.Fprintf(&b, `<measure number="%s">`, strings.TrimSpace(number))
		if i == 0 {
			b.WriteString(
				`<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`)
		}
		for word := range strings.FieldsSeq(notes) {
			pitch, staff, _ := strings.Cut(word, "/")
			if staff == "" {
				staff = "1"
			}
			chord, grace, duration := "", "", "<duration>1</duration>"
			if p, ok := strings.CutPrefix(pitch, "+"); ok {
				chord, pitch = "<chord/>", p
			}
			if p, ok := strings.CutPrefix(pitch, "~"); ok {
				grace, duration, pitch = "<grace/>", "", p
			}
			if pitch == "r" {
				b.WriteString(`<note><rest/><duration>1</duration><voice>1</voice><staff>1</staff></note>`)
				continue
			}
			fmt.Fprintf(&b,
				`<note>%s%s<pitch><step>%s</step><octave>%s</octave></pitch>%s<voice>%s</voice><staff>%s</staff></note>`,
				grace, chord, pitch[:1], pitch[1:], duration, staff, staff)
		}
		b.WriteString(`</measure>`)
	}
	return parse(t,
		`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`+b.String()+`</part></score-partwise>`)
}

const tune = "C4 D4 E4 F4 | G4 A4 B4 C5 | C4 D4 E4 F4 | A4 G4 F4 E4 | C4 D4 E4 F4 | D4 D4 G4 G4 | C4 E4 G4 C5"

// foundAgain keeps a note of one score and looks for it in another: its index there, or why not.
func foundAgain(t *testing.T, before, after string, note int) string {
	t.Helper()
	ref := decision.NewFinder(melody(t, before)).Ref(note, nil)
	n, why, _ := decision.NewFinder(melody(t, after)).Find(&ref)
	if n < 0 {
		require.NotEmpty(t, why)
		return why
	}
	require.Empty(t, why)
	return fmt.Sprint(n)
}

// A note is found again by the music of its measure and by measures about it that stand in the piece once only,
// however measures are put in, taken out or counted; and rather not at all than in the wrong place.
func TestNotesAreFoundAgain(t *testing.T) {
	for _, c := range []struct {
		name, after string
		note        int
		want        string
	}{
		{"as it stood", tune, 5, "5"},
		{"as it stood, in a measure that comes three times", tune, 9, "9"},
		{"a measure put in before it", "F4 F4 F4 A4 | " + tune, 9, "13"},
		{"a measure taken out before it", strings.TrimPrefix(tune, "C4 D4 E4 F4 | "), 9, "5"},
		{"its measure corrected beside it", strings.Replace(tune, "| A4 G4 F4 E4 |", "| A4 G4 F4 D4 |", 1), 13, "13"},
		{"its own key corrected", strings.Replace(tune, "| A4 G4 F4 E4 |", "| A4 A4 F4 E4 |", 1), 13, "its note is gone"},
		{"its measure taken out", strings.Replace(tune, "| A4 G4 F4 E4 ", "", 1), 13, "its measure cannot be told from others"},
		{"other music altogether", "B4 B4 B4 B4 | A4 A4 A4 A4", 13, "its measure cannot be told from others"},
		{"measures numbered anew", strings.Replace(tune, "C4", "X1: C4", 1), 13, "13"},
	} {
		require.Equal(t, c.want, foundAgain(t, tune, c.after, c.note), c.name)
	}
	twice := strings.Replace(tune, "| A4 G4 F4 E4 |", "| A4 G4 F4 E4 | A4 G4 F4 E4 |", 1)
	require.Equal(t, "its measure cannot be told from others", foundAgain(t, tune, twice, 13),
		"which of two is meant cannot be said")
}

// One key struck twice at once: the staff tells which is meant, then the order.
// In a piece in which all music comes twice no measure is its own landmark: its place tells it from its like, as long as
// all still comes twice.
// A corrected key takes no decision from the one that is struck with it, and what stands in its place is named first, though
// the key that is gone stands elsewhere.
func TestOneKeyOfAGripIsCorrected(t *testing.T) {
	const before, after = "C4 E4 D4 F4 | C4 D4 G4 +F3 A4 B4 C5 | C4 D4 E4 F4 | A4 G4 F4 G4 | C4 D4 G4 E4", "C4 E4 D4 F4 | C4 D4 A4 +F3 A4 B4 C5 | C4 D4 E4 F4 | A4 G4 F4 G4 | C4 D4 G4 E4"
	f := decision.NewFinder(melody(t, after))
	of := func(note int) decision.NoteRef {
		ref := decision.NewFinder(melody(t, before)).Ref(note, nil)
		ref.Around.With, ref.Around.Before, ref.Around.After = nil, nil, nil // as a line of a file keeps it
		ref.Near = append(ref.Near, decision.Near{Midi: 67 + 53 - ref.Midi, Pitch: map[bool]string{true: "F3", false: "G4"}[ref.Midi == 67], Onset: ref.Onset})
		return ref
	}
	ref := of(7)
	require.Equal(t, "F3", ref.Pitch)
	n, why, _ := f.Find(&ref)
	require.Equal(t, 7, n, why)
	ref = of(6)
	require.Equal(t, "G4", ref.Pitch)
	n, why, nearest := f.Find(&ref)
	require.Equal(t, -1, n)
	require.Equal(t, "its note is gone", why)
	require.Equal(t, 6, nearest[0].Note, "A4 stands there now")
}

func TestAllMusicComesTwice(t *testing.T) {
	const verse = "C4 D4 E4 F4 | G4 A4 B4 C5 | A4 G4 F4 E4"
	const twice = verse + "|" + verse
	for n := range 24 {
		require.Equal(t, fmt.Sprint(n), foundAgain(t, twice, twice, n))
	}
	require.Equal(t, "its measure cannot be told from others", foundAgain(t, twice, "C4 C4 C4 C4 |"+twice, 0), "a measure was put in")
	require.Equal(t, "its measure cannot be told from others",
		foundAgain(t, twice, strings.Replace(twice, "G4 A4 B4 C5", "G4 A4 B4 D5", 1), 0), "and one was changed")
	require.Equal(t, "0", foundAgain(t, twice, verse, 0), "the second was taken out")
}

func TestOneKeyTwiceAtOnce(t *testing.T) {
	const both = "C4 D4 E4 F4 | G4 +G4/2 A4 B4 C5 | D4 D4 G4 G4 | C4 E4 G4 C5"
	require.Equal(t, "4", foundAgain(t, both, both, 4))
	require.Equal(t, "5", foundAgain(t, both, both, 5))
	const unison = "C4 D4 E4 F4 | G4 +G4 A4 B4 C5 | D4 D4 G4 G4 | C4 E4 G4 C5"
	require.Equal(t, "4", foundAgain(t, unison, unison, 4))
	require.Equal(t, "5", foundAgain(t, unison, unison, 5))
	require.Equal(t, "4", foundAgain(t, unison, strings.Replace(unison, " +G4", "", 1), 4))
}

// Two voices of the piano strike the key that a singer sings: each is found again, though the singer's note is counted first.
func TestOneKeyTwiceAtOnceUnderASong(t *testing.T) {
	note := func(step, voice string) string {
		return `<note><pitch><step>` + step + `</step><octave>4</octave></pitch><duration>4</duration><voice>` + voice + `</voice><staff>1</staff></note>`
	}
	const back = `<backup><duration>4</duration></backup>`
	var song, piano strings.Builder
	for i, step := range []string{"C", "F", "G", "E"} {
		head := fmt.Sprintf(`<measure number="%d">`, i+1)
		if i == 0 {
			head += `<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`
		}
		song.WriteString(strings.Replace(head+note(step, "1")+`</measure>`, "<staff>1</staff>", "", 1))
		piano.WriteString(strings.Replace(head, "</time>", "</time><staves>2</staves>", 1) + note(step, "1") + back + note(step, "2") + `</measure>`)
	}
	s := parse(t, `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Voice</part-name></score-part>`+
		`<score-part id="P2"><part-name>Piano</part-name></score-part></part-list><part id="P1">`+song.String()+
		`</part><part id="P2">`+piano.String()+`</part></score-partwise>`)
	f := decision.NewFinder(s)
	for n := range s.Notes {
		if s.Notes[n].Part == 0 {
			continue
		}
		ref := f.Ref(n, nil)
		require.Positive(t, ref.Ordinal)
		found, why, _ := f.Find(&ref)
		require.Equal(t, n, found, "%s %s", ref.Key(), why)
	}
}

// Where an editor writes only the printed number, it has to be that of one measure.
func TestAPlaceWrittenByHand(t *testing.T) {
	s := melody(t, "1: C4 D4 E4 F4 | 2: G4 A4 B4 C5 | 2: C4 D4 E4 F4 | 4: A4 G4 F4 E4")
	f := decision.NewFinder(s)
	find := func(ref decision.NoteRef) string {
		ref.Around.Printed = ref.Printed
		n, why, nearest := f.Find(&ref)
		if n >= 0 {
			return fmt.Sprint(n)
		}
		for _, c := range nearest {
			why += fmt.Sprintf("; %d", c.Note)
		}
		return why
	}
	require.Equal(t, "13", find(decision.NoteRef{Printed: "4", Index: -1, Onset: score.Whole(1), Midi: 67}))
	require.Equal(t, "there is no measure 9", find(decision.NoteRef{Printed: "9", Index: -1, Midi: 60}))
	require.Equal(t, `2 measures bear the number 2; write "index: 1" or "index: 2" for the one that is meant`,
		find(decision.NoteRef{Printed: "2", Index: -1, Midi: 60}))
	require.Equal(t, "8", find(decision.NoteRef{Printed: "2", Index: 2, Midi: 60}))
	gone := find(decision.NoteRef{Printed: "4", Index: -1, Midi: 60})
	require.True(t, strings.HasPrefix(gone, "its note is gone, or cannot be told from others; 12; 8"),
		"what stands there now, then the same key in the nearest measure: %s", gone)
}

// A reference keeps the address of its note, what stands around it and the two nearest measures on either side that
// stand once only.
func TestWhatAReferenceKeeps(t *testing.T) {
	s := melody(t, strings.Replace(tune, "| A4 G4 F4 E4 |", "| ~B4 A4 G4 F4 E4 |", 1))
	f := decision.NewFinder(s)
	ref := f.Ref(12, []int{5, 4})
	require.Equal(t, "4", ref.Printed)
	require.Equal(t, score.Address{Measure: 3, Grace: 1, Midi: 71}, ref.Address())
	require.Equal(t, "B4", ref.Pitch)
	require.Equal(t, []int{5, 4}, ref.Fingers)
	var by []int
	for _, l := range ref.Landmarks {
		by = append(by, l.By)
		require.Len(t, l.Music, 8)
	}
	require.Equal(t, []int{-2, 2, 3}, by,
		"measures 2, 6 and 7; 1, 3 and 5 are the same, and before there is no other")
	require.Equal(t, "-2:"+ref.Landmarks[0].Music, ref.Landmarks[0].String())
	entry := func(r decision.NoteRef) string {
		return decision.Entry(decision.Decision{
			Verb: decision.Amend, On: decision.Notes, When: "2026-03-01", Notes: []decision.NoteRef{r},
		})
	}
	marks := ref.Landmarks
	require.Contains(t, entry(ref), fmt.Sprintf("    landmarks: %d:%s 3:%s 4:%s\n", -1, marks[0].Music, marks[1].Music, marks[2].Music),
		"counted from the line before, which holds a note that helps to find it")
	require.Contains(t, entry(ref), "m. 4 "+ref.Around.Music[:8]+": 0 grace 1 B4=5-4, (0 A4), (1 G4)\n")
	require.NotContains(t, entry(ref), "(no.")
	second := decision.NewFinder(melody(t, "C4 +C4 D4 E4 F4"))
	require.Contains(t, entry(second.Ref(1, nil)), "0 C4 (staff 1) (no. 2), (1 D4), (2 E4)\n")
	require.Contains(t, entry(second.Ref(0, nil)), "0 C4 (staff 1), (1 D4)")
	require.Contains(t, entry(decision.NoteRef{Printed: "8", Index: -1, Onset: score.Frac(1, 2), Midi: 60}),
		"      - {measure: \"8\", onset: 1/2, midi: 60}\n", "without a name of its key it stands for itself")
}

// What people write by hand is read to the letter: every key of a note and of a decision.
func TestEveryKeyIsRead(t *testing.T) {
	text := `piece: p
by: AB
decisions:
  - stet: redistribution
    when: 2026-03-01
    to: L
    why: |
      over two
      lines
    notes:
      - {measure: 12a, index: 3, onset: 3/2, pitch: Bb3, grace: 1000, ordinal: 2, staff: 100, music: 0123456789abcdef, with: [0, 127], before: [60], after: [61, 62], landmarks: "-3:0f1e2d3c 2:aaaaaaaa"}
  - {take: notes, when: 2026-03-02, returns: true, except: [12, 13a], print: always, notes: [{measure: 1, midi: 127, finger: 1-2-3}, {index: 0, pitch: C4, midi: 0, finger: 5}]}
`
	d, piece, err := decision.Parse("p.AB.yaml", []byte(text))
	require.NoError(t, err)
	require.Equal(t, "p", piece)
	require.Equal(t, score.Left, d[0].To)
	require.Equal(t, "over two lines", d[0].Why)
	n := d[0].Notes[0]
	require.Equal(t, []any{"12a", 3, score.Frac(3, 2), "Bb3", 58, 1000, 2, 100},
		[]any{n.Printed, n.Index, n.Onset, n.Pitch, n.Midi, n.Grace, n.Ordinal, n.Around.Staff})
	require.Equal(t, []any{"0123456789abcdef", []int{0, 127}, []int{60}, []int{61, 62}},
		[]any{n.Around.Music, n.Around.With, n.Around.Before, n.Around.After})
	require.Equal(t, []decision.Landmark{{By: -3, Music: "0f1e2d3c"}, {By: 2, Music: "aaaaaaaa"}}, n.Landmarks)
	require.Equal(t, decision.Always, d[1].Print)
	require.True(t, d[1].Returns)
	require.Equal(t, []string{"12", "13a"}, d[1].Except)
	require.Equal(t, []int{1, 2, 3}, d[1].Notes[0].Fingers)
	require.Equal(t, []int{127, 0}, []int{d[1].Notes[0].Midi, d[1].Notes[1].Midi},
		"the sounding key counts before the pitch")
	require.Equal(t, "p.AB.yaml:4", d[0].Place())
	for pitch, midi := range map[string]int{"C4": 60, "F##5": 79, "Bbb3": 57, "C-1": 0, "B3": 59, "Cb4": 59} {
		got, _, err := decision.Parse(
			"x.yaml",
			[]byte(
				"piece: p\nby: AB\ndecisions:\n  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: '"+pitch+"', finger: 1}]}\n"),
		)
		require.NoError(t, err, pitch)
		require.Equal(t, midi, got[0].Notes[0].Midi, pitch)
	}
}

// More faults, each with its line and what to write instead.
func TestMoreFaultsAreNamed(t *testing.T) {
	entry := func(e string) string { return "piece: p\nby: AB\ndecisions:\n  - " + e + "\n" }
	note := func(fields string) string {
		return entry("{take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3, " + fields + "}]}")
	}
	for text, want := range map[string]string{
		"by: AB\ndecisions: []\n":                  "does not say which piece it speaks of",
		"piece: p\ndecisions: []\n":                "does not say whose decisions these are",
		"piece: p\nby: ABCDEF\n":                   `by cannot be "ABCDEF"`,
		"piece: p\nby: AB\ndecision: []\n":         `did you mean "decisions"`,
		"- a\n":                                    "a file of decisions",
		entry("{when: 2026-01-01}"):                "does not say what it does",
		entry("{take: nothing, when: 2026-01-01}"): "take",
		entry("{take: notes, when: today, notes: [{measure: 1, pitch: C4, finger: 3}]}"):                            "when should be a day",
		entry("{stet: finding, when: 2026-01-01, until: soon, why: x, rule: a, notes: [{measure: 1, pitch: C4}]}"):  "until should be a day",
		entry("{query: notes, when: 2026-01-01, why: x, print: always, notes: [{measure: 1, pitch: C4}]}"):          "print says nothing in a query on notes",
		entry("{take: notes, when: 2026-01-01, rule: a, notes: [{measure: 1, pitch: C4, finger: 3}]}"):              "rule says nothing in a take on notes",
		entry("{take: notes, when: 2026-01-01, to: R, notes: [{measure: 1, pitch: C4, finger: 3}]}"):                "to says nothing in a take on notes",
		entry("{query: redistribution, when: 2026-01-01, why: x, returns: true, notes: [{measure: 1, pitch: C4}]}"): "returns says nothing in a query on redistribution",
		entry("{take: notes, when: 2026-01-01, except: [2], notes: [{measure: 1, pitch: C4, finger: 3}]}"):          "except says nothing in a take on notes",
		entry("{amend: finding, when: 2026-01-01, why: x, rule: a, notes: [{measure: 1, pitch: C4}]}"):              "a finding cannot be met by amend",
		note("midi: 128"):               "midi",
		note("grace: 1001"):             "grace",
		note("ordinal: -1"):             "ordinal",
		note("staff: 0"):                "staff",
		note("staff: 101"):              "staff",
		note("index: -2"):               "index",
		note("music: 123"):              "music cannot be",
		note("landmarks: '0:12345678'"): "landmarks cannot be",
		note("before: [128]"):           "before cannot be 128",
		note("fingers: 3"):              `did you mean "finger"`,
	} {
		_, _, err := decision.Parse("x.yaml", []byte(text))
		require.ErrorContains(t, err, want, text)
		require.ErrorContains(t, err, "x.yaml:", text)
	}
	for _, fine := range []string{note("midi: 127"), note("ordinal: 0"), note("staff: 1"), "piece: p\nby: ABCDE\n", "piece: p\nby: AB\ndecisions:\n"} {
		_, _, err := decision.Parse("x.yaml", []byte(fine))
		require.NoError(t, err, fine)
	}
}

// An entry is written as a person would write it, and texts that YAML would take for something else are put in
// quotes.
func TestHowAnEntryIsWritten(t *testing.T) {
	note := decision.NoteRef{Printed: "12", Index: -1, Onset: score.Whole(0), Midi: 60, Pitch: "F#4"}
	for _, c := range []struct {
		d    decision.Decision
		want string
	}{
		{decision.Decision{Verb: decision.Take, On: decision.Redistribution, When: "2026-03-01", To: score.Left, Why: "out of reach", Notes: []decision.NoteRef{note}},
			"  - take: redistribution\n    when: 2026-03-01\n    to: L\n    why: out of reach\n    notes:\n      - {measure: \"12\", onset: 0, pitch: \"F#4\", midi: 60}\n"},
		{decision.Decision{Verb: decision.Stet, On: decision.Finding, When: "2026-03-01", Until: "2026-04-01", Rule: "wide-span", Why: "rolled: meant so", Notes: []decision.NoteRef{note}},
			"  - stet: finding\n    when: 2026-03-01\n    until: 2026-04-01\n    rule: wide-span\n    why: \"rolled: meant so\"\n    notes:\n      - {measure: \"12\", onset: 0, pitch: \"F#4\", midi: 60}\n"},
		{decision.Decision{Verb: decision.Amend, On: decision.Notes, When: "2026-03-01", Print: decision.Always, Returns: true, Except: []string{"12", "13a"}},
			"  - amend: notes\n    when: 2026-03-01\n    print: always\n    returns: true\n    except: [\"12\", \"13a\"]\n    notes:\n"},
	} {
		require.Equal(t, c.want, decision.Entry(c.d))
	}
	for _, why := range []string{"yes", "12", "", "a\nb", "ein „Wort“", "null", "- x", "#1", "it's", "~", "1e3"} {
		if why == "" {
			continue
		}
		d := decision.Decision{
			Verb: decision.Query, On: decision.Notes, By: "AB", When: "2026-03-01", Why: why,
			Notes: []decision.NoteRef{note},
		}
		text, err := decision.Append("p.AB.yaml", []byte("piece: p\nby: AB\ndecisions:"), "p", "AB", nil,
			[]decision.Decision{d})
		require.NoError(t, err, why)
		back, _, err := decision.Parse("p.AB.yaml", text)
		require.NoError(t, err, why)
		require.Equal(t, strings.Join(strings.Fields(why), " "), back[0].Why)
	}
	require.Empty(t, decision.Sum(nil))
	require.Equal(t, "5-4-5", decision.Digits([]int{5, 4, 5}))
}

// Files are found by the piece's name and the editor's initials; what else lies there is a stray.
func TestFilesInAFolderOfDecisions(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"op1.yaml", "op1.AB.yaml", "op1.ABCDEF.yaml", "op1.AB.yml", "op1AB.yaml", "op1.A1.yaml", ".op1.yaml", "op2.yaml", "notes.txt"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o600))
	}
	require.NoError(t, os.Mkdir(filepath.Join(dir, "op1.CD.yaml"), 0o700))
	names, err := decision.Names(dir, "op1")
	require.NoError(t, err)
	require.Equal(t, []string{"op1.AB.yaml", "op1.yaml"}, names)
	strays, err := decision.Strays(dir, []string{"op1"})
	require.NoError(t, err)
	require.Equal(t, []string{"op1.A1.yaml", "op1.AB.yml", "op1.ABCDEF.yaml", "op1.CD.yaml", "op1AB.yaml", "op2.yaml"}, strays)
	require.NoError(t, os.Symlink("nowhere", filepath.Join(dir, "link")))
	_, err = decision.Names(filepath.Join(dir, "link"), "op1")
	require.ErrorContains(t, err, "reading the folder of decisions", "a link to nothing is no empty folder")
	none, err := decision.Strays(filepath.Join(dir, "nowhere"), nil)
	require.NoError(t, err)
	require.Empty(t, none)
	_, err = decision.Names(filepath.Join(dir, "op1.yaml"), "op1")
	require.ErrorContains(t, err, "reading the folder of decisions")
	_, err = decision.Strays(filepath.Join(dir, "op1.yaml"), nil)
	require.ErrorContains(t, err, "reading the folder of decisions")
	d := []decision.Decision{
		{When: "2026-02-01", By: "A"}, {When: "2026-01-01", By: "B"}, {When: "2026-02-01", By: "C"},
	}
	decision.SortByDate(d)
	require.Equal(t, "BAC", d[0].By+d[1].By+d[2].By)
}

// Where a note has become a rest, what lies near its key in its measure may be meant, not what the other hand strikes at its moment.
func TestANoteThatBecameARestLeavesItsOwnHand(t *testing.T) {
	before := "C4 D4 E4 F4 | C6 +G3/2 D6 B5 D6 | B4 D4 A4 F4 | A4 G4 F4 E4"
	after := melody(t, strings.Replace(before, "C6 +G3/2 D6", "G3/2 D6", 1))
	ref := decision.NewFinder(melody(t, before)).Ref(4, []int{5})
	require.Equal(t, 84, ref.Midi)
	n, _, nearest := decision.NewFinder(after).Find(&ref)
	require.Negative(t, n)
	require.NotEmpty(t, nearest)
	require.Equal(t, "D6", after.Notes[nearest[0].Note].Pitch.String())
}
