package effort

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"sync"
	"unsafe"

	"fingerproof/rules/learned"
)

// tableFile is a table of weights as a file holds it: costs in milli-nats. Habit maps a context to its prices,
// "combination:cost" with a space between (text, because it is read several times faster than lists of lists).
type tableFile struct {
	Name        string           `json:"name"`
	Provenance  string           `json:"provenance,omitempty"`
	Attribution []string         `json:"attribution,omitempty"`
	Terms       map[string]int32 `json:"terms"`
	Confidence  Calibrations     `json:"confidence,omitzero"`
	// Learned is the network: "shipped" for the one that comes with the program, else its file (base64).
	Learned string            `json:"learned,omitempty"`
	Habit   map[string]string `json:"habit,omitempty"`
}

const shippedNetwork = "shipped"

// Read reads a table of weights. Unknown terms and contexts are errors; terms left out cost nothing.
func Read(r io.Reader) (*Weights, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("reading a table of weights: %w", err)
	}
	return readTable(data)
}

func readTable(data []byte) (*Weights, error) {
	head, habit, apart := habitApart(data)
	dec := json.NewDecoder(bytes.NewReader(head))
	dec.DisallowUnknownFields()
	var f tableFile
	if err := dec.Decode(&f); err != nil {
		return nil, fmt.Errorf("reading a table of weights: %w", err)
	}
	if !apart {
		for name, prices := range f.Habit {
			habit = append(habit, pricesOf{name, prices})
		}
	}
	w := &Weights{Name: f.Name, Provenance: f.Provenance, Attribution: f.Attribution, Confidence: f.Confidence}
	if !f.Confidence.wellFormed() {
		return nil, fmt.Errorf("reading a table of weights: confidence has %d and %d entries, not %d",
			len(f.Confidence.Outer), len(f.Confidence.Inner), CalibrationSize)
	}
	known := map[string]Term{}
	for t := range Terms {
		known[t.Name()] = t
	}
	for name, cost := range f.Terms {
		t, ok := known[name]
		if !ok {
			return nil, fmt.Errorf("reading a table of weights: unknown term %q", name)
		}
		w.Terms[t] = cost
	}
	all := 0
	for i := range habit {
		all += strings.Count(habit[i].prices, ":")
	}
	room := make([]Price, 0, all)
	if len(habit) > 0 {
		w.Habit = make(map[Context][]Price, len(habit))
	}
	for i := range habit {
		c, err := ParseContext(habit[i].context)
		if err != nil {
			return nil, fmt.Errorf("reading a table of weights: %w", err)
		}
		from := len(room)
		if room, err = appendPrices(room, habit[i].prices, int32(Sizes[c.factor()])); err != nil {
			return nil, fmt.Errorf("reading a table of weights: context %q: %w", habit[i].context, err)
		}
		w.Habit[c] = room[from:len(room):len(room)]
	}
	w.habits = indexHabit(w.Habit)
	var err error
	if w.Learned, err = readNetwork(f.Learned); err != nil {
		return nil, fmt.Errorf("reading a table of weights: %w", err)
	}
	return w, nil
}

// pricesOf are the prices of a context, as the file writes both.
type pricesOf struct{ context, prices string }

// habitBegins stands before the habit in a file as Write writes it.
const habitBegins = ",\n \"habit\": {"

// habitApart parts a table as Write writes it into what stands before its habit and the entries of that, which are thousands
// of lines: every start of the program reads them. ok is false, and head the whole, where a file is written in another way.
func habitApart(data []byte) (head []byte, habit []pricesOf, ok bool) {
	at := bytes.Index(data, []byte(habitBegins))
	if at < 0 {
		return data, nil, false
	}
	rest := data[at+len(habitBegins):]
	text := unsafe.String(unsafe.SliceData(rest), len(rest)) // nobody changes the bytes of a table
	if strings.IndexByte(text, '\\') >= 0 {
		return data, nil, false
	}
	habit = make([]pricesOf, 0, strings.Count(text, "\n"))
	for {
		var one pricesOf
		var opens, goesOn bool
		if text, opens = strings.CutPrefix(text, `"`); !opens {
			return data, nil, false
		}
		if one.context, text, ok = strings.Cut(text, `":"`); !ok || strings.IndexByte(one.context, '"') >= 0 {
			return data, nil, false
		}
		if one.prices, text, ok = strings.Cut(text, `"`); !ok {
			return data, nil, false
		}
		habit = append(habit, one)
		if text, goesOn = strings.CutPrefix(text, ",\n"); goesOn {
			continue
		}
		if text != "}\n}\n" {
			return data, nil, false
		}
		return append(bytes.Clone(data[:at]), "\n}"...), habit, true
	}
}

// readNetwork gives the network that a table names or holds.
func readNetwork(said string) (*learned.Network, error) {
	switch said {
	case "":
		return nil, nil
	case shippedNetwork:
		return learned.Shipped(), nil
	}
	data, err := base64.StdEncoding.DecodeString(said)
	if err != nil {
		return nil, err
	}
	return learned.Read(data)
}

