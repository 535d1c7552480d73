package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"
	"fingerproof/pipeline/4_stages/05_decide"
)

// accounted reads what enter says of the lines: how many were read, and what became of how many.
func accounted(t *testing.T, said string) (read int, became map[string]int) {
	t.Helper()
	m := regexp.MustCompile(`(\d+) lines? read: (.+)`).FindStringSubmatch(said)
	require.NotNil(t, m, said)
	became = map[string]int{}
	read, _ = strconv.Atoi(m[1])
	for _, part := range regexp.MustCompile(`(\d+) (carried out|left|remark|names)`).FindAllStringSubmatch(m[2], -1) {
		became[part[2]], _ = strconv.Atoi(part[1])
	}
	return read, became
}

// aSheetOfLines makes lines as editors write them, well and badly, for a piece with some passages.
type aSheetOfLines struct {
	rand *rand.Rand
	k    *keying.Keying
}

func (s *aSheetOfLines) of(all ...string) string { return all[s.rand.IntN(len(all))] }

func (s *aSheetOfLines) line() string {
	number := fmt.Sprintf("#%d", s.k.Passages[s.rand.IntN(len(s.k.Passages))].Number)
	measure := s.k.Score.Measures[s.rand.IntN(min(12, len(s.k.Score.Measures)))].Number
	hand, beat, digits := s.of("r", "l"), s.of("1", "2", "3", "2.2/8"), s.of("1", "5 4", "1 2 3", ". 3", "1+3+5", "2-1", "6")
	place := measure + " " + hand + " " + beat
	why := s.of("so in the source", "why stet: here", "print alike", "roll", "ok: or not ?")
	switch s.rand.IntN(20) {
	case 0, 1, 2:
		return place + " " + digits
	case 3:
		return measure + " " + hand + " " + s.of("ok", "ok!", "stet", "open", "stet: "+why, "ok: "+why)
	case 4, 5:
		return number + " " + s.of("ok", "ok!", "stet", "roll", "roll down", "roll no", "remove")
	case 6, 7:
		return number + s.of(" ? ", " ?: ", " query ") + why
	case 8, 9:
		return place + " ? " + why
	case 10:
		return measure + " ? " + why
	case 11:
		return number + s.of(" stet: ", " ok: ") + why
	case 12:
		return place + s.of(" roll", " roll down", " roll no")
	case 13:
		return place + " " + digits + s.of(" other hand", " print", " !", " alike")
	case 14:
		return place + s.of(" open", " stet", " ok print")
	case 15:
		return s.of("# a remark", "", "nonsense", "#", "12", number, measure+" r", "#900 ok")
	case 16:
		n, _ := strconv.Atoi(number[1:])
		return fmt.Sprintf("#%d-%d %s", n, n+2, s.of("ok", "stet: "+why))
	case 17:
		return place + s.of(" stet span-beyond-hand: ", " stet passing: ") + why
	default:
		return place + s.of(" ok", " ok: "+why)
	}
}

// Every line of a sheet is carried out, left since it stands already, refused by its number, or a remark; and what is carried
// out stands afterwards: no question, digit or reason is lost, be lines right, wrong or at odds with each other.
func TestNoLineOfASheetIsLost(t *testing.T) {
	root := t.TempDir()
	const id = "op7-nocturne"
	text, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", id+".musicxml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(root, id+".musicxml"), text, 0o644))
	file, decisions := filepath.Join(root, "sheet.lines"), filepath.Join(root, decision.Folder)
	added := 0
	for seed := range uint64(10) {
		require.NoError(t, os.RemoveAll(decisions))
		p, err := openDecided(&workOptions{workers: 1}, root, id)
		require.NoError(t, err)
		k, f := p.keying("AB", "2026-03-01"), decision.NewFinder(p.run.Score)
		sheet := &aSheetOfLines{rand.New(rand.NewPCG(seed, 1)), k}
		lines := []string{"sheet " + sheetName(sheetPassages(p.run))}
		for len(lines) < 7 {
			line := sheet.line()
			if _, err := keying.Line(k, f, strings.TrimSuffix(line, " alike")); err != nil && seed%4 > 0 {
				continue // most sheets have right lines alone, at odds with each other at most
			}
			lines = append(lines, line)
		}
		require.NoError(t, os.WriteFile(file, []byte(strings.Join(lines, "\r\n")), 0o644))
		status, out, said := command("decisions", "enter", id, file, "--in", root, "--by", "AB", "--today", "2026-03-01", "--yes", "--anyway")
		whole := strings.Join(lines, "\n") + "\n" + out + said
		full := len(slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return l == "" }))
		if status != exitClean {
			if strings.Contains(said, "holds no decision") {
				continue
			}
			refused := map[string]bool{}
			for _, m := range regexp.MustCompile(`sheet\.lines:(\d+): \S`).FindAllStringSubmatch(said, -1) {
				refused[m[1]] = true
			}
			require.Contains(t, said, fmt.Sprintf("nothing was added: of %d lines in", full), whole)
			require.Regexp(t, fmt.Sprintf(` %d (is|are) refused`, len(refused)), said, whole)
			require.NoDirExists(t, decisions, whole)
			continue
		}
		read, became := accounted(t, out)
		require.Equal(t, full, read, whole)
		require.Equal(t, full, became["carried out"]+became["left"]+became["remark"]+became["names"], whole)
		if strings.Contains(out, "nothing was added") {
			continue
		}
		added++
		now, err := openDecided(&workOptions{workers: 1}, root, id)
		require.NoError(t, err)
		standsAsKeyed(t, k, f, now, lines, whole)
	}
	require.Greater(t, added, 4, "sheets that were carried out")
}

