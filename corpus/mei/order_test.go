package mei_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/score"
)

// ordered is a document of four measures, each a section or an ending, with a sign to repeat back in the third, with orders
// of playing before them and signs in the last.
func ordered(endings bool, orders, signs string) string {
	note := `<note dur="1" pname="c" oct="4" accid.ges="n"/>`
	var b strings.Builder
	b.WriteString(head + orders)
	for i := 1; i <= 4; i++ {
		part, n, right, last := "section", i, "", ""
		if endings && i > 2 {
			part, n = "ending", i-2
		}
		if i == 3 {
			right = ` right="rptend"`
		}
		if i == 4 {
			last = signs
		}
		fmt.Fprintf(&b, `<%s xml:id="s%d" n="%d"><measure n="%d"%s><staff n="1"><layer>%s</layer></staff><staff n="2"><layer>%s</layer></staff>%s</measure></%[1]s>`,
			part, i, n, i, right, note, note, last)
	}
	return b.String() + foot
}

// An order of playing (MEI Guidelines 5.1, "Expansion") that the page does not say is named at its place: music is read as it
// is written.
func TestOrdersOfPlaying(t *testing.T) {
	order := func(ids string) string {
		return `<expansion plist="#s` + strings.Join(strings.Fields(ids), " #s") + `"/>`
	}
	capo := `<repeatMark func="daCapo" staff="1" tstamp="1">D.C. al Fine</repeatMark>`
	fine := `<section xml:id="s1" n="1"><measure n="1">`
	for name, c := range map[string]struct {
		endings       bool
		orders, signs string
		want          string
		measure       int
	}{
		"as the signs say":         {false, order("1 2 3 1 2 3 4"), "", "", 0},
		"with endings":             {true, order("1 2 3 1 2 4"), "", "", 0},
		"without repeats":          {false, order("1 2 3 4"), "", "lets the music go on with m. 4 after m. 3, where the signs on the page let it go on with m. 1", 2},
		"one of two is said":       {false, order("1 2 3 4") + order("1 2 3 1 2 3 4"), "", "", 0},
		"back without a sign":      {false, order("1 2 3 1 2 3 4 1 2"), "", "lets the music go on with m. 1 after m. 4, where the signs on the page let it end", 3},
		"a part that is left out":  {false, order("2 3 4"), "", "begins with m. 2, the page with m. 1", 1},
		"a name that means none":   {false, order("1 2 9"), "", `names "#s9", which is no part of the music`, 0},
		"a da capo that is signed": {false, order("1 2 3 1 2 3 4 1"), capo, "", 0},
		"a step that is not":       {false, order("1 2 3 1 2 3 4 1 2"), capo, "lets the music end after m. 2, and no sign on the page leads there", 1},
	} {
		text := ordered(c.endings, c.orders, c.signs)
		if c.signs != "" {
			text = strings.Replace(text, fine, strings.Replace(fine, `<measure n="1">`,
				`<measure n="1"><repeatMark func="fine" staff="1" tstamp="4">Fine</repeatMark>`, 1), 1)
		}
		s := read(t, text)
		if c.want == "" {
			require.Empty(t, s.Oddities, name)
			continue
		}
		require.Len(t, s.Oddities, 1, name)
		require.Equal(t, score.OddOrder, s.Oddities[0].Kind, name)
		require.Contains(t, s.Oddities[0].Detail, c.want, name)
		require.Equal(t, c.measure, s.Oddities[0].Measure, name)
		require.NotZero(t, s.Oddities[0].Line, name)
	}
}

// A second ending without a first is never reached by the signs on its page.
func TestAnOrderOfASecondEndingAlone(t *testing.T) {
	note := `<note dur="1" pname="c" oct="4" accid.ges="n"/>`
	text := piano([3]string{note, note, ""}, [3]string{note, note, ""})
	text = strings.Replace(text, `<measure n="1">`, `<expansion plist="#e"/><ending xml:id="e" n="2"><measure n="1">`, 1)
	s := read(t, strings.Replace(text, foot, "</ending>"+foot, 1))
	i := slices.IndexFunc(s.Oddities, func(o score.Oddity) bool { return o.Kind == score.OddOrder })
	require.GreaterOrEqual(t, i, 0, s.Oddities)
	require.Contains(t, s.Oddities[i].Detail, "begins with m. 1, and the signs on the page let nothing of its section be played")
}

// Measures of a section that is a copy are no measures of what is copied: neither of an id in an order of playing, nor of
// what is found there.
func TestPlacesBesideACopiedSection(t *testing.T) {
	note := `<note dur="1" pname="c" oct="4" accid.ges="n"/>`
	gap := `<gap reason="lost"/>` + note
	text := piano([3]string{note, note, ""}, [3]string{note, note, ""}, [3]string{gap, note, ""}, [3]string{note, note, ""},
		[3]string{gap, note, ""})
	text = strings.NewReplacer(`<measure n="1">`, `<section xml:id="a"><measure xml:id="m1" n="1">`, `<measure n="3">`, `<measure xml:id="m3" n="3">`,
		`<measure n="4">`, `</section><section copyof="#a"/><measure n="4">`).Replace(text)
	gaps := func(text string) (out []int) {
		for _, o := range read(t, text).Oddities {
			if strings.Contains(o.Detail, "<gap>") {
				out = append(out, o.Measure)
			}
		}
		return out
	}
	require.Equal(t, []int{2, 7}, gaps(text), "three measures, three copies, two measures")
	forward := strings.Replace(text, `<section xml:id="a">`, `<section copyof="#a"/><section xml:id="a">`, 1)
	require.Equal(t, []int{5, 10}, gaps(forward), "a copy before what it means")
	order := func(ids string) (out []string) {
		for _, o := range read(t, strings.Replace(text, `<section xml:id="a">`, `<expansion plist="`+ids+`"/><section xml:id="a">`, 1)).Oddities {
			if o.Kind == score.OddOrder {
				out = append(out, fmt.Sprint(o.Measure, o.Detail[:strings.Index(o.Detail, ", where")]))
			}
		}
		return out
	}
	require.Equal(t, []string{"0an order of playing (<expansion>) lets the music end after m. 1"}, order("#m1"))
}

