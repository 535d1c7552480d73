package mei_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

func q(num, den int64) score.Fraction { return score.Frac(num, den) }

// note finds a note by its id.
func note(t *testing.T, s *score.Score, id string) *score.Note {
	t.Helper()
	for i := range s.Notes {
		if s.Notes[i].ID == id {
			return &s.Notes[i]
		}
	}
	t.Fatalf("there is no note %s", id)
	return nil
}

// fingers spells the digits of a note: "5→4" a change, "3|4" an alternative.
func fingers(n *score.Note) string {
	var b strings.Builder
	for _, d := range n.Indications {
		switch {
		case d.Substitution:
			b.WriteString("→")
		case d.Alternate:
			b.WriteString("|")
		case b.Len() > 0:
			b.WriteString(" ")
		}
		b.WriteString(d.Text)
	}
	return b.String()
}

// The example has one of most things that a scholarly edition encodes; what each means is from the MEI Guidelines 5.1.
func TestAScholarlyEdition(t *testing.T) {
	s := read(t, string(example(t)))
	require.Equal(t, "mei", s.Format)
	require.Equal(t, "5.1", s.Version)
	require.Equal(t, "Study in all signs", s.Title)
	require.Equal(t, "Ottoline Brambleworth (invented)", s.Composer)
	require.Empty(t, s.Oddities)
	require.Len(t, s.Parts, 1)
	require.Equal(t, 2, s.Parts[0].Staves)
	require.True(t, s.Parts[0].Keyboard)

	require.Len(t, s.Measures, 4)
	require.True(t, s.Measures[0].Implicit, "an upbeat")
	require.Equal(t, q(1, 1), s.Measures[0].Length)
	require.Equal(t, "3/4", s.Measures[1].Beats)
	require.Equal(t, 2, s.Measures[1].Fifths)
	require.True(t, s.Measures[1].Repeat.Forward)
	require.True(t, s.Measures[2].Repeat.Backward)
	require.Equal(t, []int{1}, s.Measures[2].Endings)
	require.Equal(t, []int{2}, s.Measures[3].Endings)

	require.Equal(t, "F#5", note(t, s, "a1").Pitch.String())
	require.Equal(t, score.Staccato, note(t, s, "a1").Marks)
	require.Equal(t, note(t, s, "a1").BeamGroup, note(t, s, "a2").BeamGroup)
	require.Equal(t, q(4, 3), note(t, s, "a4").Onset)
	require.Equal(t, score.Tuplet{Actual: 3, Normal: 2}, note(t, s, "a4").Tuplet)
	require.Equal(t, []int{1, 2}, []int{note(t, s, "g1").Grace, note(t, s, "g2").Grace})
	require.Equal(t, q(2, 1), note(t, s, "a6").Onset)
	require.Equal(t, []score.Slur{{Number: 1, Start: true, Above: true}}, note(t, s, "a1").Slurs)
	require.Equal(t, []score.Ornament{{Kind: "trill", HasAccidental: true}}, note(t, s, "a6").Ornaments)
	require.Equal(t, q(1, 1), note(t, s, "v1").Onset, "behind a space")
	require.Equal(t, "v2", s.Notes[note(t, s, "v1").TiedTo].ID)
	for _, id := range []string{"b1", "b2", "b3"} {
		require.True(t, note(t, s, id).Arpeggio.Rolled, id)
		require.Equal(t, q(3, 1), note(t, s, id).Duration, id)
	}
	require.Equal(t, []int{2, 1}, []int{note(t, s, "x2").HomeStaff, note(t, s, "x2").Staff}, "a note that crosses over")
	require.NotZero(t, note(t, s, "k1").Marks&score.Fermata)

	require.Equal(t, "2", fingers(note(t, s, "a1")))
	require.Equal(t, "5→4", fingers(note(t, s, "a6")))
	require.Equal(t, "3|4", fingers(note(t, s, "a3")))
	require.Equal(t, []string{"5", "2", "1"}, []string{fingers(note(t, s, "b1")), fingers(note(t, s, "b2")), fingers(note(t, s, "b3"))},
		"over each other at a chord")
	require.True(t, note(t, s, "b1").Indications[0].Style.Italic)
	require.Equal(t, "3", fingers(note(t, s, "k1")), "supplied by the editor")
	require.Equal(t, "1", fingers(note(t, s, "x1")), "the lemma's")
	require.Equal(t, "D5", note(t, s, "k1").Pitch.String(), "as corrected")
	require.Equal(t, "E5", note(t, s, "l1").Pitch.String())
}

