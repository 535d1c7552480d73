package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// shardOptions say which part of a collection is worked on here, the others on other machines.
type shardOptions struct {
	word  string // as asked for: 2/4, auto or auto/4; "" for the whole
	parts string // folder in which each shard leaves its part
	// from are folders with all parts, which is what join works from; nil works the pieces out.
	from []string

	shard shard
	// pressOf says which pieces are worked out for press, where that is not the same for all; may be nil.
	pressOf func(piece string) bool
	part    *part  // what this shard leaves
	joined  *parts // what is joined
}

// shard is one of equal parts of a collection, counted from 1. The zero value is the whole.
type shard struct{ number, of int }

func (s shard) any() bool { return s.of > 0 }

// add adds the options to a command that can be shared out.
func (o *shardOptions) add(f *pflag.FlagSet) {
	f.StringVar(&o.word, "shard", "", "work on one part of the collection only, as 2/4; auto or auto/4 takes the number from the "+
		"variables of Slurm's arrays, Kubernetes' indexed jobs and CI matrices; then fingerproof join")
	f.StringVar(&o.parts, "parts", "parts", "folder in which a shard leaves what join needs")
	f.StringArrayVar(&o.from, "joined", nil, "folders of parts to take everything from")
	_ = f.MarkHidden("joined") // join sets it
}

// shareOut leaves of a collection what the shard that was asked for works on, or takes up the parts that are joined.
func (o *workOptions) shareOut(env *environment, cmd *cobra.Command, args []string, c *corpus.Collection) (err error) {
	s := &o.shards
	if len(s.from) > 0 {
		if s.joined, err = readParts(s.from); err != nil {
			return err
		}
		if s.joined.list[0].Collection != collectionSum(c) {
			return fmt.Errorf("the collection has other pieces now than when the parts were made\nhint: make the parts anew")
		}
	}
	if s.word == "" {
		return nil
	}
	if s.shard, err = parseShard(s.word, env.Getenv); err != nil {
		return fmt.Errorf("--shard cannot be %q: %w", s.word, err)
	}
	s.part = &part{
		Version: partVersion, Number: s.shard.number, Of: s.shard.of, Command: askedFor(cmd, args),
		Collection: collectionSum(c), Today: o.today,
	}
	s.shard.keep(c)
	return nil
}

// aside are options that change nothing of what a command comes to; the day stands in the part.
var aside = []string{
	"shard", "parts", "joined", "workers", "cache", "no-cache", "progress", "timings", "cpuprofile", "memprofile", "today",
}

// askedFor is a command line that asks for the same, by which parts are known to belong together and which join runs.
func askedFor(cmd *cobra.Command, args []string) []string {
	out := append([]string{cmd.Name()}, args...)
	cmd.Flags().VisitAll(func(f *pflag.Flag) { // in the order of their names
		if !f.Changed || slices.Contains(aside, f.Name) {
			return
		}
		values := []string{f.Value.String()}
		if list, ok := f.Value.(pflag.SliceValue); ok {
			values = list.GetSlice()
		}
		for _, v := range values {
			out = append(out, "--"+f.Name+"="+v)
		}
	})
	return out
}

// record notes what became of a piece of a shard.
func (k *knownPieces) record(piece string, failed error) {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	p := partPiece{ID: piece, Key: k.keys[piece]}
	if failed != nil {
		p.Failed = failed.Error()
	}
	k.part.Pieces = append(k.part.Pieces, p)
}

// leave writes the part of a shard, and says what is to be done with it.
func (k *knownPieces) leave(dir string, notes int) error {
	if k.fault != nil {
		return fmt.Errorf("keeping the pieces of part %d of %d: %w", k.part.Number, k.part.Of, k.fault)
	}
	if err := k.part.write(dir); err != nil {
		return err
	}
	failed := 0
	for _, p := range k.part.Pieces {
		if p.Failed != "" {
			failed++
		}
	}
	fmt.Fprintf(k.env.Stderr, "part %d of %d: %s, %s; %d failed. Left in %s; `fingerproof join %s` makes the whole, "+
		"and its findings decide the status\n", k.part.Number, k.part.Of, wording.Count(len(k.part.Pieces), "piece"),
		wording.Count(notes, "note"), failed, dir, dir)
	return nil
}

