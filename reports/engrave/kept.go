package engrave

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"encoding/json"
	"fmt"
)

// Kept is where drawings are kept between pages and runs, by a key that stands for all that they are drawn from. What is
// kept may vanish at any time.
type Kept struct {
	Get func(key string) []byte
	Put func(key string, data []byte)
}

// draw draws a score, or takes what was drawn before from what is kept: the same measures with the same digits come again
// on pages of later runs, and in the same piece.
func (w *Worker) draw(ctx context.Context, o order) (pages []string, err error) {
	kept := w.press.kept
	if kept == nil {
		return w.drawAnew(ctx, o)
	}
	key, err := o.key()
	if err != nil {
		return nil, err
	}
	if data := kept.Get(key); data != nil {
		if gob.NewDecoder(bytes.NewReader(data)).Decode(&pages) == nil && len(pages) > 0 {
			return pages, nil
		}
	}
	if pages, err = w.drawAnew(ctx, o); err != nil {
		return nil, err
	}
	var data bytes.Buffer
	if gob.NewEncoder(&data).Encode(pages) == nil { // byte for byte, whatever the engraver wrote
		kept.Put(key, data.Bytes())
	}
	return pages, nil
}

// key stands for all that a drawing depends on: the engraver, how it is told to draw, and the measures with their digits.
func (o order) key() (string, error) {
	options, err := json.Marshal(baseOptions)
	if err != nil {
		return "", fmt.Errorf("naming a drawing: %w", err)
	}
	h := sha256.New()
	fmt.Fprintf(h, "drawing %s %s %s %v %d %v %d\n", engraverVersion, moduleSHA256, options, readingScale, o.Width, o.All, o.Apart)
	h.Write(o.Score)
	return hex.EncodeToString(h.Sum(nil)), nil
}