// A source is chosen by its id, its label or a siglum: then its readings are the text.
func TestTheReadingsOfASource(t *testing.T) {
	for siglum, want := range map[string]string{"src-A": "1", "E1": "2", "src-E": "2", "unknown": "1"} {
		doc, err := source.Open("t.mei", example(t), source.DefaultLimits())
		require.NoError(t, err)
		s, _, err := mei.Read(doc, mei.DefaultLimits(), mei.Options{Source: siglum})
		require.NoError(t, err)
		require.Equal(t, want, fingers(note(t, s, "x1")), siglum)
		if want == "2" {
			require.Equal(t, q(2, 1), note(t, s, "r2").Onset, siglum)
		}
	}
}

// Whose a digit is, @resp says, at the digit or around it, by the role of whom it names; what is supplied is the editor's.
func TestWhoIsResponsibleForADigit(t *testing.T) {
	text := piano([3]string{`<note xml:id="a" dur="4" pname="c" oct="5" accid.ges="n"/><note xml:id="b" dur="4" pname="d" oct="5"/>` +
		`<note xml:id="c" dur="4" pname="e" oct="5"/><note xml:id="d" dur="4" pname="g" oct="5"/>`, `<mRest/>`,
		`<fing startid="#a" resp="#nobody">1</fing><fingGrp form="subst" resp="#ed" startid="#b"><fing>2</fing><fing>3</fing></fingGrp>` +
			`<supplied><fing startid="#c">4</fing></supplied><fing startid="#d" resp="#none">5</fing>`})
	text = strings.Replace(text, `<persName role="composer">Nobody</persName>`,
		`<persName xml:id="nobody" role="composer">Nobody</persName><persName xml:id="ed" role="editor">Somebody</persName>`, 1)
	s := read(t, text)
	for id, want := range map[string]score.Responsibility{
		"a": score.Composer, "b": score.Editor, "c": score.Editor, "d": score.Unattributed,
	} {
		for _, d := range note(t, s, id).Indications {
			require.Equal(t, want, d.Responsibility, id)
		}
	}
}

// MEI 4 spells key signatures and some others differently (release notes of MEI 5.0).
func TestMEI4(t *testing.T) {
	text := piano([3]string{`<note xml:id="n" dur="1" pname="c" oct="4" accid.ges="s"/>`, `<mRest/>`, ""})
	text = strings.NewReplacer(`meiversion="5.1"`, `meiversion="4.0.1"`, "keysig=", "key.sig=").Replace(text)
	s := read(t, text)
	require.Equal(t, 2, s.Measures[0].Fifths)
	require.Equal(t, "4.0.1", s.Version)
	require.Equal(t, 61, note(t, s, "n").Midi)
}

// Three notes of a tuplet whose ratio a sign tells, or the notes.
const three = `<note dur="4" pname="c" oct="4"/><note dur="4" pname="c" oct="4"/><note dur="4" pname="c" oct="4"/><note dur="2" pname="c" oct="4"/>`

