package corrections

import (
	"fmt"
	"io"
	"strings"
)

// escaped keeps what a score says from being taken for Markdown.
var escaped = strings.NewReplacer(
	`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "#", `\#`, "[", `\[`, "]", `\]`, "<", "&lt;", "|", `\|`, "~", `\~`,
	"\n", " ",
)

func writeMarkdown(out io.Writer, s *Sheet) error {
	var b strings.Builder
	md := escaped.Replace
	fmt.Fprintf(&b, "# Corrections to %s\n\nApproved copy: %s\n", md(s.Typeset), md(s.Approved))
	for _, r := range s.remarks() {
		fmt.Fprintf(&b, "\n%s\n", md(r))
	}
	sections := s.sections()
	for _, part := range sections {
		fmt.Fprintf(&b, "\n## %s\n", md(part.Title))
		box := "[ ]"
		if part.Ticked {
			box = "[x]"
		}
		for _, p := range part.Pieces {
			fmt.Fprintf(&b, "\n### %s\n\n", md(p.ID))
			for i := range p.Lines {
				l := &p.Lines[i]
				if l.Unread {
					fmt.Fprintf(&b, "- %s\n", md(l.Ask))
					continue
				}
				place := "**" + md(l.Place) + "**"
				if link := s.link(l); link != "" {
					place = fmt.Sprintf("[%s](<%s>)", place, link)
				}
				fmt.Fprintf(&b, "- %s %s: %s", box, place, md(l.Ask))
				if l.Comment != "" {
					fmt.Fprintf(&b, " (%s)", md(l.Comment))
				}
				b.WriteString("\n")
			}
		}
	}
	if len(sections) == 0 {
		fmt.Fprintf(&b, "\n%s\n", s.nothing())
	}
	_, err := io.WriteString(out, b.String())
	return err
}
