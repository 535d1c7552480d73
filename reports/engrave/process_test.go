package engrave

import (
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const serveVariable = "ENGRAVE_TEST_SERVE"

// TestServeForOthers is the other side of the tests below: they start this test program once more.
func TestServeForOthers(t *testing.T) {
	cache := os.Getenv(serveVariable)
	if cache == "" {
		t.Skip("runs in the processes that other tests start")
	}
	require.NoError(t, Serve(context.Background(), Options{CacheDir: cache}, os.Stdin, os.Stdout))
}

// processPress draws in processes, with so much time for an excerpt.
func processPress(t *testing.T, limit time.Duration) *Press {
	t.Helper()
	openPress(t) // skips where the engraver is not installed, and prepares it
	cache := testCache()
	t.Setenv(serveVariable, cache)
	press, err := Open(context.Background(), Options{
		CacheDir: cache, Process: []string{os.Args[0], "-test.run", "^TestServeForOthers$"}, Limit: limit,
	})
	require.NoError(t, err)
	return press
}

// endless is a measure that keeps the engraver busy for ever: it fills the gap rest by rest. Copy takes the gap out.
func endless() []byte {
	return []byte(strings.Replace(string(testScore()), `<measure number="2">`, `<measure number="2"><forward>`+
		`<duration>999999999</duration></forward>`, 1))
}

func TestAProcessDrawsTheSame(t *testing.T) {
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	here, apart := newWorker(t, openPress(t)), newWorker(t, processPress(t, time.Hour))
	defer apart.Close(context.Background())
	for range 2 {
		a, err := here.Excerpt(context.Background(), sheet, 0, 2, ExcerptOptions{})
		require.NoError(t, err)
		b, err := apart.Excerpt(context.Background(), sheet, 0, 2, ExcerptOptions{})
		require.NoError(t, err)
		require.Equal(t, a, b)
		pages := ScoreOptions{Width: 300}
		whole, err := here.Score(context.Background(), sheet, pages)
		require.NoError(t, err)
		again, err := apart.Score(context.Background(), sheet, pages)
		require.NoError(t, err)
		require.Equal(t, whole, again)
	}
	_, err = apart.draw(context.Background(), order{Score: []byte("<html/>")})
	_, want := here.draw(context.Background(), order{Score: []byte("<html/>")})
	require.EqualError(t, err, want.Error())
}

// What takes too long is stopped and named, and the next excerpt is drawn all the same.
func TestWhatTakesTooLongIsStopped(t *testing.T) {
	worker := newWorker(t, processPress(t, 2*time.Second))
	defer worker.Close(context.Background())
	_, err := worker.draw(context.Background(), order{Score: endless()})
	require.ErrorIs(t, err, ErrTooLong)
	svg, err := worker.draw(context.Background(), order{Score: testScore()})
	require.NoError(t, err)
	require.Contains(t, svg[0], "<svg")
}

func TestACancelledRunStopsTheEngraver(t *testing.T) {
	worker := newWorker(t, processPress(t, time.Hour))
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(time.Second, cancel)
	_, err := worker.draw(ctx, order{Score: endless()})
	require.ErrorIs(t, err, context.Canceled)
	require.Nil(t, worker.child, "its process is gone")
}

// The engraver gets no number that the reader would not believe, and draws the rest.
func TestNumbersThatMakeNoSenseAreRepaired(t *testing.T) {
	worker := newWorker(t, openPress(t))
	for _, absurd := range [][2]string{
		{`<measure number="2">`, `<measure number="2"><forward><duration>999999999</duration></forward>`},
		{`<measure number="2">`, `<measure number="2"><backup><duration>1e9</duration></backup>`},
		{`<duration>1</duration>`, `<duration>999999999</duration>`},
		{`<duration>1</duration>`, `<duration>-4</duration>`},
		{`<divisions>1</divisions>`, `<divisions>0</divisions>`},
		{`<divisions>1</divisions>`, `<divisions>99999999999</divisions><staves>100000</staves>`},
		{`<line>2</line>`, `<line>99999999</line><clef-octave-change>99</clef-octave-change>`},
	} {
		text := strings.Replace(string(testScore()), absurd[0], absurd[1], 1)
		require.NotEqual(t, string(testScore()), text)
		sheet, err := Copy([]byte(text), CopyOptions{})
		require.NoError(t, err)
		picture, err := worker.Excerpt(context.Background(), sheet, 0, sheet.Measures-1, ExcerptOptions{})
		require.NoError(t, err, absurd[1])
		require.Contains(t, picture.SVG, `data-id="n0"`)
	}
}

// A measure that has too much in it is not given to the engraver; the others are drawn.
func TestACrowdedMeasureIsLeftOut(t *testing.T) {
	text := strings.Replace(string(testScore()), `<measure number="2">`, `<measure number="2">`+strings.Repeat(
		`<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><voice>1</voice></note>`, mostInMeasure), 1)
	sheet, err := Copy([]byte(text), CopyOptions{})
	require.NoError(t, err)
	worker := newWorker(t, openPress(t))
	_, err = worker.Excerpt(context.Background(), sheet, 0, 2, ExcerptOptions{})
	require.ErrorContains(t, err, "measure 1 has 605 notes and signs, more than the 600 that are drawn")
	drawn, err := worker.Score(context.Background(), sheet, ScoreOptions{Width: 300})
	require.NoError(t, err)
	require.Equal(t, []int{1}, drawn.Missing)
	require.NotEmpty(t, drawn.Systems)
}