// Metres that stand together add up, or take turns measure by measure (MEI 5.1, <meterSigGrp>).
func TestMetresThatStandTogether(t *testing.T) {
	for function, want := range map[string][]score.Fraction{
		"mixed": {q(7, 2), q(7, 2), q(7, 2)}, "alternating": {q(2, 1), q(3, 2), q(2, 1)}, "interchanging": {q(2, 1), q(2, 1), q(2, 1)},
	} {
		text := piano([3]string{`<mRest/>`, `<mRest/>`, ""}, [3]string{`<mRest/>`, `<mRest/>`, ""}, [3]string{`<mRest/>`, `<mRest/>`, ""})
		text = strings.Replace(text, ` meter.count="4" meter.unit="4">`,
			`><meterSigGrp func="`+function+`"><meterSig count="2" unit="4"/><meterSig count="3" unit="8"/></meterSigGrp>`, 1)
		s := read(t, text)
		require.Equal(t, want, []score.Fraction{s.Measures[0].Length, s.Measures[1].Length, s.Measures[2].Length}, function)
		require.Empty(t, s.Oddities, function)
	}
}

// A staff may be meant by its definition (@def), and two staves under one name are one part without a brace.
func TestStavesAndParts(t *testing.T) {
	text := piano([3]string{`<mRest/>`, `<mRest/>`, ""})
	text = strings.Replace(text, ` symbol="brace"`, "", 1)
	text = strings.Replace(text, `<staffDef n="2"`, `<staffDef xml:id="low" n="2"`, 1)
	text = strings.Replace(text, `<staff n="2">`, `<staff def="#low">`, 1)
	s := read(t, text)
	require.Len(t, s.Parts, 1)
	require.Equal(t, []any{"Piano", 2}, []any{s.Parts[0].Name, s.Parts[0].Staves})
	require.Contains(t, fails(t, strings.Replace(text, ` def="#low"`, "", 1)), "a staff does not say which one it is")
}

