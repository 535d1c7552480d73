package learned

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"fingerproof/rules/fingering"
)

// Network is a trained network in whole numbers. A strike's numbers are the sum of the rows of the table that its
// columns name; each layer adds to them what a convolution over the strikes about it, and then a perceptron, make of them;
// a last map gives a number for each finger. What passes from layer to layer is clipped to 0 to 127 parts of 2^-5.
//
// A network is read once and not changed: any number of goroutines may use it.
type Network struct {
	file    []byte
	head    header
	columns []int // which of the columns are looked up
	first   []int // column → its first row
	table   packed
	layers  []layer
	out     packed
}

type layer struct {
	dilation       int
	conv, up, down packed
}

// header is the first line of a file.
type header struct {
	Name        string          `json:"name"`
	Provenance  string          `json:"provenance"`
	Attribution []string        `json:"attribution,omitempty"`
	Columns     [][2]any        `json:"columns"`
	Width       int             `json:"width"`
	Reach       int             `json:"reach"`
	Dilations   []int           `json:"dilations"`
	Hidden      int             `json:"hidden"`
	Shifts      shifts          `json:"shifts"`
	Group       int             `json:"group"`
	Seed        int             `json:"seed"`
	Number      int             `json:"number"`
	Settings    json.RawMessage `json:"settings"`
	Teacher     []string        `json:"teacher"`
	Data        json.RawMessage `json:"data"`
}

type shifts struct {
	Table int   `json:"table"`
	Conv  []int `json:"conv"`
	Up    []int `json:"up"`
	Down  []int `json:"down"`
	Out   int   `json:"out"`
}

// Steps in which the numbers are counted: those of a strike in 2^-fine, those that pass on in 2^-coarse, of which there
// are top at most.
const (
	fine   = 16
	coarse = 5
	top    = 127
)

// File is what the network was read from. It is shared; do not change it.
func (n *Network) File() []byte { return n.file }

// Provenance says how the network was trained, and Attribution on what.
func (n *Network) Provenance() string { return n.head.Provenance }

// Group is the fold that the network was taught without, 5 for none.
func (n *Network) Group() int { return n.head.Group }

// Attribution lists whose scores the network was taught from.
func (n *Network) Attribution() []string { return n.head.Attribution }

// Read reads a network: a line of JSON, then its numbers, one byte each, in the order of the layers.
func Read(data []byte) (*Network, error) {
	n, err := read(data)
	if err != nil {
		return nil, fmt.Errorf("reading a network: %w", err)
	}
	return n, nil
}

// largest bounds every size that a file may ask for.
const largest = 256

func read(data []byte) (*Network, error) {
	end := bytes.IndexByte(data, '\n')
	if end < 0 {
		return nil, errors.New("it has no first line")
	}
	n := &Network{file: data}
	dec := json.NewDecoder(bytes.NewReader(data[:end]))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&n.head); err != nil {
		return nil, err
	}
	h, rows := &n.head, 0
	known := map[string]int{}
	for c := range columns {
		known[columns[c].Name] = c
	}
	for _, c := range h.Columns {
		name, _ := c[0].(string)
		values, _ := c[1].(float64)
		k, ok := known[name]
		if !ok || columns[k].Values != int(values) {
			return nil, fmt.Errorf("there is no column %q of %v values", name, c[1])
		}
		n.columns, n.first = append(n.columns, k), append(n.first, rows)
		rows += columns[k].Values
	}
	layers := len(h.Dilations)
	sizes := []int{h.Width, h.Reach + 1, layers + 1, h.Hidden + 1, len(h.Columns)}
	sizes = append(sizes, h.Dilations...)
	for _, v := range sizes {
		if v < 1 || v > largest {
			return nil, fmt.Errorf("a size of %d", v)
		}
	}
	perceptron := h.Hidden > 0
	if len(h.Shifts.Conv) != layers || perceptron && (len(h.Shifts.Up) != layers || len(h.Shifts.Down) != layers) {
		return nil, errors.New("its layers have no steps")
	}
	r := reader{rest: data[end+1:]}
	n.table = r.packed(rows, h.Width, h.Shifts.Table, len(n.columns), 1)
	for k, dilation := range h.Dilations {
		l := layer{dilation: dilation}
		taps := 2*h.Reach + 1
		l.conv = r.packed(taps*h.Width, h.Width, h.Shifts.Conv[k], taps*h.Width, top)
		if perceptron {
			l.up = r.packed(h.Width, h.Hidden, h.Shifts.Up[k], h.Width, top)
			l.down = r.packed(h.Hidden, h.Width, h.Shifts.Down[k], h.Hidden, top)
		}
		n.layers = append(n.layers, l)
	}
	n.out = r.packed(h.Width, fingering.Fingers, h.Shifts.Out, h.Width, top)
	switch {
	case r.err != nil:
		return nil, r.err
	case len(r.rest) > 0:
		return nil, fmt.Errorf("%d bytes too many", len(r.rest))
	}
	return n, nil
}

