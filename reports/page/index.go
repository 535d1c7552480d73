// Package page writes pages for the editor: one for each piece and an index
// of the collection. Every page is one file that needs no other and asks
// nothing of the network.
package page

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"

	"fingerproof/corpus"
	"fingerproof/pipeline/state"
	"fingerproof/reports/internal/caution"
)

//go:embed *.html page.css
var files embed.FS

// Caution returns the caution for other formats.
func Caution() string { return caution.Text }

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"css":     func() template.CSS { return template.CSS(mustRead("page.css")) }, // our own file
	"caution": Caution,
	"nats":    func(milli int64) float64 { return float64(milli) / 1000 },
}).ParseFS(files, "*.html"))

func mustRead(name string) string {
	b, err := files.ReadFile(name)
	if err != nil {
		panic(err) // embedded
	}
	return string(b)
}

// Index gathers the pieces of a collection.
type Index struct {
	Title, Composer, Publisher, Invented string
	Rows                                 []row
	Notes, Printed, Given, OutOfReach    int
	Severities                           state.Counts
	Failed                               int
}

type row struct {
	ID, Title, Score, Error string
	Summary                 state.Summary
	Spark                   template.HTML
	Doubtful                int
}

// NewIndex begins the index of a collection.
func NewIndex(c *corpus.Collection) *Index {
	i := &Index{Title: c.Title, Composer: c.Composer, Publisher: c.Publisher, Invented: c.Invented}
	if i.Title == "" {
		i.Title = "Review"
	}
	return i
}

// Add takes in a piece, in the collection's order.
func (i *Index) Add(r *state.Result) {
	s := r.Summary
	title := s.Title
	if title == "" {
		title = r.Piece
	}
	doubtful := 0
	for k := range r.Notes {
		if sure(&r.Notes[k]) == doubtfulWord {
			doubtful++
		}
	}
	i.Rows = append(i.Rows, row{ID: r.Piece, Title: title, Score: s.Score, Summary: s, Spark: spark(s.Hands), Doubtful: doubtful})
	i.Notes += s.Notes
	i.Printed += s.Printed
	i.Given += s.Given
	i.OutOfReach += s.OutOfReach
	i.Severities.Error += s.Severities.Error
	i.Severities.Warning += s.Severities.Warning
	i.Severities.Note += s.Severities.Note
}

// Fail takes in a piece that could not be worked on.
func (i *Index) Fail(p *corpus.Piece, err error) {
	title := p.Title
	if title == "" {
		title = p.ID
	}
	i.Rows = append(i.Rows, row{ID: p.ID, Title: title, Score: p.Score, Error: err.Error()})
	i.Failed++
}

// Render writes the index.
func (i *Index) Render() ([]byte, error) {
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, "index.html", i); err != nil {
		return nil, fmt.Errorf("writing the index page: %w", err)
	}
	return b.Bytes(), nil
}
