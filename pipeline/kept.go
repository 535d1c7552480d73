package pipeline

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"

	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
)

// Kept is where stages that search keep what they came to, so that a run from the same inputs need not search again. What
// is kept may vanish at any time.
type Kept struct {
	Program string // sum of the program: another one keeps other things
	Get     func(key string) []byte
	Put     func(key string, data []byte)
}

// keptStages are the stages that search. The others cost little more than to read what they gave.
var keptStages = []string{"suggest", "beside", "redistribute", "thin"}

// runKept runs a stage, or takes what it gave from what is kept.
func (run *PieceRun) runKept(name string, work func(*PieceRun) error) error {
	gives := stageGives[name]
	into := make([]any, len(gives))
	v := reflect.ValueOf(run).Elem()
	for i, field := range gives {
		into[i] = v.FieldByName(field).Addr().Interface()
	}
	return run.Keep(name, name, func() error { return work(run) }, into...)
}

// Keep does some work on a run and keeps what it came to, or takes it from there. what names the work; stage is the last
// stage whose outcome it looks at; into are pointers to what the work sets, of types that gob encodes whole.
func (run *PieceRun) Keep(what, stage string, work func() error, into ...any) error {
	if run.Kept == nil {
		return work()
	}
	key := run.keptKey(what, stage)
	if data := run.Kept.Get(key); data != nil && decodeAll(data, into) == nil {
		return nil
	}
	if err := work(); err != nil {
		return err
	}
	if data, err := encodeAll(into); err == nil {
		run.Kept.Put(key, data)
	}
	return nil
}

// holder gives a struct with a field for each value: in a struct gob leaves out what is empty, so that nil stays nil.
func holder(into []any) reflect.Value {
	fields := make([]reflect.StructField, len(into))
	for i, p := range into {
		fields[i] = reflect.StructField{Name: fmt.Sprintf("V%d", i), Type: reflect.TypeOf(p).Elem()}
	}
	return reflect.New(reflect.StructOf(fields)).Elem()
}

func encodeAll(into []any) ([]byte, error) {
	h := holder(into)
	for i, p := range into {
		h.Field(i).Set(reflect.ValueOf(p).Elem())
	}
	var b bytes.Buffer
	b.WriteByte(1) // gob cannot write a struct of which all is empty
	empty := true
	for i := range into {
		empty = empty && h.Field(i).IsZero()
	}
	if empty {
		return []byte{0}, nil
	}
	err := gob.NewEncoder(&b).EncodeValue(h)
	return b.Bytes(), err
}

func decodeAll(data []byte, into []any) error {
	h := holder(into)
	switch {
	case len(data) == 0:
		return io.ErrUnexpectedEOF
	case data[0] == 1:
		if err := gob.NewDecoder(bytes.NewReader(data[1:])).DecodeValue(h); err != nil {
			return err
		}
	}
	for i, p := range into {
		reflect.ValueOf(p).Elem().Set(h.Field(i))
	}
	return nil
}

// keptKey stands for everything that the stages up to one look at: the files, what the manifest and the decisions say,
// the weights, and the keys of the policy that bear on them (bearsFrom).
func (run *PieceRun) keptKey(what, stage string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s %s %q %v\n", run.Kept.Program, EngineVersion, what, run.asPage)
	piece := *run.Piece
	piece.Policy, piece.Fault = "", nil
	_ = json.NewEncoder(h).Encode(piece)
	fmt.Fprintf(h, "%s %q %s %s\n", source.Sum(run.Data), run.WitnessSums(), run.Weights.Sum, run.DraftSum())
	for _, d := range run.Decisions {
		fmt.Fprintf(h, "%q %q %q\n", d.Place(), decision.AsWritten(d), d.HeadLines())
		if d.Until != "" {
			fmt.Fprintf(h, "%s\n", run.Today)
		}
	}
	last := stageOrder[stage]
	if last >= stageOrder["thin"] {
		fmt.Fprintf(h, "press %v\n", run.Press)
	}
	for _, path := range run.Policy.Paths() {
		if stageFor(path) <= last {
			value, _ := run.Policy.Get(path)
			fmt.Fprintf(h, "%q %q\n", path, strings.TrimSpace(value.Text))
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}
