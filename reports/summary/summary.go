// Package summary writes what a CI job shows when it is done: the findings of
// a collection in a page of Markdown.
package summary

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/lint"
)

// most is how many findings are listed; the counts above them are whole.
const most = 50

// Report is what the page is made of.
type Report struct {
	Rules    []*lint.Rule
	Outcomes []state.Outcome
}

// Write writes the page.
func Write(out io.Writer, report Report) error {
	var b strings.Builder
	t := state.TotalOf(report.Outcomes)
	fmt.Fprintf(&b, "## Fingering: %s\n\n", t)
	fmt.Fprintf(&b, "%s, of which %d failed.\n\n", wording.Count(t.Pieces, "piece"), t.Failed)
	since(&b, report.Outcomes)
	byPiece(&b, report.Outcomes)
	byRule(&b, report)
	worst(&b, report.Outcomes)
	stets(&b, report.Outcomes)
	_, err := io.WriteString(out, b.String())
	return err
}

// since says what is new and what is gone where there was an earlier report.
func since(b *strings.Builder, outcomes []state.Outcome) {
	fresh, gone, any := 0, 0, false
	for i := range outcomes {
		o := &outcomes[i]
		if o.Since == nil {
			continue
		}
		any = true
		gone += len(o.Since.Absent)
		for k := range o.Findings {
			if o.Since.Standing(&o.Findings[k]) == "new" {
				fresh++
			}
		}
	}
	if any {
		fmt.Fprintf(b, "Since the earlier report: %d new, %d gone.\n\n", fresh, gone)
	}
}

func byPiece(b *strings.Builder, outcomes []state.Outcome) {
	b.WriteString("| Piece | Errors | Warnings | Notes | Let stand |\n|---|--:|--:|--:|--:|\n")
	for i := range outcomes {
		o := &outcomes[i]
		if o.Problem != "" {
			fmt.Fprintf(b, "| %s | failed | | | |\n", cell(o.Piece))
			continue
		}
		c := state.CountsOf(o.Findings)
		fmt.Fprintf(b, "| %s | %d | %d | %d | %d |\n", cell(o.Piece), c.Error, c.Warning, c.Note, len(o.Stets))
	}
	b.WriteString("\n")
	for i := range outcomes {
		if o := &outcomes[i]; o.Problem != "" {
			fmt.Fprintf(b, "- %s could not be worked on: %s\n", cell(o.Piece), cell(o.ProblemLine()))
		}
	}
}

func byRule(b *strings.Builder, report Report) {
	found, let := map[string]int{}, map[string]int{}
	for i := range report.Outcomes {
		for _, f := range report.Outcomes[i].Findings {
			found[f.Rule]++
		}
		for _, s := range report.Outcomes[i].Stets {
			let[s.Finding.Rule]++
		}
	}
	if len(found)+len(let) == 0 {
		return
	}
	b.WriteString("\n| Rule | | Findings | Let stand |\n|---|---|--:|--:|\n")
	for _, r := range report.Rules {
		if found[r.Name]+let[r.Name] > 0 {
			fmt.Fprintf(b, "| %s | %s | %d | %d |\n", r.Name, cell(r.Title), found[r.Name], let[r.Name])
		}
	}
}

// worst lists the findings, the severest first, else in the collection's order.
func worst(b *strings.Builder, outcomes []state.Outcome) {
	type entry struct {
		piece string
		f     *state.Finding
		rank  lint.Severity
	}
	var list []entry
	for i := range outcomes {
		for k := range outcomes[i].Findings {
			f := &outcomes[i].Findings[k]
			rank, _ := lint.ParseSeverity(f.Severity)
			list = append(list, entry{outcomes[i].Piece, f, rank})
		}
	}
	if len(list) == 0 {
		return
	}
	slices.SortStableFunc(list, func(a, b entry) int { return -cmp.Compare(a.rank, b.rank) })
	b.WriteString("\n### Findings, the severest first\n\n")
	for i, e := range list {
		if i == most {
			fmt.Fprintf(b, "- and %d more\n", len(list)-most)
			break
		}
		fmt.Fprintf(b, "- **%s** %s, %s\n", e.f.Severity, cell(e.piece), cell(e.f.Advice()))
	}
}

func stets(b *strings.Builder, outcomes []state.Outcome) {
	first := true
	for i := range outcomes {
		for k := range outcomes[i].Stets {
			if first {
				b.WriteString("\n### Let stand\n\n")
				first = false
			}
			s := &outcomes[i].Stets[k]
			fmt.Fprintf(b, "- %s, %s: %s\n", cell(outcomes[i].Piece), cell(s.Finding.Sentence()), cell(s.Words()))
		}
	}
}

// cell keeps Markdown and HTML from reading signs of theirs into a text, and
// a text in one line.
func cell(s string) string {
	return strings.NewReplacer(
		`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", "&", "&amp;", "[", `\[`, "]", `\]`, "#",
		`\#`,
	).
		Replace(strings.Join(strings.Fields(s), " "))
}
