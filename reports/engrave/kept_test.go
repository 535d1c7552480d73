package engrave

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

// An excerpt that is kept is not drawn again, and is the same picture; another one is drawn, and so is one whose measures
// or width are others.
func TestExcerptsAreKeptByWhatTheyAreDrawnFrom(t *testing.T) {
	press := openPress(t)
	ctx := context.Background()
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	kept, asked, found := map[string][]byte{}, 0, 0
	press.kept = &Kept{
		Get: func(key string) []byte {
			asked++
			if kept[key] != nil {
				found++
			}
			return kept[key]
		},
		Put: func(key string, data []byte) { kept[key] = data },
	}
	excerpt := func(first, last, width int) Excerpt {
		out, err := newWorker(t, press).Excerpt(ctx, sheet, first, last, ExcerptOptions{Title: "notation", Width: width})
		require.NoError(t, err)
		return out
	}
	drawn := excerpt(0, 1, 0)
	require.Equal(t, drawn, excerpt(0, 1, 0))
	require.Equal(t, [2]int{2, 1}, [2]int{asked, found})
	excerpt(1, 1, 0)
	excerpt(0, 1, 500)
	require.Equal(t, [2]int{4, 1}, [2]int{asked, found})
	require.Len(t, kept, 3)
	sheet.Notes[0].Digits = nil
	require.NotEqual(t, drawn, excerpt(0, 1, 0), "with other digits it is another picture")
	require.Equal(t, 1, found)
}
