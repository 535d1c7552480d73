package decision_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// without lines, in which the same decisions stand elsewhere in another file.
func without(all []decision.Decision) []decision.Decision {
	for i := range all {
		all[i] = decision.Decision{
			Verb: all[i].Verb, On: all[i].On, By: all[i].By, When: all[i].When, Why: all[i].Why, Rule: all[i].Rule, Notes: all[i].Notes,
		}
		for k := range all[i].Notes {
			all[i].Notes[k] = all[i].Notes[k].WithoutTable()
			all[i].Notes[k].Line = 0
		}
	}
	return all
}

// A file with the table of measures says the same as one without, in which every entry names them: note by note, odd
// numbers of measures too. What is added stands as in the file, and nothing there is written anew.
func TestTheTableOfMeasuresSaysWhatEveryEntrySaid(t *testing.T) {
	for _, music := range []string{
		tune, "X 1:C4 D4 E4 F4 | 2:G4 A4 B4 C5 | 2:E4 F4 G4 E4 | 12a:C4 G4 E4 C4 | 5:F4 E4 D4 C4",
		"C4 D4 E4 F4 | C4 D4 E4 F4", "C4 D4 E4 F4", "C4 D4 E4 F4 | r r r r | 3:C4 E4 G4 C5", "C4 +C4 D4 E4 F4 | 2:G4 G4 G4 G4",
	} {
		s := melody(t, music)
		f := decision.NewFinder(s)
		var all []decision.Decision
		var struck []int
		for n := range s.Notes {
			if s.Notes[n].Kind == score.Pitched {
				struck = append(struck, n)
			}
		}
		for k, n := range struck {
			d := decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01", Notes: []decision.NoteRef{f.Ref(n, []int{3})}}
			if n%3 == 1 {
				d.When, d.Notes = "2026-03-02", append(d.Notes, f.Ref(struck[(k+5)%len(struck)], []int{2, 1}))
			}
			all = append(all, d)
		}
		all = append(all, decision.Decision{
			Verb: decision.Stet, On: decision.Finding, By: "AB", When: "2026-03-01", Rule: "wide-span", Why: "as in measures 1, 2*: so, and landmarks: 1*: so",
			Notes: []decision.NoteRef{f.Ref(0, nil)},
		})
		long, err := decision.Append("p.AB.yaml", nil, "p", "AB", nil, all)
		require.NoError(t, err)
		some, err := decision.Append("p.AB.yaml", nil, "p", "AB", f.Table(), all[:3])
		require.NoError(t, err)
		short, err := decision.Append("p.AB.yaml", some, "p", "AB", f.Table(), all[3:])
		require.NoError(t, err)
		require.True(t, strings.HasPrefix(string(short), string(some)))
		if len(s.Notes) > 12 {
			require.Less(t, len(short), len(long)*3/4)
		}
		require.Contains(t, string(short), "*: ")
		require.NotContains(t, string(short), "    landmarks: ")
		require.NotContains(t, string(short), "    notes:\n")
		want, _, err := decision.Parse("p.AB.yaml", long)
		require.NoError(t, err)
		got, _, err := decision.Parse("p.AB.yaml", short)
		require.NoError(t, err, string(short))
		second, _, err := decision.Parse("p.AB.yaml", []byte(strings.Replace(string(short), "when: 2026-03-01", "when: 2026-03-01 # day", 1)))
		require.NoError(t, err)
		// Two files of one editor become one: the entries of the second say all themselves.
		files := decision.Files(append(append([]decision.Decision{}, got[:1]...), second...))
		require.Contains(t, files["AB"].Head, "measures:\n")
		both, _, err := decision.Parse("p.AB.yaml", []byte("piece: p\nby: AB\n"+files["AB"].Head+"decisions:\n"+files["AB"].Entries))
		require.NoError(t, err, files["AB"].Entries)
		require.Equal(t, decision.Sum(want), decision.Sum(both[1:]))
		alone, _, err := decision.Parse("p.AB.yaml", []byte("piece: p\nby: AB\ndecisions:\n"+strings.TrimPrefix(files["AB"].Entries, decision.AsWritten(got[0]))))
		require.NoError(t, err)
		require.Equal(t, decision.Sum(want), decision.Sum(alone))
		require.Equal(t, decision.Sum(want), decision.Sum(got))
		require.Equal(t, without(want), without(got))
	}
}

