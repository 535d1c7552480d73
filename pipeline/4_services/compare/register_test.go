package compare_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/register"
	"fingerproof/pipeline/4_services/compare"

	"github.com/stretchr/testify/require"
)

// Three proofs of one piece: what is asked for, done, missed, newly wrong, wrong again, and what a reader lets stand.
func TestARegisterFollowsThreeProofs(t *testing.T) {
	approved := []string{n("C4", 2, fingers(f("1"))) + n("D4", 2, fingers(f("2"))) + n("E4", 2, fingers(f("3"))) + n("F4", 2)}
	first := []string{n("C4", 2, fingers(f("2"))) + n("D4", 2) + n("E4", 2, fingers(f("4"))) + n("F4", 2)}
	second := []string{n("C4", 2, fingers(f("1"))) + n("D4", 2) + n("E4", 2, fingers(f("4"))) + n("G4", 2)}
	third := []string{n("C4", 2, fingers(f("3"))) + n("D4", 2, fingers(f("2"))) + n("E4", 2, fingers(f("5"))) + n("F4", 2)}
	r := &register.Register{}
	proof := func(name string, typeset []string) (out []string) {
		d := &compare.Diff{Old: "approved", New: name, Pieces: []compare.Piece{
			compare.Scores("x", bare(read(t, approved...)), bare(read(t, typeset...))),
		}}
		for _, c := range compare.Keep(r, d, register.Proof{Name: name, Pieces: map[string]string{"x": name}}) {
			line := string(c.State) + ": " + c.Ask
			if c.Before {
				line += " (before)"
			}
			out = append(out, line)
		}
		return out
	}
	asked := []string{"open: digit at C4: 2 → 1", "open: put in digit 2 at D4", "open: digit at E4: 4 → 3"}
	require.Equal(t, asked, proof("p1", first))
	require.Equal(t, asked, proof("p1", first), "the same proof is no new one")
	r.Entries[2].State, r.Entries[2].By = register.Kept, "AB"

	now := []string{
		"missed: put in digit 2 at D4", "kept: digit at E4: 4 → 3", "new: G4 → F4", "done: digit at C4: 2 → 1",
	}
	require.Equal(t, now, proof("p2", second))
	require.Equal(t, now, proof("p2", second))
	require.Equal(t, map[register.State]int{register.Missed: 1, register.Kept: 1, register.Open: 1, register.Done: 1}, r.Counts())

	require.Equal(t, []string{
		"new: digit at C4: 3 → 1", "unkept: digit at E4: 5 → 3 (4 was to stay as it was)",
		"done: put in digit 2 at D4", "done: G4 → F4",
	}, proof("p3", third))
	require.Equal(t, register.Kept, r.Find(r.Entries[1].ID).State, "until a reader decides")
	require.Equal(t, "5", *r.Find(r.Entries[1].ID).Now, "what there is to decide on")

	last := proof("p4", approved)
	require.Contains(t, last, "done: put in digit 2 at D4 (before)")
	require.Contains(t, last, "unkept: 4 was to stay as it was, and reads now as approved: 3")
	require.Len(t, r.Proofs, 4)
}

// What was not, or could not be, compared stays as it was in the register.
func TestARegisterKeepsWhatWasNotLookedAt(t *testing.T) {
	r := &register.Register{Entries: []register.Entry{
		{ID: "a", Piece: "x", State: register.Open, First: 1}, {ID: "b", Piece: "y", State: register.Open, First: 1},
	}, Proofs: []register.Proof{{Name: "p1", Pieces: map[string]string{"x": "1", "y": "1"}}}}
	d := &compare.Diff{Pieces: []compare.Piece{{ID: "x", Problem: "cut short"}}}
	sheet := compare.Keep(r, d, register.Proof{Name: "p2"})
	require.Len(t, sheet, 1)
	require.Equal(t, compare.Unread, sheet[0].State)
	require.Equal(t, map[register.State]int{register.Open: 2}, r.Counts())
}

