package decide_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

func demo(t *testing.T, name string) *score.Score {
	t.Helper()
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name+".musicxml"))
	require.NoError(t, err)
	return parse(t, string(data))
}

func parse(t *testing.T, text string) *score.Score {
	t.Helper()
	doc, err := source.Open("a.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

func TestTheExampleIsTenLinesAndReads(t *testing.T) {
	require.Equal(t, 10, strings.Count(decide.Example, "\n"))
	d, piece, err := decide.Parse("decisions/op7-nocturne.AB.yaml", []byte(decide.Example))
	require.NoError(t, err)
	require.Equal(t, "op7-nocturne", piece)
	require.Len(t, d, 2)
	require.Equal(t, decide.Amend, d[0].Verb)
	require.Equal(t, []int{5, 4}, d[0].Notes[0].Fingers)
	require.Equal(t, 79, d[0].Notes[0].Midi)
	require.Equal(t, score.Frac(3, 2), d[0].Notes[0].Onset)
	require.Equal(t, decide.Finding, d[1].On)
	require.Equal(t, "2027-12-31", d[1].Until)
	require.Equal(t, 9, d[1].Line)
}

// Every fault is named with its line; all of a file at once.
func TestFaultsAreNamedWithTheirLines(t *testing.T) {
	head := "piece: p\nby: AB\ndecisions:\n"
	note := "notes: [{measure: 1, onset: 0, pitch: C4}]"
	for entry, want := range map[string]string{
		"  - {amend: notes, when: 2026-01-01, " + note + "}":                                                  "x.yaml:4:1: the note gets no finger",
		"  - {amend: notes, notes: [{measure: 1, onset: 0, pitch: C4, finger: 3}]}":                           "x.yaml:4:5: the decision has no date",
		"  - {amend: notes, when: 2026-13-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":                   "when should be a day",
		"  - {stet: finding, when: 2026-01-01, rule: span-beyond-hand, " + note + "}":                         "does not say why",
		"  - {stet: finding, when: 2026-01-01, why: x, " + note + "}":                                         "which finding",
		"  - {take: finding, when: 2026-01-01, why: x, rule: a, " + note + "}":                                "a finding cannot be met by take",
		"  - {query: notes, when: 2026-01-01, " + note + "}":                                                  "does not say why",
		"  - {take: redistribution, when: 2026-01-01, " + note + "}":                                          "which hand",
		"  - {take: notes, when: 2026-01-01, until: 2026-02-01, notes: [{measure: 1, pitch: C4, finger: 3}]}": "until says nothing",
		"  - {take: notes, stet: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":       "cannot both",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: H4, finger: 3}]}":                    "pitch cannot be",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 6}]}":                    "finger cannot be",
		"  - {take: notes, when: 2026-01-01, notes: [{pitch: C4, finger: 3}]}":                                "has no measure",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, finger: 3}]}":                               "has no pitch",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, onset: 1/x, pitch: C4, finger: 3}]}":        "onset cannot be",
		"  - {tak: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":                     `did you mean "take"`,
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3, with: [400]}]}":       "with cannot be 400",
		"  - {take: notes, when: 2026-01-01}":                                                                 "names no note",
		"  - {stet: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":                    "a stet gives no finger",
	} {
		_, _, err := decide.Parse("x.yaml", []byte(head+entry+"\n"))
		require.ErrorContains(t, err, want, entry)
		require.ErrorContains(t, err, "x.yaml:4:", entry)
	}
	_, _, err := decide.Parse("decisions/p.CD.yaml", []byte(head))
	require.ErrorContains(t, err, "the file's name says CD")
	_, _, err = decide.Parse("x.yaml", []byte("# nothing\n"))
	require.ErrorContains(t, err, "the file is empty")
}

// What is written is read back as it was, every note of a demo piece with its context.
func TestWrittenDecisionsReadBack(t *testing.T) {
	s := demo(t, "op7-nocturne")
	f := decide.NewFinder(s)
	d := decide.Decision{Verb: decide.Amend, On: decide.Notes, By: "AB", When: "2026-03-01", Why: `the "thumb": free, #1 {so}`, Returns: true}
	for n := range s.Notes {
		if s.Notes[n].Kind == score.Pitched {
			d.Notes = append(d.Notes, f.Ref(n, []int{1 + n%5}))
		}
	}
	stet := decide.Decision{Verb: decide.Stet, On: decide.Finding, By: "AB", When: "2026-03-01", Until: "2026-09-01", Rule: "span-beyond-hand", Why: "no", Notes: d.Notes[:1]}
	stet.Notes[0].Fingers = nil
	d.Notes = d.Notes[1:]
	text, err := decide.Append("p.AB.yaml", nil, "p", "AB", []decide.Decision{d})
	require.NoError(t, err)
	again, err := decide.Append("p.AB.yaml", text, "p", "AB", []decide.Decision{stet})
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(again), string(text)), "what stood there stays as it is")
	back, piece, err := decide.Parse("p.AB.yaml", again)
	require.NoError(t, err)
	require.Equal(t, "p", piece)
	require.Equal(t, decide.Sum([]decide.Decision{d, stet}), decide.Sum(back))
	plan := decide.Place(decide.Input{Score: s, Decisions: back})
	require.Empty(t, plan.Unplaced)
	for n := range s.Notes {
		if d := plan.Digits[n]; d.Verb != "" {
			require.Equal(t, 1+n%5, d.Finger())
		}
	}
}

