package engrave

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/beevik/etree"
)

// Glyphs collects the outlines of the music font used by many excerpts of one page. It may be used by several
// goroutines.
type Glyphs struct {
	mutex    sync.Mutex
	outlines map[string]string // name -> drawing
}

// SVG gives one invisible element with every outline collected, in order of their names. It stands in the page before
// the excerpts.
func (g *Glyphs) SVG() string {
	g.mutex.Lock()
	defer g.mutex.Unlock()
	var text strings.Builder
	text.WriteString(
		`<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0" style="position:absolute" aria-hidden="true" ` +
			`focusable="false"><defs>`,
	)
	for _, name := range slices.Sorted(maps.Keys(g.outlines)) {
		text.WriteString(g.outlines[name])
	}
	text.WriteString(`</defs></svg>`)
	return text.String()
}

var oneOutline = regexp.MustCompile(`(?s)<g id="glyph-\w+">.*?</g>`)

// Without gives a collection of outlines, written by SVG, without those that another has: a page that holds both
// needs each once.
func Without(svg, other string) string {
	return oneOutline.ReplaceAllStringFunc(svg, func(outline string) string {
		id, _, _ := strings.Cut(outline, ">")
		if strings.Contains(other, id+">") {
			return ""
		}
		return outline
	})
}

func (g *Glyphs) add(outlines []outline) {
	g.mutex.Lock()
	defer g.mutex.Unlock()
	if g.outlines == nil {
		g.outlines = map[string]string{}
	}
	for _, outline := range outlines {
		if _, known := g.outlines[outline.name]; known {
			continue
		}
		document := etree.NewDocument()
		document.SetRoot(outline.element.Copy())
		// An element read from memory and written again: no error can arise.
		g.outlines[outline.name], _ = document.WriteToString()
	}
}

// outlineSet is the outlines of one picture. The engraver ends their names in a string of its own for each picture;
// without it, equal outlines have equal names in all.
type outlineSet struct {
	byOldName map[string]outline
	inUse     map[string]outline
}

type outline struct {
	name    string
	element *etree.Element
}

const glyphPrefix = "glyph-"

func takeOutlines(root *etree.Element) *outlineSet {
	set := &outlineSet{byOldName: map[string]outline{}, inUse: map[string]outline{}}
	for _, defs := range root.SelectElements("defs") {
		for _, element := range defs.ChildElements() {
			old := element.SelectAttrValue("id", "")
			code, _, _ := strings.Cut(old, "-")
			name := glyphPrefix + code
			element.CreateAttr("id", name)
			set.byOldName[old] = outline{name, element}
		}
		root.RemoveChild(defs)
	}
	return set
}

// rename points a use at the outline's common name.
func (s *outlineSet) rename(use *etree.Element) {
	known, ok := s.byOldName[strings.TrimPrefix(use.SelectAttrValue("href", ""), "#")]
	if !ok {
		return
	}
	s.inUse[known.name] = known
	use.CreateAttr("href", "#"+known.name)
}

func (s *outlineSet) used() []outline {
	var list []outline
	for _, name := range slices.Sorted(maps.Keys(s.inUse)) {
		list = append(list, s.inUse[name])
	}
	return list
}
