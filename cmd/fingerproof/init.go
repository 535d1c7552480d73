package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"

	"github.com/spf13/cobra"
	"gopkg.in/yaml.v3"
)

func newInitCommand(env *environment) *cobra.Command {
	forGit, draft := false, ""
	cmd := &cobra.Command{
		Use:   "init [DIR]",
		Short: "Make a collection of a folder of scores",
		Long: `init writes into DIR (the working folder if none is named and scores lie in it): collection.yaml with the
scores it finds there or in its folder scores/, policy.yaml with the house style to fill in, its schema for
completion in editors, and a folder for decisions. Where digits stand in a score it asks in the
manifest whose they are, with what the file says of who made it. It overwrites nothing: where one of
them is there already, it writes none. Where a policy.yaml holds in a folder above, the
new one builds on it.

With --draft INITIALS the editor's own fingering is where the edition begins: a score of the same file
name in the folder drafts/ is their copy, with their digits carried to the notes by the music; where
there is none, the digits in the score itself are their draft. Either way they are theirs, open to be
judged like suggestions, and nothing of them prints for press before it is decided.

With --git it prepares the git repository in which a collection lies instead: git shows changes
of scores as music, hooks of pre-commit look at what is committed, and a workflow checks pull
requests. The chapter continuous-integration of the handbook says the rest.
` + exitStatusHelp,
		Example: "  fingerproof init\n  fingerproof init editions/op1\n  fingerproof init --draft AB editions/op1\n" +
			"  fingerproof init --git editions/op1",
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if draft != "" && !decision.AreInitials(draft) {
				return fmt.Errorf("--draft cannot be %q\nhint: the initials of the editor, one to five letters", draft)
			}
			if forGit {
				return initGit(cmd.Context(), env, append(args, ".")[0])
			}
			if len(args) == 0 {
				return initCollection(env, ".", draft, false)
			}
			return initCollection(env, args[0], draft, true)
		},
	}
	cmd.Flags().BoolVar(&forGit, "git", false, "prepare the git repository of a collection instead")
	cmd.Flags().StringVar(&draft, "draft", "", "the edition begins with the own digits of the editor with these `initials`")
	cmd.MarkFlagsMutuallyExclusive("git", "draft")
	return cmd
}

func initCollection(env *environment, dir, draft string, named bool) error {
	_, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no folder %s\nhint: make it and put scores (MusicXML or MEI) into it first", dir)
	}
	if err != nil {
		return fmt.Errorf("reading the folder: %w", err)
	}
	policy, err := policyToBegin(dir)
	if err != nil {
		return err
	}
	files := map[string][]byte{
		corpus.ManifestName:   nil,
		policies.FileName:     policy,
		"policy.schema.json":  policies.Schema,
		"decisions/README.md": []byte(decisionsReadme()),
	}
	for name := range files {
		top, _, _ := strings.Cut(name, "/")
		if _, err := os.Lstat(filepath.Join(dir, top)); err == nil {
			return fmt.Errorf("%s is there already; nothing was written\n"+
				"hint: init never overwrites; move it away, or edit it", filepath.Join(dir, top))
		}
	}
	found := scoresIn(dir)
	if len(found.Pieces) == 0 {
		if err := refuseWithoutScores(dir, named); err != nil {
			return err
		}
	}
	var unnamed []string
	seen := newScoresSeen(dir)
	drafts := draftsIn(found, seen, draft)
	files[corpus.ManifestName], unnamed = manifestOf(found, seen, drafts)
	digits, asked := digitsIn(found, seen, drafts)
	if env.StdinIsTTY {
		whose := askWhose(env, digits, asked)
		files[corpus.ManifestName] = sayWhose(files[corpus.ManifestName], whose)
		if whose != "" {
			asked = 0
		}
	}
	scores := len(found.Pieces) - len(unnamed)
	for _, name := range []string{corpus.ManifestName, policies.FileName, "policy.schema.json", "decisions/README.md"} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return fmt.Errorf("making a folder: %w", err)
		}
		f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644) // never overwrites, whoever came in between
		if err != nil {
			return fmt.Errorf("writing %s: %w", name, err)
		}
		_, err = f.Write(files[name])
		if err = errors.Join(err, f.Close()); err != nil {
			return fmt.Errorf("writing %s: %w", name, err)
		}
		fmt.Fprintf(env.Stdout, "wrote %s\n", path)
	}
	for _, name := range unnamed {
		fmt.Fprintf(env.Stdout, "left out %q: a manifest cannot name it; rename the file and list it\n", name)
	}
	if scores == 0 {
		fmt.Fprintf(env.Stdout, "There is no score in %s yet: put MusicXML or MEI files there and list them in %s.\n",
			dir, corpus.ManifestName)
		return nil
	}
	for _, group := range alikeWorks(found, seen) {
		fmt.Fprintf(env.Stdout, "%s look like sources of one work: many measures are the same music, or title and number of measures are.\n"+
			"If one is a source beside the other's text, take it out of the list and name it there: witnesses: [{siglum: A, name: first edition, score: FILE, responsibility: composer}]\n", wording.List(group))
	}
	listed := fmt.Sprintf("%d scores are listed", scores)
	if scores == 1 {
		listed = "One score is listed"
	}
	if asked > 0 {
		fmt.Fprintf(env.Stdout, "Digits stand in %s, and nothing says whose they are: answer in %s first (text_digits).\n",
			wording.Count(asked, "score"), filepath.Join(dir, corpus.ManifestName))
	}
	if draft != "" {
		fmt.Fprintf(env.Stdout, "%s with the draft of %s.\n", startsWith(len(drafts)), draft)
	}
	if unread := sayUnread(env, found, seen); unread > 0 {
		listed += fmt.Sprintf(", of which %d cannot be read", unread)
	}
	if clashes := sayClashes(env, found, unnamed); clashes > 0 {
		listed += fmt.Sprintf("; %d cannot be run beside another of the same name until that is mended", clashes)
	}
	fmt.Fprintf(env.Stdout, "Its title, which is printed, is %s, a folder's name: title, composer and publisher stand in %s.\n",
		folderTitle(dir), filepath.Join(dir, corpus.ManifestName))
	fmt.Fprintf(env.Stdout, "%s. Next: fingerproof run %s\n", listed, dir)
	return nil
}

