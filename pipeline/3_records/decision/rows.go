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
// "x2" is the stroke before it, struck so many times, "x4/2" the two strokes before it, as a figure that comes four times.
// Places and strokes must agree: where one was taken out by hand the line is at fault, and no other stroke moves.
var (
	rowForm    = regexp.MustCompile(`^(-?\d+(?:/\d+)?)\.\.(-?\d+(?:/\d+)?) by (\d+(?:/\d+)?) (.+)$`)
	evenForm   = regexp.MustCompile(`^(-?\d+(?:/\d+)?) ([^\s()]+)$`)
	repeatForm = regexp.MustCompile(`^x(\d{1,3})(?:/(\d{1,2}))?$`)
)

const (
	longestRow    = 1000
	longestFigure = 16 // strokes that are written once and counted
)

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
		times, figure := 1, []string{word}
		if x := repeatForm.FindStringSubmatch(word); x != nil && len(out) > 0 {
			times, _ = strconv.Atoi(x[1])
			long := 1
			if x[2] != "" {
				long, _ = strconv.Atoi(x[2])
			}
			if long < 1 || long > len(out) {
				return nil, strictyaml.Quote(word) + " repeats more strokes than stand before it"
			}
			times, figure = times-1, nil
			for _, s := range out[len(out)-long:] {
				figure = append(figure, strings.SplitN(s, " ", 2)[1])
			}
		}
		for range times {
			for _, word := range figure {
				if len(out) == longestRow {
					return nil, fmt.Sprintf("a row has at most %d strokes", longestRow)
				}
				out = append(out, at.String()+" "+word)
				at = at.Add(step)
			}
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

// repeated writes strokes with those that come again at once counted, one by one or as a figure: always what saves most from
// there on.
func repeated(keys []string) (out string) {
	for i := 0; i < len(keys); {
		best, long, times := 0, 1, 1
		for figure := 1; figure <= longestFigure && i+2*figure <= len(keys); figure++ {
			end := i + figure
			for end < len(keys) && keys[end] == keys[end-figure] {
				end++
			}
			count := (end - i) / figure
			if count < 2 || count > 999 {
				continue
			}
			saved := lengthOf(keys[i+figure:i+count*figure]) - len(countOf(count, figure))
			if saved > best {
				best, long, times = saved, figure, count
			}
		}
		if long == 1 {
			out += " " + keys[i]
		} else {
			out += repeated(keys[i : i+long])
		}
		if times > 1 {
			out += countOf(times, long)
		}
		i += long * times
	}
	return out
}

// countOf says how often strokes come.
func countOf(times, figure int) string {
	if figure == 1 {
		return fmt.Sprintf(" x%d", times)
	}
	return fmt.Sprintf(" x%d/%d", times, figure)
}

// lengthOf is how long strokes are, written one by one.
func lengthOf(keys []string) (long int) {
	for _, k := range keys {
		long += 1 + len(k)
	}
	return long
}
