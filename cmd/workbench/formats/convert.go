package formats

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/reports/engrave"
)

// converter turns MusicXML into MEI with Verovio.
type converter struct {
	press  *engrave.Press
	worker *engrave.Worker
}

func openConverter(ctx context.Context) (*converter, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return nil, err
	}
	press, err := engrave.Open(ctx, engrave.Options{
		Package: engrave.FindPackage("."), CacheDir: filepath.Join(cache, "fingerproof"),
	})
	if err != nil {
		return nil, err
	}
	worker, err := press.Worker(ctx)
	if err != nil {
		press.Close(ctx)
		return nil, err
	}
	return &converter{press, worker}, nil
}

func (c *converter) close(ctx context.Context) {
	c.worker.Close(ctx)
	c.press.Close(ctx)
}

// pair is a piece in both formats. Notes that are one have one id in both.
type pair struct {
	name          string
	musicxml, mei []byte
}

// keep leaves both versions in a folder, if one is named.
func (p *pair) keep(folder string) error {
	if folder == "" {
		return nil
	}
	return errors.Join(os.MkdirAll(folder, 0o777),
		os.WriteFile(filepath.Join(folder, p.name+".musicxml"), p.musicxml, 0o666),
		os.WriteFile(filepath.Join(folder, p.name+".mei"), p.mei, 0o666))
}

var (
	noteTag = regexp.MustCompile(`<note(\s[^>]*)?>`)
	noteID  = regexp.MustCompile(`\sid\s*=\s*("[^"]*"|'[^']*')`)
)

// withIDs numbers the notes of a partwise score by their ids.
func withIDs(text string) string {
	n := -1
	return noteTag.ReplaceAllStringFunc(text, func(tag string) string {
		n++
		return `<note id="n` + strconv.Itoa(n) + `"` + noteID.ReplaceAllString(tag, "")[len("<note"):]
	})
}

// documentOf opens the score of a piece.
func documentOf(in *corpus.Collection, p *corpus.Piece) (*source.Document, error) {
	data, err := os.ReadFile(in.Path(p.Score))
	if err != nil {
		return nil, err
	}
	return source.Open(p.Score, data, source.DefaultLimits())
}

// pairOf converts a piece of a collection. The error says which program failed.
func (c *converter) pairOf(ctx context.Context, in *corpus.Collection, p *corpus.Piece) (*pair, error) {
	doc, err := documentOf(in, p)
	if err != nil {
		return nil, err
	}
	text := withIDs(doc.Text)
	if err := c.worker.Load(ctx, []byte(text)); err != nil {
		return nil, fmt.Errorf("Verovio: %w", err)
	}
	mei, err := c.worker.MEI(ctx)
	if err != nil {
		return nil, fmt.Errorf("Verovio: %w", err)
	}
	return &pair{name: p.ID, musicxml: []byte(text), mei: mei}, nil
}

// drawnPair converts a piece as it is made fit for the engraver, which else mistakes tuplets that have no sign.
func (c *converter) drawnPair(ctx context.Context, in *corpus.Collection, p *corpus.Piece) (*pair, error) {
	doc, err := documentOf(in, p)
	if err != nil {
		return nil, err
	}
	sheet, err := engrave.Copy([]byte(doc.Text), engrave.CopyOptions{})
	if err != nil {
		return nil, err
	}
	drawn, err := sheet.MusicXML(0, sheet.Measures-1)
	if err != nil {
		return nil, err
	}
	if err := c.worker.Load(ctx, drawn); err != nil {
		return nil, fmt.Errorf("Verovio: %w", err)
	}
	mei, err := c.worker.MEI(ctx)
	if err != nil {
		return nil, fmt.Errorf("Verovio: %w", err)
	}
	return &pair{name: p.ID, musicxml: []byte(withIDs(doc.Text)), mei: mei}, nil
}

// byID finds notes by the ids that withIDs gave.
func byID(s *score.Score) map[string]int {
	out := map[string]int{}
	for i := range s.Notes {
		if id := s.Notes[i].ID; strings.HasPrefix(id, "n") {
			if _, known := out[id]; !known {
				out[id] = i
			}
		}
	}
	return out
}
