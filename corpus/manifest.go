package corpus

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"

	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// readManifest reads collection.yaml; the error lists every fault with its place.
func readManifest(file string) (*Collection, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("reading the manifest: %w", err)
	}
	c, err := ParseManifest(file, data)
	if err != nil {
		return nil, err
	}
	if len(c.Pieces) == 0 {
		return nil, fmt.Errorf("%s lists no piece\nhint: add `pieces:` with one `- score: FILE` a line", file)
	}
	return c, nil
}

// manifest reads into a collection.
type manifest struct {
	*strictyaml.Reader
	c *Collection
}

// ParseManifest reads the text of a manifest that lies at file.
func ParseManifest(file string, data []byte) (*Collection, error) {
	r, root, err := strictyaml.Parse(file, data)
	if err != nil {
		return nil, err
	}
	m := manifest{r, &Collection{Root: filepath.Dir(file), Manifest: file}}
	if root != nil {
		m.collection(root)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return m.c, nil
}

var (
	collectionKeys = []string{"title", "composer", "publisher", "invented", "policy", "pieces"}
	pieceKeys      = []string{"id", "title", "score", "scoring", "parts", "year", "text_digits", "tempo", "policy", "witnesses"}
	witnessKeys    = []string{"siglum", "score", "numbering", "responsibility"}
)

func (m manifest) collection(root *yaml.Node) {
	m.Mapping(root, "a collection", func(name string, k, v *yaml.Node) {
		switch name {
		case "title":
			m.c.Title, _ = m.Text(v, name)
		case "composer":
			m.c.Composer, _ = m.Text(v, name)
		case "publisher":
			m.c.Publisher, _ = m.Text(v, name)
		case "invented":
			m.c.Invented, _ = m.Text(v, name)
		case "policy":
			m.c.Policy, _ = m.path(v, name)
		case "pieces":
			m.list(v, name, func(n *yaml.Node) { m.piece(n) })
		default:
			m.Unknown(k, collectionKeys)
		}
	})
}

func (m manifest) list(n *yaml.Node, what string, each func(*yaml.Node)) {
	if n.Kind != yaml.SequenceNode {
		m.Fault(n, what+" should be a list", "one entry a line, each beginning with a dash")
		return
	}
	for _, e := range n.Content {
		each(e)
	}
}

func (m manifest) piece(n *yaml.Node) {
	var p Piece
	named := false
	m.Mapping(n, "a piece", func(name string, k, v *yaml.Node) {
		switch name {
		case "id":
			if p.ID, _ = m.Text(v, name); strings.ContainsAny(p.ID, `/\:`+"\x00") || strings.HasPrefix(p.ID, ".") {
				m.Fault(v, fmt.Sprintf("the id %q cannot be a file name", p.ID), "results and pages are named by it")
			}
		case "title":
			p.Title, _ = m.Text(v, name)
		case "score":
			named = true
			p.Score, _ = m.path(v, name)
			if p.Score != "" && !IsScore(p.Score) {
				m.Fault(v, fmt.Sprintf("%s is no MusicXML score by its name", p.Score), "scores end in .musicxml, .xml or .mxl")
			}
		case "scoring":
			p.Scoring = Scoring(m.word(v, name, Scorings()))
		case "parts":
			m.list(v, name, func(n *yaml.Node) {
				if id, ok := m.Text(n, "a part id"); ok {
					p.Parts = append(p.Parts, id)
				}
			})
		case "year":
			p.Year, _ = m.Int(v, name, 1500, 2100)
		case "text_digits":
			p.TextDigits, _ = m.OneOf(v, name, []string{"composer", "earlier", "editor"})
		case "tempo":
			p.Tempo = m.tempo(v)
		case "policy":
			p.Policy, _ = m.path(v, name)
		case "witnesses":
			m.list(v, name, func(n *yaml.Node) { m.witness(n, &p) })
		default:
			m.Unknown(k, pieceKeys)
		}
	})
	if !named && n.Kind == yaml.MappingNode {
		m.Fault(n, "a piece without a score", "add `score: FILE.musicxml`")
	}
	m.c.Pieces = append(m.c.Pieces, p)
}

func (m manifest) word(n *yaml.Node, what string, scorings []Scoring) string {
	var words []string
	for _, s := range scorings {
		words = append(words, string(s))
	}
	w, _ := m.OneOf(n, what, words)
	return w
}

// tempo reads one number or a range of two.
func (m manifest) tempo(n *yaml.Node) Tempo {
	if n.Kind == yaml.ScalarNode {
		v, _ := m.Int(n, "tempo", 10, 400)
		return Tempo{v, v}
	}
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		m.Fault(n, "tempo should be beats a minute, one number or a range", "write 96 or [88, 104]")
		return Tempo{}
	}
	low, _ := m.Int(n.Content[0], "tempo", 10, 400)
	high, _ := m.Int(n.Content[1], "tempo", 10, 400)
	if low > high {
		m.Fault(n, fmt.Sprintf("the tempo runs from %d down to %d", low, high), "the slower number first")
	}
	return Tempo{low, high}
}

func (m manifest) witness(n *yaml.Node, p *Piece) {
	w := Witness{Numbering: Modern, Responsibility: "composer"}
	m.Mapping(n, "a witness", func(name string, k, v *yaml.Node) {
		switch name {
		case "siglum":
			w.Siglum, _ = m.Text(v, name)
		case "score":
			w.Score, _ = m.path(v, name)
		case "numbering":
			s, _ := m.OneOf(v, name, []string{string(Modern), string(Old)})
			w.Numbering = Numbering(s)
		case "responsibility":
			w.Responsibility, _ = m.OneOf(v, name, []string{"composer", "earlier"})
		default:
			m.Unknown(k, witnessKeys)
		}
	})
	if n.Kind == yaml.MappingNode && (w.Siglum == "" || w.Score == "") {
		m.Fault(n, "a witness needs its siglum and its score", "")
	}
	for _, other := range p.Witnesses {
		if other.Siglum == w.Siglum {
			m.Fault(n, fmt.Sprintf("two witnesses have the siglum %q", w.Siglum), "")
		}
	}
	p.Witnesses = append(p.Witnesses, w)
}

// path reads a path inside the collection.
func (m manifest) path(n *yaml.Node, what string) (string, bool) {
	s, ok := m.Text(n, what)
	if !ok {
		return "", false
	}
	clean := path.Clean(strings.ReplaceAll(s, `\`, "/"))
	if s == "" || path.IsAbs(clean) || clean == ".." || strings.HasPrefix(clean, "../") || filepath.IsAbs(s) || strings.Contains(clean, ":") {
		m.Fault(n, fmt.Sprintf("the path %q leads out of the collection", s), "paths start from the folder of the manifest and stay below it")
		return "", false
	}
	return clean, true
}
