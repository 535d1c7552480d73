package score

import (
	"fmt"
	"regexp"
	"strconv"
)

// Beat is a moment of a measure as a musician counts it: the felt beat, and
// within it the note value or the equal part on which the moment falls.
type Beat struct {
	Number int64 // of the beat, from 1
	// Ordinal counts the values or parts of the beat from 1; 0 on the beat itself.
	Ordinal int64
	// Value is the note value counted within the beat, as a part of a whole
	// note: 8 for eighths. 0 where the beat is divided otherwise.
	Value int64
	// Parts is into how many equal parts the beat is divided where no note
	// value does it: 3 for a triplet in simple time.
	Parts int64
	// Rest is how many quarters the moment lies behind the beat where nothing
	// that anybody counts divides it so; Parts then does it all the same.
	Rest Fraction
}

// Note values that may be counted within a beat, and the finest division of it
// that anybody counts.
const (
	coarsestValue = 2 // half notes, in a metre of breves
	finestValue   = 64
	finestParts   = 24
)

// BeatAt names an onset by the beat of its measure. An upbeat, and what is
// left of a measure that was split, count on from what is missing before them.
func (s *Score) BeatAt(measure int, onset Fraction) Beat {
	return s.Measures[measure].beat(onset.Add(s.Upbeat(measure)))
}

// Upbeat is how much of its metre has gone by when a measure begins: nothing,
// but for an upbeat and for the rest of a split measure.
func (s *Score) Upbeat(measure int) Fraction {
	m := &s.Measures[measure]
	missing := m.Nominal.Sub(m.Length)
	if missing.Sign() <= 0 || len(s.Measures) == 1 {
		return Fraction{}
	}
	if measure == 0 {
		return missing
	}
	if !m.Implicit {
		return Fraction{}
	}
	// Of a measure split by a repeat sign the second part, or the third.
	gone := s.Upbeat(measure - 1).Add(s.Measures[measure-1].Length)
	if gone.Add(m.Length).Cmp(m.Nominal) <= 0 {
		return gone
	}
	// After a whole measure it begins something: a part that has an upbeat, or a measure that is split.
	if next := measure + 1; next < len(s.Measures) && s.Measures[next].Implicit && s.Measures[next].Length == missing {
		return Fraction{}
	}
	return missing
}

func (m *Measure) beat(onset Fraction) Beat {
	unit := m.unit()
	q := onset.Mul(Frac(unit.Den(), unit.Num()))
	whole := q.Num() / q.Den()
	if q.Sign() < 0 {
		whole = 0 // before the measure: no beat is named
	}
	b := Beat{Number: whole + 1}
	rest := onset.Sub(unit.Mul(Whole(whole)))
	if rest.Sign() == 0 {
		return b
	}
	for value := int64(coarsestValue); value <= finestValue && rest.Sign() > 0; value *= 2 {
		count := Frac(value, 4) // of the value to a quarter
		if in, all := rest.Mul(count), unit.Mul(count); in.Den() == 1 && all.Den() == 1 && Whole(1).Less(all) {
			b.Ordinal, b.Value = in.Num()+1, value
			return b
		}
	}
	part := rest.Mul(Frac(unit.Den(), unit.Num()))
	b.Ordinal, b.Parts = part.Num()+1, part.Den()
	if part.Den() > finestParts || part.Sign() < 0 {
		b.Rest = rest
	}
	return b
}

// unit is the length of the felt beat, a quarter where no metre says it.
func (m *Measure) unit() Fraction {
	if m.BeatUnit.Sign() <= 0 {
		return Whole(1)
	}
	return m.BeatUnit
}

// Beat prints the beat an onset falls on as it follows the word "beat": "3" on
// the beat, "2, third eighth", "2, second of three" in a triplet.
func (s *Score) Beat(measure int, onset Fraction) string { return s.BeatAt(measure, onset).String() }

// OnBeat says that the moment is the beat itself.
func (b Beat) OnBeat() bool { return b.Ordinal == 0 }

// String is the beat in words: "3", "2, third eighth", "2, second of three".
func (b Beat) String() string { return b.write(ordinalWords, valueWords, numberWords) }

// Short is the beat for tables: "3", "2, 3rd 8th", "2, 2nd of 3".
func (b Beat) Short() string { return b.write(ordinalShort, valueShort, decimal) }

