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
	fmt.Fprintf(&b, "%s, of which %d failed", wording.Count(t.Pieces, "piece"), t.Failed)
	if t.Earlier > 0 {
		fmt.Fprintf(&b, "; of %d of them this is what an earlier run left, and this one did not look at them", t.Earlier)
	}
	b.WriteString(".\n\n")
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

// pieceOf names a piece, and says where what stands of it was not looked at.
func pieceOf(o *state.Outcome) string {
	if o.Earlier {
		return o.Piece + " (" + o.LeftWords("of an earlier run") + ")"
	}
	return o.Piece
}

func byPiece(b *strings.Builder, outcomes []state.Outcome) {
	b.WriteString("| Piece | Errors | Warnings | Notes | Let stand |\n|---|--:|--:|--:|--:|\n")
	for i := range outcomes {
		o := &outcomes[i]
		if o.Problem != "" {
			fmt.Fprintf(b, "| %s | failed | | | |\n", cell(pieceOf(o)))
			continue
		}
		c := state.CountsOf(o.Findings)
		fmt.Fprintf(b, "| %s | %d | %d | %d | %d |\n", cell(pieceOf(o)), c.Error, c.Warning, c.Note, len(o.Stets))
	}
	b.WriteString("\n")
	for i := range outcomes {
		if o := &outcomes[i]; o.Problem != "" {
			fmt.Fprintf(b, "- %s could not be worked on: %s\n", cell(pieceOf(o)), cell(o.ProblemLine()))
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

// entry is a finding, with the pieces in which the same is said.
type entry struct {
	f      *state.Finding
	pieces []string
	count  int
	rank   lint.Severity
	fresh  bool // new since the earlier report
}

// worst lists the findings: what is new since the earlier report first, then the severest, else in the collection's
// order. What is said of several pieces in the same words is one line.
func worst(b *strings.Builder, outcomes []state.Outcome) {
	list := gathered(outcomes)
	if len(list) == 0 {
		return
	}
	order := func(e entry) int {
		if e.fresh {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(list, func(a, b entry) int {
		return cmp.Or(cmp.Compare(order(a), order(b)), -cmp.Compare(a.rank, b.rank))
	})
	title := "the severest first"
	if slices.ContainsFunc(list, func(e entry) bool { return e.fresh }) {
		title = "new ones first"
	}
	fmt.Fprintf(b, "\n### Findings, %s\n\n", title)
	for i, e := range list {
		if i == most {
			fmt.Fprintf(b, "- and %d more\n", len(list)-most)
			break
		}
		severity := e.f.Severity
		if e.fresh {
			severity = "new " + severity
		}
		if len(e.pieces) == 1 {
			fmt.Fprintf(b, "- **%s** %s, %s\n", severity, cell(e.pieces[0]), cell(e.f.Advice()))
			continue
		}
		words := said(e.f)
		if e.f.Fix != "" {
			words += "; " + e.f.Fix
		}
		fmt.Fprintf(b, "- **%s** %d times in %s: %s (%s)\n", severity, e.count, cell(named(e.pieces)), cell(words), e.f.Rule)
	}
}

// same is what findings have in common that are told as one.
type same struct {
	rule, severity, words string
	fresh                 bool
}

func sameOf(o *state.Outcome, f *state.Finding) same {
	return same{f.Rule, f.Severity, said(f), o.Since != nil && o.Since.Standing(f) == "new"}
}

// gathered lists the findings; those of one rule and severity that say the same of several pieces are one entry.
func gathered(outcomes []state.Outcome) (list []entry) {
	first, several := map[same]string{}, map[same]bool{}
	each := func(do func(o *state.Outcome, f *state.Finding, key same)) {
		for i := range outcomes {
			for k := range outcomes[i].Findings {
				f := &outcomes[i].Findings[k]
				do(&outcomes[i], f, sameOf(&outcomes[i], f))
			}
		}
	}
	each(func(o *state.Outcome, _ *state.Finding, key same) {
		piece, seen := first[key]
		if !seen {
			first[key] = o.Piece
		}
		several[key] = several[key] || seen && piece != o.Piece
	})
	at := map[same]int{}
	each(func(o *state.Outcome, f *state.Finding, key same) {
		j, seen := at[key]
		if !seen || !several[key] {
			at[key] = len(list)
			rank, _ := lint.ParseSeverity(f.Severity)
			list = append(list, entry{f, []string{pieceOf(o)}, 1, rank, key.fresh})
			return
		}
		list[j].count++
		if last := list[j].pieces[len(list[j].pieces)-1]; last != pieceOf(o) {
			list[j].pieces = append(list[j].pieces, pieceOf(o))
		}
	})
	return list
}

// said is what a finding says, without the measures of other places.
func said(f *state.Finding) string {
	words := lint.First(f.Message)
	return words
}

// mostPieces is how many pieces are named where the same is said of them.
const mostPieces = 4

// named lists pieces: "a, b and 7 more pieces".
func named(pieces []string) string {
	if len(pieces) > mostPieces {
		return wording.List(append(slices.Clone(pieces[:mostPieces-1]), wording.Count(len(pieces)-mostPieces+1, "more piece")))
	}
	return wording.List(pieces)
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
			fmt.Fprintf(b, "- %s, %s: %s\n", cell(pieceOf(&outcomes[i])), cell(s.Finding.Sentence()), cell(s.Words()))
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