// The table is of the day on which the file was begun. What is decided on a score that has changed since says itself on
// which music, and what was decided before is found where it stands now.
func TestDecisionsOnAnotherStateOfTheScoreSayItThemselves(t *testing.T) {
	s := melody(t, tune)
	f := decision.NewFinder(s)
	take := func(f *decision.Finder, n int) decision.Decision {
		return decision.Decision{Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-03-01", Notes: []decision.NoteRef{f.Ref(n, []int{4})}}
	}
	text, err := decision.Append("p.AB.yaml", nil, "p", "AB", f.Table(), []decision.Decision{take(f, 12)})
	require.NoError(t, err)
	changed := melody(t, "D5 C5 D5 C5 | "+tune)
	g := decision.NewFinder(changed)
	both, err := decision.Append("p.AB.yaml", text, "p", "AB", g.Table(), []decision.Decision{take(g, 20)})
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(both), "measures:"), "the table stays")
	require.Contains(t, string(both), "    landmarks: ")
	all, _, err := decision.Parse("p.AB.yaml", both)
	require.NoError(t, err)
	for i, want := range []int{16, 20} {
		n, why, _ := g.Find(&all[i].Notes[0])
		require.Equal(t, want, n, why)
	}
}

// Two branches begin one file, and of the heads that conflict one side's is kept: the other side's decisions are named, and
// take neither its day nor its music. A decision without a check is one of an earlier program, and is read.
func TestDecisionsBelowAnotherHeadAreRefused(t *testing.T) {
	file := func(music, day string) string {
		f := decision.NewFinder(melody(t, music))
		text, err := decision.Append("p.AB.yaml", nil, "p", "AB", f.Table(), []decision.Decision{
			{Verb: decision.Take, On: decision.Notes, By: "AB", When: day, Notes: []decision.NoteRef{f.Ref(0, []int{4}), f.Ref(5, []int{2})}},
		})
		require.NoError(t, err)
		return string(text)
	}
	ours := file(tune, "2026-03-01")
	_, own, _ := strings.Cut(ours, "decisions:\n")
	require.Regexp(t, `(?m)\A  - take: notes\n    1\*[0-9a-f]{3}: .*\n    2\*: .*\n\z`, own)
	for _, theirs := range []string{file(tune, "2026-03-09"), file("D4"+tune[2:], "2026-03-01")} {
		_, entries, _ := strings.Cut(theirs, "decisions:\n")
		_, _, err := decision.Parse("p.AB.yaml", []byte(ours+entries))
		line := strings.Count(ours, "\n") + 2
		require.ErrorContains(t, err, fmt.Sprintf("p.AB.yaml:%d:5: the decision was made below another head", line))
	}
	all, _, err := decision.Parse("p.AB.yaml", []byte(regexp.MustCompile(`\*[0-9a-f]{3}:`).ReplaceAllString(ours, "*:")))
	require.NoError(t, err)
	require.Equal(t, "2026-03-01", all[0].When)
	require.NotEmpty(t, all[0].Notes[0].Around.Music)
}