// What a measure may be written with, and at which onsets its notes then stand.
func TestTimeInALayer(t *testing.T) {
	for name, c := range map[string]struct {
		layer, signs string
		onsets       []score.Fraction
	}{
		"tuplet in a tuplet": {`<tuplet num="3" numbase="2"><note dur="4" pname="c" oct="4"/><tuplet num="3" numbase="2"><note dur="8" pname="c" oct="4"/>` +
			`<note dur="8" pname="c" oct="4"/><note dur="8" pname="c" oct="4"/></tuplet><note dur="4" pname="c" oct="4"/></tuplet><rest dur="2"/>`, "",
			[]score.Fraction{q(0, 1), q(2, 3), q(8, 9), q(10, 9), q(4, 3), q(2, 1)}},
		"numbers left out": {`<tuplet num="6"><note dur="8" pname="c" oct="4"/><note dur="8" pname="c" oct="4"/><note dur="8" pname="c" oct="4"/>` +
			`<note dur="8" pname="c" oct="4"/><note dur="8" pname="c" oct="4"/><note dur="8" pname="c" oct="4"/></tuplet><rest dur="2"/>`, "",
			[]score.Fraction{q(0, 1), q(1, 3), q(2, 3), q(1, 1), q(4, 3), q(5, 3), q(2, 1)}},
		"tuplet at the notes": {`<note dur="4" tuplet="i1" pname="c" oct="4"/><note dur="4" tuplet="m1" pname="c" oct="4"/><note dur="4" tuplet="t1" pname="c" oct="4"/><note dur="2" pname="c" oct="4"/>`, "",
			[]score.Fraction{q(0, 1), q(2, 3), q(4, 3), q(2, 1)}},
		"tuplet as a sign": {`<note xml:id="s1" dur="4" pname="c" oct="4"/><note dur="4" pname="c" oct="4"/><note xml:id="s3" dur="4" pname="c" oct="4"/><note dur="2" pname="c" oct="4"/>`,
			`<tupletSpan num="3" numbase="2" startid="#s1" endid="#s3"/>`, []score.Fraction{q(0, 1), q(2, 3), q(4, 3), q(2, 1)}},
		"tuplet as a sign from beat to beat": {three, `<tupletSpan staff="1" num="3" numbase="2" tstamp="1" tstamp2="0m+3"/>`,
			[]score.Fraction{q(0, 1), q(2, 3), q(4, 3), q(2, 1)}},
		"tuplet as a sign to its last note": {three, `<tupletSpan staff="1" layer="1" num="3" numbase="2" tstamp="1" tstamp2="0m+2.3333"/>`,
			[]score.Fraction{q(0, 1), q(2, 3), q(4, 3), q(2, 1)}},
		"numbers at the notes": {strings.Replace(three, `<note dur="4"`, `<note num="3" numbase="2" dur="4"`, 3), "",
			[]score.Fraction{q(0, 1), q(2, 3), q(4, 3), q(2, 1)}},
		"tremolo between notes": {`<fTrem beams="3"><note dur="2" pname="c" oct="4"/><note dur="2" pname="g" oct="4"/></fTrem><note dur="2" pname="c" oct="4"/>`, "",
			[]score.Fraction{q(0, 1), q(1, 1), q(2, 1)}},
		"tremolo on a note": {`<bTrem unitdur="32"><note dur="2" pname="c" oct="4"/></bTrem><note dur="2" pname="c" oct="4"/>`, "",
			[]score.Fraction{q(0, 1), q(2, 1)}},
		"dots": {`<note dur="4" dots="2" pname="c" oct="4"/><note dur="16" pname="c" oct="4"><dot/></note><note dur="4" dots="3" pname="c" oct="4"/>`, "",
			[]score.Fraction{q(0, 1), q(7, 4), q(17, 8)}},
		"ticks where values do not fill the measure": {`<note dur="8" dur.ppq="2" pname="c" oct="4"/><note dur="8" dur.ppq="2" pname="c" oct="4"/><note dur="8" dur.ppq="2" pname="c" oct="4"/>` +
			`<note dur="4" dur.ppq="6" pname="c" oct="4"/><note dur="2" dur.ppq="12" pname="c" oct="4"/>`, "",
			[]score.Fraction{q(0, 1), q(1, 3), q(2, 3), q(1, 1), q(2, 1)}},
		"ticks without a value": {`<space dur.ppq="6"/><note dur="4" dur.ppq="6" pname="c" oct="4"/><note dur="2" dur.ppq="12" pname="c" oct="4"/>`, "",
			[]score.Fraction{q(1, 1), q(2, 1)}},
	} {
		text := piano([3]string{c.layer, `<mRest/>`, c.signs})
		s := read(t, strings.NewReplacer(`lines="5"`, `lines="5" ppq="6"`, `oct="4"`, `oct="4" accid.ges="n"`).Replace(text))
		var onsets []score.Fraction
		for i := range s.Notes {
			if s.Notes[i].Staff == 1 {
				onsets = append(onsets, s.Notes[i].Onset)
			}
		}
		require.Equal(t, c.onsets, onsets, name)
		require.Equal(t, q(4, 1), s.Measures[0].Length, name)
		require.Empty(t, s.Oddities, name)
	}
}

// Where no note says how it sounds, key signature and accidentals in the measure are followed, and that is said once.
func TestPitchesOfADocumentWithoutGesturalAccidentals(t *testing.T) {
	bar := `<note xml:id="%1" dur="4" pname="f" oct="4"/><note xml:id="%2" dur="4" pname="f" oct="4" accid="n"/>` +
		`<note xml:id="%3" dur="4" pname="f" oct="4"/><note xml:id="%4" dur="4" pname="f" oct="5"/>`
	name := func(n string) string { return strings.ReplaceAll(bar, "%", n) }
	s := read(t, piano([3]string{name("a"), `<mRest/>`, ""}, [3]string{name("b"), `<mRest/>`, ""}))
	require.Equal(t, []int{66, 65, 65, 78}, []int{note(t, s, "a1").Midi, note(t, s, "a2").Midi, note(t, s, "a3").Midi, note(t, s, "a4").Midi})
	require.Equal(t, 66, note(t, s, "b1").Midi)
	require.Len(t, s.Oddities, 1)
	require.Contains(t, s.Oddities[0].Detail, "does not say how its notes sound")
}

