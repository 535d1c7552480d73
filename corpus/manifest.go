package corpus

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// readManifest reads collection.yaml; the error lists every fault with its place.
func readManifest(file string) (*Collection, error) {
	data, err := strictyaml.ReadFile(file)
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

// Years of pieces, and beats a minute, that are more than slips of a hand.
const (
	firstYear, lastYear   = 1500, 2100
	slowestBeat, fastBeat = 10, 400
)

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
	collectionKeys = []string{
		"title", "composer", "publisher", "invented", "policy", "text_digits", "house_hand",
		"front_matter", "back_matter", DefaultsKey, "pieces",
	}
	pieceKeys = []string{
		"id", "title", "score", "scoring", "parts", "year", "text_digits", "tempo", "policy", "witnesses",
		"returns_differ", "leading", "draft",
	}
	draftKeys   = []string{"by", "score"}
	textDigits  = []string{"composer", "earlier", "editor"}
	witnessKeys = []string{"siglum", "name", "score", "numbering", "responsibility"}
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
		case "text_digits":
			m.c.TextDigits, _ = m.OneOf(v, name, textDigits)
		case "house_hand":
			m.c.HouseHand, _ = m.path(v, name)
		case "front_matter":
			m.c.FrontMatter = m.texts(v, name)
		case "back_matter":
			m.c.BackMatter = m.texts(v, name)
		case DefaultsKey: // read where options are known
			m.Mapping(v, name, func(string, *yaml.Node, *yaml.Node) {})
		case "pieces":
			m.List(v, name, func(n *yaml.Node) { m.piece(n) })
		default:
			m.Unknown(k, collectionKeys)
		}
	})
	m.spreadTextDigits()
}

// texts reads a list of Markdown files.
func (m manifest) texts(v *yaml.Node, name string) (out []string) {
	m.List(v, name, func(n *yaml.Node) {
		p, ok := m.path(n, "a text")
		if ok && path.Ext(p) != ".md" {
			m.Fault(n, strictyaml.Quote(p)+" is no Markdown file by its name", "texts of the editors' own end in .md")
		} else if ok {
			out = append(out, p)
		}
	})
	return out
}

// spreadTextDigits gives what the manifest says for all to the pieces that say nothing of their own.
func (m manifest) spreadTextDigits() {
	for i := range m.c.Pieces {
		if p := &m.c.Pieces[i]; p.TextDigits == "" && (p.Draft == nil || p.Draft.Score != "") {
			p.TextDigits = m.c.TextDigits
		}
	}
}

func (m manifest) piece(n *yaml.Node) {
	var p Piece
	named := false
	m.Mapping(n, "a piece", func(name string, k, v *yaml.Node) {
		switch name {
		case "id":
			if id, ok := m.Text(v, name); ok && !isFileName(id) {
				m.Fault(v, "the id "+strictyaml.Quote(id)+" cannot be a file name", "results and pages are named by it")
			} else {
				p.ID = id
			}
		case "title":
			p.Title, _ = m.Text(v, name)
		case "score":
			named = true
			p.Score, _ = m.path(v, name)
			if p.Score != "" && !IsScore(p.Score) {
				m.Fault(
					v, strictyaml.Quote(p.Score)+" is no MusicXML or MEI score by its name",
					"scores end in .musicxml, .xml, .mxl or .mei",
				)
			}
		case "scoring":
			p.Scoring = Scoring(m.word(v, name, Scorings()))
		case "parts":
			m.List(v, name, func(n *yaml.Node) {
				if id, ok := m.Text(n, "a part id"); ok {
					p.Parts = append(p.Parts, id)
				}
			})
		case "year":
			p.Year, _ = m.Int(v, name, firstYear, lastYear)
		case "text_digits":
			p.TextDigits, _ = m.OneOf(v, name, textDigits)
		case "tempo":
			p.Tempo = m.tempo(v)
		case "policy":
			p.Policy, _ = m.path(v, name)
		case "returns_differ":
			m.List(v, name, func(n *yaml.Node) {
				if r, ok := m.measures(n); ok {
					p.ReturnsDiffer = append(p.ReturnsDiffer, r)
				}
			})
		case "leading":
			m.List(v, name, func(n *yaml.Node) { m.leading(n, &p) })
		case "draft":
			p.Draft = m.draft(v)
		case "witnesses":
			m.List(v, name, func(n *yaml.Node) { m.witness(n, &p) })
		default:
			m.Unknown(k, pieceKeys)
		}
	})
	if !named && n.Kind == yaml.MappingNode {
		m.Fault(n, "a piece without a score", "add `score: FILE.musicxml`")
	}
	if p.Draft != nil && p.Draft.Score == "" && p.TextDigits != "" {
		m.Fault(n, "the digits of the text are "+strictyaml.Quote(p.TextDigits)+" by text_digits, and a draft as well",
			"leave one of the two out, or name the score in which the draft stands: draft: {by: AB, score: FILE}")
	}
	m.c.Pieces = append(m.c.Pieces, p)
}

