package musicxml

import (
	"fmt"
	"strings"

	"fingerproof/corpus/source/xmltree"
)

// LegendType is the kind of <credit> in which an edition explains the looks of
// its digits. The standard leaves the kinds open (MusicXML 4.0, credit-type);
// by it the legend is known again when another program has written the file.
const LegendType = "fingering legend"

// legendLine is the height of a line of the legend, in tenths of a staff space.
const legendLine = 25

// underTitle places a line of the legend: at the foot of the page, or, where the score has placed its title and names on the
// first page, under these. An engraver that sets credits as they are placed may leave out those that are not.
func (h *headLayout) underTitle(line int) string {
	if h.titleFoot == 0 {
		return ` halign="center" valign="bottom"`
	}
	return fmt.Sprintf(` default-x="%d" default-y="%d" justify="center" valign="top"`, h.titleMiddle, h.titleFoot-legendLine*(line+1))
}

// legend puts the legend on the first page, in front of the list of parts,
// where the standard has its credits; one that stands there is replaced, and
// removed where there are no words.
func (s *splicer) legend(words string) {
	h := &s.layout.head
	indent := s.Indent(h.partList)
	if words == "" {
		if h.legend.Exists() {
			gone := h.legend
			for gone.Start > 0 && strings.IndexByte(" \t\r\n", s.Text.Text[gone.Start-1]) >= 0 {
				gone.Start-- // with the white space in front of it
			}
			s.replace(gone, "")
		}
		return
	}
	inner := ""
	if indent != "" {
		inner = indent + s.headStep()
	}
	credit := `<credit page="1">` + inner + "<credit-type>" + LegendType + "</credit-type>"
	// One element a line: of a line break within one an engraver may make a space, and print beyond the page.
	lines := strings.SplitAfter(words, "\n")
	for i, line := range lines {
		credit += inner + "<credit-words" + h.underTitle(i) + ">" + xmltree.Escape(line) + "</credit-words>"
	}
	credit += indent + "</credit>"
	switch {
	case !h.legend.Exists():
		s.insert(h.partList, credit+indent)
	case s.Text.Text[h.legend.Start:h.legend.End] != credit:
		s.replace(h.legend, credit)
	}
}
