package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"fingerproof/corpus/files"
	"fingerproof/corpus/wording"

	"github.com/spf13/cobra"
)

func newCacheCommand(env *environment) *cobra.Command {
	var options cacheOptions
	cmd := &cobra.Command{
		Use:   "cache",
		Short: "Say what is kept of earlier runs, and clear it",
		Long: `cache says in which folder runs keep what they worked out, how much of it is there and
how large it is: of one piece there is an outcome for each state and each command that
asked for it. A run takes a piece from there where its score, its
witnesses, its policy, its decisions, the weights, what was passed and this program
are the same; it is the same to the byte. Of a piece of which only something that does
not bear on the fingering has changed (signs, lint), the stages that search are taken
from there; of any piece, drawings in notation that show the same. What no run asked
for in 90 days is dropped, and the oldest where there is more than 4 GiB.
` + exitStatusHelp,
		Example: `  fingerproof cache
  fingerproof cache clear`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			cache, stages, drawings, err := options.open()
			if err != nil {
				return err
			}
			size, err := cache.Size()
			if err != nil {
				return err
			}
			searches, err := stages.Size()
			if err != nil {
				return err
			}
			drawn, err := drawings.Size()
			if err != nil {
				return err
			}
			fmt.Fprintf(env.Stdout, "%s: %s, %.1f MiB\n%s: %s, %.1f MiB\n%s: %s, %.1f MiB\n",
				cache.Dir(), wording.Count(size.Entries, "outcome")+" of pieces", float64(size.Bytes)/(1<<20),
				stages.Dir(), wording.Count(searches.Entries, "stage"), float64(searches.Bytes)/(1<<20),
				drawings.Dir(), wording.Count(drawn.Entries, "drawing"), float64(drawn.Bytes)/(1<<20))
			return nil
		},
	}
	cmd.PersistentFlags().StringVar(&options.dir, "cache", "", "the folder (default: fingerproof/pieces in the user's cache)")
	cmd.AddCommand(&cobra.Command{
		Use:   "clear",
		Short: "Take out everything that is kept of earlier runs",
		Long:  "clear takes out everything that is kept, and says how much it was. The next run works all out anew.\n" + exitStatusHelp,
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			cache, stages, drawings, err := options.open()
			if err != nil {
				return err
			}
			before, err := heldBy(cache, stages, drawings)
			if err != nil {
				return err
			}
			if err := errors.Join(cache.Clear(), stages.Clear(), drawings.Clear()); err != nil {
				return err
			}
			left, err := heldBy(cache, stages, drawings)
			if err != nil {
				return err
			}
			root := filepath.Dir(cache.Dir())
			if before.Entries == 0 {
				fmt.Fprintf(env.Stdout, "%s: nothing was kept there\n", root)
				return nil
			}
			fmt.Fprintf(env.Stdout, "%s: %s taken out, %.1f MiB\n", root, wording.Count(before.Entries-left.Entries, "file"),
				float64(before.Bytes-left.Bytes)/(1<<20))
			if left.Entries > 0 {
				fmt.Fprintf(env.Stdout, "%s written meanwhile by another program\n", wording.Count(left.Entries, "file"))
			}
			return nil
		},
	})
	return cmd
}

// heldBy is what several caches hold together.
func heldBy(caches ...*files.Cache) (total files.CacheSize, err error) {
	for _, c := range caches {
		size, err := c.Size()
		if err != nil {
			return total, err
		}
		total.Entries, total.Bytes = total.Entries+size.Entries, total.Bytes+size.Bytes
	}
	return total, nil
}

// open gives the cache of whole pieces, that of stages and that of drawings.
func (o *cacheOptions) open() (pieces, stages, drawings *files.Cache, err error) {
	dir, err := o.folder()
	if err != nil {
		return nil, nil, nil, err
	}
	return files.OpenCache(dir), stagesIn(dir), drawingsIn(dir), nil
}
