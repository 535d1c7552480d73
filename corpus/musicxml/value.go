package musicxml

import (
	"strconv"

	"fingerproof/corpus/score"
)

// number reads a whole number of a sane size, from least to most. One that cannot be read is noted, as what it is and
// with what is taken for it.
func (p *partReader) number(note int, c *element, what, then string, least, most int) (int, bool) {
	n, err := strconv.Atoi(c.trimmed())
	if err != nil || n < least || n > most {
		p.unreadable(note, c, what, then)
		return 0, false
	}
	return n, true
}

// unreadable notes a value that cannot be read: the text that stands there, and what follows from it.
func (p *partReader) unreadable(note int, c *element, what, then string) {
	if c == nil || len(p.score.Oddities) >= mostOddities {
		return
	}
	if c.trimmed() == "" {
		p.missing(note, c, what, then)
		return
	}
	line := p.place(c.span.start).Line
	p.odd(score.OddValue, note, p.part, p.measure, line, "%s %.40q cannot be read; %s", what, c.trimmed(), then)
}

// missing notes a value that does not stand in an element.
func (p *partReader) missing(note int, e *element, what, then string) {
	if len(p.score.Oddities) < mostOddities {
		line := p.place(e.span.closeStart).Line
		p.odd(score.OddValue, note, p.part, p.measure, line, "%s is missing; %s", what, then)
	}
}
