package policytest

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

var (
	noteForm = regexp.MustCompile(`^(~?)((?:[A-G](?:bb|b|##|#)?-?\d)(?:\+[A-G](?:bb|b|##|#)?-?\d)*|r)` +
		`(?:/(1|2|4|8|16|32)(\.?))?(?:=([1-5](?:\+[1-5])*))?$`)
	pitchForm = regexp.MustCompile(`^([A-G])(bb|b|##|#)?(-?\d)$`)
	timeForm  = regexp.MustCompile(`^(\d{1,2})/(1|2|4|8|16)$`)
)

const perWhole = 64 // divisions; a dotted 32nd is 3 of them

// music writes a passage as a score: one measure as long as the music, so that
// barlines bear on nothing.
func music(t *Test) ([]byte, error) {
	if !timeForm.MatchString(t.Time) {
		return nil, fmt.Errorf("the time %q is none", t.Time)
	}
	right, rightLength, err := staff(t.Right, 1)
	if err != nil {
		return nil, err
	}
	left, leftLength, err := staff(t.Left, 2)
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	b.WriteString(
		`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part>` +
			`</part-list><part id="P1"><measure number="1">`,
	)
	length := max(rightLength, leftLength)
	fmt.Fprintf(&b, `<attributes><divisions>%d</divisions><time><beats>%d</beats><beat-type>%d</beat-type></time>`+
		`<staves>2</staves></attributes>`, perWhole/4, length, perWhole)
	b.WriteString(right)
	if t.Left != "" {
		if rightLength > 0 {
			fmt.Fprintf(&b, `<backup><duration>%d</duration></backup>`, rightLength)
		}
		b.WriteString(left)
	}
	b.WriteString("</measure></part></score-partwise>\n")
	return []byte(b.String()), nil
}

// staff writes the notes of one staff and how long they last.
func staff(text string, number int) (string, int, error) {
	var b strings.Builder
	tokens := strings.Fields(text)
	value, length := perWhole/4, 0
	for i, token := range tokens {
		m := noteForm.FindStringSubmatch(token)
		if m == nil {
			return "", 0, fmt.Errorf("%q is no note", token)
		}
		if m[3] != "" {
			d, _ := strconv.Atoi(m[3])
			value = perWhole / d
			if m[4] != "" {
				value += value / 2
			}
		}
		length += value
		tail := fmt.Sprintf(`<voice>%d</voice><staff>%d</staff>`, number, number)
		if m[2] == "r" {
			fmt.Fprintf(&b, `<note><rest/><duration>%d</duration>%s</note>`, value, tail)
			continue
		}
		var digits []string
		if m[5] != "" {
			digits = strings.Split(m[5], "+")
		}
		on := i+1 < len(tokens) && strings.HasPrefix(tokens[i+1], "~")
		for k, pitch := range strings.Split(m[2], "+") {
			p := pitchForm.FindStringSubmatch(pitch)
			b.WriteString("<note>")
			if k > 0 {
				b.WriteString("<chord/>")
			}
			alter := strings.Count(p[2], "#") - strings.Count(p[2], "b")
			fmt.Fprintf(&b,
				`<pitch><step>%s</step><alter>%d</alter><octave>%s</octave></pitch><duration>%d</duration>`, p[1],
				alter, p[3], value)
			notations := ""
			if m[1] == "~" {
				b.WriteString(`<tie type="stop"/>`)
				notations += `<tied type="stop"/>`
			}
			if on {
				b.WriteString(`<tie type="start"/>`)
				notations += `<tied type="start"/>`
			}
			b.WriteString(tail)
			if k < len(digits) {
				notations += `<technical><fingering>` + digits[k] + `</fingering></technical>`
			}
			if notations != "" {
				b.WriteString("<notations>" + notations + "</notations>")
			}
			b.WriteString("</note>\n")
		}
	}
	return b.String(), length, nil
}
