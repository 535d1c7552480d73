package page

import (
	"html/template"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
)

// card writes the card of a passage: its head, what there is to judge, its notation, its digits, what to do. There are too
// many on a page for a template, which takes some ten times as long.
type card struct{ strings.Builder }

// perCard is about how many bytes a card takes beside its digits, perColumn how many a column of them takes.
const perCard, perColumn = 2600, 220

// cards writes the cards of passages, one after the other.
func cards(views []passageView) template.HTML {
	var c card
	size := 0
	for i := range views {
		size += perCard + perColumn*len(views[i].Columns) + len(views[i].Picture)
	}
	c.Grow(size)
	for i := range views {
		c.passage(&views[i])
	}
	return template.HTML(c.String()) //nolint:gosec // all text in it is escaped
}

// add writes markup as it is.
func (c *card) add(markup ...string) {
	for _, m := range markup {
		c.WriteString(m)
	}
}

// text writes text, escaped.
func (c *card) text(s string) { c.WriteString(escaped(s)) }

// number writes a number.
func (c *card) number(n int) {
	var room [20]byte
	c.Write(strconv.AppendInt(room[:0], int64(n), 10))
}

// list writes an element for each of some texts.
func (c *card) list(texts []string, before, after string) {
	for _, t := range texts {
		c.add(before)
		c.text(t)
		c.add(after)
	}
}

func (c *card) passage(v *passageView) {
	c.head(v)
	c.add("<div class=\"body\">\n<p class=\"clash\" hidden></p>\n")
	c.list(v.Why, `<p class="why">`, `</p>`)
	c.add("\n")
	c.handover(v)
	c.add("\n")
	c.list(v.MayRoll, `<p class="why">`,
		". Roll (l) has it rolled, Roll down (L) from the highest key; with Stet it stays as written.</p>\n")
	for i := range v.Gathered {
		c.gathered(&v.Gathered[i])
	}
	c.add("\n")
	for i := range v.Then {
		c.finding(&v.Then[i])
	}
	c.add("\n")
	c.notation(v)
	c.add("\n", `<div class="scroll fingers" role="group" aria-label="fingers of passage `)
	c.number(v.Number)
	c.add(`">`)
	for i := range v.Columns {
		c.column(&v.Columns[i])
	}
	c.add("</div>\n<div class=\"choices\" hidden></div>\n")
	c.about(v)
	c.elsewhere(v)
	c.verbs(v)
	c.add("</div>\n</article>\n")
}

func (c *card) head(v *passageView) {
	c.add(`<article class="passage" id="p`)
	c.number(v.Number)
	c.add(`" data-number="`)
	c.number(v.Number)
	c.add(`" data-kind="`)
	c.text(v.KindName)
	c.add(`" data-sure="`)
	c.number(v.SureTo)
	c.add(`" data-about="`)
	c.text(v.About)
	c.add(`" data-first="`)
	c.number(v.First)
	c.add(`" data-last="`)
	c.number(v.Last)
	c.add(`" tabindex="-1" aria-labelledby="t`)
	c.number(v.Number)
	c.add("\">\n<h3 id=\"t")
	c.number(v.Number)
	c.add(`"><button type="button" class="row" aria-expanded="false"><span class="number">`)
	c.number(v.Number)
	c.add(`</span> <span class="place">`)
	c.text(v.Place)
	c.add(", ")
	c.text(v.HandName)
	c.add(`</span> <span class="brief">`)
	c.text(v.Brief)
	c.add("</span></button> <span class=\"state\" data-state=\"open\">open</span></h3>\n")
}

func (c *card) handover(v *passageView) {
	if v.Handover == nil {
		return
	}
	to := "right"
	if v.Handover.To == score.Left {
		to = "left"
	}
	c.add(`<p class="why">The `, to, ` hand takes, each with its finger, `)
	c.text(v.Handed)
	c.add(`. It gains `, strconv.FormatFloat(float64(v.Handover.Gain)/1000, 'f', 2, 64),
		` of effort (where two fingers differ by less than 0.30, both are fair).`)
	if v.Handover.Why != "" {
		c.add(" ")
		c.text(v.Handover.Why)
	}
	c.add(` Take gives them over; Stet leaves them with the hand that has them.</p>`)
	c.likeOffers(v)
}

// likeOffers says for which other redistributions the answer to one holds, or with which one it is answered.
func (c *card) likeOffers(v *passageView) {
	link := func(number int) {
		c.add(`<a href="#p`)
		c.number(number)
		c.add(`">passage `)
		c.number(number)
		c.add(`</a>`)
	}
	if v.LikeOf > 0 {
		c.add(`<p class="why">Both hands have the same keys as in `)
		link(v.LikeOf)
		c.add(`: it is answered with it, unless it is answered here by itself.</p>`)
	}
	if len(v.LikePlaces) > 0 {
		c.add(`<p class="why"><label><input type="checkbox" class="alike-offers" checked> The answer holds too where this comes again</label>: `)
		for i, place := range v.LikePlaces {
			if i > 0 {
				c.add(", ")
			}
			link(place.Number)
			c.add(" (")
			c.text(place.Measures)
			c.add(")")
		}
		c.add(`. Each can be answered by itself; r switches this.</p>`)
	}
}

