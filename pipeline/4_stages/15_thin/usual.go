package thin

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"sync"

	"fingerproof/rules/hand"
)

// Usual is what the reader takes for usual: how much less, or more, than the spans say a finger, a grip or a move is to be
// expected. It is learned from print (learn.go): of a key alone, of two neighbours and the outer two of a chord, of a
// chord of three as a whole, of a move between single keys, and of the lower and of the upper keys of others. A move of a
// single key is looked up by both fingers, the distance and which of the keys are black: a player knows no more by heart.
// nil is a reader who goes by the spans alone.
type Usual struct {
	tables [numTables][]int // by place in the table, in units of unease; what is likelier than the spans say has less than 0
}

// The tables of a Usual.
const (
	ofKey    = iota // finger, black
	ofPair          // two fingers, distance, which is black
	ofOuter         // two fingers, distance
	ofShape         // which of the ten grips of three fingers, both distances
	ofStep          // two fingers, distance, which is black
	ofLower         // of chords: one, two fingers, distance
	ofUpper         // likewise
	ofMemory        // taken otherwise: a known turn, a figure, a chord struck again
	numTables
)

var tableNames = [numTables]string{"key", "pair", "outer", "shape", "step", "lower", "upper", "memory"}

// How many semitones, and more, are told apart.
const (
	widePair  = 16
	wideOuter = 20
	wideShape = 14
	wideStep  = 16
)

const (
	pairs = 6 * 6 // of fingers, 0 for none
	steps = 2*wideStep + 1
	kinds = 3 // of moves of chords: from a single key, to a single key, from chord to chord
)

var tableSizes = [numTables]int{
	6 * 2, pairs * (widePair + 1) * 4, pairs * (wideOuter + 1), 10 * (wideShape + 1) * (wideShape + 1), pairs * steps * 4,
	kinds * pairs * steps, kinds * pairs * steps, 3,
}

// The places of ofMemory.
const (
	otherTurn = iota
	otherFigure
	otherGrip
)

// newUsual has empty tables.
func newUsual() *Usual {
	u := &Usual{}
	for t := range u.tables {
		u.tables[t] = make([]int, tableSizes[t])
	}
	return u
}

// blacks says which of two keys are black: 1 the first, 2 the second.
func blacks(a, b int) (out int) {
	if hand.Black(a) { // mirroring about D keeps black keys black
		out = 1
	}
	if hand.Black(b) {
		out += 2
	}
	return out
}

// stepped moves a distance into the tables of moves.
func stepped(d int) int { return min(max(d, -wideStep), wideStep) + wideStep }

// gripPlaces gives the places of the tables that speak of a grip.
func gripPlaces(keys, fingers []int, at func(table, place int)) {
	n := len(keys)
	if slices.Contains(fingers, 0) {
		return
	}
	if n == 1 {
		at(ofKey, fingers[0]*2+blacks(keys[0], keys[0])&1)
		return
	}
	for i := 1; i < n; i++ {
		two := fingers[i-1]*6 + fingers[i]
		at(ofPair, (two*(widePair+1)+min(keys[i]-keys[i-1], widePair))*4+blacks(keys[i-1], keys[i]))
	}
	if n > 2 {
		at(ofOuter, (fingers[0]*6+fingers[n-1])*(wideOuter+1)+min(keys[n-1]-keys[0], wideOuter))
	}
	if n == 3 {
		if g := slices.IndexFunc(grips[3], func(g []int) bool { return slices.Equal(g, fingers) }); g >= 0 {
			low, high := min(keys[1]-keys[0], wideShape), min(keys[2]-keys[1], wideShape)
			at(ofShape, (g*(wideShape+1)+low)*(wideShape+1)+high)
		}
	}
}

// movePlaces gives the places of the tables that speak of a move from one grip to another.
func movePlaces(before *event, was []int, e *event, now []int, at func(table, place int)) {
	if slices.Contains(was, 0) || slices.Contains(now, 0) {
		return
	}
	n, m := len(before.keys), len(e.keys)
	if m > 1 && slices.Equal(before.keys, e.keys) {
		if !slices.Equal(was, now) {
			at(ofMemory, otherGrip)
		}
		return
	}
	low := (was[0]*6+now[0])*steps + stepped(e.keys[0]-before.keys[0])
	if n == 1 && m == 1 {
		at(ofStep, low*4+blacks(before.keys[0], e.keys[0]))
		return
	}
	kind := 2
	switch {
	case n == 1:
		kind = 0
	case m == 1:
		kind = 1
	}
	high := (was[n-1]*6+now[m-1])*steps + stepped(e.keys[m-1]-before.keys[n-1])
	at(ofLower, kind*pairs*steps+low)
	at(ofUpper, kind*pairs*steps+high)
}

func (u *Usual) ofGrip(keys, fingers []int) (sum int) {
	if u != nil {
		gripPlaces(keys, fingers, func(table, place int) { sum += u.tables[table][place] })
	}
	return sum
}

func (u *Usual) ofMove(before *event, was []int, e *event, now []int) (sum int) {
	if u != nil {
		movePlaces(before, was, e, now, func(table, place int) { sum += u.tables[table][place] })
	}
	return sum
}

func (u *Usual) otherwise(place int) int {
	if u == nil {
		return 0
	}
	return u.tables[ofMemory][place]
}

//go:embed usual.json
var usualFile []byte

var shippedUsual = sync.OnceValue(func() *Usual {
	u, err := ReadUsual(usualFile)
	if err != nil {
		panic(err) // embedded, and tested
	}
	return u
})

// usualDocument is a Usual in a file: of each table the places that are not 0, each with its value behind it.
type usualDocument struct {
	Provenance  string           `json:"provenance"`
	Attribution []string         `json:"attribution,omitempty"`
	Tables      map[string][]int `json:"tables"`
}

// ReadUsual reads what File wrote. It is an error if a table is unknown or a place lies outside.
func ReadUsual(file []byte) (*Usual, error) {
	var d usualDocument
	if err := json.Unmarshal(file, &d); err != nil {
		return nil, fmt.Errorf("reading what a reader takes for usual: %w", err)
	}
	u := newUsual()
	for name, values := range d.Tables {
		t := slices.Index(tableNames[:], name)
		if t < 0 || len(values)%2 != 0 {
			return nil, fmt.Errorf("reading what a reader takes for usual: table %q is unknown or not in pairs", name)
		}
		for k := 0; k < len(values); k += 2 {
			if at := values[k]; at < 0 || at >= len(u.tables[t]) {
				return nil, fmt.Errorf("reading what a reader takes for usual: table %q has no place %d", name, at)
			}
			u.tables[t][values[k]] = values[k+1]
		}
	}
	return u, nil
}

// File is the Usual as a file, a table a line, with where it comes from.
func (u *Usual) File(provenance string, attribution []string) []byte {
	d := usualDocument{Provenance: provenance, Attribution: attribution, Tables: map[string][]int{}}
	for t, values := range u.tables {
		for at, v := range values {
			if v != 0 {
				d.Tables[tableNames[t]] = append(d.Tables[tableNames[t]], at, v)
			}
		}
	}
	out, err := json.Marshal(&d)
	if err != nil {
		panic(err) // whole numbers and words
	}
	for _, name := range tableNames {
		out = bytes.Replace(out, []byte(`"`+name+`":[`), []byte("\n\""+name+`":[`), 1)
	}
	return append(out, '\n')
}

// BySpans is a reader who goes by the spans alone.
func BySpans() *Usual { return newUsual() }
