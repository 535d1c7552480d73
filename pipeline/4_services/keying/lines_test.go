package keying_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"

	"github.com/stretchr/testify/require"
)

// twoHands is three measures for both hands, with a chord in the second, a digit on its first note, and measure 3 printed twice.
func twoHands(t *testing.T) *keying.Keying {
	note := func(pitch string, staff, duration int, more string) string {
		chord := ""
		if pitch[0] == '+' {
			chord, pitch = "<chord/>", pitch[1:]
		}
		return fmt.Sprintf(`<note>%s<pitch><step>%s</step><octave>%s</octave></pitch><duration>%d</duration><voice>%d</voice><staff>%d</staff>%s</note>`, chord, pitch[:1], pitch[1:], duration, staff*4-3, staff, more)
	}
	measure := func(number, attributes string, right, left []string) string {
		out := `<measure number="` + number + `">` + attributes
		for _, p := range right {
			duration, more := 2, ""
			if strings.HasSuffix(p, "e") {
				duration, p = 1, p[:len(p)-1]
			}
			if p, found := strings.CutSuffix(p, "=3"); found {
				out += note(p, 1, duration, `<notations><technical><fingering>3</fingering></technical></notations>`)
				continue
			}
			out += note(p, 1, duration, more)
		}
		out += `<backup><duration>8</duration></backup>`
		for _, p := range left {
			out += note(p, 2, 4, "")
		}
		return out + `</measure>`
	}
	s := parse(t, `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`+
		measure("1", `<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`, []string{"C5", "D5", "E5", "F5"}, []string{"C3", "G3"})+
		measure("2", "", []string{"G5=3", "+B5", "A5e", "B5e", "C5", "D5"}, []string{"E3", "+G3", "F3"})+
		measure("3", "", []string{"C5", "D5", "E5", "F5"}, []string{"C3", "G3"})+
		measure("3", "", []string{"G5", "A5", "B5", "C5"}, []string{"D3", "A3"})+`</part></score-partwise>`)
	hands := playing.Hands{Piano: make([]bool, len(s.Notes)), Hand: make([]score.Hand, len(s.Notes)), Player: make([]int, len(s.Notes))}
	k := &keying.Keying{Score: s, By: "AB", When: "2026-03-01", Fingers: make([][]int, len(s.Notes))}
	for n := range s.Notes {
		hands.Piano[n], hands.Hand[n] = true, score.Right
		if s.Notes[n].Staff == 2 {
			hands.Hand[n] = score.Left
		}
		if s.Notes[n].Measure == 1 {
			k.Fingers[n] = []int{1 + n%5}
		}
	}
	k.Fingers[0] = []int{5, 4}
	k.Playing = playing.New(s, hands)
	k.Passages = []keying.SheetPassage{{Number: 4, Notes: []int{1, 2}}, {Number: 7, Notes: []int{8, 9}}}
	return k
}

// told spells a decision: what is done, to which notes with which fingers.
func inWords(d *decision.Decision) string {
	out := fmt.Sprintf("%s %s", d.Verb, d.On)
	if d.Returns {
		out += ", returns"
	}
	for _, number := range d.Except {
		out += ", not m. " + number
	}
	if d.Print != "" {
		out += ", print " + d.Print
	}
	if d.Rule != "" {
		out += ", " + d.Rule
	}
	if d.Why != "" {
		out += ", why " + d.Why
	}
	for _, n := range d.Notes {
		out += fmt.Sprintf("; %d+%s %s", n.Index, n.Onset, n.Pitch)
		if len(n.Fingers) > 0 {
			out += " " + decision.Digits(n.Fingers)
		}
	}
	return out
}

