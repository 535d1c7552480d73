package engrave

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// bundled writes the engraver as a bundle, or skips where it is not installed.
func bundled(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	err := Bundle(context.Background(), Options{Package: FindPackage("."), CacheDir: testCache()}, &b)
	if errors.Is(err, ErrMissing) {
		t.Skip(err)
	}
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "engraver.zip")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	return path
}

func TestABundleInstallsWithoutNodeAndDraws(t *testing.T) {
	options := Options{CacheDir: t.TempDir(), Node: "no-such-program"}
	_, ready := Installed(options)
	require.False(t, ready)
	require.NoError(t, Install(context.Background(), options, bundled(t)))
	folder, ready := Installed(options)
	require.True(t, ready)
	press, err := Open(context.Background(), options)
	require.NoError(t, err)
	defer press.Close(context.Background())
	require.NoError(t, newWorker(t, press).Load(context.Background(), testScore()))

	// A folder with the same two files serves too.
	again := Options{CacheDir: t.TempDir()}
	require.NoError(t, Install(context.Background(), again, folder))
	_, ready = Installed(again)
	require.True(t, ready)
}

func TestWhatIsNotTheEngraverIsRefusedAndNothingIsWritten(t *testing.T) {
	archive := func(files map[string]string) string {
		var b bytes.Buffer
		w := zip.NewWriter(&b)
		for name, text := range files {
			f, err := w.Create(name)
			require.NoError(t, err)
			_, err = f.Write([]byte(text))
			require.NoError(t, err)
		}
		require.NoError(t, w.Close())
		path := filepath.Join(t.TempDir(), "x.zip")
		require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
		return path
	}
	text := filepath.Join(t.TempDir(), "verovio.txt")
	require.NoError(t, os.WriteFile(text, []byte("no archive"), 0o644))
	for from, said := range map[string]string{
		filepath.Join(t.TempDir(), "gone"): "there is no file or folder",
		t.TempDir():                        "holds no engraver",
		text:                               "is no engraver",
		archive(nil):                       "holds no engraver: names.json",
		archive(map[string]string{moduleFile: "x", namesFile: "{}"}): "is not the engraver that this program knows: sha256 of names.json",
	} {
		options := Options{CacheDir: t.TempDir()}
		require.ErrorContains(t, Install(context.Background(), options, from), said)
		left, err := os.ReadDir(options.CacheDir)
		require.NoError(t, err)
		require.Empty(t, left)
	}
}
