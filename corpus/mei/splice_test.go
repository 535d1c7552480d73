package mei_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
)

// everyNote marks everything that can be marked.
func everyNote(s *score.Score) score.Marking {
	m := score.Marking{
		Fields: []score.Field{{Name: "edition", Value: "1"}, {Name: "looks", Value: `{"a":"<&>"}`}}, Legend: "Fingering: italic – the composer's & <others>.",
	}
	for i := range s.Notes {
		if s.Notes[i].Kind != score.Pitched {
			continue
		}
		mark := score.Mark{Note: i, Digits: []score.MarkDigit{{
			Text: fmt.Sprint(1 + i%5), Placement: score.Above, Style: score.Style{Italic: i%2 == 0, Size: "small"}, Who: score.Open,
		}}}
		if i%4 == 1 {
			mark.Digits[0].Style.Size, mark.Digits[0].Style.Colour = "7", "#FF0000"
		}
		switch {
		case i%7 == 0:
			mark.Digits = append(mark.Digits, score.MarkDigit{Text: "5", Substitution: true, Placement: score.Above, Who: score.Editor, Agent: "PB"})
		case i%5 == 0:
			mark.Digits = append(mark.Digits, score.MarkDigit{Text: "2", Alternate: true, Placement: score.Below, Who: score.Composer})
		}
		for k := range s.Notes[i].Indications {
			mark.Restyles = append(mark.Restyles, score.Restyle{Ordinal: k, Style: score.Style{Bold: true}})
		}
		if i%3 == 0 {
			mark.Directions = []score.MarkDirection{{Text: "m.s.", Staff: s.Notes[i].Staff, Placement: score.Above, Style: score.Style{Italic: true}},
				{Kind: score.MarkBracketStart, Staff: s.Notes[i].Staff}, {Kind: score.MarkBracketStop, Staff: s.Notes[i].Staff, HookUp: true}}
		}
		m.Marks = append(m.Marks, mark)
	}
	return m
}

// markAndTakeBack splices a marking in, takes it back and compares the bytes; it returns the edition.
func markAndTakeBack(t require.TestingT, doc *source.Document, layout *mei.Layout, m score.Marking) []byte {
	edits, err := layout.Splice(doc, m, score.SpliceOptions{})
	require.NoError(t, err)
	edition, record, err := doc.Edition(edits)
	require.NoError(t, err)
	back, err := source.TakeBack(edition, record, source.DefaultLimits())
	require.NoError(t, err)
	require.True(t, bytes.Equal(doc.Bytes(), back), "taking the edits back gives other bytes")
	return edition
}

// The forms in which a document may be written.
func forms(text string) map[string]string {
	return map[string]string{
		"as it is": text, "CRLF": strings.ReplaceAll(text, "\n", "\r\n"), "one line": strings.Join(strings.Fields(strings.ReplaceAll(text, "\n", " ")), " "),
		"no ids": strings.NewReplacer(` xml:id="v1"`, "", ` xml:id="u1"`, "", ` xml:id="b2"`, "").Replace(text),
	}
}

