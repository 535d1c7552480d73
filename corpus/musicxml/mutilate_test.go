package musicxml_test

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// rich holds something of everything the reader knows.
var rich = piano(
	`<attributes><divisions>12</divisions><key><fifths>-3</fifths></key><time symbol="cut"><beats>2</beats><beat-type>2</beat-type></time><staves>2</staves>`+
		`<staff-details number="2"><staff-type>regular</staff-type></staff-details><transpose number="1"><chromatic>-2</chromatic><octave-change>1</octave-change></transpose></attributes>`+
		`<direction placement="above"><direction-type><words>Vivo</words></direction-type><direction-type><metronome><beat-unit>half</beat-unit><beat-unit-dot/><per-minute>60-72</per-minute></metronome></direction-type><offset>-2</offset><voice>1</voice><staff>1</staff><sound tempo="120"/></direction>`+
		grace("B4", in(1, 1))+n("C5", 8, in(1, 1), `<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>`, `<beam number="1">begin</beam>`, `<notations print-object="no"><tuplet type="start"/></notations>`)+
		n(".E5", 8, in(1, 1), notations(`<arpeggiate number="1"/><technical><fingering placement="above" font-style="italic">4-3</fingering><fingering substitution="yes">2</fingering></technical>`))+
		n("G5", 40, `<tie type="start"/>`, in(1, 2), `<beam number="1">end</beam>`, `<notations print-object="no"><tuplet type="stop"/></notations>`)+
		`<backup><duration>48</duration></backup><forward><duration>8</duration></forward>`+n("C3", 40, in(5, 2), notations(`<slur type="start" number="1"/><ornaments><trill-mark/><accidental-mark>flat</accidental-mark></ornaments>`)),
	`<print new-page="yes"/><barline location="left"><ending number="1, 2" type="start"/><repeat direction="forward"/></barline>`+sign(`<octave-shift type="up" size="15" number="2"/>`)+
		n("G5", 36, `<tie type="stop"/>`, in(1, 2))+`<note print-object="no"><cue/><unpitched/><duration>12</duration><voice>1</voice></note>`+grace("D5", in(1, 1))+
		`<barline location="right"><ending number="1, 2" type="stop"/><repeat direction="backward" times="3"/></barline>`,
	`<attributes><time><senza-misura/></time></attributes>`+n("F#4", 90, in(1, 1))+sign(`<pedal type="change"/>`)+words("m.s.", "<staff>2</staff>")+n("r", 4))

var piecesOf = regexp.MustCompile(`<[^>]*>|[^<]+`)

var nastyTexts = []string{"", "0", "-1", "1", "7", "999999999", "0.000001", "-999999999", "99999999999999999999", "1/2", "x", "1+2+3", "1024", "&#0;", "&b;", "  3 ", "\U0001D11E", "start", "stop", "C", "P9", "yes", "no"}

// mutilated takes pieces of a document out, doubles them, swaps them, and puts
// nasty words into texts and attributes.
func mutilated(t *rapid.T) string {
	pieces := piecesOf.FindAllString(rich, -1)
	for range rapid.IntRange(1, 6).Draw(t, "wounds") {
		at := rapid.IntRange(0, len(pieces)-1).Draw(t, "at")
		other := rapid.IntRange(0, len(pieces)-1).Draw(t, "other")
		nasty := rapid.SampledFrom(nastyTexts).Draw(t, "nasty")
		switch rapid.SampledFrom([]string{"text", "text", "value", "value", "without", "twice", "swap", "move"}).Draw(t, "wound") {
		case "text":
			if !strings.HasPrefix(pieces[at], "<") {
				pieces[at] = nasty
			}
		case "value":
			pieces[at] = regexp.MustCompile(`"[^"]*"`).ReplaceAllLiteralString(pieces[at], `"`+nasty+`"`)
		case "without":
			from, to := wholeElement(pieces, at)
			pieces = append(pieces[:from:from], pieces[to:]...)
		case "twice":
			from, to := wholeElement(pieces, at)
			pieces = append(pieces[:to:to], append(append([]string(nil), pieces[from:to]...), pieces[to:]...)...)
		case "swap":
			pieces[at], pieces[other] = pieces[other], pieces[at]
		case "move":
			from, to := wholeElement(pieces, at)
			moved := append([]string(nil), pieces[from:to]...)
			rest := append(pieces[:from:from], pieces[to:]...)
			if len(rest) > 0 {
				other = min(other, len(rest))
				rest = append(rest[:other:other], append(moved, rest[other:]...)...)
			}
			pieces = rest
		}
		if len(pieces) == 0 {
			return ""
		}
	}
	return strings.Join(pieces, "")
}