// A word holds three numbers side by side, each of so many bits with its sign: one product multiplies all three.
const (
	fieldBits = 21
	fields    = 3
	fieldMost = 1<<(fieldBits-1) - 1
)

// packed is a map from inputs to outputs: for each input a row of words.
type packed struct {
	words   []int64
	perRow  int
	outputs int
	shift   int    // the numbers are counted in 2^-shift
	numbers []int8 // row after row
	lanes   lanes  // the same map where numbers lie side by side
}

type reader struct {
	rest []byte
	err  error
}

// packed reads a map. So many of its inputs come together, each with at most so much: no sum may leave its field.
func (r *reader) packed(inputs, outputs, shift, together, most int) packed {
	p := packed{perRow: (outputs + fields - 1) / fields, outputs: outputs, shift: shift}
	if r.err != nil {
		return p
	}
	if len(r.rest) < inputs*outputs || shift < 0 || shift > 9 {
		r.err = errors.New("it ends too soon, or has an odd step")
		return p
	}
	p.words, p.numbers = make([]int64, inputs*p.perRow), make([]int8, inputs*outputs)
	sums := make([]int, outputs)
	widest := make([]int, outputs)
	for i := range inputs {
		for o := range outputs {
			p.numbers[i*outputs+o] = int8(r.rest[i*outputs+o])
			w := int(p.numbers[i*outputs+o])
			p.words[i*p.perRow+o/fields] += int64(w) << (fieldBits * (o % fields))
			sums[o] += max(w, -w)
			widest[o] = max(widest[o], w, -w)
		}
	}
	r.rest, p.lanes = r.rest[inputs*outputs:], newLanes(p.numbers, inputs, outputs)
	for o := range sums {
		if min(sums[o], widest[o]*together)*most > fieldMost {
			r.err = fmt.Errorf("its numbers are too large: a sum may reach %d", sums[o]*most)
		}
	}
	return p
}

// unpack gives the fields of words.
func unpack(words []int64, out []int32) {
	for i, w := range words {
		for f := range fields {
			o := i*fields + f
			if o == len(out) {
				return
			}
			v := w << (64 - fieldBits) >> (64 - fieldBits)
			w = (w - v) >> fieldBits
			out[o] = int32(v)
		}
	}
}

// Workspace is the memory of a network at work. The zero value is ready; one goroutine at a time may use it.
type Workspace struct {
	looked, before []uint8 // what the line has now, and had at the last call
	of             *Network
	room           []int32 // strike × width, in 2^-fine
	active         activity
	middle         activity
	sum            []int64
	plain          []int32
	says           [][fingering.Fingers]int32
	offsets        []int32 // of a strike's rows, in lanes
	passed         []uint8 // strike × width: what each passes on, in lanes
	window, own    []uint8 // what is passed on to a strike, and what it has itself, in lanes
}

// activity lists for each token what passes on: which numbers are not 0, and what they are.
type activity struct {
	width int
	at    []int16
	value []int64
	count []int
}

func (a *activity) reset(tokens, width int) {
	a.width = width
	if cap(a.at) < tokens*width {
		a.at, a.value = make([]int16, tokens*width), make([]int64, tokens*width)
	}
	a.at, a.value = a.at[:tokens*width], a.value[:tokens*width]
	if cap(a.count) < tokens {
		a.count = make([]int, tokens)
	}
	a.count = a.count[:tokens]
}

// set takes the numbers of a token, in 2^-(coarse+shift), clipped.
func (a *activity) set(token int, numbers []int32, shift int) {
	at, value, n := a.at[token*a.width:][:a.width], a.value[token*a.width:][:a.width], 0
	half := int32(1) << shift >> 1
	for i, v := range numbers { // which pass on cannot be foreseen: each is written, and kept where it is more than 0
		v = min((v+half)>>shift, top)
		at[n], value[n] = int16(i), int64(v)
		n += int(uint32(-v) >> 31)
	}
	a.count[token] = n
}

// add adds to sum what a map makes of a token; the map's inputs begin at its row from.
func (p *packed) add(sum []int64, a *activity, token, from int) {
	n := a.count[token]
	at, value := a.at[token*a.width:][:n], a.value[token*a.width:][:n]
	w, per := p.words, p.perRow
	sum = sum[:per]
	i := 0
	for ; i+4 <= n; i += 4 {
		r0 := w[(from+int(at[i]))*per:][:per]
		r1 := w[(from+int(at[i+1]))*per:][:per]
		r2 := w[(from+int(at[i+2]))*per:][:per]
		r3 := w[(from+int(at[i+3]))*per:][:per]
		v0, v1, v2, v3 := value[i], value[i+1], value[i+2], value[i+3]
		for k := range sum {
			sum[k] += r0[k]*v0 + r1[k]*v1 + r2[k]*v2 + r3[k]*v3
		}
	}
	for ; i < n; i++ {
		row, v := w[(from+int(at[i]))*per:][:per], value[i]
		for k := range sum {
			sum[k] += row[k] * v
		}
	}
}

