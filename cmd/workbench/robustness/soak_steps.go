package robustness

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"fingerproof/pipeline/3_records/decision"
)

const (
	soakPiece = "op12-2-waltz"
	soakScore = "scores/op12-2-waltz.musicxml"
)

// steps lists what a soak does, by name.
func (m *soaking) steps() map[string]func(*stepCount) error {
	steps := map[string]func(*stepCount) error{
		"kill run":            m.kill("run", "--excerpts", "2"),
		"kill pass":           m.kill("pass", "--by", "SO", "--anyway", "soak"),
		"kill lint --fix":     m.kill("lint", "--fix", "--in-place"),
		"kill check":          m.kill("check"),
		"kill enter":          m.killEnter,
		"two runs at once":    m.twoAtOnce,
		"sixteen enter":       m.sixteenEnter,
		"edit during a run":   m.editDuringRun,
		"change after a pass": m.changeAfterPass,
	}
	if m.disk != "" {
		steps["full disk"] = m.fullDisk
	}
	return steps
}

func (m *soaking) command(args ...string) *exec.Cmd {
	c := exec.Command(m.program, args...)
	c.Dir = m.dir
	return c
}

// status runs the program to its end.
func (m *soaking) status(args ...string) (int, string, error) {
	c := m.command(args...)
	out, err := c.CombinedOutput()
	if e := (*exec.ExitError)(nil); errors.As(err, &e) {
		return e.ExitCode(), string(out), nil
	}
	return 0, string(out), err
}

// kill kills a command on the collection at a moment drawn at random.
func (m *soaking) kill(name string, options ...string) func(*stepCount) error {
	return func(c *stepCount) error {
		if name == "pass" { // so that there is something to write
			m.policy()
			if _, _, err := m.status("run", ".", "--excerpts", "0", "--fail-on", "never"); err != nil {
				return err
			}
		}
		m.killSoon(m.command(append([]string{name, "."}, options...)...), 1200*time.Millisecond, c)
		return nil
	}
}

// killSoon starts a command and kills it within a time.
func (m *soaking) killSoon(cmd *exec.Cmd, within time.Duration, c *stepCount) {
	after := time.Duration(m.rng.Int64N(int64(within)))
	if cmd.Start() != nil {
		return
	}
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	if err := cmd.Wait(); err != nil && cmd.ProcessState.ExitCode() < 0 {
		c.killed++
	}
	timer.Stop()
}

// policy writes the house style anew, now one, now the other.
func (m *soaking) policy() {
	text := fmt.Appendf(nil, "extends: %s\n", pick(m.rng, "study", "performance"))
	m.write("policy.yaml", text)
}

// write writes a person's file and remembers it.
func (m *soaking) write(name string, data []byte) {
	path := filepath.Join(m.dir, filepath.FromSlash(name))
	if err := os.WriteFile(path+"~", data, 0o644); err == nil && os.Rename(path+"~", path) == nil {
		m.kept[name] = data
	}
}

// enter keys one decision in, by an editor who does nothing else.
func (m *soaking) enter(line string) *exec.Cmd {
	cmd := m.command("decisions", "enter", soakPiece, "--by", "SO")
	cmd.Stdin = strings.NewReader(line + "\n")
	return cmd
}

func (m *soaking) line() string {
	return fmt.Sprintf("%d r 1 ? soak %d", 1+m.rng.IntN(16), m.rng.IntN(1<<30))
}

func (m *soaking) killEnter(c *stepCount) error {
	before := m.entered()
	killed := c.killed
	m.killSoon(m.enter(m.line()), 700*time.Millisecond, c)
	switch now := m.entered(); {
	case now == before+1 && c.killed > killed: // killed after it had written
		m.decided++
	case now == before+1:
		m.decided++
	}
	return nil
}

// entered counts the decisions of the editor who keys in; -1 where they cannot be read.
func (m *soaking) entered() int {
	file := filepath.Join(m.dir, decision.Folder, soakPiece+".SO.yaml")
	data, err := os.ReadFile(file)
	if os.IsNotExist(err) {
		return 0
	}
	list, _, err := decision.Parse(file, data)
	if err != nil {
		return -1
	}
	return len(list)
}

func (m *soaking) sixteenEnter(*stepCount) error {
	var wait sync.WaitGroup
	var mutex sync.Mutex
	for range 16 {
		cmd := m.enter(m.line())
		wait.Go(func() {
			if cmd.Run() == nil {
				mutex.Lock()
				m.decided++
				mutex.Unlock()
			}
		})
	}
	wait.Wait()
	if m.decided > 150 { // the editor begins anew, so that files stay small
		m.decided = 0
		return os.Remove(filepath.Join(m.dir, decision.Folder, soakPiece+".SO.yaml"))
	}
	return nil
}

func (m *soaking) twoAtOnce(c *stepCount) error {
	m.policy()
	var wait sync.WaitGroup
	statuses := [2]int{}
	for i := range statuses {
		cmd := m.command("run", ".", "--excerpts", "0", "--fail-on", "never")
		wait.Go(func() {
			_ = cmd.Run()
			statuses[i] = cmd.ProcessState.ExitCode()
		})
	}
	wait.Wait()
	for _, s := range statuses {
		if s != 0 && s != 2 {
			c.torn++
			fmt.Fprintf(m.out, "two runs at once: one ended with status %d\n", s)
		}
	}
	return nil
}

// altered is the score with the octave of one note changed.
func (m *soaking) altered() []byte {
	was := m.kept[soakScore]
	at := bytes.Index(was[m.rng.IntN(len(was)/2):], []byte("<octave>")) // somewhere in it
	k := bytes.Index(was[at:], []byte("<octave>")) + at + len("<octave>")
	out := bytes.Clone(was)
	out[k] = '4' + (out[k]-'4'+1)%2
	return out
}