func TestMarksGoInAndComeBackOut(t *testing.T) {
	for name, text := range forms(string(example(t))) {
		doc, before, layout := open(t, "t.mei", []byte(text))
		marking := everyNote(before)
		edition := markAndTakeBack(t, doc, layout, marking)
		_, after, _ := open(t, "t.mei", edition)
		require.Len(t, after.Notes, len(before.Notes), name)
		require.Equal(t, "1", after.Edition.Fields["edition"], name)
		require.Equal(t, `{"a":"<&>"}`, after.Edition.Fields["looks"], name)
		for _, m := range marking.Marks {
			x, y := &before.Notes[m.Note], &after.Notes[m.Note]
			require.Equal(t, x.Midi, y.Midi, name)
			require.Equal(t, x.Onset, y.Onset, name)
			require.Equal(t, x.Slurs, y.Slurs, name)
			require.Len(t, y.Indications, len(x.Indications)+len(m.Digits), name)
			for k := range x.Indications {
				require.Equal(t, x.Indications[k].Text, y.Indications[k].Text, name)
				require.True(t, y.Indications[k].Style.Bold, name)
			}
			for k, d := range m.Digits {
				ind := y.Indications[len(x.Indications)+k]
				require.Equal(t, []any{d.Text, d.Substitution, d.Alternate, d.Style, d.Placement},
					[]any{ind.Text, ind.Substitution, ind.Alternate, ind.Style, ind.Placement}, name)
			}
		}
		signs, brackets := 0, 0
		for _, d := range after.Directions {
			if d.Kind == score.HandSign && d.Text == "m.s." {
				signs++
			}
			if d.Kind == score.Bracket && d.Start {
				brackets++
			}
		}
		require.Equal(t, signs, brackets, name)
		require.NotZero(t, signs, name)
		require.Equal(t, 1, strings.Count(string(edition), "<div type=\"fingering-legend\">"), name)
		// Each who is responsible is declared once, and everybody who is pointed at is declared.
		for _, id := range []string{"fingerproof-open", "fingerproof-editor-PB", "fingerproof-composer"} {
			require.Equal(t, 1, strings.Count(string(edition), `xml:id="`+id+`"`), name)
			require.Contains(t, string(edition), `resp="#`+id+`"`, name)
		}
		require.NotContains(t, string(edition), "@hand")
	}
}

// A roll is one sign for all its chords; what stands around it says whose it is.
func TestRolls(t *testing.T) {
	doc, before, layout := open(t, "t.mei", []byte(piano([3]string{
		`<chord dur="1"><note xml:id="a" pname="c" oct="5" accid.ges="n"/><note xml:id="b" pname="e" oct="5"/></chord>`,
		`<chord xml:id="low" dur="1"><note xml:id="c" pname="c" oct="3"/><note xml:id="d" pname="g" oct="3"/></chord>`, ""})))
	marking := score.Marking{}
	for i := range before.Notes {
		marking.Marks = append(marking.Marks, score.Mark{Note: i, Roll: &score.MarkRoll{Number: 3, Down: true, Enclosure: score.Brackets}})
	}
	edition := string(markAndTakeBack(t, doc, layout, marking))
	require.Equal(t, 1, strings.Count(edition, "<arpeg "))
	s := read(t, edition)
	number := s.Notes[0].Arpeggio.Number
	require.NotZero(t, number)
	for i := range s.Notes {
		require.Equal(t, score.Arpeggio{Rolled: true, Down: true, Number: number, Enclosure: score.Brackets}, s.Notes[i].Arpeggio)
	}
	// Where the edition was changed since, the sign and the words beside it go by their ids; a roll of the text stays.
	const texts = `<arpeg startid="#a"/><dir type="roll" startid="#c">arp.</dir>`
	const ours = `<dir xml:id="fingerproof-d7" type="roll" startid="#c">[arp.]</dir><arpeg xml:id="fingerproof-r8" type="roll" plist="#low"/>`
	chords := [3]string{`<note xml:id="a" pname="c" oct="5" dur="1"/>`,
		`<chord xml:id="low" dur="1"><note xml:id="c" pname="c" oct="3"/><note pname="g" oct="3"/></chord>`, ""}
	chords[2] = texts
	given := piano(chords)
	chords[2] = texts + ours
	doc, _, layout = open(t, "t.mei", []byte(piano(chords)))
	require.Equal(t, 1, layout.AddedRolls())
	out, err := source.Apply(doc.Text, layout.TakeOut(doc, nil))
	require.NoError(t, err)
	require.Equal(t, given, out)
}

