package corpus

import (
	"slices"
	"strings"

	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
)

// headsOfCollection are those that every piece has alike.
var headsOfCollection = []string{
	"title of the collection", "composer of the collection", "publisher of the collection", "front matter", "back matter",
}

// IsHeadOfCollection says that what Heads calls so is of the collection as a whole, and so of no piece by itself.
func IsHeadOfCollection(name string) bool { return slices.Contains(headsOfCollection, name) }

// Heads are what preface, commentary and pages print of a piece that stands in no score: the titles and names of the
// manifest, each by what it is, and the editors' own texts by their sums. What the manifest leaves out is left out.
func (c *Collection) Heads(p *Piece) map[string]string {
	out := map[string]string{}
	for name, text := range map[string]string{
		"title of the collection": c.Title, "composer of the collection": c.Composer, "publisher of the collection": c.Publisher,
		"title of the piece in the manifest": p.Title, "front matter": c.sums(c.FrontMatter), "back matter": c.sums(c.BackMatter),
	} {
		if text != "" {
			out[name] = text
		}
	}
	return out
}

// sums are those of files, the name of one that cannot be read.
func (c *Collection) sums(names []string) string {
	var out []string
	for _, name := range names {
		sum := name + " (not read)"
		if data, err := files.ReadNamed(c.Path(name), files.TextLimit); err == nil {
			sum = source.Sum(data)[:12]
		}
		out = append(out, sum)
	}
	return strings.Join(out, " ")
}
