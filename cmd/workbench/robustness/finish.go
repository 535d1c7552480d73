package robustness

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/browser"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/reports/page"
)

// finishing takes pieces from open to passed as an editor does: with the program's commands and the keys of the page.
type finishing struct {
	shared, program, keep string
	scores, looked        int
	list                  bool

	out io.Writer
	tab *browser.Tab

	single, together int // findings let stand one by one, and rules whose findings were let stand at once
}

func finishCommand() *cobra.Command {
	m := &finishing{}
	return measurement.Measurement{
		Use:   "finish [SCORE...]",
		Short: "take real pieces from open to passed in a browser, by commands and keys: how many it takes, and what is left",
		Long: `finish makes a collection of each score (by itself), runs the program, judges the page by keys alone, saves,
puts the file into decisions/, runs again, judges what is left, and passes the piece for press. Firm passages are
taken together; the worst ones are taken one by one, as many as --looked says; the rest is taken together after they
were shown; findings that no digit answers are let stand with a reason. Seconds are those of the machine, by step: what
an editor thinks is not in them. Scores are taken evenly from the fingered
material, or those named. Keys are those of all rounds; the letters of initials and reasons are counted apart.`,
		Args:  cobra.ArbitraryArgs,
		Fails: "a piece cannot be passed",
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.program, "program", "bin/fingerproof", "the program, built")
			f.StringVar(&m.keep, "keep", "", "keep the collections in this folder (default: none is kept)")
			f.IntVar(&m.scores, "scores", 10, "how many fingered scores to take")
			f.BoolVar(&m.list, "list", false, "list what is asked again after a round")
			f.IntVar(&m.looked, "looked", 8, "passages in doubt that are taken one by one")
		},
		Run: m.run,
	}.Command()
}

// finished is how one piece went.
type finished struct {
	piece                           string
	passages, doubts, firm          int
	keys, letters, commands, rounds int // of all rounds; letters are those of initials and reasons
	left                            int // passages after the first round
	errorsBefore, errorsAfter       int
	openAfter                       int
	passed                          bool
	said                            string
	seconds                         float64
	steps                           [len(stepNames)]time.Duration
}

// The steps of a piece whose time is taken.
const (
	stepRun = iota
	stepOpen
	stepJudge
	stepSave
	stepPass
)

var stepNames = [...]string{"run", "open", "judge", "save", "pass"}

// spent adds the time since a moment to a step.
func (f *finished) spent(step int, since time.Time) { f.steps[step] += time.Since(since) }

// stepSeconds says how long each step took, all rounds together.
func (f *finished) stepSeconds() string {
	var out []string
	for i, name := range stepNames {
		out = append(out, fmt.Sprintf("%s %.1f", name, f.steps[i].Seconds()))
	}
	return strings.Join(out, ", ")
}

func (m *finishing) run(ctx context.Context, out io.Writer, args []string) error {
	m.out = out
	files := args
	if len(files) == 0 {
		var err error
		if files, err = fingeredScores(m.shared, m.scores); err != nil {
			return err
		}
	}
	program, err := exec.LookPath(m.program)
	if err != nil {
		return fmt.Errorf("%w\nhint: go build -o bin/fingerproof ./cmd/fingerproof, and --program", err)
	}
	if m.program, err = filepath.Abs(program); err != nil {
		return err
	}
	dir := m.keep
	if dir == "" {
		if dir, err = os.MkdirTemp("", "finish"); err != nil {
			return err
		}
		defer os.RemoveAll(dir)
	}
	if m.tab, err = browser.Open(ctx); err != nil {
		return err
	}
	defer m.tab.Close()
	fmt.Fprintf(out, "%8s %6s %5s %5s %5s %8s %6s %7s %5s %6s %7s  %s\n", "passages", "doubts", "firm", "keys", "words",
		"commands", "rounds", "errors", "left", "passed", "seconds", "piece")
	failed := 0
	for _, file := range files {
		one, err := m.finish(ctx, dir, file)
		if err != nil {
			return fmt.Errorf("%s: %w", filepath.Base(file), err)
		}
		if !one.passed {
			failed++
		}
		fmt.Fprintf(out, "%8d %6d %5d %5d %5d %8d %6d %3d→%-3d %5d %6t %7.1f  %s\n", one.passages, one.doubts, one.firm,
			one.keys, one.letters, one.commands, one.rounds, one.errorsBefore, one.errorsAfter, one.left, one.passed,
			one.seconds, one.piece)
		fmt.Fprintf(out, "         seconds: %s; let stand: %d by themselves, %d rules at once\n", one.stepSeconds(), m.single, m.together)
		m.single, m.together = 0, 0
		if one.said != "" {
			fmt.Fprintf(out, "         %s\n", strings.ReplaceAll(strings.TrimSpace(one.said), "\n", "\n         "))
		}
	}
	if failed > 0 {
		return measurement.Failed("%d of %d pieces could not be passed", failed, len(files))
	}
	return nil
}