// shardWork works through the pieces of a shard and leaves its part; done is called with each. Nothing else is written.
func (o *workOptions) shardWork(
	ctx context.Context, env *environment, job pipeline.Job, known *knownPieces, done func(piece string),
) error {
	t, err := o.workThrough(ctx, env, job, func(w *pipeline.PieceRun, failed error) error {
		known.record(w.Piece.ID, failed)
		done(w.Piece.ID)
		return nil
	})
	if err != nil {
		return err
	}
	return known.leave(o.shards.parts, t.notes)
}

const shardHint = "\nhint: 2/4 is the second of four parts; auto or auto/4 takes the number from the environment"

// mostShards is far beyond what a scheduler's array holds by default.
const mostShards = 100_000

func parseShard(word string, getenv func(string) string) (shard, error) {
	number, of, counted := strings.Cut(word, "/")
	s := shard{}
	var err error
	if counted {
		if s.of, err = strconv.Atoi(of); err != nil || s.of < 1 || s.of > mostShards {
			return s, fmt.Errorf("%q is no number of parts%s", of, shardHint)
		}
	}
	if number == "auto" {
		return shardOfEnvironment(s.of, getenv)
	}
	if s.number, err = strconv.Atoi(number); err != nil || !counted || s.number < 1 || s.number > s.of {
		return s, fmt.Errorf("it names no part%s", shardHint)
	}
	return s, nil
}

// arrays are the variables in which schedulers and CI systems say which task of an array or matrix this is: the index,
// the index of the first, how many there are. Sources: the manual of sbatch (job arrays), Kubernetes' documentation of
// indexed jobs (JOB_COMPLETION_INDEX, from 0, no count), and CI_NODE_INDEX with CI_NODE_TOTAL, from 1, which CI systems
// with parallel jobs set.
var arrays = []struct {
	index, first, count string
	from                int // the first index where no variable says it
}{
	{"SLURM_ARRAY_TASK_ID", "SLURM_ARRAY_TASK_MIN", "SLURM_ARRAY_TASK_COUNT", 1},
	{"JOB_COMPLETION_INDEX", "", "", 0},
	{"CI_NODE_INDEX", "", "CI_NODE_TOTAL", 1},
}

// shardOfEnvironment finds the shard that the environment names; of is how many there are, 0 where it has to say that too.
func shardOfEnvironment(of int, getenv func(string) string) (shard, error) {
	for _, a := range arrays {
		word := getenv(a.index)
		if word == "" {
			continue
		}
		index, err := strconv.Atoi(word)
		if err != nil {
			return shard{}, fmt.Errorf("%s is %q, and no number", a.index, word)
		}
		first := a.from
		if min, err := strconv.Atoi(getenv(a.first)); err == nil {
			first = min
		}
		if of == 0 {
			if of, err = strconv.Atoi(getenv(a.count)); err != nil || of < 1 {
				return shard{}, fmt.Errorf("%s says which part this is, and nothing how many there are\n"+
					"hint: name the number of parts, as auto/4", a.index)
			}
		}
		if number := index - first + 1; number >= 1 && number <= of {
			return shard{number, of}, nil
		}
		return shard{}, fmt.Errorf("%s is %d, which is no index of %d parts that begin at %d", a.index, index, of, first)
	}
	return shard{}, fmt.Errorf("no variable of the environment says which part this is%s", shardHint)
}

// keep keeps the pieces of a shard, in the collection's order. All shards of a collection are about equally large, by
// the size of their scores, and together they are the collection.
func (s shard) keep(c *corpus.Collection) {
	type sized struct {
		index int
		size  int64
	}
	all := make([]sized, len(c.Pieces))
	for i := range c.Pieces {
		all[i] = sized{i, pipeline.TextSize(c.Path(c.Pieces[i].Score))}
	}
	// The largest first, each to the part that has least so far.
	slices.SortStableFunc(all, func(a, b sized) int { return cmp.Compare(b.size, a.size) })
	load := make([]int64, s.of)
	mine := make([]bool, len(all))
	for _, piece := range all {
		least := 0
		for k := range load {
			if load[k] < load[least] {
				least = k
			}
		}
		load[least] += piece.size
		mine[piece.index] = least == s.number-1
	}
	var left []corpus.Piece
	for i := range c.Pieces {
		if mine[i] {
			left = append(left, c.Pieces[i])
		}
	}
	c.Pieces = left
}
