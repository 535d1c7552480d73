package musicxml

import "strings"

// legendType is the kind of <credit> in which an edition explains the looks of
// its digits. The standard leaves the kinds open (MusicXML 4.0, credit-type);
// by it the legend is known again when another program has written the file.
const legendType = "fingering legend"

// legend puts the legend on the first page, in front of the list of parts,
// where the standard has its credits; one that stands there is replaced, and
// removed where there are no words.
func (s *splicer) legend(words string) {
	h := &s.layout.head
	indent := s.indent(h.partList)
	if words == "" {
		if h.legend.exists() {
			gone := h.legend
			for gone.start > 0 && strings.IndexByte(" \t\r\n", s.text[gone.start-1]) >= 0 {
				gone.start-- // with the white space in front of it
			}
			s.replace(gone, "")
		}
		return
	}
	inner := ""
	if indent != "" {
		inner = indent + s.headStep()
	}
	credit := `<credit page="1">` + inner + "<credit-type>" + legendType + "</credit-type>" +
		inner + `<credit-words halign="center" valign="bottom">` + escape(words) + "</credit-words>" + indent + "</credit>"
	switch {
	case !h.legend.exists():
		s.insert(h.partList, credit+indent)
	case s.text[h.legend.start:h.legend.end] != credit:
		s.replace(h.legend, credit)
	}
}
