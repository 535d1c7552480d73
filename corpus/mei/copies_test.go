package mei_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

const fourNotes = `<note xml:id="a" dur="4" pname="c" oct="5" accid.ges="n"/><note xml:id="b" dur="4" pname="d" oct="5"/>` +
	`<note xml:id="c" dur="4" pname="e" oct="5"/><note xml:id="d" dur="4" pname="f" oct="5"/>`

// heard are the notes of a score with their digits.
func heard(s *score.Score) string {
	var words []string
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Kind == score.Pitched {
			word := n.Pitch.String() + fingers(n)
			if n.BySign {
				word = "(" + word + ")"
			}
			words = append(words, word)
		}
	}
	return strings.Join(words, " ")
}

// The signs of a measure that is a copy stand at the copies of the notes that they name (MEI Guidelines 5.1, att.common
// and att.sameas: @copyof). Nothing new can be written in it, and a digit that stands changes once.
func TestCopiedMeasuresAndSections(t *testing.T) {
	signs := `<fing startid="#a" staff="1">1</fing><slur startid="#a" endid="#d"/>`
	once := piano([3]string{fourNotes, `<mRest/>`, signs})
	for name, c := range map[string]struct {
		text string
		said string
	}{
		"a measure": {strings.NewReplacer(`<measure n="1">`, `<measure xml:id="m" n="1">`, foot, `<measure n="2" copyof="#m"/>`+foot).Replace(once),
			"this measure is written elsewhere"},
		"a section": {strings.NewReplacer(`<section>`, `<section><section xml:id="m">`, foot, `</section><section copyof="#m"/>`+foot).Replace(once),
			"this measure is written elsewhere"},
	} {
		doc, s, layout := open(t, "t.mei", []byte(c.text))
		require.Equal(t, "C51 D5 E5 F5 (C51) (D5) (E5) (F5)", heard(s), name)
		require.Len(t, s.SlurSpans(), 2, name)
		require.Equal(t, []any{score.OddNoDigits, 1}, []any{s.Oddities[0].Kind, s.Oddities[0].Measure}, name)
		require.Contains(t, s.Oddities[0].Detail, c.said, name)
		restyle := []score.Restyle{{Style: score.Style{Italic: true}}}
		markAndTakeBack(t, doc, layout, score.Marking{Marks: []score.Mark{{Note: 0, Restyles: restyle}, {Note: 5, Restyles: restyle}}})
		out, err := source.Apply(c.text, layout.TakeOutDigits(doc, [][]bool{{true}, nil, nil, nil, nil, {true}}))
		require.NoError(t, err, name)
		require.NotContains(t, out, "<fing", name)
	}
}

// A staff may hold signs of its own (MEI 5.1, <staff>), which stand on it; those of a copy stand at the copy's notes.
func TestSignsInAStaff(t *testing.T) {
	staff := `</layer><fing startid="#b">2</fing><dir tstamp="1" place="above">dolce</dir></staff>`
	text := piano([3]string{fourNotes, `<mRest/>`, ""}, [3]string{`<mRest/>`, `<mRest/>`, ""})
	text = strings.Replace(text, `</layer></staff>`, staff, 1)
	text = strings.Replace(text, `<staff n="1">`, `<staff xml:id="s" n="1">`, 1)
	require.Equal(t, "C5 D52 E5 F5", heard(read(t, text)))
	require.Equal(t, "dolce", read(t, text).Directions[0].Text)
	text = strings.Replace(text, `<staff n="1"><layer n="1"><mRest/></layer></staff>`, `<staff n="1" copyof="#s"/>`, 1)
	require.Equal(t, "C5 D52 E5 F5 C5 D52 E5 F5", heard(read(t, text)))
}

// Where an id stands twice, a digit is set by its beat; where that means several notes, there is none, and it is said.
func TestDigitsAtDoubledIDs(t *testing.T) {
	twice := strings.NewReplacer(`id="b"`, `id="a"`, `id="c"`, `id="a"`).Replace(fourNotes)
	chord := `<chord dur="1"><note xml:id="e" pname="c" oct="5"/><note xml:id="e" pname="e" oct="5"/></chord>`
	doc, s, layout := open(t, "t.mei", []byte(piano([3]string{twice, `<mRest/>`, ""}, [3]string{chord, `<mRest/>`, ""})))
	require.Equal(t, "C5 D5 E5 F5 (C5) (E5)", heard(s))
	said := 0
	for _, o := range s.Oddities {
		if o.Kind == score.OddNoDigits {
			require.Contains(t, o.Detail, "a note of a chord here has an id that stands at another element, too")
			said++
		}
	}
	require.Equal(t, 1, said)
	marking := score.Marking{}
	for i := range 4 {
		marking.Marks = append(marking.Marks, score.Mark{Note: i, Digits: []score.MarkDigit{{Text: string(rune('1' + i))}}})
	}
	require.Equal(t, "C51 D52 E53 F54 (C5) (E5)", heard(read(t, string(markAndTakeBack(t, doc, layout, marking)))))
}
