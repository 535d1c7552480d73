package hands_test

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/06_hands"
)

// keyStruck names a note by what its page shows of it.
type keyStruck struct {
	measure int
	onset   score.Fraction
	midi    int
}

// Where one voice of a staff of a real score is written in a part of its own under the same name, as engravers write a
// third staff, it is read as the same player's, and nine keys of ten at least keep the hand that the two staves say (the open
// scores of data/repertoire, whose voices are split off here).
func TestAVoiceOnAThirdStaffKeepsItsHand(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(shared.Folder(t, "data/repertoire"), "*.mxl"))
	require.NoError(t, err)
	moved, kept, read := 0, 0, 0
	for k, path := range files {
		if k%10 != 0 {
			continue
		}
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		doc, err := source.Open(path, data, source.DefaultLimits())
		require.NoError(t, err)
		whole, wholeHands := handsOfPiano(t, doc)
		if wholeHands == nil {
			continue
		}
		split, count := withThirdStaff(t, doc.Text)
		if count < 20 {
			continue
		}
		doc, err = source.Open("third.musicxml", split, source.DefaultLimits())
		require.NoError(t, err)
		s, h := handsOfPiano(t, doc)
		require.NotNil(t, h, "%s: read as one player's", path)
		read++
		was := map[keyStruck]score.Hand{}
		for i := range whole.Notes {
			n := &whole.Notes[i]
			was[keyStruck{n.Measure, n.Onset, n.Midi}] = wholeHands[i]
		}
		for i := range s.Notes {
			n := &s.Notes[i]
			if hand, ok := was[keyStruck{n.Measure, n.Onset, n.Midi}]; ok && n.Part == 1 {
				moved++
				if hand == h[i] {
					kept++
				}
			}
		}
	}
	t.Logf("%d of %d keys of third staves keep their hand, in %d scores", kept, moved, read)
	require.Greater(t, read, 5)
	require.GreaterOrEqual(t, 100*kept, 90*moved)
}

// handsOfPiano assigns the hands of a piano score; nil where the scoring has to be named.
func handsOfPiano(t *testing.T, doc *source.Document) (*score.Score, []score.Hand) {
	t.Helper()
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	assigned, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
	if err != nil {
		return s, nil
	}
	return s, assigned.Hand
}

// withThirdStaff moves the second voice of the upper staff of a piano score of one part to a second part of the same
// name, and counts the notes moved.
func withThirdStaff(t *testing.T, text string) ([]byte, int) {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text))
	root := doc.SelectElement("score-partwise")
	if root == nil || len(root.SelectElements("part")) != 1 {
		return nil, 0
	}
	part := root.SelectElement("part")
	listed := root.FindElement("part-list/score-part")
	second := listed.Copy()
	for _, e := range second.FindElements(".//[@id]") {
		e.CreateAttr("id", "third-"+e.SelectAttrValue("id", ""))
	}
	second.CreateAttr("id", "third")
	listed.Parent().AddChild(second)
	third := root.CreateElement("part")
	third.CreateAttr("id", "third")
	moved := 0
	for _, m := range part.SelectElements("measure") {
		moved += moveVoice(m, third, "2")
	}
	out, err := doc.WriteToBytes()
	require.NoError(t, err)
	return out, moved
}

// moveVoice moves the notes of a voice of the upper staff of a measure to a measure of another part; time stays.
func moveVoice(m, third *etree.Element, voice string) (moved int) {
	to := third.CreateElement("measure")
	to.CreateAttr("number", m.SelectAttrValue("number", ""))
	at, written, last := 0, 0, 0
	amount := func(e *etree.Element) int {
		d, _ := strconv.Atoi(childText(e, "duration"))
		return d
	}
	move := func(kind string, by int) *etree.Element {
		e := etree.NewElement(kind)
		e.CreateElement("duration").SetText(strconv.Itoa(by))
		return e
	}
	for _, e := range m.ChildElements() {
		switch e.Tag {
		case "attributes":
			c := e.Copy()
			for _, tag := range []string{"staves", "clef", "staff-details", "measure-style"} {
				for _, x := range c.SelectElements(tag) {
					c.RemoveChild(x)
				}
			}
			to.AddChild(c)
		case "backup":
			at -= amount(e)
		case "forward":
			at += amount(e)
		case "note":
			chord, d := e.SelectElement("chord") != nil, amount(e)
			if e.SelectElement("grace") != nil {
				d = 0
			}
			if childText(e, "voice") == voice && (childText(e, "staff") == "1" || childText(e, "staff") == "") {
				if !chord {
					if at > written {
						to.AddChild(move("forward", at-written))
					} else if at < written {
						to.AddChild(move("backup", written-at))
					}
					if d > 0 {
						m.InsertChildAt(e.Index(), move("forward", d))
					}
					written = at + d
				}
				m.RemoveChild(e)
				if s := e.SelectElement("staff"); s != nil {
					e.RemoveChild(s)
				}
				to.AddChild(e)
				moved++
			}
			if !chord {
				at += d
			}
		}
		last = max(last, at)
	}
	if last > written {
		to.AddChild(move("forward", last-written))
	}
	return moved
}

// childText is the text of a child, "" for none.
func childText(e *etree.Element, tag string) string {
	if c := e.SelectElement(tag); c != nil {
		return c.Text()
	}
	return ""
}
