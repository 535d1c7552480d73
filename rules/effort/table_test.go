package effort

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every shipped table is read, written and read again, to the byte.
func TestTablesComeBackTheSame(t *testing.T) {
	for name, file := range map[string][]byte{"interpretable": interpretableFile, "delivered": deliveredFile} {
		w, err := Read(bytes.NewReader(file))
		require.NoError(t, err, name)
		var again bytes.Buffer
		require.NoError(t, w.Write(&again))
		require.True(t, bytes.Equal(file, again.Bytes()), name)
		require.NotEmpty(t, w.Attribution, "%s: licences of the material", name)
		require.NotEmpty(t, w.Provenance, name)
	}
	terms, habit := Interpretable().Numbers()
	require.LessOrEqual(t, terms, 200)
	require.Zero(t, habit)
}

// A table whose habit is not laid out as Write does it is read by another way, and comes to the same.
func TestATableIsReadHoweverItIsLaidOut(t *testing.T) {
	_, habit, apart := habitApart(deliveredFile)
	require.True(t, apart)
	require.NotEmpty(t, habit)
	var otherwise bytes.Buffer
	require.NoError(t, json.Compact(&otherwise, deliveredFile))
	_, _, apart = habitApart(otherwise.Bytes())
	require.False(t, apart)
	one, err := readTable(deliveredFile)
	require.NoError(t, err)
	other, err := Read(&otherwise)
	require.NoError(t, err)
	require.True(t, reflect.DeepEqual(one.Habit, other.Habit))
	require.Equal(t, one.Terms, other.Terms)
	for _, broken := range []string{
		`{"terms":{}` + habitBegins + "\"key:1,1\":\"1:1\"}\n}\n", // whole
		`{"terms":{}` + habitBegins + "\"key:1,1\":\"1:1\",\n}\n}\n",
		`{"terms":{}` + habitBegins + "\"key:1,1\":\"1:1\"",
		`{"terms":{}` + habitBegins + "}\n}\n",
	} {
		w, err := Read(strings.NewReader(broken))
		var f tableFile
		require.Equal(t, json.Unmarshal([]byte(broken), &f) == nil, err == nil, broken)
		if err == nil {
			require.Len(t, w.Habit, len(f.Habit), broken)
		}
	}
}

func TestFaultyTablesAreRefused(t *testing.T) {
	for text, want := range map[string]string{
		`{"terms":{"no such term":1}}`:                                           "unknown term",
		`{"terms":{},"habit":{"nowhere:1":"0:1"}}`:                               "unknown kind",
		`{"terms":{},"habit":{"key:1":"0:1"}}`:                                   "1 numbers, not 2",
		`{"terms":{},"habit":{"key:1,99":"0:1"}}`:                                "no number from 0 to 63",
		`{"terms":{},"habit":{"key:1,1":"7:1"}}`:                                 `no combination "7"`,
		`{"terms":{},"habit":{"key:1,1":"1:x"}}`:                                 `the cost "x"`,
		`{"terms":{},"habit":{"key:1,` + strings.Repeat("1,", 20) + `1":"1:1"}}`: "numbers, not 2",
		`{"confidence":{"outer":[1],"inner":[]}}`:                                "confidence has 1 and 0 entries, not 21",
		`{"colour":1}`: "colour",
	} {
		_, err := Read(strings.NewReader(text))
		require.ErrorContains(t, err, want, text)
	}
}