// standsAsKeyed looks in the piece as it is decided now for what each line says.
func standsAsKeyed(t *testing.T, k *keying.Keying, f *decision.Finder, now *decidedPiece, lines []string, whole string) {
	t.Helper()
	placed, given, handed := now.run.Decided, map[int]string{}, map[int]bool{}
	var all [][]decision.Decision
	for _, l := range oneByOne(k, keyedLines(lines)) {
		if sheetLine.MatchString(l.text) || strings.HasSuffix(l.text, " remove") {
			continue
		}
		text := l.text
		if !keying.HasReason(text) {
			text = strings.TrimSuffix(text, " alike")
		}
		decided, err := keying.Line(k, f, text)
		require.NoError(t, err, whole)
		all = append(all, decided)
		for i := range decided {
			for j := range decided[i].Notes {
				n, _, _ := f.Find(&decided[i].Notes[j])
				switch d := &decided[i]; {
				case d.On == decision.Redistribution && d.Verb == decision.Take:
					handed[n] = true
				case d.On == decision.Notes && d.Verb == decision.Amend:
					given[n] = decision.Digits(d.Notes[j].Fingers)
				case d.On == decision.Notes && d.Verb == decision.Stet && given[n] == "":
					given[n] = "stet"
				}
			}
		}
	}
	for _, decided := range all {
		for i := range decided {
			d, notes := &decided[i], notesOf(f, &decided[i])
			require.NotEmpty(t, notes, whole)
			switch {
			case d.Verb == decision.Query:
				require.True(t, slices.ContainsFunc(placed.Queries, func(q decide.Asked) bool {
					return q.Decision.Why == d.Why && q.Decision.On == d.On && slices.Equal(slices.Sorted(slices.Values(q.Notes)), notes)
				}), "the question %q is lost\n%s", d.Why, whole)
			case d.On == decision.Finding:
				require.True(t, slices.ContainsFunc(now.run.Decisions, func(was decision.Decision) bool {
					return was.Verb == d.Verb && was.Rule == d.Rule && was.Why == d.Why && slices.Equal(notesOf(f, &was), notes)
				}), "the reason %q of %s is lost\n%s", d.Why, d.Rule, whole)
			case d.On == decision.Roll && d.Verb == decision.Take:
				idle := slices.ContainsFunc(placed.Idle, func(r decide.Remark) bool { return slices.Equal(notesOf(f, r.Decision), notes) })
				require.True(t, idle || now.run.Decided.Rolling[notes[0]] != score.Struck, "%v\n%s", notes, whole)
			case d.On == decision.Redistribution && d.Verb == decision.Take:
				for j := range d.Notes {
					if n, _, _ := f.Find(&d.Notes[j]); !d.Notes[j].Stays {
						require.Equal(t, d.To, placed.Hands[n], whole)
					}
				}
			case d.On == decision.Notes && d.Verb != decision.Reopen:
				for j := range d.Notes {
					n, _, _ := f.Find(&d.Notes[j])
					want := decision.Digits(d.Notes[j].Fingers)
					if given[n] != "" {
						want = given[n]
					}
					if handed[n] {
						continue // its digit is the other hand's
					}
					require.Equal(t, "AB", placed.Digits[n].By, "m. %s %s\n%s", d.Notes[j].Printed, d.Notes[j].Pitch, whole)
					if want == "stet" {
						require.Equal(t, decision.Stet, placed.Digits[n].Verb, whole)
					} else {
						require.Equal(t, want, decision.Digits(placed.Digits[n].Fingers), "m. %s %s\n%s", d.Notes[j].Printed, d.Notes[j].Pitch, whole)
					}
				}
			}
		}
	}
}

func keyedLines(lines []string) (out []keyedLine) {
	for i, l := range lines {
		if l != "" {
			out = append(out, keyedLine{i + 1, l})
		}
	}
	return out
}
