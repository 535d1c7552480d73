package formats

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/reports/engrave"
)

// What exporters write in ways of their own is handled, or told as a finding where it stands.
func TestHabits(t *testing.T) {
	for _, h := range habits() {
		require.Equal(t, "handled", h.verdict("score.musicxml", []byte(h.score)), h.name)
	}
}

// lost is what a program does not carry over, as its file shows: nothing that a reader could find again.
type lost map[string]string

var lostByMuseScore = lost{
	"an ossia staff":                "A5 is fingered",               // no staff type is written
	"a change by its flag":          `C5 has "3", not "4→3"`,        // one digit a note
	"an alternative by its flag":    `C5 has "3", not "4|3"`,        //
	"digits in layers of their own": `C5 has "3", not "4→3"`,        //
	"grace notes after a note":      "A5 is no after-note",          // without what they take time from
	"a timewise score":              "error: the score has no part", // it reads none
	"a sign that repeats a measure": "no finding gets-no-digits",    // the notes are written out
	"slashes instead of notes":      "no finding gets-no-digits",    // likewise
}

var lostByVerovio = lost{
	"an ossia staff":                "A5 is fingered",
	"a change by its flag":          `C5 has "4 3", not "4→3"`, // two digits over each other
	"an alternative by its flag":    `C5 has "4 3", not "4|3"`,
	"digits in layers of their own": `C5 has "4", not "4→3"`, // the first notations of a note alone
	"grace notes after a note":      "A5 is no after-note",
	"a timewise score":              "error: the music has no measure",
	"slashes instead of notes":      "no finding gets-no-digits",
}

// The same by another program: as MuseScore 3 writes it again.
func TestHabitsByMuseScore(t *testing.T) {
	if _, err := exec.LookPath("musescore3"); err != nil {
		t.Skip("MuseScore 3 is not installed")
	}
	for _, h := range habits() {
		again, err := museScore(t.Context(), h.score)
		requireVerdict(t, verdictOf(&h, "score.musicxml", again, err), lostByMuseScore[h.name], h.name)
	}
}

// And as the MEI that Verovio makes of it.
func TestHabitsByVerovio(t *testing.T) {
	if engrave.FindPackage(".") == "" {
		t.Skip("Verovio is not installed")
	}
	c, err := openConverter(t.Context())
	require.NoError(t, err)
	defer c.close(t.Context())
	for _, h := range habits() {
		mei, err := c.convert(t.Context(), h.score)
		requireVerdict(t, verdictOf(&h, "score.mei", mei, err), lostByVerovio[h.name], h.name)
	}
}

func requireVerdict(t *testing.T, got, lost, name string) {
	t.Helper()
	if lost == "" {
		lost = "handled"
	}
	require.True(t, strings.HasPrefix(got, lost), "%s: %s, not %s", name, got, lost)
}

// A piece that was converted is the same piece: every value that the program carries over, every finger, every finding.
func TestAPieceInBothFormats(t *testing.T) {
	if engrave.FindPackage(".") == "" {
		t.Skip("Verovio is not installed")
	}
	c, err := openConverter(t.Context())
	require.NoError(t, err)
	defer c.close(t.Context())
	for _, h := range habits()[:3] {
		text := withIDs(h.score)
		mei, err := c.convert(t.Context(), text)
		require.NoError(t, err)
		a, err := ran("a.musicxml", []byte(text))
		require.NoError(t, err)
		b, err := ran("b.mei", mei)
		require.NoError(t, err)
		ids, to := byID(b.Score), make([]int, len(a.Score.Notes))
		for i := range to {
			to[i] = ids[a.Score.Notes[i].ID]
		}
		k := &comparison{list: true, out: t.Output(), values: map[string]int{}, rules: map[string]int{}, whyFound: map[string]int{}, whyElsewhere: map[string]int{}}
		require.Empty(t, k.compareValues(a.Score, b.Score, to), h.name)
		require.Zero(t, k.compareFingers(a, b, to), h.name)
		require.NoError(t, k.compareFindings(a, b, to))
		k.compareDecisions("", a.Score, b.Score, to)
		require.Zero(t, k.only+k.unlike, h.name)
		require.NotZero(t, k.notes)
	}
}
