package engrave

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Where a file prints no accidental, those that the key does not say are drawn (MusicXML 4.0: alter sounds, accidental is
// printed; what is in force within a measure is common practice).
func TestAccidentalsThatAFileDoesNotPrint(t *testing.T) {
	note := func(step, alter, octave, more string) string {
		return `<note><pitch><step>` + step + `</step><alter>` + alter + `</alter><octave>` + octave + `</octave></pitch>` +
			`<duration>1</duration>` + more + `<voice>1</voice><type>quarter</type><staff>1</staff></note>`
	}
	score := func(notes ...string) string {
		return `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list>` +
			`<part id="P1"><measure number="1"><attributes><divisions>1</divisions><key><fifths>-2</fifths></key></attributes>` +
			strings.Join(notes, "") + `</measure></part></score-partwise>`
	}
	drawn := func(notes ...string) (out []string) {
		sheet, err := Copy([]byte(score(notes...)), CopyOptions{})
		require.NoError(t, err)
		for _, n := range sheet.parts[0].measures[0].SelectElements("note") {
			out = append(out, textOf(n.SelectElement("accidental")))
			if a := n.SelectElement("accidental"); a != nil {
				require.Equal(t, "type", n.ChildElements()[len(n.ChildElements())-3].Tag, "behind the type")
			}
		}
		return out
	}
	require.Equal(t, []string{"", "natural", "", "flat", ""},
		drawn(note("B", "-1", "4", ""), note("B", "0", "4", ""), note("B", "0", "4", ""), note("B", "-1", "4", ""), note("E", "-1", "4", "")))
	require.Equal(t, []string{"sharp", "sharp"}, drawn(note("F", "1", "4", ""), note("F", "1", "5", "")), "another octave")
	require.Equal(t, []string{"", "sharp"}, drawn(note("F", "1", "4", `<tie type="stop"/>`), note("F", "1", "4", "")), "a tie has it")
	require.Equal(t, []string{"double-sharp", "natural"}, drawn(note("C", "2", "4", ""), note("C", "0", "4", "")))
	printed := strings.Replace(note("A", "-1", "4", ""), "<staff>", "<accidental>flat</accidental><staff>", 1)
	sheet, err := Copy([]byte(score(note("F", "1", "4", ""), printed)), CopyOptions{})
	require.NoError(t, err)
	require.Len(t, sheet.parts[0].measures[0].FindElements("note/accidental"), 1, "a file that prints some prints them all")
	require.Equal(t, []string{"sharp", "flat", "sharp"}, drawn(note("F", "1", "4", ""), printed, note("C", "1", "5", "")),
		"a file that leaves out more than it prints leaves them to the program that draws it")
}