// finish takes one piece to its pass.
func (m *finishing) finish(ctx context.Context, dir, file string) (one finished, err error) {
	name := filepath.Base(file)
	one.piece = strings.TrimSuffix(name, filepath.Ext(name))
	root := filepath.Join(dir, one.piece)
	if err := os.MkdirAll(filepath.Join(root, "scores"), 0o755); err != nil {
		return one, err
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return one, err
	}
	if err := os.WriteFile(filepath.Join(root, "scores", name), data, 0o644); err != nil {
		return one, err
	}
	started := time.Now()
	command := func(args ...string) (string, error) {
		one.commands++
		cmd := exec.CommandContext(ctx, m.program, args...)
		cmd.Dir = root
		said, err := cmd.CombinedOutput()
		var status *exec.ExitError
		if errors.As(err, &status) && status.ExitCode() != 2 {
			return string(said), nil
		}
		if err != nil {
			return "", fmt.Errorf("%s: %w\n%s", strings.Join(args, " "), err, said)
		}
		return string(said), nil
	}
	if _, err := command("init"); err != nil {
		return one, err
	}
	before, lettersBefore := m.tab.Keys, m.tab.Letters
	const rounds = 4
	for one.rounds < rounds {
		at := time.Now()
		if _, err := command("run", "."); err != nil {
			return one, err
		}
		one.spent(stepRun, at)
		opened, found, err := summaryOf(filepath.Join(root, "out", "results", one.piece+".json"))
		if err != nil {
			return one, err
		}
		if one.rounds == 0 {
			one.errorsBefore = found
		}
		one.errorsAfter, one.openAfter = found, opened
		again, err := m.judgePage(root, &one)
		if err != nil {
			return one, err
		}
		if !again {
			break
		}
		one.rounds++
	}
	one.keys, one.letters = m.tab.Keys-before, m.tab.Letters-lettersBefore
	at := time.Now()
	said, err := command("pass", ".", "--by", "AB")
	one.spent(stepPass, at)
	if err != nil {
		return one, err
	}
	_, statErr := os.Stat(filepath.Join(root, "passed", one.piece+".json"))
	if one.passed = statErr == nil; !one.passed {
		one.said = said
	}
	one.seconds = time.Since(started).Seconds()
	return one, nil
}

// summaryOf gives how many printed digits are open in results, and how many errors stand.
func summaryOf(file string) (open, failures int, err error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return 0, 0, err
	}
	var r struct {
		Summary struct {
			Open       int
			Severities struct{ Error int }
		}
	}
	if err := json.Unmarshal(data, &r); err != nil {
		return 0, 0, fmt.Errorf("reading %s: %w", file, err)
	}
	return r.Summary.Open, r.Summary.Severities.Error, nil
}

// judgePage judges the page of a piece by keys, and puts what is saved into the folder of decisions; false where
// nothing was to be judged.
func (m *finishing) judgePage(root string, one *finished) (bool, error) {
	at := time.Now()
	if err := m.tab.Go(filepath.Join(root, "out", "review", page.FileName(one.piece)), ""); err != nil {
		return false, err
	}
	one.spent(stepOpen, at)
	at = time.Now()
	passages, err := m.number(`document.querySelectorAll(".passage").length`)
	if err != nil {
		return false, err
	}
	if one.rounds == 0 {
		one.passages = passages
		for kind, at := range map[string]*int{"doubt": &one.doubts, "firm": &one.firm} {
			if *at, err = m.number(`document.querySelectorAll('.passage[data-kind="` + kind + `"]').length`); err != nil {
				return false, err
			}
		}
	} else {
		one.left = passages
		if m.list && passages > 0 {
			rows, err := m.tab.Ask(`[...document.querySelectorAll(".passage .row")].map((r) => r.textContent).join("\n")`)
			if err != nil {
				return false, err
			}
			fmt.Fprintf(m.out, "%s, asked again after %d rounds:\n%s\n", one.piece, one.rounds, rows)
		}
	}
	if passages == 0 {
		return false, nil
	}
	if _, err := m.tab.Ask(`document.getElementById("initials").value = ""`); err != nil {
		return false, err
	}
	if _, err := m.tab.Ask(`document.getElementById("initials").focus()`); err != nil {
		return false, err
	}
	if err := m.tab.Type("AB"); err != nil {
		return false, err
	}
	if err := m.tab.Press("Escape", "f"); err != nil {
		return false, err
	}
	if err := m.groups(); err != nil {
		return false, err
	}
	if err := m.oneByOne(passages); err != nil {
		return false, err
	}
	one.spent(stepJudge, at)
	at = time.Now()
	defer func() { one.spent(stepSave, at) }()
	dir, err := os.MkdirTemp("", "saved")
	if err != nil {
		return false, err
	}
	defer os.RemoveAll(dir)
	file, err := m.tab.Saved(dir, func() error { return m.tab.Press("w") })
	if err != nil {
		return false, err
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return false, err
	}
	to := filepath.Join(root, "decisions")
	if err := os.MkdirAll(to, 0o755); err != nil {
		return false, err
	}
	return true, os.WriteFile(filepath.Join(to, filepath.Base(file)), data, 0o644)
}

