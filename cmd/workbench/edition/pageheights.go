package edition

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/browser"
	"fingerproof/cmd/workbench/measurement"
)

func pageHeightsCommand() *cobra.Command {
	return measurement.Measurement{
		Use:   "page-heights PAGE...",
		Short: "measure pages of pieces in a browser: how high they are, and where the first passage stands",
		Long: `page-heights opens pages that a run wrote, in a window of 1366 by 768, and gives for each the passages to
judge, the height of the page, how far down the first passage begins before any key is pressed, and the file's
size. What a page lays out only when it comes into view is laid out first, so that pages of any version compare.`,
		Args: cobra.MinimumNArgs(1),
		Run:  pageHeights,
	}.Command()
}

func pageHeights(ctx context.Context, out io.Writer, files []string) error {
	tab, err := browser.Open(ctx)
	if err != nil {
		return err
	}
	defer tab.Close()
	fmt.Fprintf(out, "%8s %10s %10s %10s  %s\n", "passages", "pixels", "first at", "bytes", "page")
	for _, file := range files {
		info, err := os.Stat(file)
		if err != nil {
			return err
		}
		if err := tab.Go(file, ""); err != nil {
			return err
		}
		var values [3]string
		for i, expression := range []string{
			`document.querySelectorAll(".passage").length`,
			`(() => { const all = document.createElement("style");
				all.textContent = "* { content-visibility: visible !important; }";
				document.head.append(all); return document.documentElement.scrollHeight; })()`,
			`(() => { const first = document.querySelector(".passage");
				return first ? Math.round(first.getBoundingClientRect().top + scrollY) : "none"; })()`,
		} {
			if values[i], err = tab.Ask(expression); err != nil {
				return err
			}
		}
		fmt.Fprintf(out, "%8s %10s %10s %10d  %s\n", values[0], values[1], values[2], info.Size(), filepath.Base(file))
	}
	return nil
}