// gathered writes the findings of one rule: alone, or folded where there are several.
func (c *card) gathered(g *gathered) {
	if !g.Many {
		for i := range g.Findings {
			c.finding(&g.Findings[i])
		}
		return
	}
	c.add(`<details class="gathered"><summary><span class="severity">`)
	c.text(g.Severity)
	c.add(`</span> `)
	c.text(g.Sentence)
	c.add(` <span class="rule">`)
	c.text(g.Rule)
	c.add(`</span></summary>`)
	for i := range g.Findings {
		c.finding(&g.Findings[i])
	}
	c.add(`</details>`)
	if !g.Letting {
		return
	}
	c.add(`<p class="together"><button type="button" class="let-all" data-rule="`)
	c.text(g.Rule)
	c.add(`">Let all `)
	c.number(len(g.Findings))
	c.add(` stand</button>`)
	if g.Putting > 0 {
		c.add(` <button type="button" class="put-all" data-rule="`)
		c.text(g.Rule)
		if g.Prints {
			c.add(`">Print all `)
			c.number(g.Putting)
		} else {
			c.add(`">Put all `)
			c.number(g.Putting)
			c.add(` in`)
		}
		c.add(`</button>`)
	}
	c.add(`</p>`)
}

func (c *card) finding(f *foundView) {
	c.add(`<p class="finding" data-finding="`)
	c.text(f.Fingerprint)
	c.add(`"><span class="severity">`)
	c.text(f.Severity)
	c.add(`</span> `)
	c.text(f.Sentence())
	if f.Fix != "" {
		c.add(` — `)
		c.text(f.Fix)
	}
	c.add(` <span class="rule">`)
	c.text(f.Rule)
	c.add(`</span> `)
	if f.Put != nil {
		words := [2]string{"Put the ", " in"}
		switch {
		case f.Put.Over:
			words = [2]string{"Take the ", " over"}
		case f.Put.Print:
			words = [2]string{"Print the ", ""}
		}
		c.add(`<button type="button" class="put" aria-pressed="false">`, words[0])
		c.text(f.Put.Text)
		c.add(words[1], `</button> `)
	}
	if f.Letting {
		c.add(`<button type="button" class="let">Let this stand</button>`)
	}
	c.add(`</p>`)
}

// notation writes the picture of a passage, with what stood there before, or the place for what is cut from the score.
func (c *card) notation(v *passageView) {
	if v.Picture == "" {
		c.add(`<div class="cut"></div>`)
		return
	}
	c.add("<div class=\"pair\">\n")
	if v.Unchanged {
		c.add(`<figure><figcaption>As it stands; nothing is suggested here</figcaption>`, string(v.Picture), `</figure>`)
	} else {
		c.before(v)
		c.add("\n<figure><figcaption>")
		if !v.Stands && v.Handover == nil && v.Drafted == "" {
			c.add(`No digit stood here. `)
		}
		c.add(`After, as <span class="shown">`)
		c.text(v.Shown)
		c.add(`</span>. Bold: in the text; upright: decided; italic: suggested; small: not printed; two lines below: in doubt</figcaption>`,
			string(v.Picture), `</figure>`)
	}
	c.add("\n</div>")
}

// before shows the picture once more, without what is suggested.
func (c *card) before(v *passageView) {
	if !v.Stands && v.Handover == nil {
		return
	}
	c.add(`<details class="was"`)
	if v.Handover != nil {
		c.add(` open`)
	}
	width, height := strconv.Itoa(v.Width), strconv.Itoa(v.Height)
	c.add(`><summary>Before</summary><svg class="engraving before" viewBox="0 0 `, width, ` `, height, `" width="`, width,
		`" height="`, height, `" role="img" aria-label="notation of passage `)
	c.number(v.Number)
	c.add(`, before"><use href="#x`)
	c.number(v.Number)
	c.add(`"/></svg></details>`)
}

