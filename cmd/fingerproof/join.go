package main

import (
	"errors"
	"fmt"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline"

	"github.com/spf13/cobra"
)

func newJoinCommand(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "join DIR ...",
		Short: "Make one whole of the parts that shards of a run, lint or check left",
		Long: `join takes up the parts that ` + "`run`, `lint` or `check` with --shard" + ` left in DIR, or in
folders right below it, and does what the same command without --shard would: the same
files, reports and status, to the byte. Nothing is worked out again. It is started where the
shards were, beside the same collection, by the same program, and by the same --report and --out as they.

Parts that do not belong together (another command, policy, program or collection, a part that is
missing or there twice, a score that has changed since) are refused, and nothing is written.
` + exitStatusHelp,
		Example: `  fingerproof run collection.yaml --out out --shard 1/2
  fingerproof run collection.yaml --out out --shard 2/2
  fingerproof join parts`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("join needs the folder in which the parts lie\nhint: fingerproof join parts")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			all, err := readParts(args)
			if err != nil {
				return err
			}
			whole := slices.Concat(all.list[0].Command, []string{"--today=" + all.latest()})
			for _, dir := range args {
				whole = append(whole, "--joined="+dir)
			}
			root := newRoot(env)
			root.SetArgs(whole)
			return root.ExecuteContext(cmd.Context())
		},
	}
}

// join has every piece taken from the parts, after it has made sure that they stand on what lies here now. pressOf says
// which pieces are worked out for press.
func (k *knownPieces) join(all *parts, job pipeline.Job, pressOf func(piece string) bool) error {
	if k.build != all.list[0].Program {
		return errors.New("the parts were made by another build of this program\n" +
			"hint: join with the program that made them, or make the parts anew")
	}
	k.caches, k.common, k.joined = all.caches(), all.list[0].Common, all.pieces()
	var unlike []string
	for i := range job.Collection.Pieces {
		piece := &job.Collection.Pieces[i]
		was, there := k.joined[piece.ID]
		run, err := job.Open(piece)
		if job.Edition {
			run.Edition = pipeline.EditionName(piece)
		}
		run.Press = pressOf(piece.ID)
		switch {
		case !there:
			unlike = append(unlike, piece.ID)
		case err != nil && was.Key == "" && (was.Failed == err.Error() || was.Failed == inFile(job.Collection, piece, plain(err))):
			// what it stands on cannot be read now either, for the same reason
		case err != nil || k.key(run) != was.Key:
			unlike = append(unlike, piece.ID)
		case was.Failed != "": // on these same inputs
		default:
			if k.kept(was.Key) == nil {
				return fmt.Errorf("the part with %s is damaged: what it says it keeps is not there, or not whole\n"+
					"hint: make that part anew", piece.ID)
			}
		}
	}
	if n := len(unlike); n > 0 {
		if n > mostNamed {
			unlike = append(unlike[:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
		}
		return fmt.Errorf("the parts were made from something else than what lies here now (score, witness, policy, decisions, "+
			"manifest, what was passed, the day where a stet expires) in %s: %s\nhint: make the parts anew", wording.Count(n, "piece"), wording.List(unlike))
	}
	return nil
}

// mustBeKnown says why a piece that is joined is not there; nil where pieces may be worked out.
func (k *knownPieces) mustBeKnown(piece string) error {
	switch was := k.joined[piece]; {
	case k.joined == nil:
		return nil
	case was.Failed != "":
		return errors.New(was.Failed)
	}
	return fmt.Errorf("%s was taken out of its part, or changed, while it was joined", piece)
}
