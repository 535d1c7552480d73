package score

import "slices"

// SlurSpan is a slur from the note at which it begins to the one at which it ends; -1 where it has none. Look is that of
// its beginning, of its end where it has no beginning.
type SlurSpan struct {
	From, To int
	Look     string
}

// SlurSpans joins the beginnings and ends of slurs in the order of the document, part by part, by their numbers, whichever
// voice writes them. An end may stand in the document before its beginning, where its voice is written first
// (MusicXML 4.0, number-level: numbers keep apart what overlaps in the order of the document within a part, and "a program
// may find the stopping point of an object earlier in the MusicXML document than it will find its starting point").
// They come in the order in which they are begun, as far as they are.
func (s *Score) SlurSpans() []SlurSpan {
	type key struct{ part, number int }
	var out []SlurSpan
	open := map[key]int{}    // which of out has begun and not ended
	early := map[key][]int{} // which of out have ended and not begun
	for n := range s.Notes {
		note := &s.Notes[n]
		if len(note.Slurs) == 0 {
			continue
		}
		for _, x := range note.Slurs {
			k := key{note.Part, x.Number}
			if x.Start {
				continue
			}
			if at, is := open[k]; is {
				out[at].To = n
				delete(open, k)
				continue
			}
			early[k] = append(early[k], len(out))
			out = append(out, SlurSpan{-1, n, x.Look})
		}
		begun := map[int]bool{} // numbers, here
		for _, x := range note.Slurs {
			if !x.Start || begun[x.Number] {
				continue
			}
			begun[x.Number] = true
			k := key{note.Part, x.Number}
			early[k] = slices.DeleteFunc(early[k], func(at int) bool { return s.Notes[out[at].To].Measure < note.Measure })
			if e := slices.IndexFunc(early[k], func(at int) bool { return !s.At(out[at].To).Less(s.At(n)) }); e >= 0 {
				out[early[k][e]].From, out[early[k][e]].Look = n, x.Look
				early[k] = slices.Delete(early[k], e, e+1)
				continue
			}
			open[k] = len(out)
			out = append(out, SlurSpan{n, -1, x.Look})
		}
	}
	return out
}
