package suggestions

import (
	"context"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/reports/engrave"
)

// drawMoved draws measures that an aim moves, without the aim and with it.
func drawMoved(ctx context.Context, aim string, shown []moved) (string, error) {
	cache := filepath.Join(os.TempDir(), "fingerproof-engraver")
	press, err := engrave.Open(ctx, engrave.Options{Package: engrave.FindPackage("."), CacheDir: cache})
	if err != nil {
		return "", err
	}
	defer press.Close(ctx)
	worker, err := press.Worker(ctx)
	if err != nil {
		return "", err
	}
	defer worker.Close(ctx)
	var out strings.Builder
	fmt.Fprintf(&out, "<h2>%s</h2>", html.EscapeString(aim))
	for _, m := range shown {
		measures := m.run.Score.Measures
		last := min(m.measure+1, len(measures)-1)
		fmt.Fprintf(&out, "<h3>%s, m. %s</h3>",
			html.EscapeString(m.run.Piece.ID), html.EscapeString(measures[m.measure].Number))
		for k, digits := range [2][]int{m.before, m.after} {
			sheet, err := m.sheet(digits)
			if err != nil {
				return "", err
			}
			picture, err := worker.Excerpt(ctx, sheet, m.measure, last, engrave.ExcerptOptions{Width: 900})
			if err != nil {
				return "", err
			}
			fmt.Fprintf(&out, "<p>%s</p>%s", [2]string{"without", "with"}[k], picture.SVG)
		}
	}
	return out.String(), nil
}

// sheet is the score with digits, those that the aim moves boxed.
func (m *moved) sheet(digits []int) (*engrave.Sheet, error) {
	sheet, err := engrave.Copy([]byte(m.run.Document.Text), engrave.CopyOptions{})
	if err != nil {
		return nil, err
	}
	for n := range sheet.Notes {
		sheet.Notes[n].Digits = nil
		if n >= len(digits) || digits[n] == 0 || !m.run.Playing.Plays(n) {
			continue
		}
		text := fmt.Sprint(digits[n] % 10)
		if digits[n] > 10 {
			text += fmt.Sprintf("-%d", digits[n]/10)
		}
		side := "above"
		if m.run.Playing.Hand(n) == score.Left {
			side = "below"
		}
		moved := m.before[n] != m.after[n]
		sheet.Notes[n].Digits = []engrave.DrawnDigit{{Text: text, Placement: side, Boxed: moved}}
	}
	return sheet, nil
}