func (m *soaking) editDuringRun(c *stepCount) error {
	cmd := m.command(pick(m.rng, "run", "lint"), ".", "--fail-on", "never")
	if err := cmd.Start(); err != nil {
		return err
	}
	time.Sleep(time.Duration(m.rng.Int64N(int64(500 * time.Millisecond))))
	m.write(soakScore, m.altered())
	_ = cmd.Wait()
	return nil
}

// changeAfterPass passes the piece as it is, changes a note, and asks check what changed.
func (m *soaking) changeAfterPass(c *stepCount) error {
	if s, said, err := m.status("run", ".", "--excerpts", "0", "--fail-on", "never"); err != nil || s != 0 {
		return fmt.Errorf("the run ended with status %d: %w\n%s", s, err, said)
	}
	if s, said, err := m.status("pass", ".", "--anyway", "soak", "--by", "SO"); err != nil || s != 0 {
		return fmt.Errorf("pass ended with status %d: %w\n%s", s, err, said)
	}
	for _, args := range [][]string{{"add", "-A"}, {"-c", "user.name=SO", "-c", "user.email=so@example.org", "commit", "-qm", "passed"}} {
		if said, err := exec.Command("git", append([]string{"-C", m.dir}, args...)...).CombinedOutput(); err != nil &&
			!bytes.Contains(said, []byte("nothing to commit")) {
			return fmt.Errorf("git: %w\n%s", err, said)
		}
	}
	m.write(soakScore, m.altered())
	for _, args := range [][]string{{"check", "."}, {"check", ".", "--changed"}} {
		s, said, err := m.status(args...)
		if err != nil {
			return err
		}
		if s != 3 || !strings.Contains(said, soakPiece+":") || strings.Contains(said, soakPiece+": as passed") {
			c.green++
			fmt.Fprintf(m.out, "%v did not see a changed note: status %d\n%s\n", args, s, said)
		}
	}
	return nil
}

// fullDisk runs and passes a copy on a disk with little room, and has decisions keyed in there.
func (m *soaking) fullDisk(c *stepCount) error {
	small := filepath.Join(m.disk, "edition")
	if err := m.copyTo(small); err != nil {
		return fmt.Errorf("the disk to fill is too small: %w", err)
	}
	ballast := filepath.Join(m.disk, "ballast")
	defer os.Remove(ballast)
	fill(ballast, m.rng.IntN(300_000))
	copied := *m
	copied.dir = small
	before := copied.entered()
	for _, args := range [][]string{{"run", ".", "--excerpts", "0"}, {"pass", ".", "--by", "SO", "--anyway", "soak"}, {"lint", ".", "--fix", "--in-place"}} {
		if _, _, err := copied.status(args...); err != nil {
			return err
		}
	}
	acknowledged := copied.enter(m.line()).Run() == nil
	switch now := copied.entered(); {
	case now < before || acknowledged && now != before+1:
		c.lost++
		fmt.Fprintf(m.out, "full disk: %d decisions were there, %d are\n", before, now)
	}
	if _, err := wholeFiles(small); err != nil {
		c.torn++
		fmt.Fprintf(m.out, "full disk: %v\n", err)
	}
	copied.lookForLosses("full disk", c)
	return nil
}

// copyTo lays a copy of the collection into a folder, without its history.
func (m *soaking) copyTo(dir string) error {
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	entries, err := os.ReadDir(m.dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		from, to := filepath.Join(m.dir, e.Name()), filepath.Join(dir, e.Name())
		switch {
		case e.Name() == ".git":
		case e.IsDir():
			err = errors.Join(err, os.CopyFS(to, os.DirFS(from)))
		default:
			var data []byte
			if data, err = os.ReadFile(from); err == nil {
				err = errors.Join(os.MkdirAll(dir, 0o755), os.WriteFile(to, data, 0o644))
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// fill writes until the disk is full but for some bytes.
func fill(path string, room int) {
	f, err := os.Create(path)
	if err != nil {
		return
	}
	block, size := make([]byte, 1<<14), int64(0)
	for {
		n, err := f.Write(block)
		size += int64(n)
		if err != nil {
			break
		}
	}
	_ = f.Truncate(max(0, size-int64(room)))
	_ = f.Close()
}

// lookForLosses holds what people wrote against what is there. A score may have been fixed in place: then fixes/ takes
// it back.
func (m *soaking) lookForLosses(step string, c *stepCount) {
	for name, want := range m.kept {
		now, err := os.ReadFile(filepath.Join(m.dir, filepath.FromSlash(name)))
		if err == nil && (bytes.Equal(now, want) || name == soakScore && m.takesBack(now, want)) {
			continue
		}
		c.lost++
		fmt.Fprintf(m.out, "%s: %s is not what was written there (%v)\n", step, name, err)
		m.kept[name] = now
	}
	if n := m.entered(); n < m.decided {
		c.lost++
		fmt.Fprintf(m.out, "%s: %d decisions were acknowledged, %d are there\n", step, m.decided, n)
		m.decided = max(n, 0)
	}
}

// takesBack reports whether a record of fixes gives what was written, and goes on with the fixed score then.
func (m *soaking) takesBack(now, want []byte) bool {
	records, _ := filepath.Glob(filepath.Join(m.dir, "fixes", "*.json"))
	for _, r := range records {
		back, err := exec.Command(m.program, "take-back", filepath.Join(m.dir, filepath.FromSlash(soakScore)), r).Output()
		if err == nil && bytes.Equal(back, want) {
			m.kept[soakScore] = now
			return true
		}
	}
	return false
}