// Notes under an octave line are written where they do not sound; in a document that says how notes sound they sound so.
func TestOctaveLines(t *testing.T) {
	for name, c := range map[string]struct {
		ges  string
		want []int
	}{"said of no note": {"", []int{84, 84, 72, 48}}, "said of one": {` oct.ges="6"`, []int{72, 84, 72, 48}}} {
		s := read(t, piano([3]string{`<note xml:id="a" dur="4" pname="c" oct="5"/><note xml:id="b" dur="4" pname="c" oct="5"` + c.ges + `/>` +
			`<note xml:id="c" dur="2" pname="c" oct="5"/>`, `<note xml:id="d" dur="1" pname="c" oct="3" accid.ges="n"/>`,
			`<octave dis="8" dis.place="above" startid="#a" endid="#b" staff="1"/>`}))
		require.Equal(t, c.want, []int{note(t, s, "a").Midi, note(t, s, "b").Midi, note(t, s, "c").Midi, note(t, s, "d").Midi}, name)
	}
}

// A copy is read as what it is a copy of, and takes digits by its place in time.
func TestCopies(t *testing.T) {
	text := piano(
		[3]string{`<layer xml:id="l" n="1"><note xml:id="a" dur="2" pname="c" oct="5" accid.ges="n"/><note xml:id="b" dur="2" pname="d" oct="5"/></layer>`, `<mRest/>`, ""},
		[3]string{`<layer n="1" copyof="#l"/>`, `<mRest/>`, `<fing tstamp="3" staff="1" place="above">2</fing>`})
	doc, s, layout := open(t, "t.mei", []byte(text))
	require.Len(t, s.Notes, 6)
	last := &s.Notes[4]
	require.Equal(t, "D5", last.Pitch.String())
	require.Equal(t, 1, last.Measure)
	require.Equal(t, "2", fingers(last))
	edits, err := layout.Splice(doc, score.Marking{Marks: []score.Mark{{Note: 3, Digits: []score.MarkDigit{{Text: "5"}}}}}, score.SpliceOptions{})
	require.NoError(t, err)
	marked, err := source.Apply(text, edits)
	require.NoError(t, err)
	s = read(t, marked)
	require.Equal(t, "5", fingers(&s.Notes[3]))
	require.Empty(t, s.Notes[0].Indications)
	for _, o := range s.Oddities {
		require.NotContains(t, o.Detail, "stands at two", "a copy has the id of what it is a copy of")
	}
}

// A document may have a prefix for all its names.
func TestNamesWithAPrefix(t *testing.T) {
	text := string(example(t))
	text = strings.NewReplacer("</", "</m:", "<?xml", "<?xml", "<", "<m:", "xmlns=", "xmlns:m=").Replace(text)
	text = strings.Replace(text, "<m:?xml", "<?xml", 1)
	doc, s, layout := open(t, "t.mei", []byte(text))
	require.Len(t, s.Notes, len(read(t, string(example(t))).Notes))
	require.Equal(t, "m", source.RootPrefix(text))
	marked := markAndTakeBack(t, doc, layout, everyNote(s))
	require.Contains(t, string(marked), "<m:fing ")
	require.NotContains(t, string(marked), "<fing ")
	_, again, _ := open(t, "t.mei", marked)
	require.Equal(t, "1", again.Edition.Fields["edition"])
}

