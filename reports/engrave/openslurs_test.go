package engrave

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// slurred is four measures of one staff, under one slur from the first to the last.
func slurred() []byte {
	text := string(testScore())
	first := strings.Index(text, `<notations>`)
	text = text[:first] + `<notations><slur type="start" number="1"/>` + text[first+len(`<notations>`):]
	last := strings.LastIndex(text, `<notations>`)
	return []byte(text[:last] + `<notations><slur type="stop" number="1"/>` + text[last+len(`<notations>`):])
}

// A slur is drawn in an excerpt that it leaves, that it comes into, and through which it goes; the notes drawn are those of
// the excerpt.
func TestSlursThatLeaveAnExcerptAreDrawn(t *testing.T) {
	worker := newWorker(t, openPress(t))
	sheet, err := Copy(slurred(), CopyOptions{})
	require.NoError(t, err)
	whole, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	for _, at := range [][2]int{{0, 3}, {0, 1}, {1, 2}, {2, 3}, {3, 3}} {
		with, err := worker.Excerpt(context.Background(), sheet, at[0], at[1], ExcerptOptions{})
		require.NoError(t, err)
		without, err := worker.Excerpt(context.Background(), whole, at[0], at[1], ExcerptOptions{})
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(with.SVG, `class="slur"`), "%v", at)
		require.Zero(t, strings.Count(without.SVG, `class="slur"`))
		require.Equal(t, strings.Count(without.SVG, `class="notehead"`), strings.Count(with.SVG, `class="notehead"`), "%v", at)
	}
	independent, err := sheet.MusicXML(1, 2)
	require.NoError(t, err)
	require.NotContains(t, string(independent), "<grace", "what the score says is not added to")
}

// curvesAbove says of each slur of a picture whether it arches over its notes.
func curvesAbove(t *testing.T, svg string) (out []bool) {
	t.Helper()
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromString(svg))
	for _, slur := range document.FindElements(".//g[@class='slur']") {
		p := numbersIn(slur.FindElement("path"), "d")
		require.GreaterOrEqual(t, len(p), 8)
		out = append(out, p[3]+p[5] < p[1]+p[7])
	}
	return out
}

// A slur that leaves an excerpt is drawn on the side on which the whole score has it, though the file names none and has no stems.
func TestSlursThatLeaveAnExcerptKeepTheirSide(t *testing.T) {
	worker := newWorker(t, openPress(t))
	for pitches, above := range map[string]bool{
		"D5 E5 F5 E5 D5 E5 F5 E5 D5 E5 F5 D5": true, "E4 F4 G4 F4 E4 F4 G4 F4 E4 F4 G4 E4": false, "E4 F4 G4 F4 E4 D5 E5 F4 E4 F4 G4 E4": true,
	} {
		var b strings.Builder
		b.WriteString(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">`)
		for i, p := range strings.Fields(pitches) {
			if i%4 == 0 {
				fmt.Fprintf(&b, `<measure number="%d">`, i/4+1)
				if i == 0 {
					b.WriteString(`<attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>`)
				}
			}
			slur := ""
			switch i {
			case 0:
				slur = `<notations><slur type="start" number="1"/></notations>`
			case 11:
				slur = `<notations><slur type="stop" number="1"/></notations>`
			}
			fmt.Fprintf(&b, `<note><pitch><step>%s</step><octave>%s</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type>%s</note>`, p[:1], p[1:], slur)
			if i%4 == 3 {
				b.WriteString(`</measure>`)
			}
		}
		b.WriteString(`</part></score-partwise>`)
		sheet, err := Copy([]byte(b.String()), CopyOptions{})
		require.NoError(t, err)
		for _, at := range [][2]int{{0, 2}, {0, 0}, {1, 1}, {2, 2}, {0, 1}} {
			picture, err := worker.Excerpt(context.Background(), sheet, at[0], at[1], ExcerptOptions{})
			require.NoError(t, err)
			if pitches[:2] == "E4" && above && (at == [2]int{0, 0} || at == [2]int{2, 2}) {
				continue // only the measure that is not drawn has a stem downwards
			}
			require.Equal(t, []bool{above}, curvesAbove(t, picture.SVG), "%s %v", pitches, at)
		}
	}
}

// A slur from the lower staff to the upper one has its end written first: it is whole all the same, no slur leaves the measure, and
// the next one's end is not taken for its own (trial 15a-28: excerpts showed slurs over the upper staff that the source has not).
func TestASlurToTheUpperStaffLeavesNoMeasure(t *testing.T) {
	measureOf := func(upper, lower string) *etree.Element {
		document := etree.NewDocument()
		require.NoError(t, document.ReadFromString(`<measure>`+
			`<note><rest/><duration>4</duration><staff>1</staff></note><note><pitch/><duration>4</duration><staff>1</staff><notations>`+upper+`</notations></note>`+
			`<backup><duration>8</duration></backup>`+
			`<note id="low"><pitch/><duration>8</duration><staff>2</staff><notations>`+lower+`</notations></note></measure>`))
		return document.Root()
	}
	start, stop := `<slur type="start" number="1"/>`, `<slur type="stop" number="1"/>`
	require.Empty(t, slursThrough(nil, measureOf(stop, start)))
	open := slursThrough(nil, measureOf("", start))
	require.Len(t, open, 1)
	require.Equal(t, "low", open[0].note.SelectAttrValue("id", ""))
	require.Empty(t, slursThrough(open, measureOf(stop, "")))
	require.Len(t, slursThrough(open, measureOf(stop, start)), 1, "the one before ends, another begins")
	later := measureOf(stop, start)
	later.SelectElements("note")[1].SelectElement("duration").SetText("0")
	later.RemoveChild(later.SelectElements("note")[0])
	later.SelectElement("backup").SelectElement("duration").SetText("0")
	require.Len(t, slursThrough(nil, later), 1, "what begins no earlier is another slur")
}
