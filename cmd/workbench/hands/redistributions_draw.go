package hands

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"fingerproof/pipeline"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"
)

// drawing draws the pages of pieces into a folder.
type drawing struct {
	dir    string
	press  *engrave.Press
	worker *engrave.Worker
}

// openDrawing makes the engraver ready; nil where no folder is named.
func openDrawing(ctx context.Context, dir string) (*drawing, error) {
	if dir == "" {
		return nil, nil
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return nil, err
	}
	cache = filepath.Join(cache, "fingerproof")
	press, err := engrave.Open(ctx, engrave.Options{Package: engrave.FindPackage("."), CacheDir: cache})
	if err != nil {
		return nil, err
	}
	worker, err := press.Worker(ctx)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("making the folder of pages: %w", err)
	}
	return &drawing{dir, press, worker}, nil
}

// page writes the page of a piece with its redistributions drawn.
func (d *drawing) page(ctx context.Context, w *pipeline.PieceRun, collection string) error {
	whole := &pipeline.PieceRun{Piece: w.Piece, Data: w.Data, Policy: w.Policy, Weights: w.Weights}
	whole.Edition = pipeline.EditionName(w.Piece)
	if err := pipeline.RunPiece(whole); err != nil {
		return err
	}
	m := page.Of(whole, collection)
	if err := m.Draw(ctx, d.worker, whole, 12); err != nil {
		return err
	}
	html, err := page.Piece(m)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(d.dir, w.Piece.ID+".html"), html, 0o644)
}