// Where the lines of an entry are written out, what stands in quotation marks or braces stays as it was.
func TestAnEntryIsWrittenOutAtItsKeysOnly(t *testing.T) {
	const head = "piece: p\nby: AB\nwhen: 2026-03-01\nmeasures:\n  - m. 1: 0f1e2d3c 99aabbcc\n  - \"m. \\\"1 b\\\"\": 0f1e2d3d\ndecisions:\n"
	first, _, err := decision.Parse("p.yaml", []byte("piece: p\nby: AB\ndecisions:\n  - take: notes\n    when: 2026-03-01\n    notes: [m. 1: 0 C4=1]\n"))
	require.NoError(t, err)
	second, _, err := decision.Parse("p.AB.yaml", []byte(head+
		"  - {stet: notes, why: \"é, 1*: so\", 1*: 0 C4, '2*': 0 D4, \"\\\"1 b\\\"*\": 0 E4}\n"+
		"  - query: notes\n    why: >-\n      2*: which\n    2*: 0 D4 # 1*: here\n"))
	require.NoError(t, err)
	require.Equal(t, "  - take: notes\n    when: 2026-03-01\n    notes: [m. 1: 0 C4=1]\n"+
		"  - {when: 2026-03-01, stet: notes, why: \"é, 1*: so\", m. 1 0f1e2d3c: 0 C4, "+
		"\"m. 2 99aabbcc\": 0 D4, \"m. \\\"1 b\\\" 0f1e2d3d\": 0 E4}\n"+
		"  - query: notes\n    when: 2026-03-01\n    landmarks: -1:0f1e2d3c 0:99aabbcc 1:0f1e2d3d\n    why: >-\n      2*: which\n    m. 2 99aabbcc: 0 D4 # 1*: here\n",
		decision.Files(append(first, second...))["AB"].Entries)
}

// What people write by hand below a table means the score as it is: it needs no star. A star without a measure in the
// table, and a table that is none, are named.
func TestFaultsOfTheTable(t *testing.T) {
	const head = "piece: p\nby: AB\nwhen: 2026-03-01\nmeasures:\n  - m. 1: 0f1e2d3c . 99aabbcc\n  - m. 12a: 0f1e2d3d\ndecisions:\n"
	for text, want := range map[string]string{
		head + "  - take: notes\n    4*: 0 C4=1\n":                            `x.yaml:9:5: "4*" is not in the table of measures`,
		head + "  - take: notes\n    1 (index 1)*: 0 C4=1\n":                  "is not in the table",
		"piece: p\nby: AB\ndecisions:\n  - take: notes\n    1*: 0 C4=1\n":     "is not in the table",
		"piece: p\nby: AB\nmeasures: [m. 1: 0f1e]\n":                          `a fingerprint cannot be "0f1e"`,
		"piece: p\nby: AB\nmeasures: [m. 1 0f1e2d3c: 0f1e2d3c]\n":             "a row of measures should be",
		"piece: p\nby: AB\nmeasures: [m. 12a: 0f1e2d3c 0f1e2d3d]\n":           `no measure follows "12a"`,
		"piece: p\nby: AB\nmeasures: 3\n":                                     "measures",
		"piece: p\nby: AB\nwhen: soon\n":                                      "when should be a day",
		"piece: p\nby: AB\ndecisions:\n  - take: notes\n    m. 1: 0 C4=1\n":   "has no date",
		head + "  - take: notes\n    1*: 0 C4=1\n    1*: 0 E4=1\n":            "stands here a second time",
		head + "  - take: notes\n    notes: [m. 1: 0 C4=1]\n    measure: 3\n": `"measure"`,
	} {
		_, _, err := decision.Parse("x.yaml", []byte(text))
		require.ErrorContains(t, err, want, text)
	}
	d, _, err := decision.Parse("x.yaml", []byte(head+"  - take: notes\n    m. 4: 0 C4=1\n    3*: 1 D4=2\n  - {take: notes, when: 2026-03-05, 12a*: 0 C4=1}\n"))
	require.NoError(t, err)
	require.Empty(t, d[0].Notes[0].Around.Music, "m. 4 is that of the score as it is")
	require.Equal(t, "99aabbcc", d[0].Notes[1].Around.Music)
	require.Equal(t, []string{"2026-03-01", "2026-03-05"}, []string{d[0].When, d[1].When})
}
