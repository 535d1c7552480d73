package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/reports/engrave"
	"fingerproof/reports/folder"
	"fingerproof/reports/page"

	"github.com/spf13/pflag"
)

// pieceOutcome is all that a run leaves of a piece: the same for the same inputs, so that it can be kept.
type pieceOutcome struct {
	File                          string // name of the edition
	Edition, Edits, Page, Results folder.Content
	Personal                      folder.Content // the page of personal choices, without bytes where there are none
	Index                         *page.Entry
	Said                          saidOfPiece
}

// contents lists the files in the order in which they are kept.
func (o *pieceOutcome) contents() []*folder.Content {
	return []*folder.Content{&o.Edition, &o.Edits, &o.Page, &o.Results, &o.Personal}
}

// outcomeOf gathers what a run leaves of a piece.
func outcomeOf(w *pipeline.PieceRun, m *page.Material, html []byte, manifest bool) (*pieceOutcome, error) {
	edits, err := w.Record.Indented()
	if err != nil {
		return nil, fmt.Errorf("writing the edits of %s: %w", w.Piece.ID, err)
	}
	results, err := state.Encode(w.Result)
	if err != nil {
		return nil, err
	}
	return &pieceOutcome{
		File: w.Edition, Edition: folder.Whole(w.EditionData), Edits: folder.Whole(append(edits, '\n')),
		Page: folder.Whole(html), Results: folder.Whole(results), Index: page.EntryOf(m), Said: saidOf(manifest, w),
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
	caches   []*files.Cache // looked through in this order
	own      *files.Cache   // the user's cache among them; nil where nothing is kept for the next run
	drawings *files.Cache   // where drawings are kept; nil likewise
	stages   *files.Cache   // where stages that search keep what they came to; nil likewise
	part     *part          // what this run leaves for join; nil where it is no shard
	parts    *files.Cache   // where the part's pieces are kept
	joined   map[string]partPiece
	fault    error // of keeping a piece of the part
	env      *environment
	build    string // sum of this program
	common   string // what all keys stand for
	root     string
	passed   *passed.Store
	mutex    sync.Mutex
	keys     map[string]string        // by piece
	found    map[string]*pieceOutcome // by piece, until it is written
	said     map[string]*saidOfPiece
	refused  bool // it was said that nothing can be kept
}

// openCache gives what is known of earlier runs, and keeps what this one works out; nil where that is not asked for, or
// cannot be had. common stands for what all pieces depend on beside their inputs.
func (o *workOptions) openCache(env *environment, job pipeline.Job, common string) (*knownPieces, error) {
	shared := o.shards.shard.any() || o.shards.joined != nil
	if k := slices.IndexFunc(o.requests, request.isMatter); k >= 0 {
		if shared {
			return nil, fmt.Errorf("the %s looks at every note and cannot be shared out\n"+
				"hint: ask for it in a run of its own", o.requests[k].format)
		}
		return nil, nil // front and back matter look at every note of the score
	}
	build, err := buildSum(env)
	if err != nil && shared {
		return nil, fmt.Errorf("reading this program, by which parts are known to belong together: %w", err)
	}
	if err != nil {
		return nil, nil
	}
	k := &knownPieces{
		env: env, build: build, root: job.Collection.Root, keys: map[string]string{},
		found: map[string]*pieceOutcome{}, said: map[string]*saidOfPiece{},
		common: fmt.Sprintf("%s %s %q", build, common, job.Collection.Manifest),
	}
	if dir, err := o.cache.folder(); err == nil && !o.cache.off && o.shards.joined == nil {
		k.own, k.stages, k.drawings = files.OpenCache(dir), stagesIn(dir), drawingsIn(dir)
		k.caches = append(k.caches, k.own)
	}
	if store := passed.In(job.Collection.Root); store.There() {
		k.passed = &store
	}
	if o.shards.shard.any() {
		k.part, k.parts = o.shards.part, files.OpenCache(o.shards.parts)
		k.part.Program, k.part.Common = build, k.common
		k.caches = append(k.caches, k.parts)
	}
	if o.shards.joined != nil {
		pressOf := o.shards.pressOf
		if pressOf == nil {
			pressOf = func(string) bool { return job.Press }
		}
		return k, k.join(o.shards.joined, job, pressOf)
	}
	if len(k.caches) == 0 {
		return nil, nil
	}
	return k, nil
}

// buildSum stands for this program: whatever it does otherwise, it is another file.
var buildSum = func() func(env *environment) (string, error) {
	var once sync.Once
	var sum string
	var fault error
	return func(env *environment) (string, error) {
		once.Do(func() {
			sum, fault = files.SumOfFile(env.Program)
		})
		return sum, fault
	}
}()

// key stands for everything that a piece's outcome depends on.
func (k *knownPieces) key(w *pipeline.PieceRun) string {
	h := sha256.New()
	today := ""
	heads := map[string]bool{} // the page saves a file with its head, though its decisions say the same below another one
	for _, d := range w.Decisions {
		if !heads[d.File] {
			heads[d.File] = true
			fmt.Fprintf(h, "%q\n", d.HeadLines())
		}
		if d.Until != "" {
			today = w.Today
		}
		fmt.Fprintf(h, "%q %q\n", d.Place(), decision.AsWritten(d))
	}
	fmt.Fprintf(h, "%s\n%s %s %s %s %s %q %v %q\n%s\n", k.common, source.Sum(w.Data), w.Policy.Sum(), w.Weights.Sum,
		w.Setting, decision.Sum(w.Decisions), today, w.Press, w.Edition, pipeline.EngineVersion)
	fmt.Fprintf(h, "%q %v\n", w.Heads, w.Unedited)
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

// find puts into a run what an earlier one came to from the same inputs, and says whether there was one. Its error is
// the piece's.
func (k *knownPieces) find(w *pipeline.PieceRun) (bool, error) {
	if k == nil {
		return false, nil
	}
	out, result := k.get(k.noted(w))
	if out == nil {
		return false, k.mustBeKnown(w.Piece.ID)
	}
	w.Result = result
	if k.part != nil {
		k.keep(w, out)
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	said := out.Said // by itself: what is said stays to the end of the run, the files do not
	k.said[w.Piece.ID] = &said
	if w.Edition != "" { // lint leaves no files
		k.found[w.Piece.ID] = out
	}
	return true, nil
}

// noted gives the key of a piece, and notes it for when the piece is kept.
func (k *knownPieces) noted(w *pipeline.PieceRun) string {
	key := k.key(w)
	k.mutex.Lock()
	defer k.mutex.Unlock()
	k.keys[w.Piece.ID] = key
	return key
}

// get looks for a piece under a key.
func (k *knownPieces) get(key string) (*pieceOutcome, *state.Result) {
	entry := k.kept(key)
	if entry == nil {
		return nil, nil
	}
	out, err := unpack(entry)
	if err != nil {
		return nil, nil
	}
	result, err := state.Decode(entry.Part(resultHead))
	if err != nil {
		return nil, nil
	}
	return out, result
}

// kept is what lies under a key in any of the caches, nil where nothing does.
func (k *knownPieces) kept(key string) *files.Entry {
	for _, cache := range k.caches {
		if entry := cache.Open(key); entry != nil {
			return entry
		}
	}
	return nil
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

// keep keeps what a piece came to.
func (k *knownPieces) keep(w *pipeline.PieceRun, out *pieceOutcome) {
	if k == nil {
		return
	}
	parts, err := pack(out)
	k.put(w, parts, err)
}

// put keeps the parts of what a piece came to. A cache that cannot be written is said once, and spoils nothing; a part has to be whole.
func (k *knownPieces) put(w *pipeline.PieceRun, parts [][]byte, err error) {
	k.mutex.Lock()
	key := k.keys[w.Piece.ID]
	k.mutex.Unlock()
	if k.part != nil {
		fault := err
		if err == nil {
			fault = k.parts.Put(key, parts...)
		}
		k.mutex.Lock()
		k.fault = errors.Join(k.fault, fault)
		k.mutex.Unlock()
	}
	if err == nil && k.own != nil {
		err = k.own.Put(key, parts...)
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

// keepFindings keeps what lint found in a piece that was worked out.
func (k *knownPieces) keepFindings(c *corpus.Collection) func(context.Context, *pipeline.PieceRun) error {
	return func(_ context.Context, w *pipeline.PieceRun) error {
		if k == nil || k.saidOf(w.Piece.ID) != nil {
			return nil
		}
		head := *w.Result
		head.Notes = nil
		results, err := state.Encode(&head)
		if err != nil {
			return err
		}
		k.keep(w, &pieceOutcome{Results: folder.Whole(results), Said: saidOf(c.Manifest != "", w)})
		return nil
	}
}

// sharesOut says that this run is a shard, which has to leave every piece.
func (k *knownPieces) sharesOut() bool { return k != nil && k.part != nil }

// stagesIn is the cache of the stages that search, in the folder of the cache of whole pieces.
func stagesIn(dir string) *files.Cache { return files.OpenCache(filepath.Join(dir, "stages")) }

// drawingsIn is the cache of drawings, in the folder of the cache of whole pieces.
func drawingsIn(dir string) *files.Cache { return files.OpenCache(filepath.Join(dir, "drawings")) }

// keptDrawings is where drawings are kept; nil where nothing is.
func (o *cacheOptions) keptDrawings() *engrave.Kept {
	dir, err := o.folder()
	if err != nil || o.off {
		return nil
	}
	cache := drawingsIn(dir)
	// What cannot be kept is drawn again; that the cache cannot be written is said where pieces are kept.
	return &engrave.Kept{Get: cache.Get, Put: func(key string, data []byte) { _ = cache.Put(key, data) }}
}

// forStages is where stages keep what they came to; nil where nothing is kept.
func (k *knownPieces) forStages() *pipeline.Kept {
	if k == nil || k.stages == nil {
		return nil
	}
	// What cannot be kept is worked out again; that the cache cannot be written is said where pieces are kept.
	return &pipeline.Kept{
		Program: k.build, Get: k.stages.Get, Put: func(key string, data []byte) { _ = k.stages.Put(key, data) },
	}
}

// trim keeps the cache within its bounds.
func (k *knownPieces) trim() {
	if k != nil && k.own != nil {
		// Where this fails the next run tries again.
		_ = k.own.Trim(time.Now().Add(-longUnused), mostCached)
		_ = k.stages.Trim(time.Now().Add(-longUnused), mostCached/2)
		_ = k.drawings.Trim(time.Now().Add(-longUnused), mostCached/8)
	}
}

// The parts of an entry: what is read of every piece that is known, and behind it the files as they are, which are read
// where they do not stand as they should.
const (
	outcomeHead = iota
	resultHead
	firstFile
)

// keptHead is what an entry says of a piece and its files.
type keptHead struct {
	File  string
	Files []keptFile
	Index *page.Entry
	Said  saidOfPiece
}

// keptFile is the size and sum of a file; no sum: there is none.
type keptFile struct {
	Size int64
	Sum  string
}

// pack gives the parts of which an entry is made.
func pack(out *pieceOutcome) ([][]byte, error) {
	head := keptHead{File: out.File, Index: out.Index, Said: out.Said}
	parts := make([][]byte, firstFile)
	for _, c := range out.contents() {
		data, err := c.Bytes()
		if err != nil {
			return nil, err
		}
		file := keptFile{Size: c.Size()}
		if data != nil {
			file.Sum = c.Sum()
		}
		head.Files, parts = append(head.Files, file), append(parts, data)
	}
	results, err := state.Head(bytes.NewReader(parts[firstFile+3]))
	if err != nil {
		return nil, err
	}
	parts[resultHead] = results
	parts[outcomeHead], err = json.Marshal(head)
	return parts, err
}

// unpack reads what pack writes, the files when they are asked for.
func unpack(entry *files.Entry) (*pieceOutcome, error) {
	var head keptHead
	if err := json.Unmarshal(entry.Part(outcomeHead), &head); err != nil {
		return nil, err
	}
	out := &pieceOutcome{File: head.File, Index: head.Index, Said: head.Said}
	contents := out.contents()
	if len(head.Files) != len(contents) {
		return nil, fmt.Errorf("an entry of the cache has %d files, not %d", len(head.Files), len(contents))
	}
	for i, file := range head.Files {
		if file.Sum == "" {
			continue
		}
		*contents[i] = folder.Elsewhere(file.Size, file.Sum, func() ([]byte, error) {
			data := entry.Part(firstFile + i)
			if int64(len(data)) != file.Size {
				return nil, fmt.Errorf("what the cache keeps of %s is not whole\nhint: fingerproof cache clear", head.File)
			}
			return data, nil
		})
	}
	return out, nil
}
