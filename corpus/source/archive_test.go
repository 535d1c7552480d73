package source_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

// entry is a file inside a compressed score.
type entry struct {
	name, content string
	method        uint16
}

const scoreText = `<?xml version="1.0" encoding="UTF-8"?><score-partwise><a>1</a></score-partwise>`

func containerOf(root string) entry {
	return entry{"META-INF/container.xml", `<?xml version="1.0"?><container><rootfiles><rootfile full-path="` + root + `"/><rootfile full-path="score.pdf" media-type="application/pdf"/></rootfiles></container>`, zip.Deflate}
}

func pack(t testing.TB, comment string, entries ...entry) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	require.NoError(t, z.SetComment(comment))
	for _, e := range entries {
		w, err := z.CreateHeader(&zip.FileHeader{Name: e.name, Method: e.method})
		require.NoError(t, err)
		_, err = io.WriteString(w, e.content)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func picture() string {
	random := rand.New(rand.NewPCG(1, 2))
	b := make([]byte, 50_000)
	for i := range b {
		b[i] = byte(random.Uint32())
	}
	return string(b)
}

// Of a compressed score only the score changes: every other entry keeps its
// packed bytes, its place and its name, and the record, which need not hold
// them, gives the file back to the byte.
func TestOnlyTheScoreOfAnArchiveChanges(t *testing.T) {
	for name, method := range map[string]uint16{"packed": zip.Deflate, "stored": zip.Store} {
		data := pack(t, "a comment", entry{"mimetype", "application/vnd.recordare.musicxml", zip.Store}, containerOf("xml/score.xml"),
			entry{"xml/score.xml", scoreText, method}, entry{"picture.png", picture(), zip.Deflate}, entry{"empty/", "", zip.Store})
		doc, err := source.Open("a.mxl", data, source.DefaultLimits())
		require.NoError(t, err, name)
		require.Equal(t, "xml/score.xml", doc.Entry)
		require.Equal(t, scoreText, doc.Text)
		edition, record, err := doc.Edition([]source.Edit{{Offset: strings.Index(scoreText, "1</a>"), Old: "1", New: "two"}})
		require.NoError(t, err, name)

		was, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		require.NoError(t, err)
		is, err := zip.NewReader(bytes.NewReader(edition), int64(len(edition)))
		require.NoError(t, err)
		require.Equal(t, "a comment", is.Comment)
		require.Len(t, is.File, len(was.File))
		for i, f := range was.File {
			require.Equal(t, f.Name, is.File[i].Name)
			require.Equal(t, f.Method, is.File[i].Method)
			if f.Name != "xml/score.xml" {
				require.Equal(t, rawBytes(t, f), rawBytes(t, is.File[i]), f.Name)
			}
		}
		edited, err := source.Open("a.mxl", edition, source.DefaultLimits())
		require.NoError(t, err)
		require.Equal(t, strings.Replace(scoreText, ">1<", ">two<", 1), edited.Text)

		written, err := json.Marshal(record)
		require.NoError(t, err)
		require.Less(t, len(written), 5000, "the picture is not kept in the record")
		var read source.Record
		require.NoError(t, json.Unmarshal(written, &read))
		back, err := source.TakeBack(edition, &read, source.DefaultLimits())
		require.NoError(t, err, name)
		require.True(t, bytes.Equal(data, back), name)
	}
}

func rawBytes(t *testing.T, f *zip.File) []byte {
	r, err := f.OpenRaw()
	require.NoError(t, err)
	b, err := io.ReadAll(r)
	require.NoError(t, err)
	return b
}

func TestArchivesThatPlayTricks(t *testing.T) {
	score := entry{"score.xml", scoreText, zip.Deflate}
	lying := func(change func(h *zip.FileHeader)) []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		w, err := z.Create("META-INF/container.xml")
		require.NoError(t, err)
		_, err = io.WriteString(w, containerOf("score.xml").content)
		require.NoError(t, err)
		h := &zip.FileHeader{Name: "score.xml", Method: zip.Store, CRC32: crc32.ChecksumIEEE([]byte(scoreText)), CompressedSize64: uint64(len(scoreText)), UncompressedSize64: uint64(len(scoreText))}
		change(h)
		raw, err := z.CreateRaw(h)
		require.NoError(t, err)
		_, err = io.WriteString(raw, scoreText)
		require.NoError(t, err)
		require.NoError(t, z.Close())
		return b.Bytes()
	}
	_, err := source.Open("a.mxl", lying(func(*zip.FileHeader) {}), source.DefaultLimits())
	require.NoError(t, err)
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"a name that climbs out":       {pack(t, "", containerOf("score.xml"), score, entry{"a/../../b", "", zip.Store}), `the entry "a/../../b" of the compressed score leads out of it`},
		"a name from the root":         {pack(t, "", containerOf("score.xml"), score, entry{"/etc/passwd", "", zip.Store}), "leads out of it"},
		"a name with backslashes":      {pack(t, "", containerOf("score.xml"), score, entry{`..\b`, "", zip.Store}), "leads out of it"},
		"one name twice":               {pack(t, "", containerOf("score.xml"), score, score), `two entries named "score.xml"`},
		"an encrypted score":           {lying(func(h *zip.FileHeader) { h.Flags |= 1 }), "(score.xml): unpacking: the entry is encrypted"},
		"a checksum that does not fit": {lying(func(h *zip.FileHeader) { h.CRC32++ }), "(score.xml): unpacking: zip: checksum error"},
		"a packing nobody knows":       {lying(func(h *zip.FileHeader) { h.Method = 99 }), "(score.xml): unpacking: zip: unsupported"},
		"a container too large":        {pack(t, "", entry{"META-INF/container.xml", strings.Repeat(" ", 1<<17), zip.Deflate}, score), "(META-INF/container.xml): unpacking: it unpacks to more than"},
		"a container of other XML":     {pack(t, "", entry{"META-INF/container.xml", "<box/>", zip.Deflate}, score), "its root element is <box>"},
		"a container without a root":   {pack(t, "", entry{"META-INF/container.xml", "<container/>", zip.Deflate}, score), "it names no rootfile"},
	} {
		_, err := source.Open("a.mxl", c.data, source.DefaultLimits())
		require.ErrorContains(t, err, c.want, name)
		require.True(t, strings.HasPrefix(err.Error(), "a.mxl"), "%s: %v", name, err)
	}
}