func TestAppendRefusesWhatItWouldSpoil(t *testing.T) {
	d := decide.Decision{Verb: decide.Query, On: decide.Notes, By: "AB", When: "2026-03-01", Why: "so", Notes: []decide.NoteRef{{Printed: "1", Index: -1, Midi: 60}}}
	_, err := decide.Append("p.AB.yaml", []byte("decisions: []\npiece: p\nby: AB\n"), "p", "AB", []decide.Decision{d})
	require.ErrorContains(t, err, "nothing was written")
	_, err = decide.Append("p.AB.yaml", []byte("piece: q\nby: AB\ndecisions:\n"), "p", "AB", []decide.Decision{d})
	require.ErrorContains(t, err, `speaks of piece "q"`)
}

const scale = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">
<measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>C4 D4 E4 F4</measure>
<measure number="2">G4 A4 B4 C5</measure><measure number="3">C4 D4 E4 F4</measure></part></score-partwise>`

func music(t *testing.T, text string) *score.Score {
	t.Helper()
	for _, step := range "CDEFGAB" {
		for _, octave := range "45" {
			name := string(step) + string(octave)
			text = strings.ReplaceAll(text, name, `<note><pitch><step>`+string(step)+`</step><octave>`+string(octave)+`</octave></pitch><duration>1</duration><voice>1</voice></note>`)
		}
	}
	return parse(t, text)
}

func decisionsOn(t *testing.T, by, entries string) []decide.Decision {
	t.Helper()
	d, _, err := decide.Parse("decisions/p."+by+".yaml", []byte("piece: p\nby: "+by+"\ndecisions:\n"+entries))
	require.NoError(t, err)
	return d
}

func TestTheLastWordOfAnEditorCountsAndEditorsWhoDifferDoNotBind(t *testing.T) {
	s := music(t, scale)
	ab := decisionsOn(t, "AB", `  - {amend: notes, when: 2026-01-05, notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}, {measure: 1, onset: 1, pitch: D4, finger: 3}]}
  - {amend: notes, when: 2026-01-01, notes: [{measure: 1, onset: 0, pitch: C4, finger: 1}]}
`)
	cd := decisionsOn(t, "CD", `  - {take: notes, when: 2026-01-02, notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}, {measure: 1, onset: 1, pitch: D4, finger: 4}]}
`)
	plan := decide.Place(decide.Input{Score: s, Decisions: append(ab, cd...)})
	require.Equal(t, 2, plan.Digits[0].Finger(), "the later day counts, wherever it stands")
	require.Equal(t, 0, plan.Digits[1].Finger())
	require.Len(t, plan.Contradictions, 1)
	require.Equal(t, 1, plan.Contradictions[0].Note)
}

func TestDecisionsHoldForReturnsWhereAsked(t *testing.T) {
	s := music(t, scale)
	back := []parallel.Return{{First: []int{0, 1, 2, 3}, Later: []int{8, 9, 10, 11}}}
	d := decisionsOn(t, "AB", `  - {amend: notes, when: 2026-01-05, returns: true, notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}]}
  - {amend: notes, when: 2026-01-05, notes: [{measure: 1, onset: 1, pitch: D4, finger: 3}]}
  - {amend: notes, when: 2026-01-05, returns: true, notes: [{measure: 1, onset: 2, pitch: E4, finger: 4}]}
  - {amend: notes, when: 2026-01-05, notes: [{measure: 3, onset: 2, pitch: E4, finger: 5}]}
