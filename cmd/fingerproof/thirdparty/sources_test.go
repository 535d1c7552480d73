package thirdparty

import (
	"bufio"
	"encoding/csv"
	"flag"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write SOURCES.tsv anew from the index of the shared scores")

// Each fingered score that the tables were fitted to stands in SOURCES.tsv with its licence and its address, as the index
// of the open scores has them.
func TestEveryFingeredScoreIsAmongTheSources(t *testing.T) {
	want := sourcesOf(t, filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), "INDEX.tsv"))
	if *update && os.Getenv("CI") == "" {
		require.NoError(t, os.WriteFile("SOURCES.tsv", []byte(want), 0o600))
		return
	}
	require.Equal(t, want, Sources)
}

func sourcesOf(t *testing.T, index string) string {
	t.Helper()
	f, err := os.Open(index)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(bufio.NewReader(f))
	r.Comma, r.LazyQuotes = '\t', true
	rows, err := r.ReadAll()
	require.NoError(t, err)
	column := func(name string) int {
		k := slices.Index(rows[0], name)
		require.GreaterOrEqual(t, k, 0, name)
		return k
	}
	title, licence, repo, commit, path := column("title"), column("licence"), column("repo"), column("commit"), column("path")
	var b strings.Builder
	b.WriteString("work\tlicence\taddress\n")
	for _, row := range rows[1:] {
		address := (&url.URL{Scheme: "https", Host: "github.com", Path: "/" + row[repo] + "/blob/" + row[commit] + "/" + row[path]}).String()
		fmt.Fprintf(&b, "%s\t%s\t%s\n", strings.Join(strings.Fields(row[title]), " "), row[licence], address)
	}
	return b.String()
}

// Every licence that a source stands under is named in the notice with its address.
func TestTheNoticeNamesEachLicenceOfTheSources(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(Sources), "\n")
	require.Greater(t, len(lines), 200)
	for _, line := range lines[1:] {
		fields := strings.Split(line, "\t")
		require.Len(t, fields, 3, line)
		require.Contains(t, Notice, fields[1], line)
		require.Regexp(t, `^https://[^ ]+/blob/[0-9a-f]{40}/[^ ]+$`, fields[2])
	}
	for _, address := range []string{"/by/4.0/", "/by-sa/3.0/", "/by-sa/4.0/", "/zero/1.0/"} {
		require.Contains(t, Notice, address)
	}
}
