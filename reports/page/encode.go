package page

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

	"fingerproof/corpus/source"
	"fingerproof/rules/engine"
)

// jsonText is JSON that is written by hand, value after value: to look at each type again for every note of a page takes
// many times as long. Text is escaped for HTML, as encoding/json does it.
type jsonText []byte

func (w *jsonText) raw(text string)  { *w = append(*w, text...) }
func (w *jsonText) text(text string) { *w = source.AppendJSON(*w, text) }
func (w *jsonText) number(n int)     { *w = strconv.AppendInt(*w, int64(n), 10) }

// listed writes values between brackets, null where the list is nil.
func listed[T any](w *jsonText, of []T, write func(v *T)) {
	if of == nil {
		w.raw("null")
		return
	}
	w.raw("[")
	for i := range of {
		if i > 0 {
			w.raw(",")
		}
		write(&of[i])
	}
	w.raw("]")
}

func (w *jsonText) numbers(of []int) { listed(w, of, func(n *int) { w.number(*n) }) }

func (w *jsonText) texts(of []string) { listed(w, of, func(t *string) { w.text(*t) }) }

func (w *jsonText) pairs(of [][2]int) { listed(w, of, func(p *[2]int) { w.pair(p[0], p[1]) }) }

func (w *jsonText) pair(a, b int) {
	w.raw("[")
	w.number(a)
	w.raw(",")
	w.number(b)
	w.raw("]")
}

// entry writes the name of a value, and what parts it from the one before.
func (w *jsonText) entry(name string) {
	w.part()
	w.text(name)
	w.raw(":")
}

func (w *jsonText) numberedEntry(n int) {
	w.part()
	w.raw(`"`)
	w.number(n)
	w.raw(`":`)
}

func (w *jsonText) part() {
	if b := *w; b[len(b)-1] != '{' {
		w.raw(",")
	}
}

// Values that are left out where there is nothing to say; name has the comma before it.
func (w *jsonText) someText(name, text string) {
	if text != "" {
		w.raw(name)
		w.text(text)
	}
}

func (w *jsonText) someNumber(name string, n int) {
	if n != 0 {
		w.raw(name)
		w.number(n)
	}
}

func (w *jsonText) someNumbers(name string, of []int) {
	if len(of) > 0 {
		w.raw(name)
		w.numbers(of)
	}
}

func (w *jsonText) flag(name string, is bool) {
	if is {
		w.raw(name)
		w.raw("true")
	}
}

// keyed writes a map, its keys in order.
func keyed[K cmp.Ordered, V any](w *jsonText, of map[K]V, key func(K) string, write func(v V)) {
	w.raw("{")
	byText := make(map[string]K, len(of))
	for k := range of {
		byText[key(k)] = k
	}
	for _, text := range slices.Sorted(maps.Keys(byText)) {
		w.entry(text)
		write(of[byText[text]])
	}
	w.raw("}")
}

func asItIs(key string) string { return key }

// byNumber writes what is held by number, its keys in the order that they have as text.
func byNumber[T any](w *jsonText, of *numbered[T], write func(v *T)) {
	w.raw("{")
	of.asText(func(n int, v *T) {
		w.numberedEntry(n)
		write(v)
	})
	w.raw("}")
}

// encode writes what the script knows, in the order and under the names of the fields.
func (d *pageData) encode() []byte {
	out := make(jsonText, 0, 1024+300*len(d.Passages.of)+160*len(d.Notes.of)+60*len(d.Choices.of))
	w := &out
	w.raw(`{"key":`)
	w.text(d.Key)
	w.raw(`,"run":`)
	w.text(d.Run)
	w.raw(`,"piece":`)
	w.text(d.Piece)
	w.raw(`,"engine":`)
	w.text(d.Engine)
	w.raw(`,"score":`)
	w.text(d.Score)
	w.raw(`,"passages":`)
	byNumber(w, &d.Passages, w.passage)
	w.raw(`,"notes":`)
	byNumber(w, &d.Notes, w.note)
	w.raw(`,"choices":`)
	byNumber(w, &d.Choices, w.choices)
	w.raw(`,"findings":`)
	keyed(w, d.Findings, asItIs, w.findingRef)
	w.raw(`,"music":`)
	w.texts(d.Music)
	if len(d.Decided) > 0 {
		w.raw(`,"decided":`)
		keyed(w, d.Decided, asItIs, w.text)
	}
	if len(d.Heads) > 0 {
		w.raw(`,"heads":`)
		keyed(w, d.Heads, asItIs, w.text)
	}
	if len(d.Held) > 0 {
		w.raw(`,"held":`)
		keyed(w, d.Held, strconv.Itoa, w.held)
	}
	if len(d.Alike) > 0 {
		w.raw(`,"alike":`)
		keyed(w, d.Alike, strconv.Itoa, w.numbers)
	}
	w.raw(`,"at":`)
	byNumber(w, &d.At, func(n *int) { w.number(*n) })
	w.raw(`,"says":`)
	byNumber(w, &d.Says, func(t *string) { w.text(*t) })
	if len(d.Groups) > 0 {
		w.raw(`,"groups":`)
		keyed(w, d.Groups, asItIs, w.texts)
	}
	w.raw(`,"places":`)
	w.texts(d.Places)
	w.raw(`,"around":`)
	w.texts(d.Around[:])
	w.raw("}")
	return out
}

