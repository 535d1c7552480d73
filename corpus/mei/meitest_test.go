package mei_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// head is a document up to the music of its section; foot is what closes it.
const (
	head = `<?xml version="1.0" encoding="UTF-8"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">
  <meiHead>
    <fileDesc>
      <titleStmt>
        <title>Study</title>
        <respStmt><persName role="composer">Nobody</persName></respStmt>
      </titleStmt>
      <pubStmt/>
    </fileDesc>
  </meiHead>
  <music>
    <body>
      <mdiv>
        <score>
          <scoreDef keysig="2s" meter.count="4" meter.unit="4">
            <staffGrp symbol="brace">
              <label>Piano</label>
              <staffDef n="1" lines="5" clef.shape="G" clef.line="2"/>
              <staffDef n="2" lines="5" clef.shape="F" clef.line="4"/>
            </staffGrp>
          </scoreDef>
          <section>`
	foot = `
          </section>
        </score>
      </mdiv>
    </body>
  </music>
</mei>
`
)

// piano puts measures of two staves into a document: of each the upper, the lower, and the signs beside them.
func piano(measures ...[3]string) string {
	var b strings.Builder
	b.WriteString(head)
	for i, m := range measures {
		b.WriteString("\n            <measure n=\"" + string(rune('1'+i)) + "\">\n              <staff n=\"1\">" + layers(m[0]) +
			"</staff>\n              <staff n=\"2\">" + layers(m[1]) + "</staff>")
		if m[2] != "" {
			b.WriteString("\n              " + m[2])
		}
		b.WriteString("\n            </measure>")
	}
	return b.String() + foot
}

// layers puts music into a layer, unless it is in layers already.
func layers(s string) string {
	if strings.HasPrefix(s, "<layer") {
		return s
	}
	return `<layer n="1">` + s + "</layer>"
}

func open(t require.TestingT, name string, data []byte) (*source.Document, *score.Score, *mei.Layout) {
	doc, err := source.Open(name, data, source.DefaultLimits())
	require.NoError(t, err)
	s, layout, err := mei.Read(doc, mei.DefaultLimits(), mei.Options{})
	require.NoError(t, err)
	return doc, s, layout
}

func read(t *testing.T, text string) *score.Score {
	t.Helper()
	_, s, _ := open(t, "t.mei", []byte(text))
	return s
}

func fails(t *testing.T, text string) string {
	t.Helper()
	doc, err := source.Open("t.mei", []byte(text), source.DefaultLimits())
	if err == nil {
		_, _, err = mei.Read(doc, mei.DefaultLimits(), mei.Options{})
	}
	require.Error(t, err)
	return err.Error()
}

// exampleFile is an edition of ours before it was marked, with everything that the schema of MEI 5.1 has for it.
func example(t require.TestingT) []byte {
	data, err := os.ReadFile("testdata/study.mei")
	require.NoError(t, err)
	return data
}
