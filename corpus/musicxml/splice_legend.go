package musicxml

import (
	"strings"

	"fingerproof/corpus/source/xmltree"
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
	credit := `<credit page="1">` + inner + "<credit-type>" + LegendType + "</credit-type>"
	// One element a line: of a line break within one Verovio makes a space, and draws beyond the page. None is placed:
	// MuseScore 3 leaves out what is not, but of what is placed it prints the first over the title, or in its stead.
	lines := strings.SplitAfter(words, "\n")
	for _, line := range lines {
		credit += inner + `<credit-words halign="center" valign="bottom">` + xmltree.Escape(line) + "</credit-words>"
	}
	credit += indent + "</credit>"
	switch {
	case !h.legend.Exists():
		s.insert(h.partList, credit+indent)
	case s.Text.Text[h.legend.Start:h.legend.End] != credit:
		s.replace(h.legend, credit)
	}
}
