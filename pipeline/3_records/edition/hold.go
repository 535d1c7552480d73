package edition

import (
	"cmp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
)

// A page lists every digit of an edition by the music at which it stands. Once
// another program has written the edition anew, with other bytes and other
// numbers of notes, the record is held against that music: what still fits
// counts, what does not is named.

// PageDigit is a digit of an edition's page.
type PageDigit struct {
	At    score.Address
	Digit string // its fingers: "3", "34" for a change from 3 to 4 in one sign
	Who   score.Responsibility
	Added bool // put there by the edition; else it stood in the text
}

// digitsOf gives the fingers of a sign, whatever stands around them.
func digitsOf(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '+' {
			return r
		}
		return -1
	}, text)
}

// Page spells the digits of an edition for Embedded.Page: address, letter of
// the responsibility (a capital for a digit that was added), fingers.
func Page(digits []PageDigit) string {
	words := make([]string, len(digits))
	for i, d := range digits {
		letter := string(letterOf(d.Who))
		if d.Added {
			letter = strings.ToUpper(letter)
		}
		words[i] = d.At.String() + " " + letter + digitsOf(d.Digit)
	}
	return strings.Join(words, ";")
}

// digits reads what Page spells; what cannot be read is left out.
func (e *Embedded) digits() []PageDigit {
	var out []PageDigit
	for _, word := range strings.Split(e.Page, ";") {
		at := strings.LastIndexByte(word, ' ')
		if at < 0 || at+1 >= len(word) {
			continue
		}
		address, err := score.ParseAddress(word[:at])
		letter := word[at+1]
		added := letter >= 'A' && letter <= 'Z'
		if added {
			letter += 'a' - 'A'
		}
		if who := letters[letter]; err == nil && who != score.Unattributed {
			out = append(out, PageDigit{At: address, Digit: word[at+2:], Who: who, Added: added})
		}
	}
	return out
}

// Held is a record held against the music of a score that another program has changed.
type Held struct {
	// Embedded is what of it still fits, notes named by their places in that score.
	Embedded *Embedded
	// Whose has for each note and indication whose it is, Unattributed where the record knows no such digit there.
	Whose [][]score.Responsibility
	// Added marks the indications that the edition had put there.
	Added [][]bool
	// Fit counts digits of the record that stand where they stood, Lost those that do not, AddedLost the added ones among
	// them, Unknown digits of the score that the record does not have there.
	Fit, Lost, AddedLost, Unknown int
	// Dropped counts decisions and redistributions of the record whose notes are not found.
	Dropped int
}

// key finds a digit's note: a key struck in a measure. Other programs round
// the onsets of tuplets to their own unit of time, so these are held beside.
type key struct{ measure, grace, midi int }

// rounding is how far an onset may lie from that of the record.
var rounding = score.Frac(1, 64)

// music is the notes of a score by their keys.
type music struct {
	score *score.Score
	notes map[key][]int
}

func musicOf(s *score.Score) music {
	m := music{s, map[key][]int{}}
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Kind == score.Pitched {
			k := key{n.Measure, n.Grace, n.Midi}
			m.notes[k] = append(m.notes[k], i)
		}
	}
	return m
}

// at lists the notes at an address that has moved by some measures, whatever its number.
func (m music) at(a score.Address, by int) (out []int) {
	for _, i := range m.notes[key{a.Measure + by, a.Grace, a.Midi}] {
		far := m.score.Notes[i].Onset.Sub(a.Onset)
		if !rounding.Less(far) && !rounding.Less(score.Fraction{}.Sub(far)) {
			out = append(out, i)
		}
	}
	return out
}

// Hold holds a record against a score's music. Measures that came in or went
// out before a digit shift it; a digit that is another, or stands at another
// note, does not fit. A record without a page, as older editions have it, gives nil.
func (e *Embedded) Hold(s *score.Score) *Held {
	if e == nil || e.Page == "" {
		return nil
	}
	h := &Held{Whose: make([][]score.Responsibility, len(s.Notes)), Added: make([][]bool, len(s.Notes))}
	for i := range s.Notes {
		h.Whose[i] = make([]score.Responsibility, len(s.Notes[i].Indications))
		h.Added[i] = make([]bool, len(s.Notes[i].Indications))
	}
	notes, digits := musicOf(s), e.digits()
	shift := shifts(notes, digits)
	for _, d := range digits {
		if h.take(s, notes.at(d.At, shift[d.At.Measure]), d) {
			h.Fit++
			continue
		}
		h.Lost++
		if d.Added {
			h.AddedLost++
		}
	}
	for i := range h.Whose {
		for _, who := range h.Whose[i] {
			if who == score.Unattributed {
				h.Unknown++
			}
		}
	}
	h.carry(e, notes, shift)
	return h
}

