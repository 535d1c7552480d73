package xmltree

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

// sameTokens holds the tokens of a text, their places and where reading ends against those of encoding/xml.
func sameTokens(t *testing.T, doc string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(doc))
	d.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) {
		return strings.NewReader(doc[d.InputOffset():]), nil
	}
	s := NewScanner(&source.Document{Name: "x.xml", Text: doc}, Limits{Depth: 1 << 20, Elements: 1 << 20, Attributes: 1 << 20})
	for {
		from := int(d.InputOffset())
		want, fault := d.RawToken()
		have, err := s.Token()
		if fault == nil && len(s.open) == 0 && err != nil {
			return // an end tag too many, which encoding/xml does not mind here
		}
		if fault == nil && err != nil && strings.Contains(err.Error(), " stands where ") {
			return
		}
		require.Equal(t, fault == nil, err == nil, "%v, %v", fault, err)
		require.Equal(t, [2]int{from, int(d.InputOffset())}, [2]int{s.Start, s.End})
		if fault != nil {
			var syntax *xml.SyntaxError
			if errors.As(fault, &syntax) && strings.HasPrefix(syntax.Msg, "invalid XML name") {
				require.ErrorContains(t, err, syntax.Msg)
			}
			return
		}
		require.True(t, reflect.DeepEqual(want, have), "%#v, %#v", want, have)
	}
}

// plainDocuments are texts with whatever is left to the decoder beside what is not.
var plainDocuments = []string{
	`<a b="1" c='2'><d/>text<e></e></a>`, "<?xml version='1.0' encoding='utf-16'?><a>\r\n<b>x\ry</b >\r</a>\n",
	`<a x:y="1" xml:lang="pl"><x:b>ż&#233;&amp;</x:b><![CDATA[<&]]><!-- - --></a>`, "<a b = \"1\"\t\n/>", `<a b="x/>"/>`,
	"<a b='>'>]]</a>", "<a>]]></a>", "<a b=\"\xff\"/>", "<a>\xff</a>", "<a>\ufffe</a>", "<a>\ufffd\u0085\x7f</a>", "<a>\x01</a>",
	`<a b="1"c="2"/>`, `<a b>`, `<a b=1>`, `<1a/>`, `<a-.b_:c/>`, `<aż b="ü"/>`, `<a`, `<a b="`, `</`, `<a/`, `</a b>`, `text`, ``,
	`<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>`, `<a b="&lt;<"/>`, `<a b="]]>"/>`, `<a:b:c/>`, `<a b="1" b="1"/><a/></b>`,
	`<:a/>`, "<a\u00a0b='1'/>", `<a></a:>`, `<a / >`, `<a b='"' c="'"/>`, "<a b='\r\n\t'/>",
}

// A tag and a text that are read without encoding/xml are read as it reads them (XML 1.0; the standard library is the
// reference), in well-formed texts and in others.
func TestPlainTokensAreThoseOfTheStandardLibrary(t *testing.T) {
	for _, doc := range plainDocuments {
		sameTokens(t, doc)
		for at := range doc {
			sameTokens(t, doc[:at])
			for _, b := range "<>&/=\"' \r\n]:?!-a\x00" {
				sameTokens(t, doc[:at]+string(b)+doc[at:])
				sameTokens(t, doc[:at]+string(b)+doc[at+1:])
			}
		}
	}
	for _, score := range []string{"op7-nocturne", "op3-3-octaves"} {
		data, err := os.ReadFile(filepath.Join(shared.InProject("corpus", "demo", "scores"), score+".musicxml"))
		require.NoError(t, err)
		sameTokens(t, string(data))
		sameTokens(t, strings.ReplaceAll(string(data), "\n", "\r\n"))
	}
}

func FuzzToken(f *testing.F) {
	for _, doc := range plainDocuments {
		f.Add(doc)
	}
	f.Fuzz(sameTokens)
}
