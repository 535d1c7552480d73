package musicxml_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

var wholeMeasure = regexp.MustCompile(`(?s)(<measure [^>]*>)(.*?)</measure>`)

// timewiseOf turns a partwise score of one part round, as the standard has it (MusicXML 4.0, score-timewise).
func timewiseOf(text string) string {
	text = strings.NewReplacer("score-partwise", "score-timewise", "</part>", "", `<part id="P1">`, "").Replace(text)
	return wholeMeasure.ReplaceAllString(text, `$1<part id="P1">$2</part></measure>`)
}

// placeless is a score without the places in its file, which are others in another form.
func placeless(s *score.Score) *score.Score {
	for i := range s.Notes {
		s.Notes[i].Line, s.Notes[i].Column = 0, 0
		for k := range s.Notes[i].Indications {
			s.Notes[i].Indications[k].Line, s.Notes[i].Indications[k].Column = 0, 0
		}
	}
	for i := range s.Directions {
		s.Directions[i].Line, s.Directions[i].Column = 0, 0
	}
	for i := range s.Items {
		s.Items[i].Line = 0
	}
	for i := range s.Oddities {
		s.Oddities[i].Line = 0
	}
	return s
}

// A timewise score is the same music as its partwise twin, and takes the same marks.
func TestTimewiseScoresAreTurnedRound(t *testing.T) {
	files, err := filepath.Glob("../demo/scores/*.musicxml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files[:4] {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		_, partwise, _ := open(t, "p.musicxml", data)
		doc, timewise, layout := open(t, "t.musicxml", []byte(timewiseOf(string(data))))
		marking := everyNote(timewise)
		require.Equal(t, placeless(partwise), placeless(timewise), file)
		_, marked, _ := open(t, "t.musicxml", markAndTakeBack(t, doc, layout, marking))
		require.Equal(t, "1", marked.Edition.Fields["edition"])
		for _, m := range marking.Marks {
			require.Len(t, marked.Notes[m.Note].Indications, len(timewise.Notes[m.Note].Indications)+len(m.Digits))
		}
	}
}

// A part may be missing from some measures of a timewise score, which its own measures then are empty for.
func TestTimewiseScoreWithAPartThatPauses(t *testing.T) {
	text := `<score-timewise version="4.0"><part-list><score-part id="A"><part-name>Voice</part-name></score-part>` +
		`<score-part id="B"><part-name>Piano</part-name></score-part></part-list>` +
		`<measure number="1"><part id="B">` + n("C4", 4) + `</part></measure>` +
		`<measure number="2"><part id="B">` + n("D4", 4) + `</part><part id="A">` + n("E4", 4) + `</part></measure></score-timewise>`
	_, s, _ := open(t, "t.musicxml", []byte(text))
	require.Len(t, s.Measures, 2)
	require.Len(t, s.Notes, 3)
	require.Equal(t, []int{1, 0, 1}, []int{s.Notes[0].Measure, s.Notes[1].Measure, s.Notes[2].Measure})
	require.Equal(t, "E4", s.Notes[0].Pitch.String())
}
