// Package engrave draws notation excerpts for the reports.
//
// The engraver is the npm package verovio, pinned by package-lock.json in this folder. Its WebAssembly runs inside
// this program under wazero: no Node at run time, no window, no network. Set-up is
//
//	npm ci --ignore-scripts --prefix reports/engrave
//
// after which Prepare (or the first Open) takes the WebAssembly out of the package's JavaScript, has binaryen's
// wasm-opt remove the legacy exception instructions that wazero refuses, and keeps the result in a cache folder. A
// C++ exception inside the engraver is then a trap: it comes back as a Go error and the instance is replaced.
//
// A piece is drawn so:
//
//	sheet, err := engrave.Copy(musicxml, engrave.CopyOptions{})   // ids, merged fingerings, styles
//	sheet.Notes[42].Ring = "redistributed"                        // optional: what to mark in the picture
//	press, err := engrave.Open(ctx, engrave.Options{...})         // once a run
//	worker, err := press.Worker(ctx)                              // one a goroutine
//	err = worker.LoadSheet(ctx, sheet)                            // once a piece
//	excerpt, err := worker.Excerpt(ctx, 0, 3, engrave.ExcerptOptions{Title: "Measures 1 to 4"})
//
// The same input gives the same bytes, whatever the worker engraved before.
package engrave
