// Package corpus is the door for collections: the manifest that lists a
// composer's pieces, or a folder or a single score read without one.
package corpus

import (
	"errors"
	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/maruel/natural"
	"golang.org/x/text/unicode/norm"
)

// ManifestName is the name a collection's manifest is found by.
const ManifestName = "collection.yaml"

// DefaultsKey is the key of a manifest below which options of the command line have the collection's own values. The
// program reads what stands there.
const DefaultsKey = "defaults"

// Collection is what one run works on.
type Collection struct {
	Root     string // folder that all paths are relative to
	Manifest string // path of the manifest, empty where there is none

	Title, Composer, Publisher string
	Invented                   string // what the manifest says of itself where all in it is invented
	Policy                     string // the policy the manifest names: a shipped style, or a path relative to Root
	TextDigits                 string // whose the digits in the text of every piece are that says nothing of its own; empty: as the policy says
	HouseHand                  string // file of changes to the weights, relative to Root; empty for none
	// FrontMatter and BackMatter are Markdown files of the editors' own, relative to Root: what stands in the preface
	// before the words on the fingering, and in the commentary before the remarks.
	FrontMatter, BackMatter []string
	Pieces                  []Piece
}

// Piece is one score of the collection with what the manifest says of it.
type Piece struct {
	ID         string
	Title      string
	Score      string // relative to Root, with slashes
	Scoring    Scoring
	Parts      []string // part ids that are played; empty: what the score shows
	Year       int
	TextDigits string // whose the digits in the text are; empty: as the policy says
	Tempo      Tempo  // beats a minute; zero: as the score says
	Policy     string // a policy of its own, named likewise
	Witnesses  []Witness
	Draft      *Draft `json:",omitempty"` // an editor's own fingering that the edition begins with; nil: none
	// ReturnsDiffer lists measures that are fingered for themselves though the passage stood before.
	ReturnsDiffer []Measures
	// Leading lists where the editor says which voice leads.
	Leading []Leading
	// Fault is why the piece cannot be worked on; the others go on.
	Fault error
}

// Tempo is a range of felt beats a minute.
type Tempo struct{ Low, High int }

// Measures is a range of measures by their printed numbers, both included.
type Measures struct{ From, To string }

// In finds the measures in a score, by index; ok is false where it does not
// have them. Of several measures of one number the first begins a range and the
// last ends it.
func (r Measures) In(s *score.Score) (from, to int, ok bool) {
	from, to = -1, -1
	for i := range s.Measures {
		if number := s.Measures[i].Number; number == r.From && from < 0 {
			from = i
		}
		if s.Measures[i].Number == r.To {
			to = i
		}
	}
	return from, to, from >= 0 && to >= from
}

// NumberedAgain gives a number of the range that measures apart from each other bear, as where movements of one file are each
// numbered from 1; "" where there is none. The parts of a measure that is split stand side by side.
func (r Measures) NumberedAgain(s *score.Score) string {
	for _, number := range []string{r.From, r.To} {
		last := -1
		for i := range s.Measures {
			if s.Measures[i].Number != number {
				continue
			}
			if last >= 0 && i > last+1 {
				return number
			}
			last = i
		}
	}
	return ""
}

// String gives "m. 17–24", or "m. 17" for one measure.
func (m Measures) String() string {
	if m.From == m.To {
		return "m. " + m.From
	}
	return "m. " + m.From + "–" + m.To
}

// Leading names the voice that carries the line in some measures of one hand.
type Leading struct {
	Measures Measures
	Hand     string // R or L
	Voice    string // "upper" or "lower" note of what the hand strikes, or the voice's own name in the score
}

// Witness is a source of the piece.
type Witness struct {
	Siglum    string
	Name      string `json:",omitempty"` // what it is, as the commentary prints it: "first German edition, 1868"
	Score     string
	Numbering Numbering
	// Responsibility of digits that stand in it: composer or earlier.
	Responsibility string
}

