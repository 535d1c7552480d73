package alteration

import (
	"strconv"

	"github.com/beevik/etree"
)

// FingeringsOf gives the digits of a note.
func FingeringsOf(e *etree.Element) []*etree.Element {
	return e.FindElements("notations/technical/fingering")
}

// TechnicalOf gives the technical element of a note, made where there is none.
func TechnicalOf(e *etree.Element) *etree.Element {
	if t := e.FindElement("notations/technical"); t != nil {
		return t
	}
	return NotationsOf(e).CreateElement("technical")
}

// NotationsOf gives the notations of a note, made where there are none.
func NotationsOf(e *etree.Element) *etree.Element {
	if n := e.SelectElement("notations"); n != nil {
		return n
	}
	n := etree.NewElement("notations")
	at := len(e.Child)
	for i, c := range e.Child { // lyric and what follows come after notations
		if x, ok := c.(*etree.Element); ok && (x.Tag == "lyric" || x.Tag == "play" || x.Tag == "listen") {
			at = i
			break
		}
	}
	e.InsertChildAt(at, n)
	return n
}

func intOf(e *etree.Element, tag string) int {
	c := e.SelectElement(tag)
	if c == nil {
		return 0
	}
	n, _ := strconv.Atoi(c.Text())
	return n
}

func setInt(e *etree.Element, tag string, v int) {
	if c := e.SelectElement(tag); c != nil {
		c.SetText(strconv.Itoa(v))
	}
}

// halves reports whether the duration of a note can be halved.
func halves(e *etree.Element) bool {
	long := intOf(e, "duration")
	return long >= 2 && long%2 == 0
}

// inChord reports whether a note joins a chord or has notes that join it.
func inChord(e *etree.Element) bool {
	if e.SelectElement("chord") != nil {
		return true
	}
	next := nextElement(e)
	return next != nil && next.Tag == "note" && next.SelectElement("chord") != nil
}

func nextElement(e *etree.Element) *etree.Element {
	siblings := e.Parent().Child
	for i := e.Index() + 1; i < len(siblings); i++ {
		if x, ok := siblings[i].(*etree.Element); ok {
			return x
		}
	}
	return nil
}

func restLike(e *etree.Element, duration int) *etree.Element {
	r := etree.NewElement("note")
	r.CreateElement("rest")
	r.CreateElement("duration").SetText(strconv.Itoa(duration))
	for _, tag := range []string{"voice", "staff"} {
		if c := e.SelectElement(tag); c != nil {
			r.CreateElement(tag).SetText(c.Text())
		}
	}
	return r
}