// Says gives for each strike of a line what each finger costs, in milli-nats above the finger that the network holds
// for the likeliest. The slice is the workspace's, and stays as it is up to the next call.
func (n *Network) Says(line *fingering.Line, w *Workspace) [][fingering.Fingers]int32 {
	w.looked, w.before = w.before, w.looked
	w.looked = Look(line, w.looked)
	if w.of == n && bytes.Equal(w.looked, w.before) { // asked again, with other digits given
		return w.says
	}
	w.of = n
	if sideBySide && n.head.fills() {
		n.runInLanes(w, len(line.Strikes), w.looked, len(columns), n.columns)
	} else {
		n.run(w, len(line.Strikes), w.looked, len(columns), n.columns)
	}
	return w.says
}

// run works through tokens whose columns stand in looked, stride bytes a token, those of the network at the places given.
func (n *Network) run(w *Workspace, tokens int, looked []uint8, stride int, places []int) {
	width := n.head.Width
	w.room = grown(w.room, tokens*width)
	w.sum, w.plain = grown(w.sum, n.mostWords()), grown(w.plain, max(width, n.head.Hidden))
	w.says = grown(w.says, tokens)
	w.active.reset(tokens, width)
	w.middle.reset(1, max(n.head.Hidden, 1))
	for t := range tokens {
		sum := w.sum[:n.table.perRow]
		clear(sum)
		row := looked[t*stride:][:stride]
		for c, place := range places {
			words := n.table.words[(n.first[c]+int(row[place]))*n.table.perRow:][:len(sum)]
			for k := range sum {
				sum[k] += words[k]
			}
		}
		numbers := w.room[t*width:][:width]
		unpack(sum, numbers)
		for i := range numbers {
			numbers[i] <<= fine - n.table.shift
		}
	}
	for k := range n.layers {
		n.convolve(&n.layers[k], w, tokens)
		if n.head.Hidden > 0 {
			n.perceptron(&n.layers[k], w, tokens)
		}
	}
	for t := range tokens {
		w.active.set(t, w.room[t*width:][:width], fine-coarse)
		sum := w.sum[:n.out.perRow]
		clear(sum)
		n.out.add(sum, &w.active, t, 0)
		unpack(sum, w.plain[:fingering.Fingers])
		w.says[t] = costs(w.plain[:fingering.Fingers], coarse+n.out.shift)
	}
}

func (n *Network) mostWords() int {
	most := max(n.table.perRow, n.out.perRow)
	for k := range n.layers {
		most = max(most, n.layers[k].up.perRow)
	}
	return most
}

// pass fills what each strike passes on.
func (n *Network) pass(w *Workspace, tokens int) {
	for t := range tokens {
		w.active.set(t, w.room[t*n.head.Width:][:n.head.Width], fine-coarse)
	}
}

// convolve adds to each strike what the strikes about it pass on.
func (n *Network) convolve(l *layer, w *Workspace, tokens int) {
	n.pass(w, tokens)
	for t := range tokens {
		sum := w.sum[:l.conv.perRow]
		clear(sum)
		for tap := -n.head.Reach; tap <= n.head.Reach; tap++ {
			if o := t + tap*l.dilation; o >= 0 && o < tokens {
				l.conv.add(sum, &w.active, o, (tap+n.head.Reach)*n.head.Width)
			}
		}
		n.addTo(w.room[t*n.head.Width:][:n.head.Width], sum, w.plain, l.conv.shift)
	}
}

// perceptron adds to each strike what its own numbers make.
func (n *Network) perceptron(l *layer, w *Workspace, tokens int) {
	n.pass(w, tokens)
	for t := range tokens {
		up := w.sum[:l.up.perRow]
		clear(up)
		l.up.add(up, &w.active, t, 0)
		unpack(up, w.plain[:n.head.Hidden])
		w.middle.set(0, w.plain[:n.head.Hidden], l.up.shift)
		down := w.sum[:l.down.perRow]
		clear(down)
		l.down.add(down, &w.middle, 0, 0)
		n.addTo(w.room[t*n.head.Width:][:n.head.Width], down, w.plain, l.down.shift)
	}
}

// addTo adds sums in 2^-(coarse+shift) to the numbers of a strike.
func (n *Network) addTo(numbers []int32, sum []int64, plain []int32, shift int) {
	plain = plain[:len(numbers)]
	unpack(sum, plain)
	for i := range numbers {
		numbers[i] += plain[i] << (fine - coarse - shift)
	}
}

// costs gives what each finger costs above the likeliest, in milli-nats, from scores in 2^-shift.
func costs(scores []int32, shift int) (out [fingering.Fingers]int32) {
	best := scores[0]
	for _, v := range scores {
		best = max(best, v)
	}
	for f, v := range scores {
		out[f] = int32(int64(best-v) * 1000 >> shift)
	}
	return out
}

func grown[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
