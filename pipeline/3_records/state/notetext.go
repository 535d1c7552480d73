package state

import "strconv"

// appendNote writes a note as encoding/json does, by hand: there are thousands of them in a file. ok is false, and nothing
// is good, where a note has what is seldom in one, which is left to encoding/json: digits of sources, text beyond ASCII.
func appendNote(out []byte, n *Note) (_ []byte, ok bool) {
	ok = len(n.Source) == 0
	name := func(name string) { out = append(append(append(out, ',', '"'), name...), '"', ':') }
	number := func(key string, v int) {
		name(key)
		out = strconv.AppendInt(out, int64(v), 10)
	}
	text := func(key, v string) {
		name(key)
		ok = ok && isPlain(v)
		out = append(append(append(out, '"'), v...), '"')
	}
	someNumber := func(key string, v int) {
		if v != 0 {
			number(key, v)
		}
	}
	someText := func(key, v string) {
		if v != "" {
			text(key, v)
		}
	}
	numbers := func(key string, of []int) {
		if len(of) == 0 {
			return
		}
		name(key)
		for i, v := range of {
			out = strconv.AppendInt(append(out, listSign(i)), int64(v), 10)
		}
		out = append(out, ']')
	}
	flag := func(key string, is bool) {
		if is {
			name(key)
			out = append(out, "true"...)
		}
	}
	percent := func(key string, p *Percent) {
		if p != nil {
			name(key)
			out = p.append(out)
		}
	}

	out = strconv.AppendInt(append(out, `{"n":`...), int64(n.N), 10)
	someText("part", n.Part)
	text("measure", n.Measure)
	number("measure_index", n.MeasureIndex)
	text("onset", n.Onset.String())
	someNumber("grace", n.Grace)
	number("staff", n.Staff)
	text("voice", n.Voice)
	text("pitch", n.Pitch)
	number("midi", n.Midi)
	text("hand", n.Hand.String())
	number("finger", n.Finger)
	numbers("fingers", n.Fingers)
	numbers("substitution", n.Substitution)
	flag("tied", n.Tied)
	someText("touch", n.Touch)
	someText("out_of_reach", n.OutOfReach)
	someNumber("beside", n.Beside)
	someNumber("second", n.Second)
	someText("second_for", n.SecondFor)
	someText("draft", n.Draft)
	someText("piled", n.Piled)
	flag("printed", n.Printed)
	if n.Responsibility != 0 {
		text("responsibility", n.Responsibility.String())
	}
	someText("agent", n.Agent)
	if len(n.Effort) > 0 {
		name("effort")
		out = append(out, '{')
		for i, s := range n.Effort {
			if i > 0 {
				out = append(out, ',')
			}
			ok = ok && isPlain(s.Criterion)
			out = append(append(append(out, '"'), s.Criterion...), '"', ':')
			out = strconv.AppendInt(out, s.MilliNats, 10)
		}
		out = append(out, '}')
	}
	someNumber("costs_more", n.CostsMore)
	percent("confidence", n.Confidence)
	if len(n.Alternatives) > 0 {
		name("alternatives")
		for i, a := range n.Alternatives {
			out = strconv.AppendInt(append(append(out, listSign(i)), `{"finger":`...), int64(a.Finger), 10)
			out = append(strconv.AppendInt(append(out, `,"regret":`...), int64(a.Regret), 10), '}')
		}
		out = append(out, ']')
	}
	percent("reach", n.Reach)
	return append(out, '}'), ok
}

// listSign is what stands before an entry of a list.
func listSign(i int) byte {
	if i == 0 {
		return '['
	}
	return ','
}

// isPlain says that a text stands in JSON as it is.
func isPlain(text string) bool {
	for i := range len(text) {
		if b := text[i]; b < ' ' || b > '~' || b == '"' || b == '\\' {
			return false
		}
	}
	return true
}