// Music in other parts, and two hands that are parts of their own under a brace.
func TestParts(t *testing.T) {
	text := strings.Replace(piano([3]string{`<note dur="1" pname="c" oct="5"/>`, `<note dur="1" pname="c" oct="3"/>`, ""}),
		`<staffGrp symbol="brace">
              <label>Piano</label>
              <staffDef n="1" lines="5" clef.shape="G" clef.line="2"/>
              <staffDef n="2" lines="5" clef.shape="F" clef.line="4"/>`,
		`<staffGrp symbol="brace">
              <staffDef n="1" lines="5"><label>Right hand</label></staffDef>
              <staffDef n="2" lines="5"><label>Left hand</label></staffDef>`, 1)
	s := read(t, text)
	require.Len(t, s.Parts, 2)
	require.Equal(t, []score.Hand{score.Right, score.Left}, []score.Hand{s.Parts[0].Hand, s.Parts[1].Hand})
}

// The line of a trill goes up to the last note before its end in time (tstamp2 is where it ends, no note).
func TestTheLineOfATrill(t *testing.T) {
	s := read(t, piano([3]string{`<note xml:id="a" dur="4" pname="c" oct="5" accid.ges="n"/><note xml:id="b" dur="4" pname="c" oct="5" tie="i"/>` +
		`<note xml:id="c" dur="4" pname="c" oct="5" tie="t"/><note xml:id="d" dur="4" pname="e" oct="5"/>`, `<mRest/>`,
		`<trill startid="#a" tstamp2="0m+2" extender="true" staff="1"/><trill startid="#b" tstamp2="0m+4" extender="true" staff="1"/>`}))
	kinds := func(id string) (out []string) {
		for _, o := range note(t, s, id).Ornaments {
			out = append(out, o.Kind)
		}
		return out
	}
	require.Equal(t, []string{"trill", "wavy-line", "wavy-line"}, kinds("a"))
	require.Equal(t, []string{"trill", "wavy-line"}, kinds("b"))
	require.Equal(t, []string{"wavy-line"}, kinds("c"))
	require.Empty(t, kinds("d"))
}

// Groups of digits: changes and alternatives at a note, and the digits of a chord, which rise with the keys in the right
// hand and fall in the left, whichever way they are written (MEI Guidelines 5.1, fingGrp).
func TestGroupsOfDigits(t *testing.T) {
	chord := func(id string, oct int) string {
		var b strings.Builder
		for k, p := range []string{"c", "e", "g"} {
			fmt.Fprintf(&b, `<note xml:id="%s%d" pname="%s" oct="%d" accid.ges="n"/>`, id, k, p, oct)
		}
		return `<chord xml:id="` + id + `" dur="4">` + b.String() + `</chord>`
	}
	upper := chord("a", 5) + chord("b", 5) + `<note xml:id="c" dur="4" pname="c" oct="5"/><note xml:id="d" dur="4" pname="c" oct="5"/>`
	s := read(t, piano([3]string{upper, chord("e", 3) + `<note xml:id="f" dur="2" dots="1" pname="c" oct="3"/>`,
		`<fingGrp form="combi" startid="#a"><fing>1</fing><fing>2</fing><fing>4</fing></fingGrp>` +
			`<fingGrp form="combi" startid="#b"><fing>5</fing><fing>3</fing><fing>1</fing></fingGrp>` +
			`<fingGrp form="combi" startid="#f"><fing>4</fing><fing>5</fing></fingGrp>` +
			`<fingGrp form="subst" startid="#c"><fing>3</fing><fing>1</fing></fingGrp><fingGrp form="alter" startid="#d"><fing>2</fing><fing>3</fing></fingGrp>` +
			`<fingGrp form="combi" startid="#e"><fing>5</fing><fing>3</fing><fing>1</fing></fingGrp>`}))
	for id, want := range map[string]string{
		"a0": "1", "a1": "2", "a2": "4", "b0": "1", "b1": "3", "b2": "5", "c": "3→1", "d": "2|3", "e0": "5", "e1": "3", "e2": "1", "f": "4 5",
	} {
		require.Equal(t, want, fingers(note(t, s, id)), id)
	}
}

