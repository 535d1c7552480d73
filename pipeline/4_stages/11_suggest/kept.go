package suggest

import (
	"bytes"
	"encoding/binary"
	"encoding/gob"
	"errors"

	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

// A suggestion is kept between runs. What it says of notes is most of what is kept of a piece; gob asks each of its numbers
// for its kind, and takes ten times as long for them.

// GobEncode writes the suggestion, the notes as a row of numbers behind the rest.
func (s *Suggestion) GobEncode() ([]byte, error) {
	rest := restOfSuggestion(*s)
	rest.Notes = nil
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(&rest); err != nil {
		return nil, err
	}
	w := packer{data: make([]byte, 0, b.Len()+64*len(s.Notes)), words: map[string]int{}}
	w.number(b.Len())
	w.data = append(w.data, b.Bytes()...)
	w.number(len(s.Notes))
	for i := range s.Notes {
		w.note(&s.Notes[i])
	}
	return w.data, nil
}

// GobDecode reads what GobEncode wrote.
func (s *Suggestion) GobDecode(data []byte) error {
	r := unpacker{rest: data}
	n := r.count()
	if r.err != nil {
		return r.err
	}
	var rest restOfSuggestion
	if err := gob.NewDecoder(bytes.NewReader(r.rest[:n])).Decode(&rest); err != nil {
		return err
	}
	r.rest = r.rest[n:]
	notes := make([]NoteFingering, r.count())
	for i := range notes {
		r.note(&notes[i])
	}
	*s = Suggestion(rest)
	if len(notes) > 0 {
		s.Notes = notes
	}
	return r.err
}

// restOfSuggestion has the fields of a suggestion and not its methods.
type restOfSuggestion Suggestion

// packer puts numbers, each in as few bytes as it needs, and words, each once, behind one another.
type packer struct {
	data  []byte
	words map[string]int
}

func (w *packer) number(v int) { w.data = binary.AppendVarint(w.data, int64(v)) }

func (w *packer) yes(v bool) {
	if v {
		w.number(1)
	} else {
		w.number(0)
	}
}

func (w *packer) five(v [5]int) { w.numbers(v[:]) }
func (w *packer) numbers(v []int) {
	for _, n := range v {
		w.number(n)
	}
}

// word writes the number of a word that came before, else the next number and the word.
func (w *packer) word(v string) {
	n, known := w.words[v]
	if !known {
		n = len(w.words)
		w.words[v] = n
	}
	w.number(n)
	if !known {
		w.number(len(v))
		w.data = append(w.data, v...)
	}
}

func (w *packer) efforts(v []engine.Effort) {
	w.number(len(v))
	for _, e := range v {
		w.word(e.Criterion)
		w.number(e.Cost)
	}
}

func (w *packer) note(n *NoteFingering) {
	w.number(n.ID)
	w.number(int(n.Finger))
	w.number(int(n.Substitution))
	w.yes(n.Tied)
	w.yes(n.Constrained)
	w.number(n.Confidence)
	w.five(n.Shares)
	w.number(n.CostsMore)
	w.number(len(n.Choices))
	for i := range n.Choices {
		c := &n.Choices[i]
		w.number(int(c.Finger))
		w.number(c.Regret)
		w.number(len(c.Passage))
		for _, step := range c.Passage {
			w.number(step.ID)
			w.number(int(step.Finger))
		}
		w.efforts(c.Why)
	}
	w.efforts(n.Effort)
	w.five(n.Learned)
	w.word(string(n.OutOfReach))
	w.yes(n.Contradiction)
	w.number(n.Reach)
	w.yes(n.Pedal)
	w.yes(n.Spared)
	w.number(n.Given)
	w.number(len(n.Row))
	w.numbers(n.Row)
	w.yes(n.Detached)
}

// unpacker reads what a packer wrote. After an error all numbers are 0.
type unpacker struct {
	rest  []byte
	words []string
	err   error
}

var errCut = errors.New("what was kept of a suggestion ends too soon")

func (r *unpacker) number() int {
	v, n := binary.Varint(r.rest)
	if n <= 0 {
		r.rest, r.err = nil, errCut
		return 0
	}
	r.rest = r.rest[n:]
	return int(v)
}

// count reads how many follow, each of a byte at least.
func (r *unpacker) count() int {
	n := r.number()
	if n < 0 || n > len(r.rest) {
		r.rest, r.err = nil, errCut
		return 0
	}
	return n
}

func (r *unpacker) yes() bool { return r.number() != 0 }

func (r *unpacker) five() (v [5]int) {
	for i := range v {
		v[i] = r.number()
	}
	return v
}

func (r *unpacker) finger() fingering.Finger { return fingering.Finger(r.number()) }

func (r *unpacker) word() string {
	at := r.number()
	if at == len(r.words) {
		n := r.count()
		r.words = append(r.words, string(r.rest[:n]))
		r.rest = r.rest[n:]
	}
	if at < 0 || at >= len(r.words) {
		r.rest, r.err = nil, errCut
		return ""
	}
	return r.words[at]
}

func (r *unpacker) efforts() (v []engine.Effort) {
	if n := r.count(); n > 0 {
		v = make([]engine.Effort, n)
	}
	for i := range v {
		v[i] = engine.Effort{Criterion: r.word(), Cost: r.number()}
	}
	return v
}

func (r *unpacker) note(n *NoteFingering) {
	n.ID, n.Finger, n.Substitution = r.number(), r.finger(), r.finger()
	n.Tied, n.Constrained = r.yes(), r.yes()
	n.Confidence, n.Shares, n.CostsMore = r.number(), r.five(), r.number()
	if choices := r.count(); choices > 0 {
		n.Choices = make([]engine.Choice, choices)
	}
	for i := range n.Choices {
		c := &n.Choices[i]
		c.Finger, c.Regret = r.finger(), r.number()
		if steps := r.count(); steps > 0 {
			c.Passage = make([]engine.Step, steps)
		}
		for k := range c.Passage {
			c.Passage[k] = engine.Step{ID: r.number(), Finger: r.finger()}
		}
		c.Why = r.efforts()
	}
	n.Effort, n.Learned, n.OutOfReach = r.efforts(), r.five(), engine.Reason(r.word())
	n.Contradiction, n.Reach, n.Pedal, n.Spared, n.Given = r.yes(), r.number(), r.yes(), r.yes(), r.number()
	if row := r.count(); row > 0 {
		n.Row = make([]int, row)
	}
	for i := range n.Row {
		n.Row[i] = r.number()
	}
	n.Detached = r.yes()
}