// refuseWithoutScores is why no collection is begun in a folder without a score: it holds music in other forms, which
// have to be converted first, or nobody has named it. An empty folder that is named becomes a collection to fill.
func refuseWithoutScores(dir string, named bool) error {
	where := dir
	if full, err := filepath.Abs(dir); err == nil && !named {
		where = full
	}
	switch others := corpus.OtherMusic(dir); {
	case others != "":
		return fmt.Errorf("there is no MusicXML or MEI score in %s, but %s; nothing was written\n"+
			"hint: convert them first (`fingerproof handbook other-formats`), then init again", where, others)
	case !named:
		return fmt.Errorf("no folder is named, and there is no score in %s; nothing was written\n"+
			"hint: name the folder of the scores, as in: fingerproof init scores; or `fingerproof init .` to begin an empty one here",
			where)
	}
	return nil
}

// scoresIn finds the scores of a folder, or else those of its folder scores/.
func scoresIn(dir string) *corpus.Collection {
	if found, err := corpus.Open(dir); err == nil {
		return found
	}
	const inside = "scores"
	found, err := corpus.Open(filepath.Join(dir, inside))
	if err != nil { // no score is there yet
		return &corpus.Collection{}
	}
	for i := range found.Pieces {
		found.Pieces[i].Score = path.Join(inside, found.Pieces[i].Score)
	}
	return found
}

// policyToBegin is the policy that init writes: one to fill in, or one that
// builds on the policy that holds in the folder so far, so that it goes on
// holding.
func policyToBegin(dir string) ([]byte, error) {
	above, found, err := policies.Find(dir)
	if err != nil || !found {
		return fmt.Appendf(nil, policyTemplate, "study", "", policyKeys), err
	}
	full, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("finding the folder: %w", err)
	}
	rel, err := filepath.Rel(full, above)
	if err != nil {
		return nil, fmt.Errorf("naming the policy above: %w", err)
	}
	name, err := yaml.Marshal(filepath.ToSlash(rel))
	if err != nil {
		return nil, fmt.Errorf("naming the policy above: %w", err)
	}
	var behind strings.Builder // nothing of its own holds until the # is taken away
	for line := range strings.Lines(policyKeys) {
		if strings.TrimSpace(line) != "" && !strings.HasPrefix(line, "#") {
			line = "#" + line
		}
		behind.WriteString(line)
	}
	const first = "The policy of the house comes first; what is set here goes before it.\n# "
	return fmt.Appendf(nil, policyTemplate, strings.TrimSpace(string(name)), first, behind.String()), nil
}

