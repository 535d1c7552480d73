package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"

	"fingerproof/corpus/files"
	"fingerproof/corpus/format"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/edition"

	"github.com/spf13/cobra"
)

func newTakeBackCommand(env *environment) *cobra.Command {
	var out string
	var byMusic bool
	cmd := &cobra.Command{
		Use:   "take-back EDITION EDITS",
		Short: "Give the source's bytes back from a marked score and its recorded edits",
		Long: `take-back undoes what run spliced into a score: from edition/NAME and
edits/NAME.json it gives the source back, byte for byte, and checks it.

Where another program has written the edition anew, its bytes cannot be given
back. With --by-music the record is held against the music: the digits that run
had added are taken out of the score as it is now where they still stand, with
the signs of rolls that have its word beside them, and what does not fit is told.
` + exitStatusHelp,
		Example: `  fingerproof take-back out/edition/op1.musicxml out/edits/op1.musicxml.json --out op1.musicxml
  fingerproof take-back returned.musicxml out/edits/op1.musicxml.json --by-music --out op1.musicxml`,
		Args: cobra.ExactArgs(2),
		RunE: func(_ *cobra.Command, args []string) error {
			data, err := takeBack(env, args[0], args[1], byMusic)
			if err != nil {
				return err
			}
			if out == "-" {
				_, err = env.Stdout.Write(data)
				return err
			}
			if _, err := os.Lstat(out); err == nil {
				return fmt.Errorf("%s is there already; nothing was written", out)
			}
			return files.Replace(out, nil, data)
		},
	}
	cmd.Flags().StringVar(&out, "out", "-", "file to write, which must not exist yet; - for standard output")
	cmd.Flags().BoolVar(&byMusic, "by-music", false, "take the added digits out of an edition that was changed since")
	return cmd
}

func takeBack(env *environment, path, edits string, byMusic bool) ([]byte, error) {
	data, err := files.ReadNamed(path, files.ScoreLimit)
	if err != nil {
		return nil, fmt.Errorf("reading the edition: %w", err)
	}
	text, err := files.ReadNamed(edits, files.StateLimit)
	if err != nil {
		return nil, fmt.Errorf("reading the edits: %w", err)
	}
	var record source.Record
	if err := json.Unmarshal(text, &record); err != nil {
		return nil, fmt.Errorf("reading the edits %s: %w", edits, err)
	}
	base, err := source.TakeBack(data, &record, source.DefaultLimits())
	if err == nil || !errors.Is(err, source.ErrChanged) {
		return base, err
	}
	changed, why := changedSince(path, data, &record)
	if why != nil {
		return nil, fmt.Errorf("%w; its music does not help either: %w", err, why)
	}
	if !byMusic {
		return nil, fmt.Errorf("%w\n%s\nhint: --by-music takes these out of the score as it is now; "+
			"`fingerproof diff SOURCE %s` tells what else is another", err, changed.words(), path)
	}
	env.complain("%s: %s", path, changed.words())
	taken, err := source.Apply(changed.doc.Text, changed.layout.TakeOut(changed.doc, changed.held.Added))
	if err != nil {
		return nil, fmt.Errorf("taking digits out of %s: %w", path, err)
	}
	out, _, err := changed.doc.Edition(source.Whole(changed.doc.Text, taken))
	return out, err
}

// changedEdition is an edition that another program has written anew, and what of the record still fits its music.
type changedEdition struct {
	doc    *source.Document
	layout format.Layout
	held   *edition.Held
}

func changedSince(path string, data []byte, record *source.Record) (*changedEdition, error) {
	doc, err := source.Open(path, data, source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	s, layout, err := format.Read(doc)
	if err != nil {
		return nil, err
	}
	held := edition.OfEdits(record.Edits).Hold(s)
	if held == nil {
		return nil, errors.New("the record names no music to be held against")
	}
	return &changedEdition{doc, layout, held}, nil
}

// words tells how far the record fits.
func (c *changedEdition) words() string {
	added := 0
	for _, note := range c.held.Added {
		for _, yes := range note {
			if yes {
				added++
			}
		}
	}
	rolls := ""
	if l, some := c.layout.(interface{ AddedRolls() int }); some && l.AddedRolls() > 0 {
		rolls = fmt.Sprintf("; signs of rolls that were added: %d", l.AddedRolls())
	}
	return fmt.Sprintf("of %s that were added, %d still stand where they were put; digits of the text that do not: %d; "+
		"digits that the record does not know: %d%s; looks, hand signs and brackets stay as they are",
		wording.Count(added+c.held.AddedLost, "digit"), added, c.held.Lost-c.held.AddedLost, c.held.Unknown, rolls)
}
