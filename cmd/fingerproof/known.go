package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"

	"github.com/spf13/pflag"
)

// pieceOutcome is all that a run leaves of a piece: the same for the same inputs, so that it can be kept.
type pieceOutcome struct {
	File                          string // name of the edition
	Edition, Edits, Page, Results []byte
	Index                         *page.Entry
	Said                          saidOfPiece
}

// outcomeOf gathers what a run leaves of a piece.
func outcomeOf(w *pipeline.PieceRun, m *page.Material, html []byte, manifest bool) (*pieceOutcome, error) {
	edits, err := json.MarshalIndent(w.Record, "", " ")
	if err != nil {
		return nil, fmt.Errorf("writing the edits of %s: %w", w.Piece.ID, err)
	}
	results, err := state.Encode(w.Result)
	if err != nil {
		return nil, err
	}
	return &pieceOutcome{
		File: w.Edition, Edition: w.EditionData, Edits: append(edits, '\n'), Page: html, Results: results,
		Index: page.EntryOf(m), Said: saidOf(manifest, w),
	}, nil
}

// cacheOptions say where it is kept what runs worked out.
type cacheOptions struct {
	dir string
	off bool
}

func (o *workOptions) addCache(f *pflag.FlagSet) {
	f.StringVar(&o.cache.dir, "cache", "", "folder in which is kept what runs worked out, so that a piece that did not "+
		"change is not worked on again (default: fingerproof/pieces in the user's cache)")
	f.BoolVar(&o.cache.off, "no-cache", false, "work everything out anew, and keep nothing")
}

// folder is where things are kept.
func (o *cacheOptions) folder() (string, error) {
	if o.dir != "" {
		return o.dir, nil
	}
	dir, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("looking for the user's cache: %w\nhint: name a folder with --cache", err)
	}
	return filepath.Join(dir, "fingerproof", "pieces"), nil
}

// What the cache holds at most, and for how long something that no run asks for.
const (
	mostCached = 4 << 30
	longUnused = 90 * 24 * time.Hour
)

// knownPieces are the pieces that an earlier run has worked out from the same inputs; nil knows none.
type knownPieces struct {
	cache   *files.Cache
	env     *environment
	build   string // sum of this program
	common  string // what all keys stand for
	root    string
	passed  *passed.Store
	mutex   sync.Mutex
	keys    map[string]string        // by piece
	found   map[string]*pieceOutcome // by piece, until it is written
	said    map[string]*saidOfPiece
	refused bool // it was said that nothing can be kept
}

// openCache gives what is known of earlier runs; nil where it is not asked for, or cannot be had.
func (o *workOptions) openCache(env *environment, job pipeline.Job, r *reviewer) *knownPieces {
	if o.cache.off || slices.ContainsFunc(o.requests, request.isMatter) {
		return nil // front and back matter look at every note of the score
	}
	dir, err := o.cache.folder()
	if err != nil {
		return nil
	}
	build, err := buildSum(env)
	if err != nil {
		return nil
	}
	k := &knownPieces{
		cache: files.OpenCache(dir), env: env, build: build, root: job.Collection.Root, keys: map[string]string{},
		found: map[string]*pieceOutcome{}, said: map[string]*saidOfPiece{},
	}
	k.common = fmt.Sprintf("%s %q %q %d %v %q %s", build, r.collection, r.notation, r.excerpts, r.press != nil,
		job.Collection.Manifest, engrave.Version())
	if store := passed.In(job.Collection.Root); store.There() {
		k.passed = &store
	}
	return k
}

// buildSum is the SHA-256 of this program: whatever it does otherwise, it is another file.
var buildSum = func() func(env *environment) (string, error) {
	var once sync.Once
	var sum string
	var fault error
	return func(env *environment) (string, error) {
		once.Do(func() {
			var data []byte
			if data, fault = os.ReadFile(env.Program); fault == nil {
				sum = source.Sum(data)
			}
		})
		return sum, fault
	}
}()