// What a register writes it reads again: the same correction is one, whatever classes are compared, and a correction
// that has come to ask for something else leaves its name to no other.
func TestARegisterNamesNoTwoCorrectionsAlike(t *testing.T) {
	keep := func(r *register.Register, d *compare.Diff, sum string) {
		compare.Keep(r, d, register.Proof{Name: sum, Pieces: map[string]string{"x": sum}})
		data, err := register.Write(r)
		require.NoError(t, err)
		again, err := register.Read("r.yaml", data)
		require.NoError(t, err)
		require.Len(t, again.Entries, len(r.Entries))
	}
	missing := &compare.Diff{Pieces: []compare.Piece{compare.Lone("x", compare.PieceMissing)}, Compared: []compare.Class{compare.Fingering}}
	r := &register.Register{}
	keep(r, missing, "1")
	keep(r, missing, "2")
	require.Len(t, r.Entries, 1)
	require.Len(t, r.Entries[0].ID, 16)

	changed, gone := compare.Change{Kind: compare.DigitChanged, Old: "1", New: "3"}, compare.Change{Kind: compare.DigitMissing, Old: "2"}
	r = &register.Register{}
	for i, changes := range [][]compare.Change{{changed}, {gone}, {gone, changed}, {gone, changed}} {
		for k := range changes {
			changes[k].B = &compare.Place{Measure: "2", Pitch: "G4"}
		}
		keep(r, &compare.Diff{Pieces: []compare.Piece{{ID: "x", Changes: changes}}}, string(rune('a'+i)))
	}
	require.Len(t, r.Entries, 2)
	require.NotEqual(t, r.Entries[0].ID, r.Entries[1].ID)

	r.Entries[1].ID = r.Entries[0].ID
	_, err := register.Write(r)
	require.ErrorContains(t, err, "stands there twice", "nothing is written that cannot be read")
}

// What a proof was not looked at for is neither done in it nor, in the next one, new: a measure that it lacks, the
// whole piece, accidentals that its file does not give, classes that were not compared.
func TestNothingIsDoneOrNewThatWasNotLookedAt(t *testing.T) {
	sharp := func(note string, printed bool) string {
		note = strings.Replace(note, `</step>`, `</step><alter>1</alter>`, 1)
		if printed {
			note = strings.Replace(note, `<staff>`, `<accidental>sharp</accidental><staff>`, 1)
		}
		return note
	}
	first := func(printed bool) string { return sharp(n("F4", 2), printed) + sharp(n("G4", 2), printed) + n("E4", 4) }
	second := func(accidental bool, digit ...string) string {
		return sharp(n("C5", 2), accidental) + n("D5", 2, digit...) + n("A4", 4)
	}
	third := n("A4", 2) + n("F4", 6)
	two := fingers(f("2"))
	approved := read(t, first(true), second(true, two), third)
	wrong := compare.Scores("x", bare(approved), bare(read(t, first(true), second(false), third)))
	right := compare.Scores("x", bare(approved), bare(approved))
	silent := compare.Scores("x", bare(approved), bare(read(t, first(false), second(false), third)))
	cut := compare.Scores("x", bare(approved), bare(read(t, first(true), third)))
	gone := compare.Lone("x", compare.PieceMissing)
	digits := compare.Scores("x", bare(approved), bare(read(t, first(true), second(false), third)), compare.Fingering)
	const accidental, digit, measure = "put in accidental at C#5: sharp", "put in digit 2 at D5", "put in the measure (3 notes, 1 digit)"
	require.Equal(t, []string{"open: " + accidental, "open: " + digit}, inWords(compare.Sheet(diffOf(wrong), nil)))

	for name, c := range map[string]struct {
		proof       compare.Piece
		asked, next []string // of the proof after one that is wrong, and of one that is wrong after this one, which came after a right one
	}{
		"silent":  {silent, []string{"missed: " + digit, "unseen: " + accidental}, []string{"open: " + accidental, "missed: " + digit}},
		"cut":     {cut, []string{"new: " + measure, "unseen: " + accidental, "unseen: " + digit}, []string{"open: " + accidental, "open: " + digit, "done: " + measure}},
		"missing": {gone, []string{"new: put in the whole piece", "unseen: " + accidental, "unseen: " + digit}, []string{"open: " + accidental, "open: " + digit, "done: put in the whole piece"}},
		"digits":  {digits, []string{"missed: " + digit, "unseen: " + accidental}, []string{"open: " + accidental, "missed: " + digit}},
	} {
		require.ElementsMatch(t, c.asked, inWords(compare.Sheet(diffOf(c.proof), diffOf(wrong))), name)
		require.ElementsMatch(t, c.next, inWords(compare.Sheet(diffOf(wrong), diffOf(c.proof))), name)

		r := &register.Register{}
		keep := func(p compare.Piece, sum string) []string {
			proof := register.Proof{Name: sum, Pieces: map[string]string{"x": sum}}
			if len(p.Changes) > 0 && p.Changes[0].Kind == compare.PieceMissing {
				proof.Pieces = nil
			}
			return inWords(compare.Keep(r, diffOf(p), proof))
		}
		keep(wrong, "1")
		require.ElementsMatch(t, c.asked, keep(c.proof, "2"), name)
		for _, e := range r.Entries {
			require.NotEqual(t, register.Done, e.State, name)
		}
		require.NotContains(t, strings.Join(keep(wrong, "3"), "; "), "new: ", name)

		r = &register.Register{}
		keep(right, "1")
		keep(c.proof, "2")
		require.ElementsMatch(t, c.next, keep(wrong, "3"), name)
		require.ElementsMatch(t, []string{"done: " + accidental, "done: " + digit}, atNotes(keep(right, "4")), name)
		require.NotContains(t, strings.Join(keep(c.proof, "5"), "; "), "unseen: "+accidental, "it is done, and stays so: "+name)
	}
}