// wholeElement is the stretch of pieces that an element takes up which begins
// at one; other pieces stand alone.
func wholeElement(pieces []string, at int) (from, to int) {
	depth := 0
	for i := at; i < len(pieces); i++ {
		switch p := pieces[i]; {
		case strings.HasPrefix(p, "</"):
			depth--
		case strings.HasPrefix(p, "<") && !strings.HasSuffix(p, "/>"):
			depth++
		}
		if depth <= 0 {
			return at, i + 1
		}
	}
	return at, at + 1
}

// countNotes counts elements named note in measures, by other means.
func countNotes(text string) int {
	count, d := 0, xml.NewDecoder(strings.NewReader(text))
	var path []string
	for {
		t, err := d.RawToken()
		if errors.Is(err, io.EOF) || err != nil {
			return count
		}
		switch t := t.(type) {
		case xml.StartElement:
			path = append(path, t.Name.Local)
			if strings.Join(path, "/") == "score-partwise/part/measure/note" {
				count++
			}
		case xml.EndElement:
			path = path[:len(path)-1]
		}
	}
}

// Whatever is wrong with a score: an error that names its place, or music that
// holds together, can be marked, and gives its bytes back.
func TestMutilatedScores(t *testing.T) {
	require.Empty(t, kinds(read(t, rich)))
	rapid.Check(t, func(t *rapid.T) {
		text := mutilated(t)
		doc, err := source.Open("t.musicxml", []byte(text), source.DefaultLimits())
		if err == nil {
			var s *score.Score
			var layout *musicxml.Layout
			if s, layout, err = musicxml.Read(doc, musicxml.DefaultLimits()); err == nil {
				require.Equal(t, countNotes(text), len(s.Notes))
				holdsTogether(t, s)
				edition := markAndTakeBack(t, doc, layout, markable(s))
				_, after, _ := open(t, "t.musicxml", edition)
				require.Equal(t, onsets(s), onsets(after))
				return
			}
		}
		require.Regexp(t, `^t\.musicxml(:\d+:\d+)?: `, err.Error())
	})
}

// markable is a marking of everything but what stands as an empty element.
func markable(s *score.Score) score.Marking {
	m := everyNote(s)
	kept := m.Marks[:0]
	for _, mark := range m.Marks {
		if s.Notes[mark.Note].Pitch.Step != 0 {
			kept = append(kept, mark)
		}
	}
	m.Marks = kept
	return m
}

// holdsTogether checks what every reader of a Score may rely on.
func holdsTogether(t *rapid.T, s *score.Score) {
	var end score.Fraction
	for i := range s.Measures {
		m := &s.Measures[i]
		require.Equal(t, i, m.Index)
		require.Equal(t, end, m.Start)
		require.Positive(t, m.Length.Sign())
		require.GreaterOrEqual(t, m.Nominal.Sign(), 0)
		end = end.Add(m.Length)
	}
	for i := range s.Notes {
		n := &s.Notes[i]
		require.GreaterOrEqual(t, n.Onset.Sign(), 0)
		require.GreaterOrEqual(t, n.Duration.Sign(), 0)
		require.LessOrEqual(t, n.Onset.Add(n.Duration).Cmp(s.Measures[n.Measure].Length), 0, "a note ends within its measure's length")
		require.GreaterOrEqual(t, n.Staff, 1)
		require.LessOrEqual(t, n.Staff, s.Parts[n.Part].Staves)
		require.GreaterOrEqual(t, n.HomeStaff, 1)
		require.LessOrEqual(t, n.HomeStaff, s.Parts[n.Part].Staves)
		require.Equal(t, n.Kind == score.Pitched, n.Pitch.Step != 0)
		if n.TiedFrom >= 0 {
			from := &s.Notes[n.TiedFrom]
			require.Equal(t, i, from.TiedTo)
			require.Equal(t, n.Midi, from.Midi)
			require.Equal(t, s.At(i), s.At(n.TiedFrom).Add(from.Duration))
		}
		if n.Grace > 0 {
			require.Zero(t, n.Duration.Sign())
		}
		for _, ind := range n.Indications {
			for _, f := range ind.Fingers {
				require.True(t, f >= 1 && f <= 5)
			}
		}
	}
	for _, o := range s.Oddities {
		require.True(t, o.Measure >= 0 && o.Measure < len(s.Measures) && o.Part >= 0 && o.Part < len(s.Parts) && o.Note >= -1 && o.Note < len(s.Notes))
	}
	for _, d := range s.Directions {
		require.True(t, d.Measure >= 0 && d.Measure < len(s.Measures) && d.Onset.Sign() >= 0 && d.MilliQuarters >= 0)
	}
}