// Draft is an editor's own fingering from which the edition begins: theirs, and open until it is decided.
type Draft struct {
	By string // initials
	// Score is the editor's own copy, relative to the collection's Root; empty where the digits of the text are the draft.
	Score string `json:",omitempty"`
}

// Numbering is how a witness numbers the fingers.
type Numbering string

// Modern numbering is 1 to 5; the old one is + 1 2 3 4, + the thumb.
const (
	Modern Numbering = "modern"
	Old    Numbering = "old"
)

// Scoring says who plays.
type Scoring string

// The scorings.
const (
	TwoHands         Scoring = "two hands"
	LeftHandAlone    Scoring = "left hand alone"
	RightHandAlone   Scoring = "right hand alone"
	FourHands        Scoring = "four hands"
	TwoPianos        Scoring = "two pianos"
	SoloAndReduction Scoring = "solo with reduction"
)

// Scorings lists them all.
func Scorings() []Scoring {
	return []Scoring{TwoHands, LeftHandAlone, RightHandAlone, FourHands, TwoPianos, SoloAndReduction}
}

// Open opens a manifest, a folder (with its manifest, else flat: the scores
// in it) or a single score.
func Open(path string) (*Collection, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, noSuchPath(path)
	case err != nil:
		return nil, fmt.Errorf("opening %s: %w", path, err)
	}
	var c *Collection
	switch {
	case info.IsDir():
		manifest := filepath.Join(path, ManifestName)
		if other := misnamed(path); other != "" {
			return nil, fmt.Errorf("%s looks like a manifest, and only %s is read\nhint: rename it, or name it itself",
				filepath.Join(path, other), ManifestName)
		}
		if _, err := os.Lstat(manifest); err == nil { // a link to nothing is there, too
			c, err = readManifest(manifest)
			if err != nil {
				return nil, err
			}
			break
		}
		if c, err = openFolder(path); err != nil {
			return nil, err
		}
	case isYAML(path):
		if c, err = readManifest(path); err != nil {
			return nil, err
		}
	case !info.Mode().IsRegular(): // a pipe would be waited for without end
		return nil, fmt.Errorf("%s is no ordinary file\nhint: name a score, a folder of scores, or a manifest", path)
	default:
		if err := wrongFile(path); err != nil {
			return nil, err
		}
		c = &Collection{Root: filepath.Dir(path), Pieces: []Piece{{Score: filepath.Base(path)}}}
	}
	c.complete()
	return c, nil
}

// misnamed is a name in a folder that only its spelling keeps from being the manifest's, "" where there is none, or
// where the manifest is there.
func misnamed(dir string) (other string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "" // whoever reads it next says why
	}
	for _, e := range entries {
		switch n := e.Name(); {
		case n == ManifestName:
			return ""
		case strings.EqualFold(n, ManifestName), strings.EqualFold(n, "collection.yml"):
			other = n
		}
	}
	return other
}

func isYAML(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".yaml" || ext == ".yml"
}

// IsScore reports whether a file's name is that of a score read here.
func IsScore(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".musicxml", ".xml", ".mxl", ".mei":
		return true
	}
	return false
}

