// Package browser opens pages as an editor sees them, in a browser without a window, and presses their keys.
package browser

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// Tab is an open page.
type Tab struct {
	ctx  context.Context
	stop func()
	// Keys counts the keys that were pressed, Letters the letters of words that were typed.
	Keys, Letters int
}

// Open starts a browser with an empty tab of a laptop's size.
func Open(ctx context.Context) (*Tab, error) {
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		return nil, errors.New("no browser is installed\nhint: this measurement needs chromium")
	}
	options := append(
		chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.WSURLReadTimeout(time.Minute),
	)
	ctx, stopAllocator := chromedp.NewExecAllocator(ctx, options...)
	ctx, stop := chromedp.NewContext(ctx, chromedp.WithErrorf(func(string, ...any) {})) // events it does not know
	t := &Tab{ctx: ctx, stop: func() { stop(); stopAllocator() }}
	if err := chromedp.Run(ctx, emulation.SetDeviceMetricsOverride(1366, 768, 1, false)); err != nil {
		t.Close()
		return nil, fmt.Errorf("starting the browser: %w", err)
	}
	return t, nil
}

// Close ends the browser.
func (t *Tab) Close() { t.stop() }

// Go opens a file, with a query behind it or "".
func (t *Tab) Go(file, query string) error {
	path, err := filepath.Abs(file)
	if err != nil {
		return err
	}
	at := url.URL{Scheme: "file", Path: path, RawQuery: query}
	if err := chromedp.Run(t.ctx, chromedp.Navigate(at.String())); err != nil {
		return fmt.Errorf("opening %s: %w", file, err)
	}
	return nil
}

// Ask evaluates an expression on the page and gives its value as text.
func (t *Tab) Ask(expression string) (string, error) {
	var out string
	if err := chromedp.Run(t.ctx, chromedp.Evaluate("String("+expression+")", &out)); err != nil {
		return "", fmt.Errorf("asking the page: %w", err)
	}
	return out, nil
}

// Press presses keys one after the other.
func (t *Tab) Press(keys ...string) error {
	for _, k := range keys {
		t.Keys++
		down := input.DispatchKeyEvent(input.KeyDown).WithKey(k)
		if len(k) == 1 {
			down = down.WithText(k)
		}
		if k == "Enter" {
			down = down.WithText("\r")
		}
		if err := chromedp.Run(t.ctx, down, input.DispatchKeyEvent(input.KeyUp).WithKey(k)); err != nil {
			return fmt.Errorf("pressing %s: %w", k, err)
		}
	}
	return nil
}

// Type types a text, letter by letter.
func (t *Tab) Type(text string) error {
	before := t.Keys
	err := t.Press(strings.Split(text, "")...)
	t.Keys, t.Letters = before, t.Letters+t.Keys-before
	return err
}

// Saved runs what saves a file, and gives the file that comes into dir.
func (t *Tab) Saved(dir string, save func() error) (string, error) {
	err := chromedp.Run(t.ctx, cdpbrowser.
		SetDownloadBehavior(cdpbrowser.SetDownloadBehaviorBehaviorAllow).WithDownloadPath(dir))
	if err != nil {
		return "", fmt.Errorf("preparing to save: %w", err)
	}
	if err := save(); err != nil {
		return "", err
	}
	for range 200 {
		entries, err := os.ReadDir(dir)
		if err != nil {
			return "", err
		}
		for _, e := range entries {
			if strings.HasSuffix(e.Name(), ".yaml") {
				return filepath.Join(dir, e.Name()), nil
			}
		}
		time.Sleep(50 * time.Millisecond)
	}
	said, _ := t.Ask(`document.getElementById("said").textContent`)
	return "", fmt.Errorf("the page saved no file: %s", said)
}
