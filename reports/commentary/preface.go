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
	text := c.Say(c.added())
	if slices.ContainsFunc(c.Legends, func(l Legend) bool { return l.occurs.Roll || l.occurs.RollOffered }) {
		text += " " + c.Say("preface.rolls")
	}
	line("\n%s", text)
	if c.Left > 0 {
		line("\n%s", c.Say("open.not.printed", c.Say("notes", c.Left)))
	}
	c.prefaceParts(line)
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

// prefacePart is what a house style has to say under one heading of the preface.
type prefacePart struct {
	heading, body string
	pieces        []string // the titles of those that it holds for
}

// added is the key of the sentence that says what the edition adds to the text.
func (c *Commentary) added() string {
	digits, hands := len(c.Legends) == 0, false
	for _, l := range c.Legends {
		o := &l.occurs
		digits = digits || len(o.Who) > 0 || o.Single || o.Beside || o.BesideEarlier || o.Alternative
		hands = hands || o.Bracket || o.OfferedBracket || o.Offered || o.Change
	}
	switch {
	case digits:
		return "preface.text"
	case hands:
		return "preface.text.hands"
	}
	return "preface.text.no.digit"
}

// prefaceParts explains the house styles, heading by heading. What several of them have to say in the same words stands once;
// what differs names the pieces that it is about, as a reader knows them.
func (c *Commentary) prefaceParts(line func(string, ...any)) {
	var headings []string
	parts := map[string][]*prefacePart{}
	for _, l := range c.Legends {
		for _, part := range c.prefaceOf(l) {
			if !slices.Contains(headings, part.heading) {
				headings = append(headings, part.heading)
			}
			same := slices.IndexFunc(parts[part.heading], func(p *prefacePart) bool { return p.body == part.body })
			if same >= 0 {
				at := parts[part.heading][same]
				at.pieces = append(at.pieces, l.pieces...)
				continue
			}
			part.pieces = slices.Clone(l.pieces)
			parts[part.heading] = append(parts[part.heading], &part)
		}
	}
	all := 0
	for _, l := range c.Legends {
		all += len(l.pieces)
	}
	for _, heading := range headings {
		line("\n### %s", heading)
		for _, part := range parts[heading] {
			if len(part.pieces) < all {
				var names []string
				for _, title := range part.pieces {
					names = append(names, plain(title))
				}
				line("\n*%s*", strings.Join(names, " · "))
			}
			line("\n%s", part.body)
		}
	}
}

// prefaceOf explains one house style.
func (c *Commentary) prefaceOf(l Legend) (out []prefacePart) {
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	part := func(heading string) {
		out = append(out, prefacePart{heading: c.Say(heading), body: strings.TrimSpace(b.String())})
		b.Reset()
	}
	line("%s\n", c.Say("preface.whose.text"))
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
	part("preface.whose")
	density := map[string]string{"every-note": "preface.every-note", "composer-only": "preface.composer-only"}
	key := density[l.policy.Digits()]
	if key == "" {
		key = "preface.needed"
	}
	line("%s %s %s", c.Say("preface.digits.text"), c.Say(key), c.Say("preface.substitution"))
	part("preface.digits")
	if l.policy.ByVoices() {
		line("%s", c.Say("preface.hands.text"))
		part("preface.hands")
	}
	if l.Hand != "" {
		line("%s", c.Say("preface.hand.text", handIn(c.words(), l.Hand)))
		part("preface.hand")
	}
	return out
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
