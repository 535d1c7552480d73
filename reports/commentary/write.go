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

// Heading is the title of the whole.
func (c *Commentary) Heading() string {
	if c.Title == "" {
		return "Editorial commentary"
	}
	return c.Title + ": editorial commentary"
}

// About says of a legend's edition for which hand it is fingered, and whether
// what is open is left out.
func (l Legend) About() string {
	out := "Fingered for the " + l.Hand + "."
	if l.Press {
		out += " For press: digits that are open are not printed."
	}
	return out
}

// Reading says how the remarks are to be read.
const Reading = "Places are named by measure, hand and beat, and within the beat by the note value that falls there. " +
	"Where several notes sound together the lowest stands first, and so does its digit. A change of finger on a " +
	"held key is written 4-1."

// Markdown writes the commentary in Markdown.
func (c *Commentary) Markdown() []byte {
	var b bytes.Buffer
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("# %s", plain(c.Heading()))
	for _, who := range []string{c.Composer, c.Publisher, c.Invented} {
		if who != "" {
			line("\n%s", plain(who))
		}
	}
	for _, l := range c.Legends {
		line("\n## Fingering: what the digits mean (%s)\n", plain(l.Policy))
		line("%s\n", plain(l.About()))
		line("| digits | look | are |\n|---|---|---|")
		for _, r := range l.Rows {
			line("| %s | %s | %s |", plain(r.Specimen), r.Look, r.Meaning)
		}
		for _, said := range append([]string{l.Witnesses}, l.Agents...) {
			if said != "" {
				line("\n%s", plain(said))
			}
		}
	}
	line("\n%s", Reading)
	for _, p := range c.Pieces {
		line("\n## %s", plain(p.Title))
		if p.Error != "" {
			line("\nCould not be worked on: %s", plain(p.Error))
			continue
		}
		if len(c.Legends) > 1 {
			line("\nHouse style: %s", plain(p.Policy))
		}
		if len(p.Sources) > 0 {
			line("\nWitnesses:\n")
			for _, s := range p.Sources {
				line("- %s", plain(s))
			}
		}
		for _, s := range p.Sections {
			line("\n### %s", s.Heading)
			if s.Opening != "" {
				line("\n%s", plain(s.Opening))
			}
			for k, r := range s.Remarks {
				if k == 0 {
					line("")
				}
				line("- %s", plain(r))
			}
		}
		if len(p.Sections) == 0 {
			line("\nNothing to remark.")
		}
	}
	line("\n## Statistics\n\n%s\n", c.Total)
	line(
		"| piece | notes | digits | the composer's | of earlier hands | the editor's | open | unlike the composer's " +
			"|\n|---|--:|--:|--:|--:|--:|--:|--:|",
	)
	for _, p := range c.Pieces {
		if p.Error == "" {
			s := p.Statistic
			line(
				"| %s | %d | %d | %d | %d | %d | %d | %d |", plain(p.Title), s.Notes, s.Printed, s.Composer, s.Earlier,
				s.Editor, s.Open, s.Differ,
			)
		}
	}
	line("\n## Caution\n\n%s", caution.Text)
	return b.Bytes()
}

// plain keeps what comes from files from being read as Markdown.
var markdown = strings.NewReplacer(
	"\\", "\\\\", "*", "\\*", "_", "\\_", "`", "\\`", "[", "\\[", "]", "\\]", "<", "&lt;", "|", "\\|", "\n", " ", "\r",
	" ",
)

func plain(s string) string { return markdown.Replace(s) }

//go:embed commentary.html
var page string

var pageTemplate = template.Must(template.New("commentary").Funcs(template.FuncMap{
	"caution": func() string { return caution.Text },
	"reading": func() string { return Reading },
	"look":    look,
}).Parse(page))

// look spells a look for a specimen: its values have been checked by the
// policy's own forms, so none of them can say anything else.
func look(s score.Style) template.CSS {
	out := ""
	if s.Italic {
		out += "font-style:italic;"
	}
	if s.Bold {
		out += "font-weight:bold;"
	}
	switch {
	case s.Size == "":
	case s.Size[0] >= '0' && s.Size[0] <= '9':
		out += "font-size:" + s.Size + "pt;"
	default:
		out += "font-size:" + s.Size + ";"
	}
	if s.Colour != "" {
		out += "color:" + s.Colour + ";"
	}
	return template.CSS(out)
}

// HTML writes the commentary as a page that needs no other file.
func (c *Commentary) HTML() ([]byte, error) {
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, c); err != nil {
		return nil, fmt.Errorf("writing the commentary: %w", err)
	}
	return b.Bytes(), nil
}
