package score

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// Address names a note as a musician would: measure, onset in it, sounding
// pitch, and an ordinal for several such notes at once (DEVELOPERS.md, decision 2). Staff,
// voice and printed measure number are context, because re-engraving changes
// them.
type Address struct {
	Measure int      `json:"measure_index" yaml:"measure_index"`
	Onset   Fraction `json:"onset" yaml:"onset"`
	Grace   int      `json:"grace,omitempty" yaml:"grace,omitempty"`
	Midi    int      `json:"midi" yaml:"midi"`
	Ordinal int      `json:"ordinal,omitempty" yaml:"ordinal,omitempty"` // 0 for the first
}

// String prints "3+1/2 67", with ".g2" for a grace note and "#1" for a second
// note of the same pitch at once.
func (a Address) String() string {
	var room [48]byte
	s := append(strconv.AppendInt(room[:0], int64(a.Measure), 10), '+')
	s = append(append(s, a.Onset.String()...), ' ')
	s = strconv.AppendInt(s, int64(a.Midi), 10)
	if a.Grace > 0 {
		s = strconv.AppendInt(append(s, ".g"...), int64(a.Grace), 10)
	}
	if a.Ordinal > 0 {
		s = strconv.AppendInt(append(s, '#'), int64(a.Ordinal), 10)
	}
	return string(s)
}

var addressForm = regexp.MustCompile(`^(\d+)\+(\S+) (-?\d+)(?:\.g(\d+))?(?:#(\d+))?$`)

// ParseAddress reads what String prints.
func ParseAddress(text string) (a Address, err error) {
	m := addressForm.FindStringSubmatch(text)
	if m == nil {
		return a, fmt.Errorf("reading the address %.40q: it is none", text)
	}
	if a.Onset, err = ParseFraction(m[2]); err != nil {
		return a, err
	}
	for i, to := range []*int{&a.Measure, nil, &a.Midi, &a.Grace, &a.Ordinal} {
		if to == nil || m[i+1] == "" {
			continue
		}
		if *to, err = strconv.Atoi(m[i+1]); err != nil {
			return a, fmt.Errorf("reading the address %.40q: %w", text, err)
		}
	}
	return a, nil
}

// Addresses returns the address of every note, by index. Rests have Midi -1.
// The ordinal counts equal notes in order of part, staff, then document order.
func (s *Score) Addresses() []Address {
	out, order := make([]Address, len(s.Notes)), make([]int, len(s.Notes))
	for i := range s.Notes {
		n := &s.Notes[i]
		out[i] = Address{Measure: n.Measure, Onset: n.Onset, Grace: n.Grace, Midi: n.Midi}
		if n.Kind != Pitched {
			out[i].Midi = -1
		}
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		a, b := &out[i], &out[j]
		if a.Measure != b.Measure {
			return a.Measure - b.Measure
		}
		if c := cmp.Or(a.Midi-b.Midi, a.Grace-b.Grace); c != 0 {
			return c
		}
		if c := a.Onset.Cmp(b.Onset); c != 0 {
			return c
		}
		m, n := &s.Notes[i], &s.Notes[j]
		return cmp.Or(m.Part-n.Part, m.Staff-n.Staff, i-j)
	})
	var last Address // without its ordinal, as all are until they have been met
	for k, i := range order {
		same := k > 0 && out[i] == last
		if last = out[i]; same {
			out[i].Ordinal = out[order[k-1]].Ordinal + 1
		}
	}
	return out
}