// A bomb is given up at the limit, not after it has gone off.
func TestBombsAreNotUnpacked(t *testing.T) {
	bomb := pack(t, "", containerOf("score.xml"), entry{"score.xml", strings.Repeat(" ", 128<<20), zip.Deflate})
	require.Less(t, len(bomb), 1<<20)
	before := allocatedBytes()
	_, err := source.Open("a.mxl", bomb, source.DefaultLimits())
	require.ErrorContains(t, err, "unpacks to more than")
	require.Less(t, allocatedBytes()-before, uint64(200<<20))
}

// Records that were tampered with are refused, whatever they ask for.
func TestRecordsThatDoNotFit(t *testing.T) {
	data := pack(t, "", containerOf("score.xml"), entry{"score.xml", scoreText, zip.Deflate})
	doc, err := source.Open("a.mxl", data, source.DefaultLimits())
	require.NoError(t, err)
	edition, record, err := doc.Edition([]source.Edit{{Offset: len(doc.Text), New: "<!-- x -->"}})
	require.NoError(t, err)
	for name, change := range map[string]func(r *source.Record){
		"another version":  func(r *source.Record) { r.Version = 99 },
		"another edition":  func(r *source.Record) { r.Edition = "00" },
		"another source":   func(r *source.Record) { r.Source = "00" },
		"a piece outside":  func(r *source.Record) { r.Archive = []source.Piece{{From: 1 << 60, Size: 1 << 60}} },
		"a piece before":   func(r *source.Record) { r.Archive = []source.Piece{{From: -1, Size: 2}} },
		"a negative piece": func(r *source.Record) { r.Archive = []source.Piece{{From: 1, Size: -2}} },
		"no base64":        func(r *source.Record) { r.Archive = []source.Piece{{Kept: "*"}} },
	} {
		tampered := *record
		change(&tampered)
		_, err := source.TakeBack(edition, &tampered, source.DefaultLimits())
		require.ErrorContains(t, err, "taking back the edits of a.mxl", name)
	}
}
