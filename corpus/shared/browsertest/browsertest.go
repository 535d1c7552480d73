// Package browsertest lets tests open pages as an editor sees them, in a browser without a window, and press their keys.
package browsertest

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

type started struct {
	ctx  context.Context
	stop func()
	err  error
}

// one browser is shared by the tests of a package: each has a tab of its own.
var one = sync.OnceValue(func() started {
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		return started{}
	}
	options := append(
		chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.WSURLReadTimeout(time.Minute),
	)
	ctx, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(ctx, chromedp.WithErrorf(func(string, ...any) {})) // events it does not know
	return started{ctx, func() { cancel(); stop() }, chromedp.Run(ctx)}
})

// asked says that a test has asked for the browser.
var asked bool

// Main runs the tests of a package and ends the browser behind them.
func Main(m *testing.M) {
	code := m.Run()
	if asked {
		if b := one(); b.stop != nil {
			b.stop()
		}
	}
	os.Exit(code)
}

// late is how long a test may use its tab.
const late = 5 * time.Minute

// Open gives a tab; the test is skipped where there is no browser.
func Open(t testing.TB) context.Context {
	t.Helper()
	asked = true
	b := one()
	if b.ctx == nil {
		t.Skip("no browser (chromium) is installed: what a page does is not tried here")
	}
	require.NoError(t, b.err)
	ctx, cancel := chromedp.NewContext(b.ctx)
	t.Cleanup(cancel)
	ctx, tooLate := context.WithTimeout(ctx, late)
	t.Cleanup(tooLate)
	require.NoError(t, chromedp.Run(ctx))
	return ctx
}

// Forget takes out what the browser keeps of earlier pages and opens the page anew. It goes to the page's address again:
// a reload is said to be done before the old page has gone, so that the first keys may still reach that one.
func Forget() chromedp.Action {
	return chromedp.ActionFunc(func(ctx context.Context) error {
		var at string
		if err := chromedp.Evaluate(`localStorage.clear(), location.href`, &at).Do(ctx); err != nil {
			return err
		}
		if err := chromedp.Navigate("about:blank").Do(ctx); err != nil {
			return err
		}
		return chromedp.Navigate(at).Do(ctx)
	})
}

// Text evaluates an expression on the page and gives its value as text.
func Text(t testing.TB, ctx context.Context, expression string) string {
	t.Helper()
	var out string
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate("String("+expression+")", &out)))
	return out
}

// Press presses keys one after the other, each as a keyboard sends it: a page that stops the key stops the letter.
func Press(t testing.TB, ctx context.Context, keys ...string) {
	t.Helper()
	for _, k := range keys {
		down := input.DispatchKeyEvent(input.KeyDown).WithKey(k)
		if len(k) == 1 {
			down = down.WithText(k)
		}
		require.NoError(t, chromedp.Run(ctx, down, input.DispatchKeyEvent(input.KeyUp).WithKey(k)))
	}
}

// Saved waits for the file, of an ending, that the page saves when asked to, in a folder of its own.
func Saved(t testing.TB, ctx context.Context, ending string, ask ...chromedp.Action) string {
	t.Helper()
	dir := t.TempDir()
	prepare := browser.SetDownloadBehavior(browser.SetDownloadBehaviorBehaviorAllow).WithDownloadPath(dir)
	require.NoError(t, chromedp.Run(ctx, append([]chromedp.Action{prepare}, ask...)...))
	for range 600 { // half a minute: a busy machine is slow to write
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		if len(entries) == 1 && strings.HasSuffix(entries[0].Name(), ending) {
			return filepath.Join(dir, entries[0].Name())
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatal("no file was saved")
	return ""
}