`)
	digits := decide.Carry(decide.Place(decide.Input{Score: s, Decisions: d}), s, back, nil)
	require.Equal(t, 2, digits[8].Finger())
	require.True(t, digits[8].Carried)
	require.Equal(t, 0, digits[9].Finger(), "not asked for")
	require.Equal(t, 5, digits[10].Finger(), "a word of its own comes first")
	apart := make([]bool, len(s.Notes))
	apart[8] = true
	digits = decide.Carry(decide.Place(decide.Input{Score: s, Decisions: d}), s, back, apart)
	require.Equal(t, 0, digits[8].Finger(), "declared to be fingered for itself")
}

func TestADecisionWhoseNoteIsGoneIsKeptAndAppliedNowhere(t *testing.T) {
	s := music(t, scale)
	f := decide.NewFinder(s)
	d := []decide.Decision{{Verb: decide.Amend, On: decide.Notes, By: "AB", When: "2026-01-01", Notes: []decide.NoteRef{f.Ref(5, []int{4})}}}
	corrected := music(t, strings.Replace(scale, "G4 A4 B4", "G4 B4 B4", 1))
	plan := decide.Place(decide.Input{Score: corrected, Decisions: d})
	require.Len(t, plan.Unplaced, 1)
	for i := range plan.Digits {
		require.Zero(t, plan.Digits[i].Finger())
	}
	inserted := music(t, strings.Replace(scale, `<measure number="2">`, `<measure number="2">E4 E4 F4 F4</measure><measure number="3">`, 1))
	plan = decide.Place(decide.Input{Score: inserted, Decisions: d})
	require.Empty(t, plan.Unplaced)
	require.Equal(t, 4, plan.Digits[9].Finger())
}

func TestFilesOfAllEditorsAreMergedAndStraysTold(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	entry := "decisions:\n  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}\n"
	write("op1.yaml", "piece: op1\nby: EF\n"+entry)
	write("op1.AB.yaml", "piece: op1\nby: AB\n"+entry)
	write("op1.no2.AB.yaml", "piece: op1.no2\nby: AB\n"+entry)
	write("op1.no.yaml", "piece: op1.no\nby: CD\n"+entry) // a piece of that name, not the initials NO
	write("op9.AB.yaml", "piece: op9\nby: AB\n"+entry)
	d, err := decide.Read(dir, "op1")
	require.NoError(t, err)
	require.Len(t, d, 2)
	strays, err := decide.Strays(dir, []string{"op1", "op1.no2", "op1.no"})
	require.NoError(t, err)
	require.Equal(t, []string{"op9.AB.yaml"}, strays)
	write("op1.XY.yaml", "piece: op3\nby: XY\n"+entry)
	_, err = decide.Read(dir, "op1")
	require.ErrorContains(t, err, `inside stands "op3"`)
	none, err := decide.Read(filepath.Join(dir, "nowhere"), "op1")
	require.NoError(t, err)
	require.Empty(t, none)
}

// Where a place was written by hand there is nothing around it to go by: what stands at the place comes first, then the same key in
// the nearest measures.
func TestCandidatesForAPlaceWrittenByHandAreTheNearest(t *testing.T) {
	s := music(t, scale)
	d := decisionsOn(t, "AB", "  - {amend: notes, when: 2026-01-05, notes: [{measure: 2, onset: 0, pitch: C4, finger: 2}]}\n")
	plan := decide.Place(decide.Input{Score: s, Decisions: d})
	require.Len(t, plan.Unplaced, 1)
	require.NotEmpty(t, plan.Unplaced[0].Nearest)
	require.Equal(t, 4, plan.Unplaced[0].Nearest[0].Note, "what stands there now")
	for i := range plan.Digits {
		require.Zero(t, plan.Digits[i].Finger())
	}
}

func TestNotesOfferedToTheOtherHandAreAnsweredByNumber(t *testing.T) {
	s := music(t, scale)
	k := &decide.Keying{Score: s, By: "AB", When: "2026-03-01", Fingers: make([][]int, len(s.Notes)),
		Passages: []decide.Passage{{Number: 7, Notes: []int{4, 5}, Offer: decide.Offer{To: score.Left, Fingers: []int{2, 1}}}}}
	f := decide.NewFinder(s)
	taken, err := decide.Key(k, f, "#7 ok out of reach")
	require.NoError(t, err)
	left, err := decide.Key(k, f, "#7 stet")
	require.NoError(t, err)
	asked, err := decide.Key(k, f, "#7 ? the slur")
	require.NoError(t, err)
	text, err := decide.Append("decisions/p.AB.yaml", nil, "p", "AB", []decide.Decision{*taken})
	require.NoError(t, err)
	back, _, err := decide.Parse("decisions/p.AB.yaml", text)
	require.NoError(t, err)
	plan := decide.Place(decide.Input{Score: s, Decisions: back})
	require.Equal(t, score.Left, plan.Hands[4])
	require.Equal(t, 2, plan.Digits[4].Finger())
	require.Equal(t, "out of reach", plan.Redistributions[0].Why)
	plan = decide.Place(decide.Input{Score: s, Decisions: []decide.Decision{*left}})
	require.Equal(t, [][]int{{4, 5}}, plan.Declined)
	require.Equal(t, score.NoHand, plan.Hands[4])
	plan = decide.Place(decide.Input{Score: s, Decisions: []decide.Decision{*asked}})
	require.Equal(t, []int{4, 5}, plan.Queries[0].Notes)
	_, err = decide.Key(k, f, "#7 3")
	require.ErrorContains(t, err, `"3" is no answer`)
	_, err = decide.Key(k, f, "#7 ?")
	require.ErrorContains(t, err, "a query asks something")
	_, err = decide.Key(k, f, "#7")
	require.ErrorContains(t, err, "nothing is said of it")
}