func (b Beat) write(ordinal, value, number func(int64) string) string {
	out := decimal(b.Number)
	switch {
	case b.Value > 0:
		out += ", " + ordinal(b.Ordinal) + " " + value(b.Value)
	case b.Rest.Sign() < 0: // before the measure, as what an aligned score has there and this one has not
		out += fmt.Sprintf(", %s of a quarter before it", Fraction{}.Sub(b.Rest))
	case b.Rest.Sign() != 0:
		out += fmt.Sprintf(", %s of a quarter after it", b.Rest)
	case b.Parts > 0:
		out += ", " + ordinal(b.Ordinal) + " of " + number(b.Parts)
	}
	return out
}

// Key is the beat without a space, for lines that are keyed in: "3", "2.3/8"
// for its third eighth, "2.2:3" for the second of three.
func (b Beat) Key() string {
	switch {
	case b.Value > 0:
		return fmt.Sprintf("%d.%d/%d", b.Number, b.Ordinal, b.Value)
	case b.Ordinal > 0:
		return fmt.Sprintf("%d.%d:%d", b.Number, b.Ordinal, b.Parts)
	}
	return decimal(b.Number)
}

// Keyed reads what Key prints, in any note value or number of parts that comes
// to the same moment, and gives the onset in a measure. It reads too what
// sheets printed before: "3+1/2" for half a quarter after the third beat, and
// beats of a split measure that were counted from its own beginning; the onsets
// that may be meant are given in the order in which they should be tried, and none where the beat
// has no such part.
func (s *Score) Keyed(measure int, word string) (onsets []Fraction, ok bool) {
	m := keyForm.FindStringSubmatch(word)
	if m == nil {
		return nil, false
	}
	number := func(i int) int64 {
		n, _ := strconv.ParseInt(m[i], 10, 32)
		return n
	}
	unit := s.Measures[measure].unit()
	at := unit.Mul(Whole(number(1) - 1))
	older := Fraction{} // what was counted as gone by before
	if first := &s.Measures[0]; measure == 0 && first.Implicit && first.Nominal.Cmp(first.Length) > 0 {
		older = first.Nominal.Sub(first.Length)
	}
	if m[3] != "" {
		if number(4) == 0 {
			return nil, false
		}
		behind := Frac(4*(number(2)-1), number(4))
		if m[3] == ":" {
			behind = unit.Mul(Frac(number(2)-1, number(4)))
		}
		if behind.Sign() < 0 || !behind.Less(unit) {
			return nil, true // the beat has no such part: what lies there is a part of another
		}
		return []Fraction{at.Add(behind).Sub(s.Upbeat(measure))}, true
	}
	if m[5] != "" {
		rest, err := ParseFraction(m[5])
		return []Fraction{at.Add(rest).Sub(older)}, err == nil
	}
	return []Fraction{at.Sub(s.Upbeat(measure)), at.Sub(older)}, true
}

var keyForm = regexp.MustCompile(`^(\d+)(?:\.(\d+)([/:])(\d+)|\+(\d+(?:/\d+)?))?$`)

func decimal(n int64) string { return strconv.FormatInt(n, 10) }

// ordinalWords writes small ordinals in words, as a sentence does.
func ordinalWords(n int64) string {
	words := [...]string{1: "first", 2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth", 7: "seventh"}
	if n > 0 && n < int64(len(words)) {
		return words[n]
	}
	return ordinalShort(n)
}

func ordinalShort(n int64) string {
	ending := "th"
	if n/10%10 != 1 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return decimal(n) + ending
}

func valueWords(value int64) string {
	switch value {
	case 2:
		return "half"
	case 4:
		return "quarter"
	case 8:
		return "eighth"
	case 16:
		return "sixteenth"
	case 32:
		return "thirty-second"
	}
	return "sixty-fourth"
}

func valueShort(value int64) string {
	if value <= 4 {
		return valueWords(value)
	}
	return ordinalShort(value)
}

func numberWords(n int64) string {
	words := [...]string{
		2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine", 10: "ten", 11: "eleven",
		12: "twelve",
	}
	if n >= 2 && n < int64(len(words)) {
		return words[n]
	}
	return decimal(n)
}
