package engrave

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"strings"
)

// Worker engraves one piece at a time. After a trap or a cancelled context its instance is replaced, and the piece is
// loaded again when it is next needed: an excerpt that cannot be drawn costs only itself.
type Worker struct {
	press   *Press
	child   *child    // its process, where it has one; nil before the first excerpt and after an accident
	current *instance // nil after a trap
	source  string    // the document loaded last; "" before the first
	loaded  bool      // whether current holds source
	width   int       // of a system in CSS pixels; 0 for one system as wide as it comes
	apart   int       // how far apart staves stand at least, in half staff spaces; 0 as the engraver has them
}

// Above this size a worker's memory is given back before the next piece is loaded; it never shrinks by itself.
const renewAbove = 256 << 20

// ErrNotLoaded says that an excerpt was asked for before a score was loaded.
var ErrNotLoaded = errors.New("no score is loaded in the engraver")

// pageMargin is the blank around a picture, in the engraver's tenths of a millimetre.
const pageMargin = 40

// baseOptions are the engraver's options for everything this package draws.
var baseOptions = map[string]any{
	"xmlIdSeed":              1, // the ids the engraver makes up are the same in every run
	"expandNever":            true,
	"breaks":                 "none",
	"adjustPageHeight":       true,
	"adjustPageWidth":        true,
	"header":                 "none",
	"footer":                 "none",
	"pageMarginTop":          pageMargin,
	"pageMarginBottom":       pageMargin,
	"pageMarginLeft":         pageMargin,
	"pageMarginRight":        pageMargin,
	"svgViewBox":             true,
	"svgHtml5":               true, // data-id instead of id: many excerpts share one page
	"svgRemoveXlink":         true,
	"svgFormatRaw":           true,
	"smuflTextFont":          "none",
	"fingeringScale":         0.75,
	"mnumInterval":           0,
	"svgAdditionalAttribute": []string{"fing@startid"},
}

// Load reads a score, MusicXML or MEI in UTF-8. The engraver is lenient: that it loads says little about the score.
func (w *Worker) Load(ctx context.Context, score []byte) error {
	if len(bytes.TrimSpace(score)) == 0 {
		return errors.New("loading a score into the engraver: it is empty")
	}
	if bytes.IndexByte(score, 0) >= 0 {
		return errors.New("loading a score into the engraver: it is not UTF-8 text")
	}
	if w.current != nil && w.current.module.Memory().Size() > renewAbove {
		w.drop(ctx)
	}
	w.source, w.loaded = string(score), false
	if err := w.ready(ctx); err != nil {
		w.source = ""
		return err
	}
	return nil
}

// ready makes sure that an instance holds the score.
func (w *Worker) ready(ctx context.Context) error {
	if w.source == "" {
		return ErrNotLoaded
	}
	if err := w.renew(ctx); err != nil {
		return err
	}
	if w.loaded {
		return nil
	}
	w.current.host.log = nil
	if err := w.setOptions(ctx); err != nil {
		return err
	}
	done, err := w.current.tool(ctx, "loadData", w.source)
	if err != nil {
		return w.failed(ctx, "loading a score into the engraver", err)
	}
	if done == 0 {
		return fmt.Errorf("loading a score into the engraver: it cannot be read%s", w.said())
	}
	w.loaded = true
	return nil
}

// setOptions gives an instance its options, where they changed: it makes the engraver read its fonts again, which
// takes longer than drawing a few measures.
func (w *Worker) setOptions(ctx context.Context) error {
	chosen := maps.Clone(baseOptions)
	if w.width > 0 {
		chosen["breaks"], chosen["adjustPageWidth"] = "auto", false
		chosen["pageWidth"], chosen["pageHeight"] = int(float64(w.width)/readingScale), 60000
	}
	if w.apart > 0 {
		chosen["spacingStaff"] = w.apart
	}
	encoded, err := json.Marshal(chosen)
	if err != nil {
		return fmt.Errorf("setting the engraver's options: %w", err)
	}
	if options := string(encoded); options != w.current.options {
		for _, step := range []struct {
			function string
			argument []any
		}{{"resetOptions", nil}, {"setOptions", []any{options}}} {
			if _, err := w.current.tool(ctx, step.function, step.argument...); err != nil {
				return w.failed(ctx, "setting the engraver's options", err)
			}
		}
		w.current.options = options
	}
	// The ids that the engraver makes up begin anew with each score.
	if _, err := w.current.tool(ctx, "resetXmlIdSeed", 1); err != nil {
		return w.failed(ctx, "setting the engraver's options", err)
	}
	return nil
}

// renew starts an instance where there is none.
func (w *Worker) renew(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if w.current != nil && !w.current.module.IsClosed() {
		return nil
	}
	started, err := w.press.start(ctx)
	if err != nil {
		return err
	}
	w.current, w.loaded = started, false
	return nil
}

func (w *Worker) drop(ctx context.Context) {
	if w.current != nil {
		// The memory is given back even when the run is being cancelled.
		_ = w.current.module.Close(context.WithoutCancel(ctx))
	}
	w.current, w.loaded = nil, false
}

// failed drops the instance, whose memory is in an unknown state after a trap, and words the error.
func (w *Worker) failed(ctx context.Context, doing string, err error) error {
	said := w.said()
	w.drop(ctx)
	return fmt.Errorf("%s: %w%s", doing, err, said)
}

// said is what the engraver complained about since the score was loaded, its last lines.
func (w *Worker) said() string {
	lines := w.Complaints()
	if len(lines) == 0 {
		return ""
	}
	return " (" + strings.Join(lines[max(0, len(lines)-3):], "; ") + ")"
}

// Complaints gives the engraver's own warnings about the loaded score, the first fifty.
func (w *Worker) Complaints() []string {
	if w.current == nil {
		return nil
	}
	return append([]string(nil), w.current.host.log...)
}

// MEI gives the loaded score as the engraver's own MEI: an intermediate, never a deliverable.
func (w *Worker) MEI(ctx context.Context) ([]byte, error) {
	if err := w.ready(ctx); err != nil {
		return nil, fmt.Errorf("writing MEI: %w", err)
	}
	mei, err := w.current.text(ctx, "getMEI", `{"removeIds":false}`)
	if err != nil {
		return nil, w.failed(ctx, "writing MEI", err)
	}
	return []byte(mei), nil
}

// Moment is one entry of the timemap: what sounds from a point of time on, repeats not played.
type Moment struct {
	Quarters float64  `json:"qstamp"` // quarters from the beginning
	On       []string `json:"on"`     // ids of the notes that begin
	Off      []string `json:"off"`    // ids of the notes that end
	Measure  string   `json:"measureOn"`
}

// Timemap gives the engraver's own reading of when each written note begins and ends, in order of time.
func (w *Worker) Timemap(ctx context.Context) ([]Moment, error) {
	if err := w.ready(ctx); err != nil {
		return nil, fmt.Errorf("reading the timemap: %w", err)
	}
	text, err := w.current.text(ctx, "renderToTimemap", `{"includeMeasures":true}`)
	if err != nil {
		return nil, w.failed(ctx, "reading the timemap", err)
	}
	var moments []Moment
	if err := json.Unmarshal([]byte(text), &moments); err != nil {
		return nil, fmt.Errorf("reading the timemap: %w", err)
	}
	return moments, nil
}

// Close gives the worker's memory back.
func (w *Worker) Close(ctx context.Context) {
	if w.child != nil {
		w.child.end()
		w.child = nil
	}
	w.drop(ctx)
}
