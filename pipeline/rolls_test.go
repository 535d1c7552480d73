package pipeline

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/shared/outsidetest"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A song of the shared folder whose composer rolls all but the left hand's tenths of the first measures, two stems of one
// moment on the lower staff, one of them rolled.
const rolledSong = "data/engraved/Faisst,_Clara_Mathilda_2_Lieder,_Op.8_1_Die_Insel_der_Vergessenheit_lc6164267.mxl"

func rolledPiece(t *testing.T, data []byte, name, style, decisions string) *PieceRun {
	t.Helper()
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: study\n"+style), 0o644))
	policy, err := policies.Load(file)
	require.NoError(t, err)
	w := &PieceRun{
		Piece: &corpus.Piece{ID: "song", Score: name, Scoring: corpus.TwoHands}, Data: data, Policy: policy,
		Weights: ShippedWeights(), Edition: name,
	}
	if decisions != "" {
		all, _, err := decision.Parse("decisions/song.AB.yaml", []byte("piece: song\nby: AB\ndecisions:\n"+decisions))
		require.NoError(t, err)
		w.Decisions = all
	}
	require.NoError(t, RunPiece(w))
	return w
}

// rollsIn spells the rolls in a measure.
func rollsIn(w *PieceRun, number string) (out []string) {
	for _, r := range w.Result.Rolls {
		first := &w.Score.Notes[r.Notes[0]]
		if w.Score.Measures[first.Measure].Number != number {
			continue
		}
		said := r.Hand.String() + " " + r.Direction + " offered"
		if r.Decided {
			said = r.Hand.String() + " " + r.Direction + " by " + r.By
		}
		for _, n := range r.Notes {
			said += " " + w.Score.Notes[n].Pitch.String()
		}
		out = append(out, said)
	}
	return out
}

func beyondIn(w *PieceRun, number string) bool {
	for _, f := range w.Result.Findings {
		if f.Rule == "grip-out-of-reach" && slices.ContainsFunc(f.Notes, func(n int) bool {
			return w.Score.Measures[w.Score.Notes[n].Measure].Number == number
		}) {
			return true
		}
	}
	return false
}

func TestARolledChordFromOfferToPrintAndBack(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(filepath.Dir(shared.Folder(t, "data")), rolledSong))
	require.NoError(t, err)
	asIs := rolledPiece(t, data, "song.mxl", "", "")
	require.Equal(t, []string{"L up offered A1 E2 A2 C#3"}, rollsIn(asIs, "2"))
	require.Contains(t, asIs.Result.Rolls[0].Why, "A1 and C#3 lie 221 mm apart, beyond what the hand takes in playing")
	require.Empty(t, rollsIn(asIs, "5"), "the composer rolls it")

	decided := rolledPiece(t, data, "song.mxl", "", "  - {take: roll, direction: down, when: 2026-01-05, notes: [m. 2: 0 A1+E2+A2+C#3]}\n"+
		"  - {stet: roll, when: 2026-01-05, notes: [m. 3: 0 A1+E2+A2+C#3]}\n")
	require.Equal(t, []string{"L down by AB A1 E2 A2 C#3"}, rollsIn(decided, "2"))
	require.Empty(t, rollsIn(decided, "3"), "declined")
	require.NotEmpty(t, rollsIn(decided, "4"), "nobody has said anything of it")
	require.True(t, beyondIn(decided, "1"))
	require.False(t, beyondIn(decided, "2"), "it is rolled")

	// On the page: ours told from the composer's by what stands there alone.
	page := readAgain(t, decided)
	at := func(number string) (out []score.Enclosure) {
		for _, n := range page.Notes {
			if page.Measures[n.Measure].Number == number && n.Onset.Sign() == 0 && n.Staff == 2 && n.Arpeggio.Rolled {
				out = append(out, n.Arpeggio.Enclosure)
			}
		}
		return out
	}
	b, p, none := score.Brackets, score.Parentheses, score.NoEnclosure
	require.Equal(t, []score.Enclosure{none, b, b, b, b}, at("2"))
	require.Equal(t, []score.Enclosure{none}, at("3"))
	require.Equal(t, []score.Enclosure{none, p, p, p, p}, at("4"))

	// Read again without the decisions it is decided still, and gives the same bytes.
	again := rolledPiece(t, decided.EditionData, "song.mxl", "", "")
	require.Equal(t, rollsIn(decided, "2"), rollsIn(again, "2"))
	require.Empty(t, rollsIn(again, "3"))
	require.Equal(t, decided.EditionData, again.EditionData)
	// Another program has written it anew: the record is held against the music.
	doc, err := source.Open("song.mxl", decided.EditionData, source.DefaultLimits())
	require.NoError(t, err)
	anew := rolledPiece(t, []byte(strings.ReplaceAll(doc.Text, `<arpeggiate number="2"`, `<arpeggiate default-x="-3" number="2"`)),
		"song.musicxml", "", "")
	require.NotNil(t, anew.Held)
	require.Equal(t, rollsIn(decided, "2"), rollsIn(anew, "2"))
	require.Equal(t, at("2"), func() []score.Enclosure { page = readAgain(t, anew); return at("2") }(), "not marked twice")

	// The text is given back, and nothing else was touched.
	base, _, _ := edition.Unpack(doc)
	given, err := source.Open("song.mxl", data, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, given.Text, base.Text)
	dir := t.TempDir()
	file := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, data, 0o644))
		return path
	}
	t.Run("untouched", func(t *testing.T) {
		outsidetest.Untouched(t, outsidetest.Pair{Source: file("a.mxl", data), Edition: file("b.mxl", decided.EditionData)})
	})
	t.Run("valid by the XSD", func(t *testing.T) {
		require.Empty(t, outsidetest.Invalid(t, file("c.musicxml", []byte(doc.Text))))
	})
}

