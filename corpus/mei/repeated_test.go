package mei_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

// Signs that repeat music are read as the notes that a player plays there, with their ties and slurs; nothing is to be printed
// at them (MEI Guidelines 5.1, "Repeating Rhythms and Passages": mRpt, mRpt2, multiRpt, halfmRpt, beatRpt).
func TestSignsThatRepeat(t *testing.T) {
	const (
		first = `<layer n="1"><note xml:id="a" dur="4" pname="c" oct="5" accid.ges="n"/><note xml:id="b" dur="4" pname="d" oct="5"/>` +
			`<note xml:id="c" dur="2" pname="d" oct="5"/></layer>`
		second = `<layer n="1"><chord dur="2"><note pname="e" oct="5"/><note pname="g" oct="5"/></chord><note dur="2" pname="f" oct="5"/></layer>`
		signs  = `<tie startid="#b" endid="#c"/><slur startid="#a" endid="#c" staff="1"/>`
		rest   = `<mRest/>`
	)
	for name, c := range map[string]struct {
		measures []string
		want     string // of all measures: pitches, "~" before one that is tied to, "*" behind one that is there by a sign
		said     int
	}{
		"a measure":              {[]string{first, `<mRpt/>`}, "C5 D5 ~D5 | C5* D5* ~D5*", 1},
		"a measure, twice":       {[]string{first, `<mRpt/>`, `<mRpt/>`}, "C5 D5 ~D5 | C5* D5* ~D5* | C5* D5* ~D5*", 2},
		"two measures":           {[]string{first, second, `<mRpt2/>`, `<mSpace/>`}, "C5 D5 ~D5 | E5 G5 F5 | C5* D5* ~D5* | E5* G5* F5*", 1},
		"two measures, one left": {[]string{first, second, `<multiRpt num="2"/>`, first2}, "C5 D5 ~D5 | E5 G5 F5 | C5* D5* ~D5* | A4", 1},
		"half a measure":         {[]string{`<note dur="4" pname="c" oct="5" accid.ges="n"/><note dur="4" pname="e" oct="5"/><halfmRpt/>`}, "C5 E5 C5* E5*", 1},
		"a beat": {[]string{`<beam><note dur="8" pname="c" oct="5" accid.ges="n"/><note dur="8" pname="e" oct="5"/></beam><beatRpt/><beatRpt/><beatRpt/>`},
			"C5 E5 C5* E5* C5* E5* C5* E5*", 3},
		"all layers of a staff": {[]string{first + `<layer n="2"><note dur="1" pname="a" oct="4"/></layer>`, `<mRpt/>`}, "C5 D5 ~D5 A4 | C5* D5* ~D5* A4*", 1},
		"nothing before it":     {[]string{`<mRpt/>`, first}, " | C5 D5 ~D5", 1},
	} {
		var measures [][3]string
		for i, m := range c.measures {
			s := [3]string{m, rest, ""}
			if strings.Contains(m, `"a"`) && i < 2 {
				s[2] = signs
			}
			measures = append(measures, s)
		}
		s := read(t, piano(measures...))
		got := make([]string, len(s.Measures))
		for i := range s.Notes {
			n := &s.Notes[i]
			require.True(t, n.Kind == score.Pitched || !n.BySign, name)
			if n.Kind != score.Pitched {
				continue
			}
			word := n.Pitch.String()
			if n.TiedFrom >= 0 {
				word = "~" + word
			}
			if n.BySign {
				word += "*"
			}
			got[n.Measure] = strings.TrimPrefix(got[n.Measure]+" "+word, " ")
		}
		require.Equal(t, c.want, strings.Join(got, " | "), name)
		for i := range s.Measures {
			require.Equal(t, q(4, 1), s.Measures[i].Length, name)
		}
		require.Len(t, s.Oddities, c.said, name)
	}
}

const first2 = `<layer n="1"><note dur="1" pname="a" oct="4"/></layer>`

// How often a passage is played, an expansion says (MEI Guidelines 5.1, "Expansion").
func TestHowOftenAPassageIsPlayed(t *testing.T) {
	note := `<note dur="1" pname="c" oct="4" accid.ges="n"/>`
	text := piano([3]string{note, note, ""}, [3]string{note, note, ""})
	text = strings.Replace(text, `<measure n="1">`, `<expansion plist="#s1 #s1 #s1 #s2"/><section xml:id="s1"><measure n="1" right="rptend">`, 1)
	text = strings.Replace(text, `<measure n="2">`, `</section><section xml:id="s2"><measure n="2">`, 1)
	text = strings.Replace(text, foot, "</section>"+foot, 1)
	s := read(t, text)
	require.Equal(t, score.Repeat{Backward: true, Times: 3}, s.Measures[0].Repeat)
	require.Equal(t, score.Repeat{}, s.Measures[1].Repeat)
}

