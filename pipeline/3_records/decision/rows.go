package decision

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/strictyaml"
)

// Strokes that come evenly stand in a row, with the place of the first, that of the last and the step:
//
//	3*: 0..7/4 by 1/4 A4=1 B4=2 C5=3 D5=1 E5=2 F5=3 G5=4 x2, 2 C5=1+E5=3
//
// "x2" is the stroke before it, struck so many times. Places and strokes must agree: where one was taken out by hand the
// line is at fault, and no other stroke moves.
var (
	rowForm    = regexp.MustCompile(`^(-?\d+(?:/\d+)?)\.\.(-?\d+(?:/\d+)?) by (\d+(?:/\d+)?) (.+)$`)
	evenForm   = regexp.MustCompile(`^(-?\d+(?:/\d+)?) ([^\s()]+)$`)
	repeatForm = regexp.MustCompile(`^x(\d{1,3})$`)
)

const longestRow = 1000

// strokesOfRow gives the strokes of a row one by one; others as they are. fault is what is wrong, "" where nothing is.
func strokesOfRow(stroke string) (out []string, fault string) {
	m := rowForm.FindStringSubmatch(stroke)
	if m == nil {
		return []string{stroke}, ""
	}
	from, err1 := score.ParseFraction(m[1])
	to, err2 := score.ParseFraction(m[2])
	step, err3 := score.ParseFraction(m[3])
	if err1 != nil || err2 != nil || err3 != nil || step.Sign() <= 0 {
		return nil, "a row cannot be " + strictyaml.Quote(stroke)
	}
	at := from
	for _, word := range strings.Fields(m[4]) {
		times := 1
		if x := repeatForm.FindStringSubmatch(word); x != nil && len(out) > 0 {
			times, _ = strconv.Atoi(x[1])
			times, word = times-1, strings.SplitN(out[len(out)-1], " ", 2)[1]
		}
		for range times {
			if len(out) == longestRow {
				return nil, fmt.Sprintf("a row has at most %d strokes", longestRow)
			}
			out = append(out, at.String()+" "+word)
			at = at.Add(step)
		}
	}
	if at != to.Add(step) {
		return nil, fmt.Sprintf("%s..%s by %s and its %d strokes do not agree", m[1], m[2], m[3], len(out))
	}
	return out, ""
}

// inRows puts the strokes of a line that come evenly into rows, where that is shorter.
func inRows(text string) string {
	strokes := strings.Split(text, ", ")
	at, keys := make([]score.Fraction, len(strokes)), make([]string, len(strokes)) // keys "": not one of a row
	for i, s := range strokes {
		if m := evenForm.FindStringSubmatch(s); m != nil {
			at[i], _ = score.ParseFraction(m[1])
			keys[i] = m[2]
		}
	}
	var out []string
	for i := 0; i < len(strokes); {
		end := i + 1
		for end < len(strokes) && keys[i] != "" && keys[end] != "" && at[end].Sub(at[end-1]) == at[i+1].Sub(at[i]) {
			end++
		}
		row := ""
		if end-i > 2 && end-i <= longestRow && at[i].Cmp(at[i+1]) < 0 {
			row = fmt.Sprintf("%s..%s by %s%s", at[i], at[end-1], at[i+1].Sub(at[i]), repeated(keys[i:end]))
		}
		if row == "" || len(row) >= len(strings.Join(strokes[i:end], ", ")) {
			row, end = strokes[i], i+1
		}
		out = append(out, row)
		i = end
	}
	return strings.Join(out, ", ")
}

// repeated writes strokes with those that come again at once counted.
func repeated(keys []string) (out string) {
	for i := 0; i < len(keys); {
		end := i + 1
		for end < len(keys) && keys[end] == keys[i] {
			end++
		}
		one := " " + keys[i]
		if count := fmt.Sprintf("%s x%d", one, end-i); end > i+1 && len(count) < (end-i)*len(one) {
			out += count
		} else {
			out += strings.Repeat(one, end-i)
		}
		i = end
	}
	return out
}