// What encloses a note, a chord or a sign stands on the page, and a pedal is not always the one that lets keys sound on.
func TestEnclosuresAndPedalsOfOtherKinds(t *testing.T) {
	s := read(t, piano([3]string{
		`<note xml:id="a" dur="4" pname="c" oct="4" enclose="paren" artic="stacc"/><note xml:id="b" dur="4" pname="d" oct="4"><artic artic="ten" enclose="brack"/></note>` +
			`<chord xml:id="c" dur="2" enclose="brack"><note pname="e" oct="4"/><note pname="g" oct="4" enclose="none"/></chord>`,
		`<note xml:id="d" dur="1" pname="c" oct="3"/>`,
		`<turn startid="#b" enclose="paren"/><fermata startid="#c" enclose="brack"/><pedal dir="down" startid="#d" staff="2" func="soft"/>` +
			`<pedal dir="up" tstamp="4" staff="2" func="soft"/><pedal dir="down" startid="#d" staff="2" form="pedline"/><pedal dir="up" tstamp="3" staff="2" form="pedline"/>`,
	}))
	var read []string
	for _, i := range s.Items {
		if i.Onset.Sign() > 0 || i.Note >= 0 || i.Kind == score.ItemPedal {
			words := i.Reading
			if i.End != nil {
				words += " to " + fmt.Sprint(i.End.Onset)
			}
			read = append(read, words)
		}
	}
	require.ElementsMatch(t, []string{
		"in parentheses", "staccato", "tenuto in brackets", "in brackets", "turn in parentheses", "fermata in brackets",
		"soft pedal to 3", "pedal, as a line with its sign to 2",
	}, read)
	require.Equal(t, score.Spans{{From: q(0, 1), To: q(2, 1)}}, s.PedalSpans(nil), "the soft pedal holds no key")
}

// What a document does not show is not on the page: staves, layers, heads, stems. What its first page prints beside the music
// is, and so are the looks that make another sign of one.
func TestWhatIsNotShownAndWhatThePagePrints(t *testing.T) {
	music := [3]string{
		`<note xml:id="a" dur="4" pname="c" oct="4" head.visible="false"/><note xml:id="b" dur="4" pname="d" oct="4" stem.visible="false"/><note xml:id="c" dur="2" pname="e" oct="4"/>`,
		`<note xml:id="d" dur="1" pname="c" oct="3"/>`,
		`<mordent startid="#a" long="true"/><hairpin form="cres" startid="#a" endid="#c" staff="1" lform="dashed"/><gliss startid="#b" endid="#c" lform="dotted"/>`,
	}
	text := piano(music)
	readings := func(text string) (out []string) {
		for _, i := range read(t, text).Items {
			out = append(out, i.Reading)
		}
		return out
	}
	all := readings(text)
	for _, want := range []string{"none", "long mordent", "crescendo, dashed", "glissando, dotted"} {
		require.Contains(t, all, want)
	}
	staff := strings.Replace(text, `<staff n="2">`, `<staff n="2" visible="false">`, 1)
	layer := strings.Replace(text, `<layer n="1"><note xml:id="d"`, `<layer n="1" visible="false"><note xml:id="d"`, 1)
	for _, hidden := range []string{staff, layer} {
		require.NotEqual(t, text, hidden)
		s := read(t, hidden)
		require.True(t, note(t, s, "d").Hidden)
		require.False(t, note(t, s, "c").Hidden)
	}
	headed := strings.Replace(text, "<staffGrp", `<pgHead><rend halign="center">Etude <rend>in C</rend></rend><rend>Nobody</rend></pgHead><pgFoot>Printed</pgFoot><staffGrp`, 1)
	require.NotEqual(t, text, headed)
	for _, want := range []string{"Etude in C", "Nobody", "Printed"} {
		require.Contains(t, readings(headed), want)
	}
	single := strings.Replace(text, "<scoreDef", `<scoreDef meter.form="num"`, 1)
	require.NotEqual(t, readings(text), readings(single))
}