// groups lets findings stand that come again in several passages, each rule's at once with a reason.
func (m *finishing) groups() error {
	for range 20 {
		open, err := m.number(`document.querySelectorAll(".group:not(.done):not(.idle)").length`)
		if err != nil || open == 0 {
			return err
		}
		m.together++
		focused, err := m.tab.Ask(`document.activeElement.className`)
		if err == nil && focused != "reason" { // the field of the next rule comes by itself
			err = m.tab.Press("g")
		}
		if err == nil {
			err = m.tab.Type("ok")
		}
		if err == nil {
			err = m.tab.Press("Enter")
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// oneByOne takes the worst passages one by one and the rest together, and lets stand what no digit answers.
func (m *finishing) oneByOne(passages int) error {
	// A passage whose digits are decided asks for its findings only; one of findings in which digits are open asks for those first.
	const kindHere = `((card) => {
		if (!card) return "";
		if (card.querySelector(".state").textContent.startsWith("digits ")) return "taken";
		window.asked ||= JSON.parse(document.getElementById("data").textContent).passages;
		const p = window.asked[card.dataset.number];
		return card.dataset.kind === "finding" && [...(p.open || []), ...(p.rest || [])].length ? "firm" : card.dataset.kind;
	})(document.querySelector(".passage.here:not(.done)"))`
	looked, together := 0, false
	for range 4 * passages {
		left, err := m.number(`document.querySelectorAll(".passage:not(.done)").length`)
		if err != nil || left == 0 {
			return err
		}
		kind, err := m.tab.Ask(kindHere)
		if err != nil {
			return err
		}
		last := false
		if kind == "taken" && !together { // nothing but what was taken is left, or it is the last on the page
			left, err := m.tab.Ask(`[...document.querySelectorAll(".passage:not(.done)")].filter((p) => !p.querySelector(".state").textContent.startsWith("digits ")).length +
				" " + (document.querySelector(".passage.here") === [...document.querySelectorAll(".passage")].pop())`)
			if err != nil {
				return err
			}
			last = strings.HasPrefix(left, "0 ") || strings.HasSuffix(left, "true")
		}
		switch {
		case kind == "": // elsewhere: on to the next that is open
			err = m.tab.Press("N")
		case kind == "taken" && !together && !last: // what lint finds of it is answered below, with that of others
			err = m.tab.Press("N")
		case kind == "finding" && !together:
			m.single++
			err = m.withReason("s")
		case kind != "taken" && (looked < m.looked || kind == "handover"):
			looked++
			err = m.withReason("t")
		case !together:
			together = true
			if err = m.tab.Press("T", "Enter"); err == nil {
				err = m.groups()
			}
		case kind == "finding" || kind == "taken":
			m.single++
			err = m.withReason("s")
		default:
			err = m.withReason("t") // it asks why where to take it makes an error
		}
		if err != nil {
			return err
		}
	}
	left, err := m.tab.Ask(`[...document.querySelectorAll(".passage:not(.done)")].map((p) => p.querySelector(".row").textContent).slice(0, 5).join("; ")`)
	if err != nil {
		return err
	}
	said, err := m.tab.Ask(`document.getElementById("said").textContent`)
	if err != nil {
		return err
	}
	fmt.Fprintf(m.out, "         not judged by keys: %s (the page says: %s)\n", left, said)
	return nil
}

// withReason presses a key that decides, and gives a reason where it asks for one.
func (m *finishing) withReason(key string) error {
	if err := m.tab.Press(key); err != nil {
		return err
	}
	focused, err := m.tab.Ask(`document.activeElement.className`)
	if err != nil || focused != "reason" {
		return err
	}
	if err := m.tab.Type("ok"); err != nil {
		return err
	}
	return m.tab.Press("Enter")
}

func (m *finishing) number(expression string) (int, error) {
	text, err := m.tab.Ask(expression)
	if err != nil {
		return 0, err
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0, fmt.Errorf("the page gave %q where a number was asked for", text)
	}
	return n, nil
}