// draft reads whose own fingering the edition begins with, and where it stands.
func (m manifest) draft(v *yaml.Node) *Draft {
	d := &Draft{}
	m.Mapping(v, "a draft", func(name string, k, v *yaml.Node) {
		switch name {
		case "by":
			if d.By, _ = m.Text(v, name); d.By != "" && !areInitials(d.By) {
				m.Fault(v, strictyaml.Quote(d.By)+" are no initials", "one to five letters, as on decisions")
			}
		case "score":
			if d.Score, _ = m.path(v, name); d.Score != "" && !IsScore(d.Score) {
				m.Fault(v, strictyaml.Quote(d.Score)+" is no MusicXML or MEI score by its name",
					"scores end in .musicxml, .xml, .mxl or .mei")
			}
		default:
			m.Unknown(k, draftKeys)
		}
	})
	if v.Kind == yaml.MappingNode && d.By == "" {
		m.Fault(v, "a draft needs the initials of its editor",
			"write draft: {by: AB} where the digits of the text are the draft, or draft: {by: AB, score: FILE}")
	}
	return d
}

// areInitials says that a text can stand for an editor.
func areInitials(s string) bool {
	for _, r := range s {
		if !unicode.IsLetter(r) {
			return false
		}
	}
	return s != "" && utf8.RuneCountInString(s) <= 5
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
		if n.Tag != "!!int" {
			m.Fault(
				n, "tempo cannot be "+strictyaml.Quote(n.Value),
				"beats a minute, as 96 or [88, 104]; words of the score are read by the policy's tempo.words",
			)
			return Tempo{}
		}
		v, _ := m.Int(n, "tempo", slowestBeat, fastBeat)
		return Tempo{v, v}
	}
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		m.Fault(n, "tempo should be beats a minute, one number or a range", "write 96 or [88, 104]")
		return Tempo{}
	}
	low, _ := m.Int(n.Content[0], "tempo", slowestBeat, fastBeat)
	high, _ := m.Int(n.Content[1], "tempo", slowestBeat, fastBeat)
	if low > high {
		m.Fault(n, fmt.Sprintf("the tempo runs from %d down to %d", low, high), "the slower number first")
	}
	return Tempo{low, high}
}

// measures reads one measure or a range: 17, "12a", 17-24.
func (m manifest) measures(n *yaml.Node) (Measures, bool) {
	text, ok := m.Text(n, "a passage that differs")
	if !ok {
		return Measures{}, false
	}
	from, to, split := strings.Cut(text, "-")
	if from, to = strings.TrimSpace(from), strings.TrimSpace(to); !split {
		to = from
	}
	if from == "" || to == "" || strings.ContainsAny(from+to, " -") {
		m.Fault(
			n, "the measures "+strictyaml.Quote(text)+" are no range",
			"write 17-24, by the printed numbers, or one number",
		)
		return Measures{}, false
	}
	return Measures{from, to}, true
}

// leading reads which voice leads where.
func (m manifest) leading(n *yaml.Node, p *Piece) {
	var l Leading
	whole := false
	m.Mapping(n, "a leading voice", func(name string, k, v *yaml.Node) {
		switch name {
		case "measures":
			l.Measures, whole = m.measures(v)
		case "hand":
			l.Hand, _ = m.OneOf(v, name, []string{"R", "L"})
		case "voice":
			l.Voice, _ = m.Text(v, name)
		default:
			m.Unknown(k, []string{"measures", "hand", "voice"})
		}
	})
	if n.Kind == yaml.MappingNode && (!whole || l.Hand == "" || l.Voice == "") {
		m.Fault(
			n, "a leading voice needs measures, hand and voice",
			"write {measures: 9-16, hand: R, voice: lower}; voice is upper, lower, or the voice's own number in the "+
				"score",
		)
	}
	p.Leading = append(p.Leading, l)
}

func (m manifest) witness(n *yaml.Node, p *Piece) {
	w := Witness{Numbering: Modern, Responsibility: "composer"}
	siglum, score := false, false // whether they are there, sound or not: what is wrong with them is said at them
	m.Mapping(n, "a witness", func(name string, k, v *yaml.Node) {
		switch name {
		case "siglum":
			siglum = true
			w.Siglum, _ = m.Text(v, name)
		case "name":
			w.Name, _ = m.Text(v, name)
		case "score":
			score = true
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
	if n.Kind == yaml.MappingNode && (!siglum || !score) {
		m.Fault(n, "a witness needs its siglum and its score", "write {siglum: A, score: witnesses/a.musicxml, responsibility: composer}")
	}
	if w.Siglum != "" &&
		slices.ContainsFunc(p.Witnesses, func(other Witness) bool { return other.Siglum == w.Siglum }) {
		m.Fault(n, "two witnesses have the siglum "+strictyaml.Quote(w.Siglum), "")
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
	hint := "paths start from the folder of the manifest and stay below it"
	if what == "policy" {
		hint += "; a policy.yaml in a folder above is found without being named"
	}
	if s == "" || path.IsAbs(clean) || clean == "." || clean == ".." || strings.HasPrefix(clean, "../") ||
		filepath.IsAbs(s) || hasDrive(s) {
		m.Fault(n, "the path "+strictyaml.Quote(s)+" leads out of the collection", hint)
		return "", false
	}
	if part := NotForWindows(clean); part != "" {
		m.Fault(n, "the path "+strictyaml.Quote(s)+" cannot be one on Windows: "+strictyaml.Quote(part)+
			" is a device there or has a colon", "the same manifest is read on every editor's machine: rename the file")
		return "", false
	}
	return clean, true
}

// hasDrive reports whether a path names a drive, wherever this runs: the same
// manifest is read on every editor's machine.
func hasDrive(path string) bool {
	return len(path) > 1 && path[1] == ':' && (path[0]|0x20 >= 'a' && path[0]|0x20 <= 'z')
}