// A digit of the text gets another look, another side, another place in its row, and is otherwise left alone.
func TestDigitsThatStand(t *testing.T) {
	for shape, want := range map[string]string{
		`<fing startid="#a" staff="1" place="above">2</fing>`:                                                               `<fing startid="#a" staff="1" place="below"><rend fontstyle="italic">2</rend></fing>`,
		`<fing startid="#a" staff="1"><rend color="red">2</rend></fing>`:                                                    `<fing startid="#a" staff="1" place="below"><rend color="red" fontstyle="italic">2</rend></fing>`,
		`<fing startid="#a" staff="1" place="above"><rend fontstyle="italic">2</rend></fing>`:                               `<fing startid="#a" staff="1" place="below"><rend fontstyle="italic">2</rend></fing>`,
		`<fing startid="#a" staff="1" place="above"><rend fontstyle="normal" fontweight="bold"> 2 </rend><!-- x --></fing>`: `<fing startid="#a" staff="1" place="below"><rend fontstyle="italic"> 2 </rend><!-- x --></fing>`,
	} {
		doc, s, layout := open(t, "t.mei", []byte(piano([3]string{`<note xml:id="a" dur="1" pname="c" oct="5" accid.ges="n"/>`, `<mRest/>`, shape})))
		require.Equal(t, "2", strings.TrimSpace(s.Notes[0].Indications[0].Text))
		edition := markAndTakeBack(t, doc, layout, score.Marking{Marks: []score.Mark{{Note: 0, Restyles: []score.Restyle{{Style: score.Style{Italic: true}, Placement: score.Below}}}}})
		if strings.Contains(shape, "<!--") {
			continue // two things in it: its letters are left alone
		}
		require.Contains(t, string(edition), want)
	}
	doc, _, layout := open(t, "t.mei", []byte(piano([3]string{`<note xml:id="a" dur="1" pname="c" oct="5" accid.ges="n"/>`, `<mRest/>`,
		`<fing startid="#a" staff="1">2</fing><fing startid="#a" staff="1">4</fing>`})))
	edition := markAndTakeBack(t, doc, layout, score.Marking{Marks: []score.Mark{{Note: 0, Order: []int{1, 0}}}})
	require.Contains(t, string(edition), `<fing startid="#a" staff="1">4</fing><fing startid="#a" staff="1">2</fing>`)
}

// A mend of an edition, which moves digits and says nothing of the edition, leaves those who are declared responsible for others:
// the digits point at them.
func TestAMendLeavesWhoIsResponsible(t *testing.T) {
	doc, _, layout := open(t, "t.mei", []byte(piano([3]string{`<note xml:id="a" dur="1" pname="c" oct="5" accid.ges="n"/>`, `<mRest/>`, ``})))
	edition := markAndTakeBack(t, doc, layout, score.Marking{Fields: []score.Field{{Name: "edition", Value: "1"}},
		Marks: []score.Mark{{Note: 0, Digits: []score.MarkDigit{{Text: "3", Placement: score.Below, Who: score.Editor, Agent: "PB"}}}}})
	declared := regexp.MustCompile(`<respStmt><resp>fingering.*?</respStmt>`).FindString(string(edition))
	require.Contains(t, declared, "PB")
	doc, s, layout := open(t, "t.mei", edition)
	require.Len(t, s.Notes[0].Indications, 1)
	mended := markAndTakeBack(t, doc, layout, score.Marking{Marks: []score.Mark{{Note: 0, Restyles: []score.Restyle{{Placement: score.Above}}}}})
	require.Contains(t, string(mended), declared)
	require.Equal(t, strings.Replace(string(edition), `place="below"`, `place="above"`, 1), string(mended), "nothing else is touched")
}

