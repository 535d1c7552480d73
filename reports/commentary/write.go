package commentary

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/reports/internal/caution"
)

// Markdown writes the commentary in Markdown.
func (c *Commentary) Markdown() []byte {
	var b bytes.Buffer
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("# %s: editorial commentary", plain(c.Title))
	for _, who := range []string{c.Composer, c.Publisher, c.Invented} {
		if who != "" {
			line("\n%s", plain(who))
		}
	}
	for _, l := range c.Legends {
		line("\n## Digits: what their looks mean (%s)\n", plain(l.Policy))
		line("| digits | are |\n|---|---|")
		for _, r := range l.Rows {
			line("| %s | %s |", r.Look, r.Meaning)
		}
		for _, a := range l.Agents {
			line("\n%s", plain(a))
		}
	}
	for _, p := range c.Pieces {
		line("\n## %s", plain(p.Title))
		if p.Error != "" {
			line("\nCould not be worked on: %s", plain(p.Error))
			continue
		}
		if len(p.Sources) > 0 {
			line("\nWitnesses:\n")
			for _, s := range p.Sources {
				line("- %s", plain(s))
			}
		}
		for _, s := range p.Sections {
			line("\n### %s\n", s.Heading)
			for _, r := range s.Remarks {
				line("- %s", plain(r))
			}
		}
		line("\n### Statistics\n\n%s", p.Statistic)
	}
	line("\n## Statistics of the collection\n\n%s", c.Total)
	line("\n## Caution\n\n%s", caution.Text)
	return b.Bytes()
}

// plain keeps what comes from files from being read as Markdown.
var markdown = strings.NewReplacer("\\", "\\\\", "*", "\\*", "_", "\\_", "`", "\\`", "[", "\\[", "]", "\\]", "<", "&lt;", "|", "\\|", "\n", " ", "\r", " ")

func plain(s string) string { return markdown.Replace(s) }

//go:embed commentary.html
var page string

var pageTemplate = template.Must(template.New("commentary").Funcs(template.FuncMap{
	"caution": func() string { return caution.Text },
	"class":   class, "specimen": specimen,
}).Parse(page))

// class names the look of a specimen for the style sheet.
func class(s score.Style) string {
	out := "digit"
	if s.Italic {
		out += " italic"
	}
	if s.Bold {
		out += " bold"
	}
	if s.Size != "" {
		out += " small"
	}
	return out
}

func specimen(s score.Style) string {
	switch s.Enclosure {
	case score.Parentheses:
		return "(3)"
	case score.Brackets:
		return "[3]"
	}
	return "3"
}

// HTML writes the commentary as a page that needs no other file.
func (c *Commentary) HTML() ([]byte, error) {
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, c); err != nil {
		return nil, fmt.Errorf("writing the commentary: %w", err)
	}
	return b.Bytes(), nil
}
