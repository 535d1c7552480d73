package musicxml

import (
	"fingerproof/corpus/source/xmltree"
	"strings"
)

// LegendType is the kind of <credit> in which an edition explains the looks of
// its digits. The standard leaves the kinds open (MusicXML 4.0, credit-type);
// by it the legend is known again when another program has written the file.
const LegendType = "fingering legend"

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
	credit := `<credit page="1">` + inner + "<credit-type>" + LegendType + "</credit-type>" +
		inner + `<credit-words halign="center" valign="bottom">` + xmltree.Escape(words) + "</credit-words>" + indent + "</credit>"
	switch {
	case !h.legend.Exists():
		s.insert(h.partList, credit+indent)
	case s.Text.Text[h.legend.Start:h.legend.End] != credit:
		s.replace(h.legend, credit)
	}
}