func diffOf(p compare.Piece) *compare.Diff { return &compare.Diff{Pieces: []compare.Piece{p}} }

func inWords(sheet []compare.Correction) (out []string) {
	for _, c := range sheet {
		out = append(out, string(c.State)+": "+c.Ask)
	}
	return out
}

// atNotes leaves out what concerns a whole measure or piece.
func atNotes(lines []string) (out []string) {
	for _, l := range lines {
		if !strings.Contains(l, "measure") && !strings.Contains(l, "piece") {
			out = append(out, l)
		}
	}
	return out
}

// What stands at the notes of a part that this proof lacks is not done in it.
func TestNothingIsDoneInAPartThatIsMissing(t *testing.T) {
	part := func(id, digit string) string {
		return `<part id="` + id + `"><measure number="1"><attributes><divisions>2</divisions><time><beats>4</beats>` +
			`<beat-type>4</beat-type></time>` + map[string]string{"P1": `<staves>2</staves>`}[id] + `</attributes>` + n("C4", 4, fingers(f(digit))) + n("D4", 4) + `</measure></part>`
	}
	volume := func(second string) compare.Side {
		list := `<score-part id="P1"><part-name>Piano</part-name></score-part>`
		if second != "" {
			list += `<score-part id="P2"><part-name>Violin</part-name></score-part>`
		}
		return bare(parsed(t, `<score-partwise version="4.0"><part-list>`+list+`</part-list>`+part("P1", "1")+second+`</score-partwise>`))
	}
	approved := volume(part("P2", "2"))
	before := diffOf(compare.Scores("x", approved, volume(part("P2", "3"))))
	require.Equal(t, []string{"open: digit at C4: 3 → 2"}, inWords(compare.Sheet(before, nil)))
	lines := inWords(compare.Sheet(diffOf(compare.Scores("x", approved, volume(""))), before))
	require.Contains(t, lines, "unseen: digit at C4: 3 → 2")
	require.NotContains(t, strings.Join(lines, "; "), "done: ")
}

// A piece that comes back untouched has all that was asked for missed; what was right and is wrong again is new damage,
// also where the text is that of an old proof; a piece that two proofs lack is missed.
func TestARegisterGoesByTheProofNotByItsTextAlone(t *testing.T) {
	approved, wrong := bare(read(t, n("C4", 4)+n("D4", 4))), bare(read(t, n("C4", 4)+n("E4", 4)))
	r := &register.Register{}
	proof := func(name string, p compare.Piece, text string) []string {
		of := register.Proof{Name: name, Pieces: map[string]string{}}
		if text != "" {
			of.Pieces["x"] = text
		}
		return inWords(compare.Keep(r, &compare.Diff{Old: "approved", New: name, Pieces: []compare.Piece{p}}, of))
	}
	bad, good := compare.Scores("x", approved, wrong), compare.Scores("x", approved, approved)
	gone := compare.Lone("x", compare.PieceMissing)
	require.Equal(t, []string{"open: E4 → D4"}, proof("p1", bad, "wrong"))
	require.Equal(t, []string{"missed: E4 → D4"}, proof("p2", bad, "wrong"))
	require.Equal(t, []string{"missed: E4 → D4"}, proof("p2", bad, "wrong"), "the same proof")
	require.Equal(t, []string{"done: E4 → D4"}, proof("p3", good, "right"))
	require.Equal(t, []string{"new: E4 → D4"}, proof("p4", bad, "wrong"))
	require.Equal(t, []string{"new: E4 → D4"}, proof("p4", bad, "wrong"), "the same proof")
	require.Equal(t, []register.Spell{{First: 1, Done: 3}}, r.Entries[0].Past, "that it was right once is kept")
	require.Equal(t, 4, r.Entries[0].First)
	require.Equal(t, []string{"done: E4 → D4"}, proof("p5", good, "right"))
	require.Contains(t, proof("p6", gone, ""), "new: put in the whole piece")
	require.Contains(t, proof("p6", gone, ""), "new: put in the whole piece")
	require.Contains(t, proof("p7", gone, ""), "missed: put in the whole piece")
	require.Len(t, r.Proofs, 7)
}
