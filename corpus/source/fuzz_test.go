package source_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"testing"

	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

var fuzzLimits = source.Limits{FileBytes: 1 << 20, TextBytes: 1 << 20, Entries: 20, Inflation: 50}

func zipped(f *testing.F, entries ...string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(entries); i += 2 {
		w, err := z.Create(entries[i])
		require.NoError(f, err)
		_, err = w.Write([]byte(entries[i+1]))
		require.NoError(f, err)
	}
	require.NoError(f, z.Close())
	return b.Bytes()
}

// FuzzOpen: whatever the bytes, opening gives a document or an error, and a document that is edited is taken back.
func FuzzOpen(f *testing.F) {
	const container = `<container><rootfiles><rootfile full-path="s.xml"/></rootfiles></container>`
	f.Add(zipped(f, "META-INF/container.xml", container, "s.xml", `<?xml version="1.0"?><a>é</a>`))
	f.Add(zipped(f, "META-INF/container.xml", container, "../s.xml", "<a/>"))
	f.Add([]byte("\xff\xfe<\x00a\x00/\x00>\x00"))
	f.Add([]byte(`<?xml version="1.0" encoding="windows-1252"?><a>` + "\x80" + `</a>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := source.Open("f.mxl", data, fuzzLimits)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		edition, record, err := doc.Edition([]source.Edit{{Offset: len(doc.Text), New: "<!-- ü € -->"}})
		if err != nil {
			return
		}
		back, err := source.TakeBack(edition, record, source.DefaultLimits())
		require.NoError(t, err)
		require.True(t, bytes.Equal(data, back))
	})
}

// FuzzRecord: whatever a record of edits says, taking back gives the source that it names, or an error.
func FuzzRecord(f *testing.F) {
	edition := []byte("<a>3</a>")
	doc, err := source.Open("a.xml", []byte("<a></a>"), fuzzLimits)
	require.NoError(f, err)
	_, record, err := doc.Edition([]source.Edit{{Offset: 3, New: "3"}})
	require.NoError(f, err)
	text, err := json.Marshal(record)
	require.NoError(f, err)
	f.Add(text)
	f.Add(bytes.Replace(text, []byte(`"edits"`), []byte(`"archive":[{"kept":"PGE+"},{"from":3,"size":5}],"edits"`), 1))
	f.Fuzz(func(t *testing.T, data []byte) {
		var r source.Record
		if json.Unmarshal(data, &r) != nil {
			return
		}
		r.Version, r.Edition = record.Version, record.Edition // so that what stands behind is reached
		if _, err := source.TakeBack(edition, &r, fuzzLimits); err != nil {
			require.NotEmpty(t, err.Error())
		}
	})
}
