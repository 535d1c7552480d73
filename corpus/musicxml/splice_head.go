package musicxml

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// fields puts what an edition says of itself into the head: a field that
// stands there is replaced, others join the miscellaneous fields, and the
// elements around them are made where they are missing.
func (s *splicer) fields(fields []score.Field) {
	h := &s.layout.head
	var added []string
	for _, f := range fields {
		name := FieldPrefix + f.Name
		tag := `<miscellaneous-field name="` + xmltree.Escape(name) + `">` + xmltree.Escape(f.Value) + "</miscellaneous-field>"
		if at, there := h.fields[name]; there {
			if s.Text.Text[at.Start:at.End] != tag {
				s.replace(at, tag)
			}
			continue
		}
		added = append(added, tag)
	}
	if len(added) == 0 {
		return
	}
	outer := s.Indent(h.partList) // identification is a sister of the list of parts
	step := s.headStep()
	first, second := outer, outer
	if outer != "" {
		first, second = outer+step, outer+step+step
	}
	rows := ""
	for _, tag := range added {
		rows += second + tag
	}
	miscellaneous := "<miscellaneous>" + rows + first + "</miscellaneous>"
	switch {
	case h.miscellaneous.Exists() && !h.miscellaneous.SelfClosing():
		s.insert(s.ContentEnd(h.miscellaneous), rows)
	case h.miscellaneous.Exists():
		s.replace(h.miscellaneous, miscellaneous)
	case h.identification.Exists() && !h.identification.SelfClosing():
		s.insert(max(h.lastChild, h.identification.OpenEnd), first+miscellaneous)
	case h.identification.Exists():
		s.replace(h.identification, "<identification>"+first+miscellaneous+outer+"</identification>")
	default:
		s.insert(h.beforePartList, outer+"<identification>"+first+miscellaneous+outer+"</identification>")
	}
}

// headStep is one step of indentation: what the list of parts stands deeper
// than the root, which stands at the edge.
func (s *splicer) headStep() string {
	indent := s.Indent(s.layout.head.partList)
	if len(indent) <= len(s.Newline) {
		return ""
	}
	return indent[len(s.Newline):]
}