// Digits are taken out by note and place in its row; of a group with one left, that one stands where the group stood.
func TestDigitsAreTakenOut(t *testing.T) {
	text := piano([3]string{`<note xml:id="a" dur="2" pname="c" oct="5" accid.ges="n"/><note xml:id="b" dur="2" pname="c" oct="5"/>`, `<mRest/>`,
		`<fing startid="#a" staff="1">2</fing>
              <fingGrp form="subst" startid="#b" staff="1" place="above"><fing>5</fing><fing>4</fing></fingGrp>`})
	for name, c := range map[string]struct {
		out  [][]bool
		a, b string
	}{
		"one":            {[][]bool{{true}}, "", "5→4"},
		"half a group":   {[][]bool{{false}, {false, true}}, "2", "5"},
		"a whole group":  {[][]bool{{false}, {true, true}}, "2", ""},
		"the first half": {[][]bool{{true}, {true, false}}, "", "4"},
	} {
		doc, _, layout := open(t, "t.mei", []byte(text))
		after, err := source.Apply(text, layout.TakeOut(doc, c.out))
		require.NoError(t, err)
		s := read(t, after)
		require.Equal(t, []string{c.a, c.b}, []string{fingers(note(t, s, "a")), fingers(note(t, s, "b"))}, name)
	}
	doc, s, layout := open(t, "t.mei", []byte(text))
	marked := string(markAndTakeBack(t, doc, layout, everyNote(s)))
	doc, s, layout = open(t, "t.mei", []byte(marked))
	all := make([][]bool, len(s.Notes))
	for i := range s.Notes {
		for range s.Notes[i].Indications {
			all[i] = append(all[i], true)
		}
	}
	after, err := source.Apply(marked, layout.TakeOut(doc, all))
	require.NoError(t, err)
	for _, gone := range []string{"<fing", "extMeta", "fingering-legend", "<name"} {
		require.NotContains(t, after, gone)
	}
	require.Nil(t, read(t, after).Edition)
}

func TestMarksThatCannotBe(t *testing.T) {
	doc, _, layout := open(t, "t.mei", example(t))
	for name, mark := range map[string]score.Mark{
		"no such note":  {Note: 700, Digits: []score.MarkDigit{{Text: "2"}}},
		"no such digit": {Note: 0, Restyles: []score.Restyle{{Ordinal: 0}}},
		"no such order": {Note: 2, Order: []int{1}},
	} {
		_, err := layout.Splice(doc, score.Marking{Marks: []score.Mark{mark}}, score.SpliceOptions{})
		require.ErrorContains(t, err, "marking t.mei: ", name)
	}
}

// Ids of ours clash with none that stands there.
func TestIdsThatBeginAsOurs(t *testing.T) {
	text := strings.Replace(string(example(t)), `xml:id="a2"`, `xml:id="fingerproof-n1"`, 1)
	doc, s, layout := open(t, "t.mei", []byte(text))
	edition := string(markAndTakeBack(t, doc, layout, everyNote(s)))
	require.Equal(t, 1, strings.Count(edition, ` xml:id="fingerproof-n1"`))
	require.Contains(t, edition, `xml:id="fingerproof-2-`)
}

// A marked document is valid where it was (mei-all.rng of MEI 5.1, by xmllint of libxml2).
func TestMarkedDocumentsAreValid(t *testing.T) {
	schema, err := filepath.Abs(filepath.Join(shared.Folder(t, "schemas/mei-5.1"), "mei-all.rng"))
	require.NoError(t, err)
	xmllint, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("there is no xmllint here")
	}
	for name, text := range forms(string(example(t))) {
		doc, s, layout := open(t, "t.mei", []byte(text))
		marking := everyNote(s)
		for i := range marking.Marks {
			if i%4 == 0 {
				marking.Marks[i].Roll = &score.MarkRoll{Enclosure: score.Parentheses}
			}
			if i == 5 {
				marking.Marks[i].Staff, marking.Marks[i].Stem = 2, "up"
			}
		}
		path := filepath.Join(t.TempDir(), "t.mei")
		require.NoError(t, os.WriteFile(path, markAndTakeBack(t, doc, layout, marking), 0o600))
		out, err := exec.Command(xmllint, "--nonet", "--noout", "--relaxng", schema, path).CombinedOutput()
		require.NoError(t, err, "%s: %s", name, out)
	}
}
