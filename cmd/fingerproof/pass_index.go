package main

import (
	"encoding/json"
	"os"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/reports/folder"
	"fingerproof/reports/page"
)

// renewIndex says in the index of a run which pieces were passed since, and whether it could: a folder without an index,
// or into which another program is writing, stays as it is, and the next run says so.
func renewIndex(out string, c *corpus.Collection, all []corpus.Piece, passed map[string]page.Passed) bool {
	if _, err := os.Stat(filepath.Join(out, "review", "index.html")); err != nil {
		return false
	}
	dir, err := folder.Open(out, holderName())
	if err != nil {
		return false
	}
	defer func() { _ = dir.Close() }() // what is written is whole
	entries := make([]*page.Entry, len(all))
	for i := range all {
		e := &page.Entry{}
		switch {
		case json.Unmarshal(dir.Earlier(entryName(all[i].ID)), e) == nil:
			entries[i] = e
		case dir.Has("results/" + all[i].ID + ".json"):
			return false // an older program ran it: what its index took is not known
		}
	}
	index := page.NewIndex(c)
	for i, e := range entries {
		p := &all[i]
		if e == nil {
			index.Wait(p)
			continue
		}
		if now, was := passed[p.ID]; was {
			e.PassedBy(now.By, now.When)
			name := "review/" + page.FileName(p.ID)
			if html := dir.Earlier(name); html != nil && dir.Write(name, page.PassedSince(html, now.By, now.When)) != nil {
				return false
			}
		}
		if writeEntry(dir, index, p.ID, e) != nil {
			return false
		}
	}
	pages, err := index.Render()
	if err != nil {
		return false
	}
	for _, f := range pages {
		if dir.Write("review/"+f.Name, f.Data) != nil {
			return false
		}
	}
	return true
}