// Barlines in a measure, and what a chord or a note says itself of ties that ring on, slides, slurs, fermatas and ornaments,
// are read (MEI 5.1: barLine, att.lvPresent, att.glissPresent, att.slurPresent, att.fermataPresent, att.ornamPresent).
func TestSignsAtNotesAndInLayers(t *testing.T) {
	low := `<note dur="1" pname="c" oct="3" accid.ges="n"/>`
	items := func(upper string) (out []string) {
		s := read(t, piano([3]string{upper, low, ""}))
		for _, i := range s.Items {
			switch i.Kind {
			case score.ItemBarline, score.ItemLetRing, score.ItemFermata, score.ItemOrnament, score.ItemGlissando:
				out = append(out, fmt.Sprint(i.Reading, " ", i.Onset))
			}
		}
		for range s.SlurSpans() {
			out = append(out, "slur")
		}
		for _, o := range s.Oddities {
			out = append(out, o.Detail)
		}
		return out
	}
	c := func(more string) string { return `<note dur="2" pname="c" oct="5"` + more + `/>` }
	chord := func(more string) string {
		return `<chord dur="2"` + more + `><note pname="c" oct="5"/><note pname="e" oct="5"/></chord>`
	}
	for _, x := range []struct {
		upper string
		want  string
	}{
		{c("") + `<barLine form="dashed"/>` + c(""), "dashed barline 2"},
		{c("") + `<barLine form="rptend"/>` + c(""), "a sign of repetition stands within the measure"},
		{c("") + `<divLine/>` + c(""), "a <divLine> stands among the notes"},
		{c("") + c(` lv="true"`), "let ring"},
		{c("") + chord(` lv="true"`), "let ring"},
		{c(` gliss="i"`) + c(` gliss="t"`), "glissando"},
		{c(` gliss="i"`) + c(""), "a glissando begins here and does not end"},
		{chord(` slur="i1"`) + chord(` slur="t1"`), "slur"},
		{chord(` fermata="above"`) + c(""), "fermata"},
		{chord(` ornam="t"`) + c(""), "trill"},
		{chord(` ornam="A"`) + c(""), `the ornament "A" at the note`},
	} {
		require.Contains(t, strings.Join(items(x.upper), "\n"), x.want, x.upper)
	}
	require.Empty(t, items(c("")+c("")))
}

// A breath between notes, as Verovio writes those of MusicXML, belongs to the note before it.
func TestBreathsBetweenNotes(t *testing.T) {
	notes := `<note dur="2" pname="c" oct="5" accid.ges="n"/><note dur="2" pname="d" oct="5"/>`
	s := read(t, piano([3]string{notes, notes, `<breath staff="1" tstamp="2.9"/>`}))
	require.Empty(t, s.Oddities)
	var at []int
	for _, i := range s.Items {
		if strings.Contains(i.Reading, "breath") {
			at = append(at, i.Note)
		}
	}
	require.Equal(t, []int{0}, at)
	s = read(t, piano([3]string{notes, notes, ""}, [3]string{notes, notes, `<reh staff="1"><rend>B</rend></reh>`}))
	require.Empty(t, s.Oddities, "a letter of a rehearsal stands where its measure begins")
	require.Equal(t, score.ItemRehearsal, s.Items[len(s.Items)-1].Kind)
	s = read(t, piano([3]string{notes, `<mRest/>`, `<breath staff="2" tstamp="2.9"/>`}))
	require.Len(t, s.Oddities, 1)
}

// Ties are drawn where pages draw the score: MusicXML has them twice, as they sound and as they look (MusicXML 4.0, tie and
// tied).
func TestTiesAreDrawn(t *testing.T) {
	note := `<note dur="1" pname="c" oct="5" accid.ges="n" xml:id="%s"/>`
	text := piano([3]string{fmt.Sprintf(note, "a"), `<mRest/>`, `<tie startid="#a" endid="#b"/>`}, [3]string{fmt.Sprintf(note, "b"), `<mRest/>`, ""})
	doc, s, _ := open(t, "t.mei", []byte(text))
	require.Equal(t, 2, s.Notes[0].TiedTo, "behind the rest of the other staff")
	require.Empty(t, s.Oddities)
	drawn, err := mei.Partwise(doc, mei.DefaultLimits())
	require.NoError(t, err)
	require.Contains(t, drawn, `<tied type="start"/>`)
	require.Contains(t, drawn, `<tied type="stop"/>`)
}

// A key of signs of its own is drawn: each of its letters needs its alteration (MusicXML 4.0, key-alter).
func TestKeysOfTheirOwnAreDrawn(t *testing.T) {
	text := piano([3]string{`<keySig><keyAccid pname="b" accid="f"/><keyAccid pname="f" accid="s"/></keySig><note dur="1" pname="b" oct="4"/>`, `<mRest/>`, ""})
	doc, s, _ := open(t, "t.mei", []byte(text))
	require.Equal(t, "Bb4", s.Notes[0].Pitch.String())
	drawn, err := mei.Partwise(doc, mei.DefaultLimits())
	require.NoError(t, err)
	require.Contains(t, drawn, `<key-step>B</key-step><key-alter>-1</key-alter><key-step>F</key-step><key-alter>1</key-alter>`)
}