// key stands for everything that a piece's outcome depends on.
func (k *knownPieces) key(w *pipeline.PieceRun) string {
	h := sha256.New()
	today := ""
	for _, d := range w.Decisions {
		if d.Until != "" {
			today = w.Today
		}
		fmt.Fprintf(h, "%q %q\n", d.Place(), decision.AsWritten(d))
	}
	fmt.Fprintf(h, "%s\n%s %s %s %s %s %q %v %q\n%s\n", k.common, source.Sum(w.Data), w.Policy.Sum(), w.Weights.Sum,
		w.Setting, decision.Sum(w.Decisions), today, w.Press, w.Edition, pipeline.EngineVersion)
	if k.passed != nil {
		data, _ := files.ReadIfThere(filepath.Join(k.root, passed.Folder, w.Piece.ID+".json"), files.StateLimit)
		fmt.Fprintf(h, "%s\n", source.Sum(data))
		if was, err := k.passed.Read(w.Piece.ID); err == nil && was != nil {
			text, err := k.passed.Text(was)
			fmt.Fprintf(h, "%s %v\n", source.Sum(text), err)
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// find puts into a run what an earlier one came to from the same inputs, and says whether there was one.
func (k *knownPieces) find(w *pipeline.PieceRun) bool {
	if k == nil {
		return false
	}
	key := k.key(w)
	k.mutex.Lock()
	k.keys[w.Piece.ID] = key
	k.mutex.Unlock()
	data := k.cache.Get(key)
	if data == nil {
		return false
	}
	out, err := unpack(data)
	if err != nil {
		return false
	}
	result, err := state.DecodeHead(bytes.NewReader(out.Results))
	if err != nil {
		return false
	}
	w.Result = result
	k.mutex.Lock()
	defer k.mutex.Unlock()
	k.found[w.Piece.ID], k.said[w.Piece.ID] = out, &out.Said
	return true
}

// of gives what find found, once.
func (k *knownPieces) of(w *pipeline.PieceRun) *pieceOutcome {
	if k == nil {
		return nil
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	out := k.found[w.Piece.ID]
	delete(k.found, w.Piece.ID)
	return out
}

// saidOf is what an earlier run said of a piece that find found.
func (k *knownPieces) saidOf(piece string) *saidOfPiece {
	if k == nil {
		return nil
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	return k.said[piece]
}

// keep keeps what a piece came to. A cache that cannot be written is said once, and spoils nothing.
func (k *knownPieces) keep(w *pipeline.PieceRun, out *pieceOutcome) {
	if k == nil {
		return
	}
	k.mutex.Lock()
	key := k.keys[w.Piece.ID]
	k.mutex.Unlock()
	data, err := pack(out)
	if err == nil {
		err = k.cache.Put(key, data)
	}
	if err == nil {
		return
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	if !k.refused {
		k.refused = true
		k.env.complain("what this run works out cannot be kept for the next one: %v\n"+
			"hint: name another folder with --cache, or leave it out with --no-cache", err)
	}
}

// trim keeps the cache within its bounds.
func (k *knownPieces) trim() {
	if k != nil {
		_ = k.cache.Trim(time.Now().Add(-longUnused), mostCached) // the next run tries again
	}
}

// pack writes an outcome: its head, and behind it the files as they are.
func pack(out *pieceOutcome) ([]byte, error) {
	head, err := json.Marshal(struct {
		File  string
		Sizes [4]int
		Index *page.Entry
		Said  saidOfPiece
	}{
		out.File, [4]int{len(out.Edition), len(out.Edits), len(out.Page), len(out.Results)}, out.Index, out.Said,
	})
	if err != nil {
		return nil, err
	}
	return slices.Concat(head, []byte("\n"), out.Edition, out.Edits, out.Page, out.Results), nil
}

// unpack reads what pack writes.
func unpack(data []byte) (*pieceOutcome, error) {
	line, rest, _ := bytes.Cut(data, []byte("\n"))
	var head struct {
		File  string
		Sizes [4]int
		Index *page.Entry
		Said  saidOfPiece
	}
	if err := json.Unmarshal(line, &head); err != nil {
		return nil, err
	}
	out := &pieceOutcome{File: head.File, Index: head.Index, Said: head.Said}
	for i, part := range []*[]byte{&out.Edition, &out.Edits, &out.Page, &out.Results} {
		n := head.Sizes[i]
		if n < 0 || n > len(rest) {
			return nil, fmt.Errorf("an entry of the cache ends before its files")
		}
		*part, rest = rest[:n:n], rest[n:]
	}
	return out, nil
}
