package corrections

import (
	"fmt"
	"io"
	"strings"
)

func writeText(out io.Writer, s *Sheet) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Corrections to %s\nApproved copy: %s\n", s.Typeset, s.Approved)
	sections := s.sections()
	for _, r := range s.remarks() {
		fmt.Fprintln(&b, r)
	}
	for _, part := range sections {
		fmt.Fprintf(&b, "\n%s\n", part.Title)
		box := "[ ]"
		if part.Ticked {
			box = "[x]"
		}
		for _, p := range part.Pieces {
			fmt.Fprintf(&b, "  %s\n", p.ID)
			for _, l := range p.Lines {
				if l.Unread {
					fmt.Fprintf(&b, "    %s\n", l.Ask)
					continue
				}
				fmt.Fprintf(&b, "    %s %s: %s\n", box, l.Place, l.Ask)
				if l.Comment != "" {
					fmt.Fprintf(&b, "        %s\n", l.Comment)
				}
			}
		}
	}
	if s.Page != "" && len(sections) > 0 {
		fmt.Fprintf(&b, "\nBoth readings are shown in %s\n", s.Page)
	}
	if len(sections) == 0 {
		fmt.Fprintf(&b, "\n%s\n", s.nothing())
	}
	_, err := io.WriteString(out, b.String())
	return err
}
