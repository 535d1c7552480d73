package compare_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/compare"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
)

// read reads measures of one piano part of two staves, divisions 2.
func read(t *testing.T, measures ...string) *score.Score {
	t.Helper()
	var b strings.Builder
	b.WriteString(
		`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`)
	for i, m := range measures {
		fmt.Fprintf(&b, `<measure number="%d">`, i+1)
		if i == 0 {
			b.WriteString(
				`<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`)
		}
		b.WriteString(m + `</measure>`)
	}
	b.WriteString(`</part></score-partwise>`)
	return parsed(t, b.String())
}

// parsed reads a score from its text.
func parsed(t *testing.T, text string) *score.Score {
	t.Helper()
	doc, err := source.Open("test.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

// n writes a note of the upper staff: pitch as step and octave, duration in
// half quarters, and what stands in its notations.
func n(pitch string, duration int, notations ...string) string {
	out := fmt.Sprintf(
		`<note><pitch><step>%c</step><octave>%c</octave></pitch><duration>%d</duration><voice>1</voice><staff>1</staff>`,
		pitch[0], pitch[1], duration)
	if len(notations) > 0 {
		out += `<notations>` + strings.Join(notations, "") + `</notations>`
	}
	return out + `</note>`
}

// typed writes a note that names its printed value.
func typed(pitch string, duration int, value string) string {
	return strings.Replace(n(pitch, duration), `<staff>`, `<type>`+value+`</type><staff>`, 1)
}

// grace writes a grace note that begins a tie.
func grace(pitch string) string {
	return strings.Replace(n(pitch, 0, `<tied type="start"/>`), `<duration>0</duration>`, ``, 1)[:len("<note>")] + `<grace/>` +
		strings.Replace(n(pitch, 0, `<tied type="start"/>`), `<duration>0</duration>`, ``, 1)[len("<note>"):]
}

func chord(note string) string { return strings.Replace(note, `<note>`, `<note><chord/>`, 1) }

func fingers(digits ...string) string {
	out := `<technical>`
	for _, d := range digits {
		out += d
	}
	return out + `</technical>`
}

func f(digit string) string { return `<fingering>` + digit + `</fingering>` }

// listed gives what differs as "kind: old → new".
func listed(t *testing.T, old, new string) []string {
	t.Helper()
	fill := n("C4", 2) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	p := compare.Scores("x", compare.Side{Score: read(t, fill, old, fill)},
		compare.Side{Score: read(t, fill, new, fill)})
	out := []string{}
	for _, c := range p.Changes {
		out = append(out, fmt.Sprintf("%s: %s → %s", c.Kind, c.Old, c.New))
	}
	return out
}

func TestEachKindIsToldOnce(t *testing.T) {
	rest := n("A4", 2) + n("B4", 2) + n("C5", 2)
	sub, alt := `<fingering substitution="yes">3</fingering>`, `<fingering alternate="yes">2</fingering>`
	for name, c := range map[string]struct {
		old, new string
		want     []string
	}{
		"digit added":                 {n("G4", 2) + rest, n("G4", 2, fingers(f("3"))) + rest, []string{"digit-added:  → 3"}},
		"digit missing":               {n("G4", 2, fingers(f("3"))) + rest, n("G4", 2) + rest, []string{"digit-missing: 3 → "}},
		"digit changed":               {n("G4", 2, fingers(f("3"))) + rest, n("G4", 2, fingers(f("4"))) + rest, []string{"digit-changed: 3 → 4"}},
		"digit moved":                 {n("G4", 2, fingers(f("3"))) + rest, n("G4", 2) + n("A4", 2, fingers(f("3"))) + n("B4", 2) + n("C5", 2), []string{"digit-moved: 3 at G4, beat 1 → 3 at A4, beat 2"}},
		"substitution":                {n("G4", 2, fingers(f("4"))) + rest, n("G4", 2, fingers(f("4"), sub)) + rest, []string{"substitution: 4 → 4–3"}},
		"substitution half lost":      {n("G4", 2, fingers(f("4"), sub)) + rest, n("G4", 2, fingers(f("3"))) + rest, []string{"substitution: 4–3 → 3"}},
		"substitution in one text":    {n("G4", 2, fingers(f("4"), sub)) + rest, n("G4", 2, fingers(f("4-3"))) + rest, []string{}},
		"alternative":                 {n("G4", 2, fingers(f("3"))) + rest, n("G4", 2, fingers(f("3"), alt)) + rest, []string{"alternative: 3 → 3 (2)"}},
		"style":                       {n("G4", 2, fingers(f("3"))) + rest, n("G4", 2, fingers(`<fingering font-style="italic">3</fingering>`)) + rest, []string{"style: 3 plain → 3 italic"}},
		"placement":                   {n("G4", 2, fingers(`<fingering placement="below">3</fingering>`)) + rest, n("G4", 2, fingers(`<fingering placement="above">3</fingering>`)) + rest, []string{"placement: 3 below → 3 above"}},
		"placement against the usual": {n("G4", 2, fingers(f("3"))) + rest, n("G4", 2, fingers(`<fingering placement="below">3</fingering>`)) + rest, []string{"placement: 3 (no side given) → 3 below"}},
		"placement no more given":     {n("G4", 2, fingers(`<fingering placement="below">3</fingering>`)) + rest, n("G4", 2, fingers(f("3"))) + rest, []string{"placement: 3 below → 3 (no side given)"}},
		"placement among voices":      {n("G4", 2, fingers(f("3"))) + rest + second, n("G4", 2, fingers(`<fingering placement="below">3</fingering>`)) + rest + second, []string{}},
		"placement left open":         {n("G4", 2, fingers(f("3"))) + rest, n("G4", 2, fingers(`<fingering placement="above">3</fingering>`)) + rest, []string{}},
		"pitch":                       {n("G4", 2) + rest, n("F4", 2) + rest, []string{"pitch: G4 → F4"}},
		"octave":                      {n("G4", 2) + rest, n("G5", 2) + rest, []string{"octave: G4 → G5"}},
		"note missing":                {n("G4", 2) + chord(n("E4", 2)) + rest, n("G4", 2) + rest, []string{"note-missing: E4, 1 quarter → "}},
		"note added":                  {n("G4", 2) + rest, n("G4", 2) + chord(n("E4", 2)) + rest, []string{"note-added:  → E4, 1 quarter"}},
		"duration":                    {n("G4", 2) + rest, n("G4", 1) + `<forward><duration>1</duration></forward>` + rest, []string{"duration: 1 quarter → 1/2 quarters"}},
		"staccato":                    {n("G4", 2, `<articulations><staccato/></articulations>`) + rest, n("G4", 2) + rest, []string{"articulation: staccato → "}},
		"staccato on another note":    {n("G4", 2, `<articulations><staccato/></articulations>`) + chord(n("E4", 2)) + rest, n("G4", 2) + chord(n("E4", 2, `<articulations><staccato/></articulations>`)) + rest, []string{}},
		"slur":                        {n("G4", 2, `<slur type="start" number="1"/>`) + n("A4", 2) + n("B4", 2) + n("C5", 2, `<slur type="stop" number="1"/>`), n("G4", 2) + rest, []string{"slur: to m. 2, beat 4 → "}},
		"slur on another chord note":  {n("G4", 2, `<slur type="start" number="1"/>`) + chord(n("E4", 2)) + n("A4", 2, `<slur type="stop" number="1"/>`), n("G4", 2) + chord(n("E4", 2, `<slur type="start" number="3"/>`)) + n("A4", 2, `<slur type="stop" number="3"/>`), []string{}},
		"length put right":            {typed("G4", 3, "quarter") + n("B4", 1) + n("C5", 2), typed("G4", 2, "quarter") + `<forward><duration>1</duration></forward>` + n("B4", 1) + n("C5", 2), []string{}},
		"another note value":          {typed("G4", 3, "quarter") + n("B4", 1) + n("C5", 2), typed("G4", 1, "eighth") + `<forward><duration>2</duration></forward>` + n("B4", 1) + n("C5", 2), []string{"duration: 3/2 quarters → eighth note"}},
		"end of a tie left out":       {grace("G4") + n("G4", 2, `<tied type="stop"/>`) + rest, grace("G4") + n("G4", 2) + rest, []string{}},
		"tie left out":                {grace("G4") + n("G4", 2, `<tied type="stop"/>`) + rest, strings.ReplaceAll(grace("G4"), `<tied type="start"/>`, ``) + n("G4", 2) + rest, []string{"tie: tied → struck"}},
		"hand sign":                   {n("G4", 2) + rest, `<direction><direction-type><words>m.s.</words></direction-type><staff>1</staff></direction>` + n("G4", 2) + rest, []string{"hand-sign:  → m.s."}},
	} {
		t.Run(name, func(t *testing.T) {
			require.Empty(t, cmp.Diff(c.want, listed(t, c.old, c.new)))
		})
	}
}

func TestMeasuresAndOrder(t *testing.T) {
	a := []string{n("C4", 8), n("E4", 4) + n("G4", 4), n("A4", 2) + n("F4", 6), n("D4", 8)}
	b := []string{a[0], n("E4", 4) + n("B4", 4), a[3]}
	p := compare.Scores("x", compare.Side{Score: read(t, a...)}, compare.Side{Score: read(t, b...)})
	require.Len(t, p.Changes, 2)
	require.Equal(t, compare.Pitch, p.Changes[0].Kind)
	require.Equal(t, compare.MeasureMissing, p.Changes[1].Kind)
	require.Equal(t, "3", p.Changes[1].At().Measure)
	require.Equal(t, "2 notes", p.Changes[1].Old)
}

// What runs found is compared too: hands, fingers that are not printed,
// redistributions by their notes and not by their ids.
func TestRuns(t *testing.T) {
	s := read(t, n("C4", 2)+n("D4", 2)+n("E4", 4))
	run := func(change func(r *state.Result)) compare.Side {
		r := &state.Result{
			Redistributions: []state.Redistribution{
				{ID: "a", To: score.Left, Notes: []state.RedistributedNote{{N: 0, Finger: 1}}},
			},
		}
		for i := range s.Notes {
			r.Notes = append(r.Notes, state.Note{N: i, Hand: score.Right, Finger: i + 1})
		}
		change(r)
		return compare.Side{Score: s, Result: r}
	}
	same := run(func(r *state.Result) { r.Redistributions[0].ID = "b" })
	require.Empty(t, compare.Scores("x", run(func(*state.Result) {}), same).Changes)
	other := run(func(r *state.Result) {
		r.Notes[0].Hand = score.Left
		r.Notes[1].Finger = 4
		r.Redistributions = nil
	})
	var kinds []compare.Kind
	for _, c := range compare.Scores("x", same, other).Changes {
		kinds = append(kinds, c.Kind)
	}
	require.Equal(t, []compare.Kind{compare.HandOf, compare.Redistribution, compare.Suggestion}, kinds)
}

// The second sheet ticks off what was done, names what was missed and what is
// newly broken.
func TestSheetOfTheNextProof(t *testing.T) {
	approved := read(t,
		n("C4", 2, fingers(f("1")))+n("D4", 2, fingers(f("2")))+n("E4", 2, fingers(f("3")))+n("F4", 2))
	first := read(t, n("C4", 2, fingers(f("2")))+n("D4", 2)+n("E4", 2, fingers(f("3")))+n("F4", 2))
	second := read(t, n("C4", 2, fingers(f("1")))+n("D4", 2)+n("E4", 2, fingers(f("3")))+n("F4", 2, fingers(f("5"))))
	diff := func(typeset *score.Score) *compare.Diff {
		return &compare.Diff{
			Pieces: []compare.Piece{compare.Scores("x", compare.Side{Score: approved}, compare.Side{Score: typeset})},
		}
	}
	lines := func(sheet []compare.Correction) (out []string) {
		for _, c := range sheet {
			out = append(out, string(c.State)+": "+c.At.Words(false)+": "+c.Ask)
		}
		return out
	}
	require.Equal(t, []string{
		"open: m. 1, right hand, beat 1: digit at C4: 2 → 1",
		"open: m. 1, right hand, beat 2: put in digit 2 at D4",
	}, lines(compare.Sheet(diff(first), nil)))
	require.Equal(t, []string{
		"missed: m. 1, right hand, beat 2: put in digit 2 at D4",
		"new: m. 1, right hand, beat 4: take out digit 5 at F4",
		"done: m. 1, right hand, beat 1: digit at C4: 2 → 1",
	}, lines(compare.Sheet(diff(second), diff(first))))
}

// Each correction is found again once, whatever else is wrong at its place or
// however the new proof counts its measures; nothing of a piece that could not
// be read is ticked off.
func TestSheetFindsItsCorrectionsAgain(t *testing.T) {
	first, second, third := n("C4",
		2)+n("D4", 2, fingers(f("2")))+n("E4", 2)+n("F4", 2), n("G4", 4)+n("B4", 4), n("A4", 2)+n("F4", 6)
	approved := read(t, first, second, third)
	against := func(typeset *score.Score) *compare.Diff {
		return &compare.Diff{
			Pieces: []compare.Piece{compare.Scores("x", compare.Side{Score: approved}, compare.Side{Score: typeset})},
		}
	}
	sheet := func(now, before *compare.Diff) (out []string) {
		for _, c := range compare.Sheet(now, before) {
			line := string(c.State) + ": "
			if c.At != nil {
				line += c.At.Words(false) + ": "
			}
			out = append(out, line+c.Ask)
		}
		return out
	}
	lost := strings.ReplaceAll(first, fingers(f("2")), "")
	other := strings.ReplaceAll(first, fingers(f("2")), fingers(f("3")))
	extra := n("A4", 2) + chord(n("C4", 2)) + n("F4", 6)
	before := against(read(t, lost, second, extra))
	require.Equal(t, []string{
		"open: m. 1, right hand, beat 2: put in digit 2 at D4",
		"open: m. 3, right hand, beat 1: take out the note C4, 1 quarter",
	}, sheet(before, nil))
	// The digit came back wrong, and a measure came in before the note that is still too much.
	require.Equal(t, []string{
		"missed: m. 1, right hand, beat 2: digit at D4: 3 → 2",
		"new: m. 3, beat 1: take out the measure (3 notes)",
		"missed: m. 4, right hand, beat 1: take out the note C4, 1 quarter",
	}, sheet(against(read(t, other, second, n("D5", 2)+n("E5", 2)+n("C6", 4), extra)), before))
	unread := &compare.Diff{Pieces: []compare.Piece{{ID: "x", Problem: "the file ends too soon"}}}
	require.Equal(t, []string{"unread: the file ends too soon"}, sheet(unread, before))
	require.Equal(t, []string{
		"open: m. 1, right hand, beat 2: put in digit 2 at D4",
		"open: m. 3, right hand, beat 1: take out the note C4, 1 quarter",
	}, sheet(before, unread))
}
