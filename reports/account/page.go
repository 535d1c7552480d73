package account

import (
	"bytes"
	_ "embed" // the template
	"fmt"
	"html/template"

	"fingerproof/pipeline/4_services/reasons"
)

//go:embed page.html
var pageSource string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{
	"digit": digit, "amount": amount, "headline": headline, "sentence": sentence, "passage": passage, "title": title,
	"rest": rest, "learned": learned, "follows": follows, "given": func(g reasons.Given) string { return marks[g].words },
	"hand":  func(h reasons.Hand) *reasons.Hand { return &h },
	"doubt": func(d reasons.Doubt) *reasons.Doubt { return &d },
	"size":  func(milli int) int { return max(min(max(milli, -milli)/20, 160), 2) },
}).Parse(pageSource))

// Page writes an account as a page of its own that refers to nothing outside. piece is the piece's title.
func Page(piece string, a *reasons.Account) ([]byte, error) {
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, struct {
		Piece string
		*reasons.Account
	}{piece, a}); err != nil {
		return nil, fmt.Errorf("writing the page of m. %s: %w", a.Measure, err)
	}
	return b.Bytes(), nil
}