func TestTheHouseStyleSaysHowRollsLook(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(filepath.Dir(shared.Folder(t, "data")), rolledSong))
	require.NoError(t, err)
	rolled := "  - {take: roll, when: 2026-01-05, notes: [m. 2: 0 A1+E2+A2+C#3]}\n"
	text := func(style, decisions string) string {
		doc, err := source.Open("song.mxl", rolledPiece(t, data, "song.mxl", style, decisions).EditionData, source.DefaultLimits())
		require.NoError(t, err)
		return doc.Text
	}
	signs := func(text string) [2]int {
		return [2]int{strings.Count(text, "[arp.]<"), strings.Count(text, "(arp.)<")}
	}
	require.Equal(t, [2]int{0, 0}, signs(text("rolls: {marks: none}", rolled)))
	require.Equal(t, [2]int{1, 0}, signs(text("rolls: {offer: false}", rolled)))
	small := text("rolls: {marks: small}", rolled)
	require.Equal(t, 1, signs(small)[0])
	require.Contains(t, small, `font-size="small">[arp.]`)
	legend := text("marks: {legend: title}\nrolls: {offer: false}", rolled)
	require.Contains(t, legend, "the sign of a rolled chord with [arp.] – rolled by the edition")
	require.NotContains(t, text("marks: {legend: title}\nrolls: {offer: false}", ""), "rolled chord", "nothing of it occurs")
	apart := text("marks: {layers: levels}\ndigits: every-note", rolled)
	require.Contains(t, apart, `<level bracket="yes">editorial</level>`)
}

// A chord beyond the hand is rolled where one hand has to take it whole: not where the other hand, as it stands, has the rest of it
// under its fingers, unless the text says whose the keys are (seen at the end of a sonata: A1 A2 C#3 E3 below the right hand's A3).
func TestWhatTheHandsShareIsNotRolled(t *testing.T) {
	piece := func(right, sign, digit string) *PieceRun {
		note := func(pitch, more string, staff int) string {
			step, alter := pitch[:1], ""
			if strings.Contains(pitch, "#") {
				alter = "<alter>1</alter>"
			}
			chord := ""
			if strings.HasPrefix(more, "+") {
				chord, more = "<chord/>", more[1:]
			}
			return "<note>" + chord + "<pitch><step>" + step + "</step>" + alter + "<octave>" + pitch[len(pitch)-1:] + "</octave></pitch><duration>4</duration><voice>" +
				[]string{"", "1", "5"}[staff] + "</voice><type>whole</type><staff>" + []string{"", "1", "2"}[staff] + "</staff>" + more + "</note>"
		}
		return rolledPiece(t, []byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`+
			`<measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves>`+
			`<clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef></attributes>`+
			note(right, "", 1)+`<backup><duration>4</duration></backup>`+sign+note("A1", "", 2)+note("A2", "+", 2)+note("C#3", "+", 2)+note("E3", "+"+digit, 2)+
			`</measure></part></score-partwise>`), "end.musicxml", "redistribute: {reach: false}\n", "")
	}
	require.Empty(t, rollsIn(piece("A3", "", ""), "1"), "the right hand has C#3 and E3 under its own key")
	require.Equal(t, []string{"L up offered A1 A2 C#3 E3"}, rollsIn(piece("A5", "", ""), "1"), "out of its reach")
	require.Len(t, rollsIn(piece("A3", `<direction><direction-type><words>m.s.</words></direction-type><staff>2</staff></direction>`, ""), "1"), 1,
		"the text gives it all to the left hand")
	require.Len(t, rollsIn(piece("A3", "", `<notations><technical><fingering>1</fingering></technical></notations>`), "1"), 1, "and so by its thumb")
}
