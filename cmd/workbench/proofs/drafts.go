package proofs

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/04_attribute"
)

// drafts carries the digits of one source to the text of another.
type drafts struct{ shared string }

func draftsCommand() *cobra.Command {
	m := &drafts{}
	return measurement.Measurement{
		Use:   "drafts",
		Short: "carry drafts from one source to the text of another: digits on the right note, the rest named",
		Long: `drafts takes every pair of witnesses of a work, both ways. One is the text, without its digits; the other is an
editor's own copy. First the digits that are printed in it are carried, then a digit on every struck note. It counts
the digits carried and those left out with their place. A digit is carried to the right note where key and beat are
the same and the note before or after it in its staff is; the others are listed, to be read. Last, a copy of each text
is made in which some keys are altered, so that the truth is known: each digit has to stand at its own note or be left
out. Where a measure comes twice in a row and one of them is altered, the two cannot be told apart by the music alone.`,
		Fails: "a digit was lost: it neither stands at a note nor is named",
		Flags: func(f *pflag.FlagSet) { opendata.FolderFlag(f, &m.shared) },
		Run:   m.run,
	}.Command()
}

// carriedDigits counts the digits of a draft.
type carriedDigits struct{ all, carried, left, doubtful, lost int }

func (c *carriedDigits) add(o carriedDigits) {
	c.all, c.carried, c.left = c.all+o.all, c.carried+o.carried, c.left+o.left
	c.doubtful, c.lost = c.doubtful+o.doubtful, c.lost+o.lost
}

func (m *drafts) run(_ context.Context, out io.Writer, _ []string) error {
	pairs, err := witnessPairs(opendata.Place(m.shared, "witnesses"))
	if err != nil {
		return err
	}
	var printed, every carriedDigits
	made, wrong := 0, 0
	seen := map[string]bool{}
	for _, p := range pairs {
		a, b, err := p.read()
		if err != nil {
			return err
		}
		for _, way := range [2][2]*score.Score{{a, b}, {b, a}} {
			text, copied := way[0].WithoutDigits(), way[1]
			printed.add(carry(out, p.work, text, copied))
			every.add(carry(out, p.work, text, onEveryNote(copied)))
		}
		for file, s := range map[string]*score.Score{p.fileA: a, p.fileB: b} {
			if !seen[file] {
				seen[file] = true
				looked, bad := madeDraft(s)
				made, wrong = made+looked, wrong+bad
			}
		}
	}
	for _, row := range []struct {
		name string
		c    carriedDigits
	}{{"printed digits", printed}, {"a digit on every note", every}} {
		fmt.Fprintf(out, "%s: %d, carried %d, left out and named %d, lost %d; carried to a note whose surroundings differ %d\n",
			row.name, row.c.all, row.c.carried, row.c.left, row.c.lost, row.c.doubtful)
	}
	fmt.Fprintf(out, "copies with altered keys: %d digits, at another note than their own or lost %d\n", made, wrong)
	if printed.lost+every.lost > 0 {
		return measurement.Failed("a digit was lost: it neither stands at a note nor is named")
	}
	return nil
}

// onEveryNote gives every struck note of a score one digit, which says nothing.
func onEveryNote(s *score.Score) *score.Score {
	out := *s
	out.Notes = slices.Clone(s.Notes)
	for i := range out.Notes {
		n := &out.Notes[i]
		n.Indications = nil
		if n.Kind == score.Pitched && n.TiedFrom < 0 && !n.Cue && !n.Hidden {
			f := i%5 + 1
			n.Indications = []score.Indication{{Text: strconv.Itoa(f), Fingers: []int{f}}}
		}
	}
	return &out
}

func carry(out io.Writer, work string, text, copied *score.Score) (c carriedDigits) {
	for i := range copied.Notes {
		for _, ind := range copied.Notes[i].Indications {
			if !ind.Hidden {
				c.all++
			}
		}
	}
	d := attribute.PlaceDraft(text, copied, nil)
	c.left = len(d.Left)
	for j, from := range d.From {
		for _, i := range from {
			c.carried++
			if !alikeAround(copied, i, text, j) {
				c.doubtful++
				if c.doubtful == 1 {
					fmt.Fprintf(out, "%s: %s of the draft stands at %s of the text: read it\n", work, copied.Place(i), text.Place(j))
				}
			}
		}
	}
	c.lost = c.all - c.carried - c.left
	return c
}

// alikeAround says that two notes are on one key and beat, and that the note before or after in the staff is as well.
func alikeAround(a *score.Score, i int, b *score.Score, j int) bool {
	if a.Notes[i].Midi != b.Notes[j].Midi {
		return false
	}
	same := 0
	for _, by := range []int{-1, 1} {
		k, l := beside(a, i, by), beside(b, j, by)
		if k >= 0 && l >= 0 && a.Notes[k].Midi == b.Notes[l].Midi {
			same++
		}
	}
	return same > 0 && (a.Notes[i].Onset.Cmp(b.Notes[j].Onset) == 0 || same == 2)
}

// beside is the nearest struck note before or after a note in its staff, -1 for none.
func beside(s *score.Score, i, by int) int {
	for k := i + by; k >= 0 && k < len(s.Notes); k += by {
		n := &s.Notes[k]
		if n.Kind == score.Pitched && n.TiedFrom < 0 && n.Staff == s.Notes[i].Staff && n.Part == s.Notes[i].Part {
			return k
		}
	}
	return -1
}

// madeDraft makes a copy of a text with a digit on every note and some keys altered, and looks where each digit stands.
func madeDraft(s *score.Score) (looked, wrong int) {
	text, copied := s.WithoutDigits(), onEveryNote(s)
	altered := map[int]bool{}
	for i := range copied.Notes {
		if i%29 == 7 && len(copied.Notes[i].Indications) > 0 && copied.Notes[i].TiedTo < 0 {
			copied.Notes[i].Midi++
			altered[i] = true
		}
	}
	d := attribute.PlaceDraft(text, copied, nil)
	stands := map[int]int{}
	for j, from := range d.From {
		for _, i := range from {
			stands[i] = j
		}
	}
	left := len(d.Left)
	for i := range copied.Notes {
		if len(copied.Notes[i].Indications) == 0 {
			continue
		}
		looked++
		j, there := stands[i]
		switch {
		case !there:
			left--
		case altered[i] && j != i && text.Notes[j].Midi == copied.Notes[i].Midi && text.At(j).Cmp(copied.At(i)) == 0:
			// the text strikes the altered key there as well
		case altered[i] || text.Notes[j].Midi != text.Notes[i].Midi:
			wrong++
		}
	}
	return looked, wrong + max(-left, left)
}
