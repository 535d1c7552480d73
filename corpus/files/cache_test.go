package files_test

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/files"
)

func key(digit string) string { return strings.Repeat(digit, 64) }

func TestACacheGivesWhatWasPut(t *testing.T) {
	c := files.OpenCache(t.TempDir())
	require.Nil(t, c.Get(key("a")))
	require.NoError(t, c.Put(key("a"), []byte("what was worked out")))
	require.Equal(t, "what was worked out", string(c.Get(key("a"))))
	require.Nil(t, c.Get(key("b")))
	s, err := c.Size()
	require.NoError(t, err)
	require.Equal(t, 1, s.Entries)
	require.Positive(t, s.Bytes)
	require.NoError(t, c.Clear())
	require.Nil(t, c.Get(key("a")))
}

// Every byte of an entry is looked at, and an entry cut short is none.
func TestWhatIsDamagedIsNotGiven(t *testing.T) {
	c := files.OpenCache(t.TempDir())
	require.NoError(t, c.Put(key("a"), []byte(strings.Repeat("what was worked out ", 20))))
	path := filepath.Join(c.Dir(), "a", strings.Repeat("a", 63))
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	for i := range whole {
		broken := append([]byte(nil), whole...)
		broken[i] ^= 1
		require.NoError(t, os.WriteFile(path, broken, 0o600))
		require.Nil(t, c.Get(key("a")), "byte %d", i)
		require.NoError(t, os.WriteFile(path, whole[:i], 0o600))
		require.Nil(t, c.Get(key("a")), "cut at %d", i)
	}
	require.NoError(t, os.WriteFile(path, whole, 0o600))
	require.NotNil(t, c.Get(key("a")))
}

func TestTheCacheIsBoundedAndDropsWhatWasNotUsedForLongest(t *testing.T) {
	c := files.OpenCache(t.TempDir())
	for i, d := range []string{"a", "b", "c"} {
		require.NoError(t, c.Put(key(d), []byte(d)))
		when := time.Now().Add(time.Duration(i-10) * time.Hour)
		require.NoError(t, os.Chtimes(filepath.Join(c.Dir(), d, strings.Repeat(d, 63)), when, when))
	}
	require.NotNil(t, c.Get(key("a")), "used last from now on")
	s, err := c.Size()
	require.NoError(t, err)
	require.NoError(t, c.Trim(time.Time{}, s.Bytes*2/3))
	require.Nil(t, c.Get(key("b")))
	require.NotNil(t, c.Get(key("a")))
	require.NotNil(t, c.Get(key("c")))
	require.NoError(t, c.Trim(time.Now().Add(time.Hour), 1<<40))
	require.Nil(t, c.Get(key("a")), "not used since")
}

func TestTwoProgramsShareACache(t *testing.T) {
	dir := t.TempDir()
	var both sync.WaitGroup
	for range 2 {
		both.Go(func() {
			c := files.OpenCache(dir)
			for i := range 200 {
				if got := c.Get(key("a")); got != nil && string(got) != "the same" {
					t.Errorf("got %q", got)
				}
				if err := c.Put(key("a"), []byte("the same")); err != nil {
					t.Error(err)
				}
				if i%50 == 0 {
					if err := c.Clear(); err != nil {
						t.Error(err)
					}
				}
			}
		})
	}
	both.Wait()
}

// A part is given by itself, and one without bytes is none.
func TestAnEntryGivesItsParts(t *testing.T) {
	c := files.OpenCache(t.TempDir())
	long := strings.Repeat("0123456789", 1<<20) // more than one block
	require.NoError(t, c.Put(key("a"), []byte("head"), nil, []byte(long)))
	e := c.Open(key("a"))
	require.NotNil(t, e)
	require.Equal(t, "head", string(e.Part(0)))
	require.Nil(t, e.Part(1))
	require.Equal(t, long, string(e.Part(2)))
	require.Nil(t, e.Part(3))
	require.Equal(t, "head"+long, string(c.Get(key("a"))))
}

// A sum tells a file that differs in one byte, in order of blocks or in length.
func TestASumTellsWhatAFileHolds(t *testing.T) {
	text := []byte(strings.Repeat("a", 1<<14) + strings.Repeat("b", 1<<14) + "c")
	path := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(path, text, 0o600))
	sum, err := files.SumOfFile(path)
	require.NoError(t, err)
	require.Equal(t, files.Sum(text), sum)
	for _, other := range []string{string(text[1<<14:]) + string(text[:1<<14]), string(text[:len(text)-1]), string(text) + "c", string(text[:len(text)-1]) + "d", ""} {
		require.NotEqual(t, sum, files.Sum([]byte(other)))
	}
	_, err = files.SumOfFile(filepath.Join(t.TempDir(), "none"))
	require.ErrorIs(t, err, os.ErrNotExist)
}