// column writes what is struck at once, one button a key.
func (c *card) column(col *column) {
	c.add(`<span class="struck">`)
	for i := range col.Keys {
		k := &col.Keys[i]
		c.add(`<button type="button" class="finger`)
		for _, class := range [...]struct {
			is   bool
			name string
		}{
			{k.Doubt, " doubt"}, {k.Given, " given"}, {k.Stands, " stands"}, {k.Decided && !k.Stands, " decided"}, {!k.Prints, " unprinted"},
		} {
			if class.is {
				c.add(class.name)
			}
		}
		c.add(`" data-note="`)
		c.number(k.N)
		c.add(`"`)
		if k.Given && !k.Held && !k.Stands {
			c.add(" disabled")
		}
		c.add(`><b>`)
		c.text(k.Finger)
		c.add(`</b> <small>`)
		c.text(k.Pitch)
		c.add(`</small><span class="spoken">`)
		c.text(k.Said)
		c.add(`</span></button>`)
	}
	c.add(`<i>`)
	c.text(col.Beat)
	c.add(`</i></span>`)
}

// about writes what can be looked up: choices, effort in nats, reach, sources.
func (c *card) about(v *passageView) {
	if v.OfText {
		return // no finger is spoken of
	}
	c.add(`<details class="about"><summary>Choices, effort, reach`)
	if len(v.Sources) > 0 {
		c.add(`, sources`)
	}
	c.add("</summary>\n")
	if len(v.Choices) > 0 {
		c.add(`<ul class="plain">`)
		for _, choice := range v.Choices {
			c.add("<li>")
			c.text(choice.Place)
			c.add(", ")
			c.text(choice.Pitch)
			c.add(": ")
			c.number(choice.Finger)
			c.list(choice.Others, "; ", "")
			c.add("</li>")
		}
		c.add(`</ul>`)
	}
	c.add("\n")
	if len(v.Effort) > 0 {
		c.add(`<p>Effort: `)
		for i, s := range v.Effort {
			if i > 0 {
				c.add(" · ")
			}
			c.text(s.Criterion)
			c.add(" ", strconv.FormatFloat(float64(s.MilliNats)/1000, 'f', 2, 64))
		}
		c.add(`</p>`)
	}
	c.add("\n<p>Taken by ")
	c.text(v.Reach)
	c.add(`. <a href="#m`)
	c.number(v.First)
	c.add(`">Every note of `)
	c.text(v.Place)
	c.add("</a></p>\n")
	c.list(v.Sources, `<p>`, `</p>`)
	c.add("\n</details>\n")
}

// elsewhere writes where a passage comes again, and to which like places a decision can go.
func (c *card) elsewhere(v *passageView) {
	if len(v.Returns) > 0 {
		c.add(`<p class="returns">What is decided here is decided too where its music comes again (a place that is not ticked is asked by itself): `)
		for i, r := range v.Returns {
			c.add(`<label><input type="checkbox" class="again" checked data-k="`)
			c.number(i)
			c.add(`"> `)
			c.text(r)
			c.add(`<span class="gets"></span></label> `)
		}
		c.add(`</p>`)
	}
	c.add("\n")
	if len(v.Like) > 0 {
		c.add(`<div class="like"><p class="returns"><label><input type="checkbox" class="too"> Decide for its like places too</label>:</p><ul class="plain like-places">`)
		for i := range v.Like {
			l := &v.Like[i]
			c.add(`<li data-m="`)
			c.number(l.Measure)
			c.add(`">`)
			c.text(l.Place)
			c.add(` (`)
			c.text(l.Kind)
			c.add(`; <span>`)
			c.text(l.Says)
			c.add(`</span>)</li>`)
		}
		c.add(`</ul><details class="like-shown"><summary>Show them in notation</summary><div class="like-cuts"></div></details></div>`)
	}
	c.add("\n")
	if len(v.Refused) > 0 {
		c.add(`<details class="about"><summary>Like places to which it cannot go: `)
		c.number(len(v.Refused))
		c.add(`</summary><ul class="plain">`)
		for i := range v.Refused {
			l := &v.Refused[i]
			c.add(`<li>`)
			c.text(l.Place)
			c.add(` (`)
			c.text(l.Kind)
			c.add(`): `)
			c.text(l.Not)
			c.add(`</li>`)
		}
		c.add(`</ul></details>`)
	}
	c.add("\n")
}

func (c *card) verbs(v *passageView) {
	c.add(`<div class="verbs">`)
	if !v.Bare && !v.OfText { // its digits are taken where they are asked
		c.add(`<button type="button" data-verb="take">Take</button>`)
	}
	if v.Stands || len(v.Findings) > 0 || v.Handover != nil || len(v.MayRoll) > 0 {
		c.add(` <button type="button" data-verb="stet">Stet</button>`)
	}
	if v.Handover == nil && !v.OfText {
		c.add(` <button type="button" data-verb="amend">Amend</button>`)
	}
	if len(v.MayRoll) > 0 {
		c.add(` <button type="button" data-verb="roll">Roll</button> <button type="button" data-verb="rolldown">Roll down</button>`)
	}
	c.add(" <button type=\"button\" data-verb=\"query\">Query</button> <label>Why <input class=\"reason\" autocomplete=\"off\"></label></div>\n")
}