// Every short form, as its help explains it.
func TestShortLines(t *testing.T) {
	for line, want := range map[string]string{
		"1 r 3 5-4":            "amend notes; 0+2 E5 5-4",
		"1 R 3 5":              "amend notes; 0+2 E5 5",
		"1 l 1 5 3":            "amend notes; 0+0 C3 5; 0+2 G3 3",
		"1 L 3 3":              "amend notes; 0+2 G3 3",
		"2 r 1 1+3 . 4":        "amend notes; 1+0 G5 1; 1+0 B5 3; 1+3/2 B5 4",
		"2 l 1 5+3 2":          "amend notes; 1+0 E3 5; 1+0 G3 3; 1+2 F3 2",
		"2 r 2+1/2 4":          "amend notes; 1+3/2 B5 4",
		"1 r 4 5 | . 1":        "amend notes; 0+3 F5 5; 1+1 A5 1",
		"1 r 4 5 |":            "amend notes; 0+3 F5 5",
		"1-2 r 1 2 3 4 1+3 2":  "amend notes; 0+0 C5 1; 0+1 D5 2; 0+2 E5 3; 0+3 F5 4; 1+0 G5 1; 1+0 B5 3; 1+1 A5 2",
		"1-2 l 5 3 | 5+3":      "amend notes; 0+0 C3 5; 0+2 G3 3; 1+0 E3 5; 1+0 G3 3",
		"1 r 3 5 print":        "amend notes, print always; 0+2 E5 5",
		"1 r 3 5 !":            "amend notes, returns; 0+2 E5 5",
		"1 r ok":               "take notes; 0+0 C5 5-4",
		"1 r ok!":              "take notes, returns; 0+0 C5 5-4",
		"1 r ok print":         "take notes, print always; 0+0 C5 5-4",
		"1 r ok keeps it even": "take notes, why keeps it even; 0+0 C5 5-4",
		"1-2 r ok":             "take notes; 0+0 C5 5-4; 1+0 G5 2; 1+0 B5 3; 1+1 A5 4; 1+3/2 B5 5; 1+2 C5 1; 1+3 D5 2",
		"2 r 2 ok":             "take notes; 1+1 A5 4",
		"2 r 2.2/8 ok":         "take notes; 1+3/2 B5 5",
		"2 r 2+1/2 ok":         "take notes; 1+3/2 B5 5", // as sheets spelled it before
		"2 r 1 ok":             "take notes; 1+0 G5 2; 1+0 B5 3",
		"2 r stet":             "stet notes; 1+0 G5",
		"2 r 1 stet":           "stet notes; 1+0 G5",
		"1 r 3 stet span-beyond-hand: meant as a roll": "stet finding, span-beyond-hand, why meant as a roll; 0+2 E5",
		"1 r stet wide-span: so":                       "stet finding, wide-span, why so; 0+0 C5",
		"1 r 3 ? why 4":                                "query notes, why why 4; 0+2 E5",
		"1 r 3 ?: why 4":                               "query notes, why why 4; 0+2 E5",
		"2 l 1 query the slur":                         "query notes, why the slur; 1+0 E3; 1+0 G3",
		"#7 ok":                                        "take notes; 1+1 A5 4; 1+3/2 B5 5",
		"#4 ? fine":                                    "query notes, why fine; 0+1 D5; 0+2 E5",
		"#7 2 1":                                       "amend notes; 1+1 A5 2; 1+3/2 B5 1",
	} {
		k := twoHands(t)
		d, err := keying.Key(k, decision.NewFinder(k.Score), line)
		require.NoError(t, err, line)
		require.Equal(t, want, inWords(d), line)
		require.Equal(t, "AB 2026-03-01", d.By+" "+d.When)
	}
	k := twoHands(t)
	for _, line := range []string{"", "   ", "# a remark", "# 12 r ok"} {
		d, err := keying.Key(k, decision.NewFinder(k.Score), line)
		require.NoError(t, err)
		require.Nil(t, d, "%q", line)
	}
}