// manifestOf lists the scores of a folder, and those it has to leave out: the
// manifest is text, and some file names are not, or no names on Windows.
func manifestOf(c *corpus.Collection, seen *scoresSeen, drafts map[string]corpus.Draft) (text []byte, unnamed []string) {
	var b strings.Builder
	fmt.Fprintf(&b, manifestHead, folderTitle(seen.dir), strings.Join(scoringWords(), ", "))
	var lines strings.Builder
	alike := alikeWorks(c, seen)
	for _, p := range c.Pieces {
		line, err := yaml.Marshal(p.Score)
		if err != nil || !utf8.ValidString(p.Score) || strings.Contains(p.Score, `\`) ||
			corpus.NotForWindows(p.Score) != "" {
			unnamed = append(unnamed, p.Score)
			continue
		}
		lines.WriteString("  - score: " + string(line) + sourceOf(alike, p.Score))
		if d, ok := drafts[p.Score]; ok {
			lines.WriteString(draftLine(d))
			if d.Score == "" { // the digits of the text are the draft
				continue
			}
		}
		lines.WriteString(seen.of(p.Score).question())
	}
	if lines.Len() == 0 {
		b.WriteString("pieces: []\n")
	} else {
		b.WriteString("pieces:\n" + lines.String())
	}
	return []byte(b.String()), unnamed
}

// folderTitle gives a collection the name of its folder, or of the one above where it is the folder of scores alone.
func folderTitle(dir string) string {
	full, err := filepath.Abs(dir)
	if err != nil {
		full = dir
	}
	name := filepath.Base(full)
	if above := filepath.Dir(full); name == "scores" && above != full {
		name = filepath.Base(above)
	}
	var quoted bytes.Buffer
	out := json.NewEncoder(&quoted) // a JSON string is one of YAML's
	out.SetEscapeHTML(false)
	_ = out.Encode(strings.ToValidUTF8(name, ""))
	return strings.TrimSpace(quoted.String())
}

// manifestHead wants the title and the words for a scoring.
const manifestHead = `# The pieces of this edition. Paths start from this folder.
title: %s # a folder's name: it is printed, so write the volume's
composer: ""
publisher: ""

# Of a piece can be said: id, title, score, year, tempo ([88, 104]),
# scoring (%s),
# parts, text_digits (whose the digits in the text are), policy, witnesses,
# draft ({by: AB, score: FILE}: an editor's own fingering to begin with).
# A witness is a source beside the text: witnesses: [{siglum: A, name: first edition, score: witnesses/a.musicxml, responsibility: composer}]
# Options of the command line can have values of their own here: fingerproof defaults --help.
# text_digits above the pieces holds for all that say nothing of their own; until
# it is said, digits that stand in a text are taken for the composer's. For all of them at once:
#text_digits: composer
`

func scoringWords() []string {
	var out []string
	for _, s := range corpus.Scorings() {
		out = append(out, string(s))
	}
	return out
}

// policyTemplate wants what it extends, a word on that, and the keys.
const policyTemplate = `# yaml-language-server: $schema=policy.schema.json
# The house style. Every key and what it does: fingerproof policy schema.
# What holds, and from where: fingerproof policy show.

# %[2]sWhat it builds on: study (many digits), performance (few), sparse (the fewest), scholarly (the
# composer's alone), or the path of another policy file.
extends: %[1]s

%[3]s`

const policyKeys = `# The hand the edition is fingered for: octave, ninth or tenth.
hand: ninth

# How digits of each responsibility look. composer-upright: the composer's
# upright and bold, the editor's small italics; composer-italic: the reverse.
marks:
  tradition: composer-upright
`

func decisionsReadme() string {
	return `# Decisions

What the editors decided lies here, one file a piece and editor, named
PIECE.INITIALS.yaml. A run never writes into this folder. A file in ten lines:

    ` + strings.ReplaceAll(strings.TrimSpace(decision.Example), "\n", "\n    ") + `

Print a sheet to pencil on with "fingerproof decisions template PIECE" and key
the outcome in with "fingerproof decisions enter PIECE --by INITIALS": it writes
beside each note what stands around it, so that the note is found again after
re-engraving. A file that the program begins has the day and the music of the
measures at its head; "12*" below it is measure 12 as it is there.
"fingerproof decisions --help" says the rest.
`
}
