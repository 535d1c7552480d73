package check_test

import (
	"bytes"
	"testing"

	"fingerproof/pipeline/6_checks/check"

	"github.com/stretchr/testify/require"
)

// Each sign and word of the text that changes after it was passed is told, once and with its place: whoever passed the
// piece never saw it so.
func TestASignOfTheTextThatChangesIsToldOnce(t *testing.T) {
	for name, c := range map[string]struct{ old, new, want, rule string }{
		"title":       {"<movement-title>Waltz<", "<movement-title>Polka<", "title: was Waltz, is Polka", "changed-text"},
		"key":         {"<fifths>-4<", "<fifths>-3<", "m. 0: key signature: was 4 flats, is 3 flats", "changed-text"},
		"tempo":       {"Tempo di valse", "Presto", "m. 0, beat 3: tempo word: was Tempo di valse, is Presto", "changed-text"},
		"alternative": {`<fingering placement="above">3</fingering>`, `<fingering placement="above">3</fingering><fingering alternate="yes" placement="above">5</fingering>`, "alternative: was 3, is 3 (5)", "changed-fingering"},
	} {
		t.Run(name, func(t *testing.T) {
			in := demo(t, "op12-2-waltz")
			was := stateOf(work(t, in))
			text := in.data
			in.data = bytes.Replace(text, []byte(c.old), []byte(c.new), 1)
			require.NotEqual(t, text, in.data)
			p := check.Compare(work(t, in), was, text)
			signs := 0
			for i := range p.Changes {
				if p.Changes[i].Kind == check.Sign {
					signs++
					require.Contains(t, p.Changes[i].Sentence(), c.want)
					require.Equal(t, "text", p.Changes[i].Cause)
				}
			}
			require.Equal(t, 1, signs, "%v", p.Changes)
			found := false
			for _, f := range p.Outcome("").Findings {
				found = found || f.Rule == c.rule
			}
			require.True(t, found)
		})
	}
}

// Of a note that is put right in the text, and of its digit, nothing is said twice.
func TestWhatANoteTellsIsNotToldAsASignToo(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	was := stateOf(work(t, in))
	text := in.data
	in.data = bytes.Replace(text, []byte(`<fingering placement="above">3</fingering>`), []byte(`<fingering placement="above">4</fingering>`), 1)
	p := check.Compare(work(t, in), was, text)
	require.NotEmpty(t, p.Changes)
	for i := range p.Changes {
		require.NotEqual(t, check.Sign, p.Changes[i].Kind, p.Changes[i].Sentence())
	}
}

// Where the score is not kept as it was passed, its signs cannot be compared, and that is said.
func TestSignsThatWereNotComparedAreNamed(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	was := stateOf(work(t, in))
	in.data = bytes.Replace(in.data, []byte("<fifths>-4<"), []byte("<fifths>-3<"), 1)
	p := check.Compare(work(t, in), was, nil)
	require.Contains(t, p.Notices, "the score is another one, and is not kept as it was passed: its signs and words were not compared, only its notes and their digits")
}

// What the page has otherwise in letters, sides and breaks is no change of what was passed, and is named; a file that differs in
// nothing that is compared is not called another layout.
func TestTheLayoutIsNamedThough(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	was, old := stateOf(work(t, in)), in.data
	in.data = bytes.Replace(old, []byte(`<measure number="5">`), []byte(`<measure number="5"><print new-page="yes"/>`), 1)
	require.NotEqual(t, old, in.data)
	p := check.Compare(work(t, in), was, old)
	require.Empty(t, p.Changes)
	require.Equal(t, []string{"layout"}, p.Inputs)
	require.Contains(t, p.Notices, "layout, not counted as a change: m. 5: page break: was none, is new page")
	in.data = append(bytes.Clone(old), []byte("<!-- read -->\n")...)
	p = check.Compare(work(t, in), was, old)
	require.Empty(t, p.Changes)
	require.Equal(t, []string{"file of the score, in nothing that diff compares"}, p.Inputs)
	require.Empty(t, p.Notices)
}
