package commentary

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/policies"
)

// Preface writes the words on the fingering for the front matter, in Markdown:
// whose the digits are, how they are marked and read, which hand plays, what the
// signs mean, for which hand, and the caution. An editor's own text stands
// first, as it is.
func (c *Commentary) Preface() []byte {
	var b bytes.Buffer
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	if c.Title != "" {
		line("# %s", plain(c.Title))
		line("\n## %s", c.Say("preface"))
	} else {
		line("# %s", c.Say("preface"))
	}
	if c.Invented != "" {
		line("\n%s", plain(c.Invented))
	}
	for _, own := range c.FrontMatter {
		line("\n%s", strings.TrimSpace(own))
	}
	text := c.Say("preface.text")
	if slices.ContainsFunc(c.Legends, func(l Legend) bool { return l.occurs.Roll || l.occurs.RollOffered }) {
		text += " " + c.Say("preface.rolls")
	}
	line("\n%s", text)
	if c.Left > 0 {
		line("\n%s", c.Say("open.not.printed", c.Say("notes", c.Left)))
	}
	for _, l := range c.Legends {
		c.prefaceOf(line, l)
	}
	line("\n### %s\n\n%s", c.Say("caution"), c.Say("caution.text"))
	line("\n### %s\n", c.Say("preface.contents"))
	for _, p := range c.Pieces {
		line("- %s", plain(c.withComposer(&p)))
	}
	return b.Bytes()
}

// withComposer is a piece's title, its composer before it where the pieces have several.
func (c *Commentary) withComposer(p *Piece) string {
	several := slices.ContainsFunc(c.Pieces, func(o Piece) bool { return o.Composer != p.Composer && o.Error == "" })
	if p.Composer == "" || !several {
		return p.Title
	}
	return p.Composer + ": " + p.Title
}

// prefaceOf explains one house style.
func (c *Commentary) prefaceOf(line func(string, ...any), l Legend) {
	if len(c.Legends) > 1 {
		line("\n%s", c.Say("house.style", plain(l.Policy)))
	}
	line("\n### %s\n\n%s\n", c.Say("preface.whose"), c.Say("preface.whose.text"))
	line("| %s | %s | %s |\n|---|---|---|", c.Say("column.digits"), c.Say("column.look"), c.Say("column.are"))
	for _, r := range l.Rows {
		line("| %s | %s | %s |", emphasis(r), plain(r.Look), plain(r.Meaning))
	}
	if (l.occurs.Who[score.Composer] || l.occurs.Text[score.Composer]) && !l.occurs.OfSource {
		line("\n%s", c.Say("preface.composer.stands"))
	}
	if l.occurs.BesideEarlier {
		for _, r := range l.Rows {
			if r.Style == l.policy.BesideStyle() {
				line("\n%s", c.Say("preface.earlier.stands", emphasis(r)))
				break
			}
		}
	}
	if l.Witnesses != "" {
		line("\n%s", plain(l.Witnesses))
	}
	var names []string
	for _, who := range l.policy.Agents() {
		names = append(names, plain(l.policy.Agent(who)))
	}
	for _, initials := range l.Signed {
		names = append(names, plain(initials))
	}
	if names = slices.Compact(names); len(names) > 0 {
		// Initials end with a point of their own.
		line("\n%s", c.Say("preface.agents", strings.TrimSuffix(strings.Join(names, ", "), ".")))
	}
	density := map[string]string{"every-note": "preface.every-note", "composer-only": "preface.composer-only"}
	key := density[l.policy.Digits()]
	if key == "" {
		key = "preface.needed"
	}
	line("\n### %s\n\n%s %s %s", c.Say("preface.digits"), c.Say("preface.digits.text"), c.Say(key), c.Say("preface.substitution"))
	if l.policy.ByVoices() {
		line("\n### %s\n\n%s", c.Say("preface.hands"), c.Say("preface.hands.text"))
	}
	if l.Hand != "" {
		line("\n### %s\n\n%s", c.Say("preface.hand"), c.Say("preface.hand.text", handIn(c.words(), l.Hand)))
	}
}

// emphasis shows a specimen as Markdown can: in italics, bold, or both.
func emphasis(r policies.LegendRow) string {
	out := plain(r.Specimen)
	if r.Style.Italic {
		out = "*" + out + "*"
	}
	if r.Style.Bold {
		out = "**" + out + "**"
	}
	return out
}
