package fit

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/hand"
)

// Sum sums up everything that Train looks at, SHA-256 in hexadecimal: equal sums train to equal tables. It takes a
// small part of the time of a training.
func Sum(examples []*Example, start *effort.Weights, profile hand.Profile, s Settings) string {
	h := sha256.New()
	fmt.Fprintf(h, "%+v %+v %v", s, profile, start.Terms)
	contexts := make([]effort.Context, 0, len(start.Habit))
	for c := range start.Habit {
		contexts = append(contexts, c)
	}
	slices.Sort(contexts)
	for _, c := range contexts {
		fmt.Fprintf(h, " %d%v", c, start.Habit[c])
	}
	pricer := effort.NewPricerFor(start, profile, s.Aims)
	var buffer []byte
	for _, x := range examples {
		m := pricer.Model(x.Lattice.Line, x.Lattice)
		for _, w := range windows(x, &s) {
			for e := w.from; e < w.to; e++ {
				buffer = sumEvent(buffer[:0], x, m, e)
				h.Write(buffer)
			}
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

func sumEvent(out []byte, x *Example, m *effort.Model, e int) []byte {
	number := func(v int) { out = binary.AppendVarint(out, int64(v)) }
	l := x.Lattice
	for g, grip := range l.Grips(e) {
		for _, f := range grip.Fingers {
			out = append(out, byte(f))
		}
		number(int(l.Hard(e)[g]))
	}
	for _, k := range l.Line.Events[e].Keys {
		number(int(k.Key))
		number(k.Strike)
		if k.Struck {
			number(int(x.Labels[k.Strike]))
		}
	}
	if m.FollowsAims() {
		unary, pair := make([]int32, l.Count(e)), []int32(nil)
		if e > 0 {
			pair = make([]int32, l.Count(e-1)*l.Count(e))
		}
		m.Aims(e, unary, pair)
		for _, price := range slices.Concat(unary, pair) {
			number(int(price))
		}
	}
	for _, f := range m.Factors(e) {
		number(int(f.Kind))
		out = append(out, byte(f.At[0]), byte(f.At[1]), byte(f.At[2]))
		for _, n := range f.Entries {
			number(int(n.Combo))
			number(int(n.Term))
			number(int(n.Value))
		}
		for _, c := range f.Contexts {
			out = binary.LittleEndian.AppendUint64(out, uint64(c))
		}
	}
	return out
}