func (w *jsonText) passage(p *passageData) {
	w.raw(`{"hand":`)
	w.text(p.Hand.String())
	w.raw(`,"place":`)
	w.text(p.Place)
	w.raw(`,"first":`)
	w.number(p.First)
	w.raw(`,"last":`)
	w.number(p.Last)
	w.raw(`,"notes":`)
	w.numbers(p.Notes)
	w.someNumbers(`,"around":`, p.Around)
	w.someNumbers(`,"doubts":`, p.Doubts)
	if len(p.Findings) > 0 {
		w.raw(`,"findings":`)
		w.texts(p.Findings)
	}
	w.raw(`,"mark":`)
	w.text(p.Mark)
	w.flag(`,"firm":`, p.Firm)
	w.someText(`,"handover":`, p.Handover)
	w.someText(`,"to":`, p.To)
	w.someText(`,"reason":`, p.Reason)
	if len(p.Handed) > 0 {
		w.raw(`,"handed":`)
		w.pairs(p.Handed)
	}
	if len(p.Staying) > 0 {
		w.raw(`,"staying":`)
		w.pairs(p.Staying)
	}
	w.someNumbers(`,"like":`, p.Like)
	if len(p.Rolls) > 0 {
		w.raw(`,"rolls":`)
		listed(w, p.Rolls, w.roll)
	}
	if len(p.IfTaken) > 0 {
		w.raw(`,"then":`)
		w.texts(p.IfTaken)
	}
	w.flag(`,"wants":`, p.WantsReason)
	w.flag(`,"returns":`, p.Returns)
	if len(p.Also) > 0 {
		w.raw(`,"also":`)
		listed(w, p.Also, func(a *alsoData) { a.write(w) })
	}
	w.someNumbers(`,"open":`, p.Open)
	w.someNumbers(`,"rest":`, p.Rest)
	w.flag(`,"bare":`, p.Bare)
	if len(p.Figures) > 0 {
		w.raw(`,"figures":`)
		listed(w, p.Figures, w.figure)
	}
	w.raw("}")
}

func (w *jsonText) roll(r *rollData) {
	w.raw(`{"n":`)
	w.numbers(r.Notes)
	w.someText(`,"r":`, r.Reason)
	w.raw("}")
}

func (w *jsonText) figure(f *figureData) {
	w.raw(`{"m":`)
	w.number(f.Measure)
	w.raw(`,"n":`)
	w.numbers(f.Notes)
	w.raw(`,"places":`)
	listed(w, f.Places, w.likePlace)
	w.raw("}")
}

func (w *jsonText) likePlace(l *likePlace) {
	w.raw(`{"m":`)
	w.number(l.Measure)
	w.raw(`,"place":`)
	w.text(l.Place)
	w.raw(`,"kind":`)
	w.text(l.Kind)
	w.someNumber(`,"shift":`, l.Shift)
	w.someNumber(`,"open":`, l.Open)
	w.someText(`,"not":`, l.Not)
	w.raw(`,"n":`)
	w.numbers(l.Notes)
	w.raw("}")
}

func (w *jsonText) note(n *noteData) {
	w.raw(`{"o":`)
	w.text(n.Moment)
	w.raw(`,"k":`)
	w.text(n.Key)
	w.raw(`,"i":`)
	w.number(n.Index)
	w.raw(`,"t":`)
	w.number(n.Rank)
	w.raw(`,"m":`)
	w.text(n.Measure)
	w.raw(`,"b":`)
	w.text(n.Beat)
	w.raw(`,"p":`)
	w.text(n.Pitch)
	w.raw(`,"f":`)
	w.number(n.Finger)
	w.someText(`,"w":`, n.Written)
	w.flag(`,"g":`, n.Given)
	w.flag(`,"s":`, n.Stands)
	w.someText(`,"x":`, n.Text)
	w.flag(`,"xa":`, n.Alone)
	w.someText(`,"r":`, n.Row)
	w.someNumbers(`,"l":`, n.Lengths)
	w.someNumber(`,"v":`, n.Voice)
	w.raw("}")
}

// choices are the other fingers of a note: each with what it costs more, and the passage that follows, as pairs of note
// and finger.
func (w *jsonText) choices(of *[]engine.Choice) {
	listed(w, *of, func(c *engine.Choice) {
		w.raw(`{"f":`)
		w.number(int(c.Finger))
		w.raw(`,"c":`)
		w.number(c.Regret)
		w.raw(`,"p":[`)
		for i, s := range c.Passage {
			if i > 0 {
				w.raw(",")
			}
			w.pair(s.ID, int(s.Finger))
		}
		w.raw("]}")
	})
}

func (w *jsonText) findingRef(f findingRef) {
	w.raw(`{"rule":`)
	w.text(f.Rule)
	w.someNumbers(`,"notes":`, f.Notes)
	w.someText(`,"put":`, f.Put)
	w.someText(`,"from":`, f.From)
	w.flag(`,"print":`, f.Print)
	w.someText(`,"over":`, f.Over)
	w.someText(`,"entry":`, f.Entry)
	w.someText(`,"drop":`, f.Drop)
	w.someText(`,"stays":`, f.Stays)
	w.someNumber(`,"then":`, f.Then)
	w.someNumbers(`,"speaks":`, f.Speaks)
	w.flag(`,"mild":`, f.Mild)
	w.raw("}")
}

func (w *jsonText) held(h heldData) {
	w.raw(`{"by":`)
	w.text(h.By)
	w.raw(`,"at":`)
	w.number(h.At)
	w.flag(`,"whole":`, h.Whole)
	w.raw("}")
}