// openFolder reads a folder without manifest: flat, scores only, in the order
// in which people number things (op. 2 before op. 10).
func openFolder(dir string) (*Collection, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("reading the folder %s: %w", dir, err)
	}
	var names []string
	others := 0
	for _, e := range entries {
		switch {
		case e.IsDir() || strings.HasPrefix(e.Name(), "."):
		case IsScore(e.Name()) && !isTestReport(filepath.Join(dir, e.Name())):
			names = append(names, e.Name())
		default:
			others++
		}
	}
	if len(names) == 0 {
		what := "it is empty"
		if others > 0 {
			what = fmt.Sprintf("%s in it, none ends in .musicxml, .xml, .mxl or .mei", wording.Count(others, "file"))
			if known := OtherMusic(dir); known != "" {
				what += " (" + known + ")"
			}
		}
		return nil, fmt.Errorf(
			"there is no score in the folder %s: %s\nhint: export scores as MusicXML or MEI into it, or name a folder that "+
				"holds some; folders inside it are not looked into",
			dir, what,
		)
	}
	slices.SortFunc(names, func(a, b string) int {
		switch {
		case natural.Less(a, b):
			return -1
		case natural.Less(b, a):
			return 1
		}
		return strings.Compare(a, b)
	})
	c := &Collection{Root: dir}
	for _, n := range names {
		c.Pieces = append(c.Pieces, Piece{Score: n})
	}
	return c, nil
}

// complete fills in what is not said and notes what is wrong with a piece: an
// id or an output name used twice, a score or a witness that is not there.
func (c *Collection) complete() {
	ids, names := map[string]string{}, map[string]string{}
	for i := range c.Pieces {
		p := &c.Pieces[i]
		base := filepath.Base(filepath.FromSlash(p.Score))
		if p.ID == "" {
			p.ID = strings.TrimSuffix(base, filepath.Ext(base))
		}
		if p.Scoring == "" {
			p.Scoring = TwoHands
		}
		id, name := alike(p.ID), alike(base)
		switch {
		case p.Fault != nil:
		case p.ID == "":
			p.Fault = fmt.Errorf(
				"%s has no name before its extension\nhint: rename it, or give it an `id` in %s", p.Score, ManifestName,
			)
		case ids[id] != "":
			p.Fault = fmt.Errorf(
				"%s and %s have the same id %q\nhint: give one of them an `id` of its own in %s", ids[id], p.Score,
				p.ID, ManifestName,
			)
		case names[name] != "":
			p.Fault = fmt.Errorf(
				"%s and %s have the same file name, so one edition would lie over the other\n"+
					"hint: rename one of the files",
				names[name], p.Score,
			)
		case tooLong(base) != nil:
			p.Fault = tooLong(base)
		default:
			p.Fault = c.missing(p)
		}
		if ids[id] == "" {
			ids[id] = p.Score
		}
		if names[name] == "" {
			names[name] = p.Score
		}
	}
}

// alike gives the same for names that some machine an editor uses would take
// for one file: capitals and the ways to spell an accented letter are one.
func alike(name string) string {
	return norm.NFC.String(strings.ToLower(norm.NFC.String(name)))
}

// missing says which file of a piece is not there.
func (c *Collection) missing(p *Piece) error {
	if err := c.there(p.Score); err != nil {
		return err
	}
	for _, w := range p.Witnesses {
		if err := c.there(w.Score); err != nil {
			return fmt.Errorf("witness %s: %w", w.Siglum, err)
		}
	}
	if p.Draft != nil && p.Draft.Score != "" {
		if err := c.there(p.Draft.Score); err != nil {
			return fmt.Errorf("draft of %s: %w", p.Draft.By, err)
		}
	}
	return nil
}

func (c *Collection) there(rel string) error {
	info, err := os.Stat(c.Path(rel))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := linkToNothing(c.Path(rel), rel); err != nil {
			return err
		}
		hint := ""
		if near := nearName(c.Path(rel)); near != "" {
			hint = fmt.Sprintf("\nhint: did you mean %q?", path.Join(path.Dir(rel), near))
		}
		return fmt.Errorf("there is no score %s%s", rel, hint)
	case err != nil:
		return fmt.Errorf("looking for %s: %w", rel, err)
	case info.IsDir():
		return fmt.Errorf("%s is a folder, not a score\nhint: list the scores in it one by one", rel)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is no ordinary file", rel)
	}
	return nil
}

// Path gives the file of a path of the collection.
func (c *Collection) Path(rel string) string { return filepath.Join(c.Root, filepath.FromSlash(rel)) }
