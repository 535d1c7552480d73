package state

import (
	"fmt"
	"strconv"
)

// Percent is a share from 0 to 1 kept in hundredths, so that it prints the
// same everywhere: 71 is written 0.71.
type Percent int

// MarshalJSON writes a number from 0 to 1 with two decimals at most.
func (p Percent) MarshalJSON() ([]byte, error) { return p.append(nil), nil }

func (p Percent) append(out []byte) []byte {
	switch {
	case p <= 0:
		return append(out, '0')
	case p >= 100:
		return append(out, '1')
	case p%10 == 0:
		return append(out, '0', '.', byte('0'+p/10))
	}
	return append(out, '0', '.', byte('0'+p/10), byte('0'+p%10))
}

// UnmarshalJSON reads a number from 0 to 1.
func (p *Percent) UnmarshalJSON(b []byte) error {
	f, err := strconv.ParseFloat(string(b), 64)
	if err != nil || f < 0 || f > 1 {
		return fmt.Errorf("reading a share: %s is no number from 0 to 1", b)
	}
	*p = Percent(f*100 + .5)
	return nil
}

// PercentOf rounds part/whole to hundredths; a whole of zero gives 0.
func PercentOf(part, whole int64) Percent {
	if whole <= 0 {
		return 0
	}
	return Percent((200*part + whole) / (2 * whole))
}
