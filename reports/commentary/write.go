package commentary

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
)

// Heading is the title of the whole.
func (c *Commentary) Heading() string {
	if c.Title == "" {
		return c.words().Say("commentary")
	}
	return c.words().Say("commentary.of", c.Title)
}

// words are English until a piece has said the language.
func (c *Commentary) words() *printwords.Words {
	if c.Words == nil {
		return printwords.In("en")
	}
	return c.Words
}

// Say gives a sentence of the catalogue.
func (c *Commentary) Say(key string, args ...any) string { return c.words().Say(key, args...) }

// About says of a legend's edition for which hand it is fingered, and whether
// what is open is left out.
func (c *Commentary) About(l Legend) string {
	out := c.Say("about.hand", handIn(c.words(), l.Hand))
	if l.Press {
		out += " " + c.Say("about.press")
	}
	return out
}

var handForm = regexp.MustCompile(`^(octave|ninth|tenth) hand \((\d+) mm\)$`)

// handIn names the hand of an edition, "ninth hand (210 mm)", in a language.
func handIn(w *printwords.Words, hand string) string {
	m := handForm.FindStringSubmatch(hand)
	if m == nil {
		return hand
	}
	return w.Say("hand."+m[1], m[2])
}

// Lang is the language as pages name it.
func (c *Commentary) Lang() string { return c.words().Language }

// Nothing says that no remark stands on a piece, and how many findings nobody answered: these are not nothing.
func (c *Commentary) Nothing(p Piece) string {
	if p.Unanswered > 0 {
		return c.Say("not.answered", p.Unanswered)
	}
	return c.Say("nothing")
}

// SignedBy says whose the initials are that the house style does not spell out, "" where there are none.
func (c *Commentary) SignedBy(l Legend) string {
	if len(l.Signed) == 0 {
		return ""
	}
	// Initials end with a point of their own.
	return c.Say("preface.agents", strings.TrimSuffix(strings.Join(l.Signed, ", "), "."))
}

// Counted is the count of all pieces in a sentence.
func (c *Commentary) Counted() string { return c.Total.In(c.words(), c.Open) }

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
	for _, own := range c.BackMatter {
		line("\n%s", strings.TrimSpace(own))
	}
	for _, l := range c.Legends {
		line("\n## %s\n", c.Say("digits.heading", plain(l.Policy)))
		line("%s\n", plain(c.About(l)))
		line("| %s | %s | %s |\n|---|---|---|", c.Say("column.digits"), c.Say("column.look"), c.Say("column.are"))
		for _, r := range l.Rows {
			line("| %s | %s | %s |", emphasis(r), plain(r.Look), plain(r.Meaning))
		}
		for _, said := range slices.Concat([]string{l.Witnesses}, l.Agents, []string{c.SignedBy(l)}) {
			if said != "" {
				line("\n%s", plain(said))
			}
		}
	}
	line("\n%s", c.Say("reading"))
	for _, p := range c.Pieces {
		line("\n## %s", plain(p.Title))
		if p.Error != "" {
			line("\n%s", c.Say("failed", plain(p.Error)))
			continue
		}
		if len(c.Legends) > 1 {
			line("\n%s", c.Say("house.style", plain(p.Policy)))
		}
		if len(p.Sources) > 0 {
			line("\n%s\n", c.Say("witnesses"))
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
			line("\n%s", c.Nothing(p))
		}
	}
	line("\n## %s\n\n%s\n", c.Say("statistics"), c.CountedWhole())
	line("| %s |\n|---%s|", strings.Join(c.Columns(), " | "), strings.Repeat("|--:", len(c.Columns())-1))
	for _, p := range c.Pieces {
		if p.Error == "" {
			line("| %s | %s |", plain(p.Title), strings.Join(c.Cells(p.Statistic), " | "))
		}
	}
	line("\n## %s\n\n%s", c.Say("caution"), c.Say("caution.text"))
	return b.Bytes()
}

// CountedWhole is the count of all pieces with what is counted, and what is left open.
func (c *Commentary) CountedWhole() string {
	said := c.Counted() + " " + c.Say("counted.notes")
	if c.Left > 0 {
		said += " " + c.Say("open.not.printed", c.Say("notes", c.Left))
	}
	return said
}

// Columns heads the table of counts. What is open has no column where nothing of it is printed.
func (c *Commentary) Columns() []string {
	keys := []string{"piece", "notes", "printed", "composer", "earlier", "editor", "open", "differ"}
	var out []string
	for _, key := range keys {
		if key != "open" || c.Open {
			out = append(out, c.Say("column."+key))
		}
	}
	return out
}

// Cells are the counts of a piece, below Columns but for the first.
func (c *Commentary) Cells(s Statistics) []string {
	counts := []int{s.Notes, s.Printed, s.Composer, s.Earlier, s.Editor}
	if c.Open {
		counts = append(counts, s.Open)
	}
	var out []string
	for _, n := range append(counts, s.Differ) {
		out = append(out, strconv.Itoa(n))
	}
	return out
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
	"look": look,
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