// A rest of several measures stands for them all, where the numbers say so: the hairpin counts what the document has.
func TestRestsOfSeveralMeasures(t *testing.T) {
	note := `<note dur="1" pname="c" oct="4" accid.ges="n"/>`
	text := piano([3]string{note, note, `<hairpin form="cres" staff="1" tstamp="1" tstamp2="2m+1"/>`},
		[3]string{`<multiRest num="3"/>`, `<mSpace/>`, ""}, [3]string{note, note, ""})
	text = strings.Replace(text, `<measure n="2"`, `<measure n="2" right="rptend"`, 1)
	numbers := func(s *score.Score) (out []string) {
		for i := range s.Measures {
			out = append(out, s.Measures[i].Number)
			require.Equal(t, q(4, 1), s.Measures[i].Length)
		}
		return out
	}
	s := read(t, text)
	require.Equal(t, []string{"1", "2", "3"}, numbers(s), "the numbers go on: it stands for itself")
	said := func(s *score.Score, measure int, detail string) {
		require.Len(t, s.Oddities, 1)
		require.Equal(t, []any{score.OddValue, measure}, []any{s.Oddities[0].Kind, s.Oddities[0].Measure})
		require.Equal(t, "a rest for 3 measures (<multiRest>) is read as one measure: "+detail, s.Oddities[0].Detail)
	}
	said(s, 1, `the number of the next measure is "3" after "2"`)
	said(read(t, piano([3]string{note, note, ""}, [3]string{`<multiRest num="3"/>`, `<multiRest num="3"/>`, ""})), 1,
		"no measure follows whose number would say so")
	require.Empty(t, read(t, piano([3]string{note, note, ""}, [3]string{`<multiRest num="1"/>`, `<mSpace/>`, ""})).Oddities)
	s = read(t, strings.Replace(text, `<measure n="3"`, `<measure n="5"`, 1))
	require.Equal(t, []string{"1", "2", "3", "4", "5"}, numbers(s))
	require.Equal(t, []bool{false, false, false, true, false}, []bool{s.Measures[0].Repeat.Backward, s.Measures[1].Repeat.Backward,
		s.Measures[2].Repeat.Backward, s.Measures[3].Repeat.Backward, s.Measures[4].Repeat.Backward})
	require.Empty(t, s.Oddities)
	ends := 0
	for _, i := range s.Items {
		if i.Kind == score.ItemHairpin {
			require.Equal(t, 4, i.End.Measure)
			ends++
		}
	}
	require.Equal(t, 1, ends)
}

// Where metres alternate (MEI 5.1, <meterSigGrp>), each measure of a rest for several has the next, and so has what follows,
// unless another metre begins there.
func TestRestsOfSeveralMeasuresTakeTheirTurn(t *testing.T) {
	two, rests := `<note dur="2" pname="c" oct="4" accid.ges="n"/>`, `<multiRest num="2"/>`
	text := piano([3]string{two, two, ""}, [3]string{rests, rests, ""}, [3]string{`<mRest/>`, `<mRest/>`, ""}, [3]string{`<mRest/>`, `<mRest/>`, ""})
	text = strings.NewReplacer(` meter.count="4" meter.unit="4">`, `><meterSigGrp func="alternating"><meterSig count="2" unit="4"/>`+
		`<meterSig count="3" unit="8"/></meterSigGrp>`, `<measure n="4"`, `<measure n="5"`, `<measure n="3"`, `<measure n="4"`).Replace(text)
	lengths := func(text string) (out []score.Fraction) {
		s := read(t, text)
		require.Empty(t, s.Oddities)
		for i := range s.Measures {
			out = append(out, s.Measures[i].Length)
		}
		return out
	}
	require.Equal(t, []score.Fraction{q(2, 1), q(3, 2), q(2, 1), q(3, 2), q(2, 1)}, lengths(text))
	other := strings.Replace(text, `<measure n="4"`, `<scoreDef meter.count="6" meter.unit="8"/><measure n="4"`, 1)
	require.Equal(t, []score.Fraction{q(2, 1), q(3, 2), q(2, 1), q(3, 1), q(3, 1)}, lengths(other))
}