// take finds a digit of the record among the notes that may bear it.
func (h *Held) take(s *score.Score, notes []int, d PageDigit) bool {
	for _, i := range notes {
		for k := range s.Notes[i].Indications {
			if h.Whose[i][k] == score.Unattributed && digitsOf(s.Notes[i].Indications[k].Text) == d.Digit {
				h.Whose[i][k], h.Added[i][k] = d.Who, d.Added
				return true
			}
		}
	}
	return false
}

// mostShift is how many measures may have come in or gone out at once.
const mostShift = 32

// shifts says by how many measures each measure of the record has moved: as
// the one before it, but where more of its digits' notes are found elsewhere.
func shifts(notes music, digits []PageDigit) map[int]int {
	byMeasure := map[int][]PageDigit{}
	for _, d := range digits {
		byMeasure[d.At.Measure] = append(byMeasure[d.At.Measure], d)
	}
	measures := make([]int, 0, len(byMeasure))
	for m := range byMeasure {
		measures = append(measures, m)
	}
	slices.Sort(measures)
	found := func(m, by int) (n int) {
		for _, d := range byMeasure[m] {
			for _, i := range notes.at(d.At, by) {
				if slices.ContainsFunc(notes.score.Notes[i].Indications, func(ind score.Indication) bool {
					return digitsOf(ind.Text) == d.Digit
				}) {
					n++
					break
				}
			}
		}
		return n
	}
	out, now := map[int]int{}, 0
	for _, m := range measures {
		best, here := now, found(m, now)
		if 2*here <= len(byMeasure[m]) {
			most := max(here, 1) // one digit that fits elsewhere proves nothing
			for by := 1; by <= mostShift; by++ {
				for _, other := range []int{now + by, now - by} {
					if n := found(m, other); n > most {
						best, most = other, n
					}
				}
			}
		}
		now = best
		out[m] = now
	}
	return out
}

// carry names what the record decided by the notes of the score.
func (h *Held) carry(e *Embedded, notes music, shift map[int]int) {
	h.Embedded = &Embedded{}
	find := func(n int) int {
		k, ok := slices.BinarySearchFunc(e.Places, n, func(p Place, n int) int { return cmp.Compare(p.N, n) })
		if !ok {
			return -1
		}
		address, err := score.ParseAddress(e.Places[k].At)
		if err != nil {
			return -1
		}
		if found := notes.at(address, shift[address.Measure]); address.Ordinal < len(found) {
			return found[address.Ordinal]
		}
		return -1
	}
	findAll := func(list []int) ([]int, bool) {
		out := make([]int, len(list))
		for i, n := range list {
			if out[i] = find(n); out[i] < 0 {
				return nil, false
			}
		}
		return out, true
	}
	for _, d := range e.Decided {
		if d.N = find(d.N); d.N < 0 {
			h.Dropped++
			continue
		}
		h.Embedded.Decided = append(h.Embedded.Decided, d)
	}
	for _, r := range e.Redistributions {
		list, ok := findAll(r.Notes)
		if !ok {
			h.Dropped++
			continue
		}
		r.Notes = list
		h.Embedded.Redistributions = append(h.Embedded.Redistributions, r)
	}
	for _, d := range e.Seconds {
		if d.N = find(d.N); d.N < 0 {
			h.Dropped++
			continue
		}
		h.Embedded.Seconds = append(h.Embedded.Seconds, d)
	}
	for _, r := range e.Rolls {
		list, ok := findAll(r.Notes)
		if !ok {
			h.Dropped++
			continue
		}
		r.Notes = list
		h.Embedded.Rolls = append(h.Embedded.Rolls, r)
	}
	for _, unrolled := range e.Unrolled {
		if list, ok := findAll(unrolled); ok {
			h.Embedded.Unrolled = append(h.Embedded.Unrolled, list)
		} else {
			h.Dropped++
		}
	}
	for _, declined := range e.Declined {
		if list, ok := findAll(declined); ok {
			h.Embedded.Declined = append(h.Embedded.Declined, list)
		} else {
			h.Dropped++
		}
	}
}

// place gives an edition's record the music of the notes that it names.
func (e *Embedded) place(s *score.Score) {
	addresses := s.Addresses()
	named := map[int]bool{}
	for _, d := range e.Decided {
		named[d.N] = true
	}
	for _, r := range e.Redistributions {
		for _, n := range r.Notes {
			named[n] = true
		}
	}
	for _, d := range e.Seconds {
		named[d.N] = true
	}
	for _, r := range e.Rolls {
		for _, n := range r.Notes {
			named[n] = true
		}
	}
	for _, list := range slices.Concat(e.Declined, e.Unrolled) {
		for _, n := range list {
			named[n] = true
		}
	}
	for n := range addresses {
		if named[n] {
			e.Places = append(e.Places, Place{n, addresses[n].String()})
		}
	}
}

// WithMusic gives a record the music it stands on: the digits of the page, and
// the places of the notes that it names.
func (e Embedded) WithMusic(s *score.Score, page []PageDigit) Embedded {
	e.Page = Page(page)
	e.Places = nil
	e.place(s)
	return e
}