// networkSaid is what readNetwork reads.
func networkSaid(n *learned.Network) string {
	switch n {
	case nil:
		return ""
	case learned.Shipped():
		return shippedNetwork
	}
	return base64.StdEncoding.EncodeToString(n.File())
}

// appendPrices reads "combination:cost combination:cost …".
func appendPrices(out []Price, text string, combinations int32) ([]Price, error) {
	for at := 0; ; at++ {
		part, combo, cost, ok := text[at:], int32(0), int32(0), false
		if combo, at, ok = shortNumber(text, at); !ok || at == len(text) || text[at] != ':' || combo < 0 || combo >= combinations {
			left, _, _ := strings.Cut(part, ":")
			return nil, fmt.Errorf("there is no combination %q", left)
		}
		if cost, at, ok = shortNumber(text, at+1); !ok || at < len(text) && text[at] != ' ' {
			_, right, _ := strings.Cut(part, ":")
			right, _, _ = strings.Cut(right, " ")
			return nil, fmt.Errorf("the cost %q is no number", right)
		}
		out = append(out, Price{Combo: combo, Cost: cost})
		if at == len(text) {
			return out, nil
		}
	}
}

// shortNumber reads a number of at most nine digits that begins at a place, and gives where it ends.
func shortNumber(text string, at int) (v int32, end int, ok bool) {
	less := at < len(text) && text[at] == '-'
	if less {
		at++
	}
	from := at
	for at < len(text) && '0' <= text[at] && text[at] <= '9' && at-from < 9 {
		v = 10*v + int32(text[at]-'0')
		at++
	}
	if less {
		v = -v
	}
	return v, at, at > from
}

// factor is the kind of factor a context belongs to.
func (c Context) factor() Kind {
	switch kind := int(c & 63); {
	case kind < linkStep:
		return NoteFactor
	case kind < rowSteps:
		return LinkFactor
	case kind < shapeKeys:
		return RowFactor
	case kind < doubleKeys:
		return ShapeFactor
	}
	return DoubleFactor
}

// Write writes a table of weights; the same table gives the same bytes.
func (w *Weights) Write(out io.Writer) error {
	f := tableFile{
		Name: w.Name, Provenance: w.Provenance, Attribution: w.Attribution, Confidence: w.Confidence,
		Terms: map[string]int32{}, Learned: networkSaid(w.Learned),
	}
	for t := range Terms {
		if w.Terms[t] != 0 {
			f.Terms[t.Name()] = w.Terms[t]
		}
	}
	if len(w.Habit) > 0 {
		f.Habit = make(map[string]string, len(w.Habit))
	}
	for c, prices := range w.Habit {
		var b strings.Builder
		for i, p := range prices {
			if i > 0 {
				b.WriteByte(' ')
			}
			fmt.Fprintf(&b, "%d:%d", p.Combo, p.Cost)
		}
		f.Habit[c.String()] = b.String()
	}
	withoutHabit := f
	withoutHabit.Habit = nil
	head, err := json.MarshalIndent(withoutHabit, "", " ")
	if err != nil {
		return fmt.Errorf("writing a table of weights: %w", err)
	}
	if f.Habit != nil {
		// One context a line keeps changes to the table readable.
		habit, err := json.Marshal(f.Habit)
		if err != nil {
			return fmt.Errorf("writing a table of weights: %w", err)
		}
		habit = bytes.ReplaceAll(habit, []byte(`","`), []byte("\",\n\""))
		head = append(bytes.TrimSuffix(head, []byte("\n}")), ",\n \"habit\": "...)
		head = append(append(head, habit...), "\n}"...)
	}
	if _, err := out.Write(append(head, '\n')); err != nil {
		return fmt.Errorf("writing a table of weights: %w", err)
	}
	return nil
}

// Numbers is how many numbers a table holds.
func (w *Weights) Numbers() (terms, habit int) {
	for _, v := range w.Terms {
		if v != 0 {
			terms++
		}
	}
	for _, p := range w.Habit {
		habit += len(p)
	}
	return terms, habit
}

//go:embed tables/interpretable.json
var interpretableFile []byte

//go:embed tables/delivered.json
var deliveredFile []byte

//go:embed tables/hand-set.json
var handSetFile []byte

func embedded(file []byte) func() *Weights {
	return sync.OnceValue(func() *Weights {
		w, err := readTable(file)
		if err != nil {
			panic("effort: embedded table: " + err.Error()) // a test reads every embedded table
		}
		return w
	})
}

var (
	interpretable = embedded(interpretableFile)
	delivered     = embedded(deliveredFile)
	handSet       = embedded(handSetFile)
)

// HandSet is the table written by hand, before anything was fitted: an oracle for the fitted ones. It is shared; do
// not change it.
func HandSet() *Weights { return handSet() }

// Interpretable is the fitted table of at most 200 numbers: terms alone. It is shared; do not change it.
func Interpretable() *Weights { return interpretable() }

// Delivered is the table that fingerings are delivered with: fitted terms and the habit of editors. It is shared; do
// not change it.
func Delivered() *Weights { return delivered() }

// DeliveredFile is the file that Delivered is read from, so that its content can be summed. It is shared; do not
// change it.
func DeliveredFile() []byte { return deliveredFile }
