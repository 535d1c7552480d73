package state

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Effort is what an effort is made of, in the criteria's own order. Files hold
// it as an object.
type Effort []Share

// Share is one criterion's part of an effort, in milli-nats.
type Share struct {
	Criterion string
	MilliNats int64
}

// MarshalJSON writes {"criterion":milli-nats,…} in order.
func (e Effort) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, s := range e {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "%q:%d", s.Criterion, s.MilliNats)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// UnmarshalJSON reads what MarshalJSON writes and keeps its order.
func (e *Effort) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return fmt.Errorf("reading an effort: %.40s is no object", data)
	}
	*e = Effort{}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return fmt.Errorf("reading an effort: %w", err)
		}
		var v int64
		if err := d.Decode(&v); err != nil {
			return fmt.Errorf("reading the effort %v: %w", name, err)
		}
		*e = append(*e, Share{fmt.Sprint(name), v})
	}
	return nil
}