// What cannot be read is refused with what to write instead.
func TestShortLinesThatAreRefused(t *testing.T) {
	for line, want := range map[string]string{
		"1 r":                 "is too short",
		"1 x 3 5":             `"x" is no hand`,
		"9 r 3 5":             "there is no measure 9",
		"3 r 3 5":             "several measures bear the number 3",
		"1-9 r ok":            "there is no measure 9",
		"9-1 r ok":            "there is no measure 9",
		"2-1 r ok":            "the measures 2-1 run backwards",
		"1 r 2+1/2 4":         "no note of that hand is struck on beat 2+1/2 of m. 1\nhint: notes are struck on beats 1, 2, 3, 4",
		"2 r 0 4":             "notes are struck on beats 1, 2, 2.2/8, 3, 4",
		"1 r 3.2 4":           `the second of three in it 3.2:3; notes are struck on beats `,
		"1 r 3 6":             `"6" is no digit`,
		"1 r 3 4 or 5":        `"or" between digits: a line gives each key one finger`,
		"1 r 3 5-":            `"5-" is no digit`,
		"2 r 1 3":             "3 gives 1 digit to a stroke of 2 keys in m. 2",
		"1 r 1 1+2":           "1+2 gives 2 digits to a stroke of 1 key in m. 1",
		"1 r 3 .":             "no digit is given",
		"1 r 3 ! 4":           `"!" is no digit`,
		"#7 1 2 3":            "3 digits are given; m. 2 has 2 strokes there",
		"1-2 l 1 2 | 1+2 3 4": "5 digits are given; mm. 1–2 have 4 strokes there",
		// A digit too many belongs to no other measure.
		"1 r 1 5 5 5 5 5 5":   "6 digits are given; m. 1 has 4 strokes of that hand from beat 1 on\nhint: | where the line goes on over the barline, as in: 5 5 5 5 | 5 5",
		"1 r 3 1 2 3 | 4":     "3 digits are given; m. 1 has 2 strokes of that hand from beat 3 on",
		"1 r 3 1 | 2 3":       "a barline stands after 1 digit; m. 1 has 2 strokes of that hand from beat 3 on",
		"1 r 3 | 1 2":         "a barline stands after 0 digits; m. 1 has 2 strokes",
		"#7":                  "nothing is said of it",
		"#8 ok":               "there is no passage #8 on the sheet\nhint: it has ",
		"#x ok":               "there is no passage #x",
		"1 l ok":              "nothing is suggested there that could be taken",
		"1 r 3 ?":             "a query asks something",
		"1 r 3 stet":          "no digit stands there that could be let stand",
		"2 r stet because":    "after stet stands nothing, RULE: REASON",
		"2 r stet wide-span:": "a stet on a finding needs its reason",
	} {
		k := twoHands(t)
		_, err := keying.Key(k, decision.NewFinder(k.Score), line)
		require.ErrorContains(t, err, want, line)
	}
	k := twoHands(t)
	k.Playing = playing.New(k.Score, playing.Hands{Piano: make([]bool, len(k.Score.Notes)), Hand: make([]score.Hand, len(k.Score.Notes)), Player: make([]int, len(k.Score.Notes))})
	_, err := keying.Key(k, decision.NewFinder(k.Score), "1 l ok")
	require.ErrorContains(t, err, "there is no note of that hand in m. 1")
}

// Notes that an editor wants in the other hand are keyed with their fingers there.
func TestNotesAreKeyedForTheOtherHand(t *testing.T) {
	k := twoHands(t)
	f := decision.NewFinder(k.Score)
	d, err := keying.Key(k, f, "2 l 3 2 other hand")
	require.NoError(t, err)
	require.Equal(t, decision.Take, d.Verb)
	require.Equal(t, decision.Redistribution, d.On)
	require.Equal(t, score.Right, d.To)
	require.Len(t, d.Notes, 1)
	require.Equal(t, []int{2}, d.Notes[0].Fingers)
	d, err = keying.Key(k, f, "2 r 1 2+4 other hand")
	require.NoError(t, err)
	require.Equal(t, score.Left, d.To)
	require.Len(t, d.Notes, 2)
	d, err = keying.Key(k, f, "2 r 1 2+. other hand") // the upper key stays
	require.NoError(t, err)
	require.Equal(t, decision.Redistribution, d.On)
	require.Len(t, d.Notes, 1)
	require.Equal(t, "G5", d.Notes[0].Pitch)
	d, err = keying.Key(k, f, "2 r 1 .+4") // as digits of the hand that has them, too
	require.NoError(t, err)
	require.Len(t, d.Notes, 1)
	require.Equal(t, "B5", d.Notes[0].Pitch)
	_, err = keying.Key(k, f, "2 r 1 .+. other hand")
	require.ErrorContains(t, err, "no digit is given")
	_, err = keying.Key(k, f, "2 l 3 ok other hand")
	require.ErrorContains(t, err, "with their digits there")
}
