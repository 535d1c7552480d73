package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"

	"github.com/stretchr/testify/require"
)

// passedHouse is an edition of two pieces, passed for press and in git. "linked" has a witness, decisions, a policy
// in the folder above and fitted weights; what it stands on lies behind links, outside the collection. "plain" has
// nothing of its own.
type passedHouse struct {
	t             *testing.T
	above, master string // the folder above the collection, the folder outside it
	root          string
	weights       string // a table of weights that --weights may name
}

func (h *passedHouse) write(path, text string) {
	h.t.Helper()
	require.NoError(h.t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(h.t, os.WriteFile(path, []byte(text), 0o644))
}

func (h *passedHouse) replace(path, old, new string) {
	h.t.Helper()
	text := readText(h.t, path)
	require.Contains(h.t, text, old)
	h.write(path, strings.Replace(text, old, new, 1))
}

func (h *passedHouse) link(target, path string) {
	h.t.Helper()
	require.NoError(h.t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(h.t, os.Symlink(target, path))
}

func (h *passedHouse) git(args ...string) {
	h.t.Helper()
	cmd := exec.Command("git", append([]string{"-C", h.above, "-c", "user.name=AB", "-c", "user.email=ab@example.org"}, args...)...)
	out, err := cmd.CombinedOutput()
	require.NoError(h.t, err, "%s", out)
}

func (h *passedHouse) must(args ...string) {
	h.t.Helper()
	status, _, said := command(args...)
	require.Equal(h.t, exitClean, status, said)
}

func newPassedHouse(t *testing.T) *passedHouse {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed")
	}
	h := &passedHouse{t: t, above: t.TempDir(), master: t.TempDir()}
	h.root = filepath.Join(h.above, "op1")
	h.write(filepath.Join(h.above, ".gitignore"), "out/\n")
	h.write(filepath.Join(h.root, "plain.musicxml"), figurePiece(3))
	h.write(filepath.Join(h.master, "linked.musicxml"), figurePiece(4))
	h.write(filepath.Join(h.master, "witness.musicxml"), figurePiece(4))
	h.write(filepath.Join(h.master, "linked.AB.yaml"),
		"piece: linked\nby: AB\ndecisions:\n  - amend: notes\n    when: 2026-03-01\n    notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}]\n")
	h.write(filepath.Join(h.master, "style.yml"), "extends: study\nhand: ninth\n")
	h.write(filepath.Join(h.above, "policy.yaml"), "extends: house.yml\ntitle: The house\n")
	h.link(filepath.Join(h.master, "style.yml"), filepath.Join(h.above, "house.yml"))
	for _, name := range []string{"linked.musicxml", "witness.musicxml"} {
		h.link(filepath.Join(h.master, name), filepath.Join(h.root, name))
	}
	h.link(filepath.Join(h.master, "linked.AB.yaml"), filepath.Join(h.root, "decisions", "linked.AB.yaml"))
	h.write(filepath.Join(h.root, "collection.yaml"), "title: Figures\nhouse_hand: house-hand.json\npieces:\n  - score: plain.musicxml\n"+
		"  - {score: linked.musicxml, witnesses: [{siglum: K, score: witness.musicxml}]}\n")
	hand := habits.File{Base: pipeline.ShippedWeights().Sum, When: "2026-03-01", Changes: &effort.Weights{Name: "changes", Provenance: "a test"}}
	data, err := hand.Encode()
	require.NoError(t, err)
	h.write(filepath.Join(h.root, "house-hand.json"), string(data))
	h.must("run", h.root, "--excerpts", "0", "--fail-on", "never")
	h.must("pass", h.root, "--by", "AB", "--anyway", "a test")
	h.git("init", "-q")
	h.git("add", "-A")
	h.git("commit", "-qm", "passed")
	return h
}

// check --changed works a piece out whenever anything that it was passed on is another one, whatever its file is
// called and wherever it lies, and else leaves it out.
func TestCheckChangedGoesByContent(t *testing.T) {
	linked, both := "linked ", "linked plain "
	for _, c := range []struct {
		input  string
		change func(h *passedHouse)
		want   string // pieces that are worked out
		more   []string
	}{
		{input: "nothing", change: func(*passedHouse) {}, want: ""},
		{input: "a file that nobody reads", change: func(h *passedHouse) {
			h.write(filepath.Join(h.root, "notes.yaml"), "a: b\n")
		}, want: ""},
		{input: "a score behind a link", change: func(h *passedHouse) {
			h.replace(filepath.Join(h.master, "linked.musicxml"), "<step>D</step>", "<step>B</step>")
		}, want: linked},
		{input: "a score by another file of its name", change: func(h *passedHouse) {
			require.NoError(h.t, os.Remove(filepath.Join(h.root, "linked.musicxml")))
			h.link("plain.musicxml", filepath.Join(h.root, "linked.musicxml"))
		}, want: linked},
		{input: "a witness behind a link", change: func(h *passedHouse) {
			h.replace(filepath.Join(h.master, "witness.musicxml"), "<step>D</step>", "<step>B</step>")
		}, want: linked},
		{input: "the house's style, behind a link, named .yml", change: func(h *passedHouse) {
			h.replace(filepath.Join(h.master, "style.yml"), "ninth", "octave")
		}, want: both},
		{input: "a policy that comes between", change: func(h *passedHouse) {
			h.write(filepath.Join(h.root, "policy.yaml"), "extends: ../policy.yaml\ndigits: sparse\n")
			h.git("add", "-A")
			h.git("commit", "-qm", "a policy of its own")
		}, want: both},
		{input: "decisions behind a link", change: func(h *passedHouse) {
			h.replace(filepath.Join(h.master, "linked.AB.yaml"), "finger: 2", "finger: 3")
		}, want: linked},
		{input: "the decisions of another editor", change: func(h *passedHouse) {
			h.write(filepath.Join(h.root, "decisions", "plain.CD.yaml"), "piece: plain\nby: CD\ndecisions:\n"+
				"  - amend: notes\n    when: 2026-03-01\n    notes: [{measure: 1, onset: 0, pitch: C3, finger: 2}]\n")
			h.git("add", "-A")
			h.git("commit", "-qm", "decided")
		}, want: "plain "},
		{input: "what the manifest says of a piece", change: func(h *passedHouse) {
			h.replace(filepath.Join(h.root, "collection.yaml"), "- score: plain.musicxml", "- {score: plain.musicxml, tempo: 160}")
		}, want: "plain "},
		{input: "the weights", change: func(*passedHouse) {}, more: []string{"--weights", ""}, want: both},
		{input: "the fitted weights", change: func(h *passedHouse) {
			hand := habits.File{Base: pipeline.ShippedWeights().Sum, When: "2026-03-01", Changes: &effort.Weights{Name: "changes", Provenance: "a test"}}
			hand.Changes.Terms[0] = 7
			data, err := hand.Encode()
			require.NoError(h.t, err)
			h.write(filepath.Join(h.root, "house-hand.json"), string(data))
		}, want: both},
		{input: "the program", change: func(h *passedHouse) {
			file := filepath.Join(h.root, "passed", "plain.json")
			h.replace(file, `"engine": "`, `"engine": "0.0.`)
			h.git("commit", "-qam", "passed by another program")
		}, want: "plain "},
		{input: "the rules of lint", change: func(h *passedHouse) {
			file := filepath.Join(h.root, "passed", "plain.json")
			h.replace(file, `"rules": "`, `"rules": "0`)
			h.git("commit", "-qam", "passed under other rules")
		}, want: "plain "},
		{input: "the passed state itself", change: func(h *passedHouse) {
			h.replace(filepath.Join(h.root, "passed", "linked.json"), "C4 2 printed", "C4 4 printed")
		}, want: linked},
		{input: "a passed state that is gone", change: func(h *passedHouse) {
			require.NoError(h.t, os.Remove(filepath.Join(h.root, "passed", "plain.json")))
		}, want: "plain "},
		{input: "a kept text", change: func(h *passedHouse) {
			kept, err := filepath.Glob(filepath.Join(h.root, "passed", "text", "plain.*"))
			require.NoError(h.t, err)
			require.Len(h.t, kept, 1)
			h.replace(kept[0], "<step>D</step>", "<step>B</step>")
		}, want: "plain "},
	} {
		t.Run(c.input, func(t *testing.T) {
			h := newPassedHouse(t)
			if len(c.more) > 1 {
				var table bytes.Buffer
				require.NoError(t, pipeline.ShippedWeights().Table().Write(&table))
				c.more[1] = filepath.Join(h.master, "weights.json")
				h.write(c.more[1], table.String()+"\n")
				h.replace(filepath.Join(h.root, "collection.yaml"), "house_hand: house-hand.json\n", "")
				h.must("run", h.root, "--excerpts", "0", "--fail-on", "never") // passed on the program's own weights
				h.must("pass", h.root, "--by", "AB", "--anyway", "a test")
				h.git("commit", "-qam", "passed anew")
				_, stdout, said := command("check", h.root, "--changed")
				require.Empty(t, stdout, said)
			}
			c.change(h)
			_, stdout, said := command(append([]string{"check", h.root, "--changed"}, c.more...)...)
			got := ""
			for _, id := range []string{"linked", "plain"} {
				if strings.Contains("\n"+stdout, "\n"+id+": ") {
					got += id + " "
				}
			}
			require.Equal(t, c.want, got, "%s\n%s", stdout, said)
			count := map[int]string{0: "2 pieces", 1: "1 piece", 2: "0 pieces"}[strings.Count(c.want, " ")]
			require.Contains(t, said, count+" not worked out: as recorded in passed/")
		})
	}
}
