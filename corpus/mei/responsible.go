package mei

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// roles are what people did for a score, by whom a digit of theirs counts as (MARC relator terms and codes, which MEI
// recommends for @role, and MEI's own elements).
var roles = map[string]score.Responsibility{
	"composer": score.Composer, "cmp": score.Composer, "creator": score.Composer,
	"editor": score.Editor, "edt": score.Editor, "annotator": score.Editor, "ann": score.Editor,
	"arranger": score.Earlier, "arr": score.Earlier, "reviser": score.Earlier, "pupil": score.Earlier,
	"performer": score.Earlier, "prf": score.Earlier,
}

// responsible says whose a digit is: as @resp says, at it or at what stands around it, by the role of whom it points at.
// What was supplied without a name is the editor's. Digits of editions of ours are told by their looks.
func (r *reader) responsible(e *xmltree.Element) score.Responsibility {
	for _, at := range append([]*xmltree.Element{e}, r.around[e.Span]...) {
		for _, id := range strings.Fields(at.Attribute("resp")) {
			id = strings.TrimPrefix(id, "#")
			if strings.HasPrefix(id, idPrefix) {
				return score.Unattributed
			}
			if who := r.byID[id]; who != nil {
				if of, known := roles[strings.ToLower(who.Attribute("role"))]; known {
					return of
				}
				if of, known := roles[who.Name]; known {
					return of
				}
			}
		}
		if at.Name == "supplied" && at.Attribute("resp") == "" {
			return score.Editor
		}
	}
	return score.Unattributed
}
