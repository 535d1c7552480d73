package musicxml_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

const head = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`

// attributes of a first measure: two staves, four divisions a quarter, 4/4.
const attributes = `<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`

// piano wraps measures into a score of one part.
func piano(measures ...string) string {
	var b strings.Builder
	b.WriteString(head)
	for i, m := range measures {
		if !strings.HasPrefix(m, "<measure") {
			m = fmt.Sprintf(`<measure number="%d">%s</measure>`, i+1, m)
		}
		b.WriteString(m)
	}
	return b.String() + "</part></score-partwise>"
}

func try(text string) (*score.Score, error) {
	doc, err := source.Open("t.musicxml", []byte(text), source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	return s, err
}

func read(t *testing.T, text string) *score.Score {
	t.Helper()
	s, err := try(text)
	require.NoError(t, err)
	return s
}

// n writes a note: "C4", "F#5", "r" for a rest, "." for a chord note before it.
func n(pitch string, duration int, more ...string) string {
	chord := ""
	if strings.HasPrefix(pitch, ".") {
		chord, pitch = "<chord/>", pitch[1:]
	}
	inside := "<rest/>"
	if pitch != "r" {
		alter := ""
		if len(pitch) == 3 {
			alter = map[byte]string{'#': "<alter>1</alter>", 'b': "<alter>-1</alter>"}[pitch[1]]
		}
		inside = fmt.Sprintf("<pitch><step>%c</step>%s<octave>%c</octave></pitch>", pitch[0], alter, pitch[len(pitch)-1])
	}
	return fmt.Sprintf("<note>%s%s<duration>%d</duration>%s</note>", chord, inside, duration, strings.Join(more, ""))
}

func in(voice, staff int) string {
	return fmt.Sprintf("<voice>%d</voice><staff>%d</staff>", voice, staff)
}

func grace(pitch, more string) string {
	return fmt.Sprintf("<note><grace/><pitch><step>%c</step><octave>%c</octave></pitch>%s</note>", pitch[0], pitch[1], more)
}

func notations(inside string) string { return "<notations>" + inside + "</notations>" }

// onsets prints "midi@onset" of every pitched note.
func onsets(s *score.Score) string {
	var out []string
	for i := range s.Notes {
		if s.Notes[i].Kind == score.Pitched {
			out = append(out, fmt.Sprintf("%d@%s", s.Notes[i].Midi, s.Notes[i].Onset))
		}
	}
	return strings.Join(out, " ")
}

func kinds(s *score.Score) string {
	var out []string
	for _, o := range s.Oddities {
		out = append(out, string(o.Kind))
	}
	return strings.Join(out, " ")
}

func TestTime(t *testing.T) {
	for name, c := range map[string]struct{ text, want, odd string }{
		"chords take the onset of their first note": {piano(attributes + n("C4", 8) + n(".E4", 8) + n("G4", 8)), "60@0 64@0 67@2", ""},
		"backup and forward":                        {piano(attributes + n("C4", 16) + "<backup><duration>16</duration></backup><forward><duration>4</duration></forward>" + n("E3", 12)), "60@0 52@1", ""},
		"changing divisions":                        {piano(attributes+n("C4", 16), "<attributes><divisions>6</divisions></attributes>"+n("C4", 2)+n("D4", 2)+n("E4", 2)+n("F4", 18)), "60@0 60@0 62@1/3 64@2/3 65@1", ""},
		"a backup beyond the beginning":             {piano(attributes + n("C4", 16) + "<backup><duration>40</duration></backup>" + n("E3", 16)), "60@0 52@0", "backup"},
		"a chord note longer than its first":        {piano(attributes + n("C4", 8) + n(".E4", 16) + n("G4", 8)), "60@0 64@0 67@2", ""},
		"decimal durations":                         {piano(attributes + strings.Replace(n("C4", 0), ">0<", ">1.5<", 1) + n("D4", 14) + strings.Replace(n("E4", 0), ">0<", ">0.5<", 1)), "60@0 62@3/8 64@31/8", ""},
		"a duration that is none":                   {piano(attributes + strings.Replace(n("C4", 0), ">0<", ">abc<", 1) + n("D4", 16)), "60@0 62@0", "value"},
		"divisions of zero stay as they were":       {piano(attributes+n("C4", 16), "<attributes><divisions>0</divisions></attributes>"+n("D4", 16)), "60@0 62@0", "value"},
	} {
		s := read(t, c.text)
		require.Equal(t, c.want, onsets(s), name)
		require.Equal(t, c.odd, kinds(s), name)
	}
}

func TestGraceNotes(t *testing.T) {
	s := read(t, piano(attributes+grace("D4", "")+grace("E4", "")+n("C4", 12)+n("F4", 4)+grace("G4", "")))
	require.Equal(t, []int{1, 2, 0, 0, 1}, []int{s.Notes[0].Grace, s.Notes[1].Grace, s.Notes[2].Grace, s.Notes[3].Grace, s.Notes[4].Grace})
	require.Equal(t, "62@0 64@0 60@0 65@3 67@4", onsets(s))
	require.False(t, s.Notes[1].GraceAfter)
	require.True(t, s.Notes[4].GraceAfter, "nothing follows: it belongs to the note before")
	s = read(t, piano(attributes+strings.Replace(grace("D4", ""), "<grace/>", `<grace slash="yes"/>`, 1)+strings.Replace(grace("F4", ""), "<grace/>", "<grace/><chord/>", 1)+n("C4", 16)))
	require.True(t, s.Notes[0].Slashed)
	require.Equal(t, 1, s.Notes[1].Grace, "a chord of grace notes is played at once")
}

func TestTies(t *testing.T) {
	start, stop := `<tie type="start"/>`, `<tie type="stop"/>`
	for name, c := range map[string]struct {
		text string
		from []int
		odd  string
	}{
		"over the barline":                      {piano(attributes+n("C4", 16, start), n("C4", 16, stop)), []int{-1, 0}, ""},
		"from voice to voice and staff":         {piano(attributes+n("C4", 16, start, in(1, 1)), n("C4", 16, stop, in(5, 2))), []int{-1, 0}, ""},
		"another spelling":                      {piano(attributes+n("C#4", 16, start), n("Db4", 16, stop)), []int{-1, 0}, ""},
		"three in a row":                        {piano(attributes+n("C4", 8, start)+n("C4", 8, stop, start), n("C4", 16, stop)), []int{-1, 0, 1}, ""},
		"given by tied alone":                   {piano(attributes+n("C4", 16, notations(`<tied type="start"/>`)), n("C4", 16, notations(`<tied type="stop"/>`))), []int{-1, 0}, ""},
		"starts and leads nowhere":              {piano(attributes+n("C4", 16, start), n("D4", 16)), []int{-1, -1}, "tie"},
		"arrives from nowhere counts as struck": {piano(attributes+n("C4", 16), n("D4", 16, stop)), []int{-1, -1}, "tie"},
		"the same voice is preferred":           {piano(attributes+n("C4", 16, start, in(1, 1))+"<backup><duration>16</duration></backup>"+n("C4", 16, start, in(2, 1)), n("C4", 16, stop, in(2, 1))+"<backup><duration>16</duration></backup>"+n("C4", 16, stop, in(1, 1))), []int{-1, -1, 1, 0}, ""},
	} {
		s := read(t, c.text)
		var from []int
		for i := range s.Notes {
			from = append(from, s.Notes[i].TiedFrom)
			if f := s.Notes[i].TiedFrom; f >= 0 {
				require.Equal(t, i, s.Notes[f].TiedTo, name)
			}
		}
		require.Equal(t, c.from, from, name)
		require.Equal(t, c.odd, kinds(s), name)
	}
}

func TestMeasures(t *testing.T) {
	pickup := `<measure number="0" implicit="yes">` + attributes + n("C4", 4) + "</measure>"
	s := read(t, piano(pickup, n("C4", 16), n("C4", 12)))
	require.Empty(t, kinds(s), "a pickup, and a last measure that makes up for it")
	require.Equal(t, []string{"0", "1", "5"}[1], "1")
	require.Equal(t, score.Whole(1), s.Measures[1].Start)

	s = read(t, piano(attributes+n("C4", 16), n("C4", 12), n("C4", 16), n("C4", 16)))
	require.Equal(t, "measure-length", kinds(s))
	require.Equal(t, 1, s.Oddities[0].Measure)

	split := piano(attributes+n("C4", 16), n("C4", 8)+`<barline location="right"><repeat direction="backward"/></barline>`, n("C4", 8), n("C4", 16))
	s = read(t, split)
	require.Empty(t, kinds(s), "a measure split at a repeat")
	require.True(t, s.Measures[1].Repeat.Backward)
	require.Equal(t, 2, s.Measures[1].Repeat.Times)

	voltas := piano(attributes+n("C4", 16),
		`<barline location="left"><ending number="1" type="start"/></barline>`+n("C4", 16)+`<barline location="right"><ending number="1" type="stop"/><repeat direction="backward"/></barline>`,
		`<barline location="left"><ending number="2, 3" type="start"/></barline>`+n("C4", 16)+`<barline location="right"><ending number="2, 3" type="discontinue"/></barline>`, n("C4", 16))
	s = read(t, voltas)
	require.Equal(t, [][]int{nil, {1}, {2, 3}, nil}, [][]int{s.Measures[0].Endings, s.Measures[1].Endings, s.Measures[2].Endings, s.Measures[3].Endings})
}

func TestMetres(t *testing.T) {
	for text, want := range map[string]string{
		`<time><beats>6</beats><beat-type>8</beat-type></time>`:                                         "6/8 3 3/2",
		`<time><beats>3</beats><beat-type>8</beat-type></time>`:                                         "3/8 3/2 1/2",
		`<time symbol="cut"><beats>2</beats><beat-type>2</beat-type></time>`:                            "C| 4 2",
		`<time symbol="common"><beats>4</beats><beat-type>4</beat-type></time>`:                         "C 4 1",
		`<time><beats>12</beats><beat-type>16</beat-type></time>`:                                       "12/16 3 3/4",
		`<time><beats>2+3</beats><beat-type>8</beat-type></time>`:                                       "2+3/8 5/2 1/2",
		`<time><beats>3</beats><beat-type>4</beat-type><beats>2</beats><beat-type>8</beat-type></time>`: "3/4+2/8 4 1/2",
		`<time><senza-misura/></time>`:                                                                  "senza misura 0 0",
		`<time><beats>0</beats><beat-type>4</beat-type></time>`:                                         " 0 0",
	} {
		s := read(t, piano("<attributes><divisions>4</divisions>"+text+"</attributes>"+n("C4", 16)))
		m := s.Measures[0]
		require.Equal(t, want, fmt.Sprintf("%s %s %s", m.Beats, m.Nominal, m.BeatUnit), text)
	}
}

func TestCrossStaffVoicesKeepTheirHome(t *testing.T) {
	s := read(t, piano(attributes+n("C5", 16, in(1, 1))+"<backup><duration>16</duration></backup>"+
		n("C3", 4, in(5, 2), `<beam number="1">begin</beam>`)+n("G3", 4, in(5, 2), `<beam number="1">continue</beam>`)+n("E4", 4, in(5, 1), `<beam number="1">end</beam>`)+n("C3", 4, in(5, 2))))
	require.Equal(t, []int{1, 2, 2, 2, 2}, homes(s))
	require.Equal(t, s.Notes[1].BeamGroup, s.Notes[3].BeamGroup)
	require.NotZero(t, s.Notes[1].BeamGroup)
	require.Zero(t, s.Notes[4].BeamGroup)

	// Exporters that call every voice 1: the stretch decides.
	s = read(t, piano(attributes+n("C5", 16, in(1, 1))+"<backup><duration>16</duration></backup>"+n("C3", 16, in(1, 2))))
	require.Equal(t, []int{1, 2}, homes(s))
}

func homes(s *score.Score) []int {
	var out []int
	for i := range s.Notes {
		out = append(out, s.Notes[i].HomeStaff)
	}
	return out
}

func TestSoundingPitch(t *testing.T) {
	s := read(t, piano(`<attributes><divisions>4</divisions><transpose><chromatic>-2</chromatic><octave-change>-1</octave-change></transpose></attributes>`+n("C5", 16)))
	require.Equal(t, 72-14, s.Notes[0].Midi)
	require.Equal(t, "C5", s.Notes[0].Pitch.String(), "as written")

	// Pitches in MusicXML are sounding already: an octave sign changes how they
	// are drawn, not what they are (MusicXML 4.0, element octave-shift).
	s = read(t, piano(attributes+`<direction><direction-type><octave-shift type="down" size="8" number="1"/></direction-type></direction>`+n("C6", 16)+`<direction><direction-type><octave-shift type="stop" size="8" number="1"/></direction-type></direction>`))
	require.Equal(t, 84, s.Notes[0].Midi)
	require.Empty(t, kinds(s))
	s = read(t, piano(attributes+`<direction><direction-type><octave-shift type="down" size="15"/></direction-type></direction>`+n("C6", 16)))
	require.Equal(t, 24, s.Directions[0].Semitones)

	s = read(t, piano(attributes+strings.Replace(n("C4", 16), "<step>C", "<step>H", 1)))
	require.Equal(t, "value", kinds(s))
	require.Equal(t, score.Unpitched, s.Notes[0].Kind)
}

func TestWhatIsLeftAlone(t *testing.T) {
	cue := strings.Replace(n("C4", 4), "<note>", "<note><cue/>", 1)
	hidden := strings.Replace(n("C4", 4), "<note>", `<note print-object="no">`, 1)
	s := read(t, piano(attributes+cue+hidden+n("C4", 8)))
	require.Equal(t, []bool{true, false, false}, []bool{s.Notes[0].Cue, s.Notes[1].Cue, s.Notes[2].Cue})
	require.True(t, s.Notes[1].Hidden)

	s = read(t, piano(`<attributes><divisions>4</divisions><staves>3</staves><staff-details number="1"><staff-type>ossia</staff-type></staff-details></attributes>`+n("C5", 16, in(1, 1))+"<backup><duration>16</duration></backup>"+n("C5", 16, in(2, 2))))
	require.Equal(t, []bool{true, false}, []bool{s.Notes[0].Cue, s.Notes[1].Cue})

	unpitched := strings.Replace(n("r", 16), "<rest/>", "<unpitched/>", 1)
	s = read(t, piano(attributes+unpitched))
	require.Equal(t, score.Unpitched, s.Notes[0].Kind)
}

func TestTempoMarks(t *testing.T) {
	metronome := func(inside string) string {
		return "<direction><direction-type><metronome>" + inside + "</metronome></direction-type></direction>"
	}
	for text, want := range map[string]int64{
		metronome("<beat-unit>quarter</beat-unit><per-minute>96</per-minute>"):                            96000,
		metronome("<beat-unit>half</beat-unit><per-minute>60</per-minute>"):                               120000,
		metronome("<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute>"):            90000,
		metronome("<beat-unit>eighth</beat-unit><per-minute>ca. 100</per-minute>"):                        50000,
		metronome("<beat-unit>quarter</beat-unit><per-minute>60-72</per-minute>"):                         66000,
		metronome("<beat-unit>quarter</beat-unit><per-minute>72.5</per-minute>"):                          72500,
		`<direction><direction-type><words>Vivo</words></direction-type><sound tempo="132"/></direction>`: 132000,
		`<sound tempo="80"/>`: 80000,
	} {
		s := read(t, piano(attributes+text+n("C4", 16)))
		var got int64
		for _, d := range s.Directions {
			got = max(got, d.MilliQuarters)
		}
		require.Equal(t, want, got, text)
	}
	equal := metronome("<beat-unit>quarter</beat-unit><beat-unit>eighth</beat-unit>")
	require.Empty(t, read(t, piano(attributes+equal+n("C4", 16))).Directions, "one note value set equal to another is no tempo")
}

func TestDirectionsKeepTheirPlace(t *testing.T) {
	d := func(kind, rest string) string {
		return "<direction placement=\"above\"><direction-type>" + kind + "</direction-type>" + rest + "</direction>"
	}
	s := read(t, piano(attributes+n("C4", 4)+d(`<pedal type="start"/>`, "<offset>2</offset><staff>2</staff>")+d(`<pedal type="stop"/>`, "<offset>-2</offset>")+
		d(`<dynamics><f/><other-dynamics>sub</other-dynamics></dynamics>`, "<voice>5</voice>")+d(`<wedge type="crescendo"/>`, "")+n("C4", 12)))
	require.Equal(t, score.Frac(3, 2), s.Directions[0].Onset)
	require.Equal(t, 2, s.Directions[0].Staff)
	require.True(t, s.Directions[0].Start)
	require.Equal(t, score.Frac(1, 2), s.Directions[1].Onset)
	require.Equal(t, "fsub", s.Directions[2].Text)
	require.Equal(t, "5", s.Directions[2].Voice)
	require.True(t, s.Directions[2].Above)
	require.Equal(t, score.Wedge, s.Directions[3].Kind)
}

// Hand signs of four languages (FACTS §5.5).
func TestHandSigns(t *testing.T) {
	for text, want := range map[string]score.Hand{
		"m.d.": score.Right, "m.s.": score.Left, "m. d.": score.Right, "M.S.": score.Left, "md": score.Right, "(m.s.)": score.Left, "[m.d.]": score.Right,
		"m.g.": score.Left, "main gauche": score.Left, "main droite": score.Right,
		"r.h.": score.Right, "l.h.": score.Left, "R.H.": score.Right, "L. H.": score.Left, "right hand": score.Right, "left hand": score.Left,
		"r.H.": score.Right, "l.H.": score.Left, "rechte Hand": score.Right, "linke Hand": score.Left,
		"mano destra": score.Right, "mano  sinistra": score.Left,
		"m.v.": score.NoHand, "mezza voce": score.NoHand, "l.h. sempre": score.NoHand, "dim.": score.NoHand, "": score.NoHand, "mf": score.NoHand, "rh.": score.Right,
	} {
		require.Equal(t, want, musicxml.HandSign(text), text)
	}
	s := read(t, piano(attributes+"<direction><direction-type><words>m.s.</words></direction-type><staff>1</staff></direction>"+n("C4", 16)))
	require.Equal(t, score.HandSign, s.Directions[0].Kind)
	require.Equal(t, score.Left, s.Directions[0].Hand)
}

func TestNotations(t *testing.T) {
	s := read(t, piano(attributes+
		n("C4", 4, notations(`<slur type="start" number="2" placement="above"/><articulations><staccato/><tenuto/></articulations><fermata/>`))+
		n("D4", 4, notations(`<slur type="stop" number="2"/><arpeggiate number="1" direction="down"/>`))+
		n("E4", 4, notations(`<ornaments><trill-mark/><accidental-mark>sharp</accidental-mark><wavy-line type="start"/></ornaments><non-arpeggiate type="top"/>`))+
		n("F4", 4, notations(`<ornaments><tremolo type="single">3</tremolo></ornaments><glissando type="start"/>`))))
	require.Equal(t, []score.Slur{{Number: 2, Start: true, Above: true}}, s.Notes[0].Slurs)
	require.Equal(t, score.Staccato|score.Tenuto|score.Fermata, s.Notes[0].Marks)
	require.Equal(t, []score.Slur{{Number: 2}}, s.Notes[1].Slurs)
	require.Equal(t, score.Arpeggio{Rolled: true, Number: 1, Down: true}, s.Notes[1].Arpeggio)
	require.Equal(t, []score.Ornament{{Kind: "trill", Accidental: 1, HasAccidental: true}, {Kind: "wavy-line"}}, s.Notes[2].Ornaments)
	require.True(t, s.Notes[2].Arpeggio.NonRolled)
	require.Equal(t, 3, s.Notes[3].Tremolo.Strokes)
	require.NotZero(t, s.Notes[3].Marks&score.Glissando)
}

func TestFingerings(t *testing.T) {
	s := read(t, piano(attributes+n("C4", 16, notations(`<technical><fingering placement="below" font-style="italic" font-weight="bold" font-size="7.5" color="#FF0000">4</fingering><fingering substitution="yes">3</fingering><fingering alternate="yes">2</fingering></technical>`),
		`<notations print-object="no"><level>editorial</level><technical><fingering>5</fingering></technical></notations>`)))
	ind := s.Notes[0].Indications
	require.Len(t, ind, 4)
	require.Equal(t, score.Style{Italic: true, Bold: true, Size: "7.5", Colour: "#FF0000"}, ind[0].Style)
	require.Equal(t, score.Below, ind[0].Placement)
	require.True(t, ind[1].Substitution)
	require.True(t, ind[2].Alternate)
	require.True(t, ind[3].Hidden)
	require.Equal(t, "editorial", ind[3].Level)

	for text, want := range map[string]string{
		"3": "[3]", " 2 ": "[2]", "4-3": "[4 3]", "4–3": "[4 3]", "3 4": "[3 4]", "1/2": "[1 2]", "5-4-5": "[5 4 5]", "(3)": "[3] parentheses", "[2]": "[2] brackets",
		"３": "[3]", "\uED13": "[3]", "\uED82": "[2]", "\uED28\uED12\uED29": "[2] parentheses",
		"+": "[] old", "+-1": "[] old", "6": "[]", "0": "[]", "33": "[]", "a": "[]", "": "[]", "3a": "[]",
	} {
		s := read(t, piano(attributes+n("C4", 16, notations("<technical><fingering>"+text+"</fingering></technical>"))))
		i := s.Notes[0].Indications[0]
		got := fmt.Sprint(i.Fingers)
		if i.Style.Enclosure != "" {
			got += " " + string(i.Style.Enclosure)
		}
		if i.Old {
			got += " old"
		}
		require.Equal(t, want, got, "%q", text)
	}
}

func TestParts(t *testing.T) {
	list := func(parts ...string) string {
		b := `<score-partwise version="4.0"><part-list>`
		for i, p := range parts {
			b += fmt.Sprintf(`<score-part id="P%d"><part-name>%s</part-name></score-part>`, i+1, p)
		}
		b += "</part-list>"
		for i, p := range parts {
			staves := "<staves>1</staves>"
			if p == "Piano" || p == "Harp" || p == "Mezzo-soprano" || p == "" {
				staves = "<staves>2</staves>"
			}
			b += fmt.Sprintf(`<part id="P%d"><measure number="1"><attributes><divisions>4</divisions>%s</attributes>%s</measure></part>`, i+1, staves, n("C4", 16))
		}
		return b + "</score-partwise>"
	}
	for text, want := range map[string]string{
		list("Voice", "Piano"): "false true",
		list("Piano"):          "true",
		list("Music"):          "true",
		list("Harp"):           "false",
		list("Harp", "Piano"):  "false true",
		list("Violin", ""):     "false true",
		list("Piano right hand", "Piano left hand"): "true true",
		list("Mezzo-soprano", "Piano"):              "false true",
		list("Piano, ossia", "Piano"):               "false true",
	} {
		s := read(t, text)
		var got []string
		for _, p := range s.Parts {
			got = append(got, fmt.Sprint(p.Keyboard))
		}
		require.Equal(t, want, strings.Join(got, " "), text)
	}
	s := read(t, list("Piano right hand", "Piano left hand"))
	require.Equal(t, [2]score.Hand{score.Right, score.Left}, [2]score.Hand{s.Parts[0].Hand, s.Parts[1].Hand})
}
