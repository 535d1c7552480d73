package engrave

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/experimental"
)

// Options say where things lie. They come from the command; this package reads no environment.
type Options struct {
	// Package is the folder that holds the engraver's node_modules (see FindPackage). It may be empty once CacheDir
	// holds the prepared engraver.
	Package string
	// CacheDir is where the prepared engraver and its native code are kept; about 30 MB. It must be trusted: what lies
	// there runs.
	CacheDir string
	// Node is the command that runs Node, once, to prepare the engraver; "node" where empty.
	Node string
	// MemoryMiB bounds the memory of one worker's instance; 0 means 1024.
	MemoryMiB int
	// Process is the command line of a program that calls Serve with these options but for this one. Where it is given,
	// each worker draws in such a process, so that it can be stopped; else in this one.
	Process []string
	// Limit is how long an excerpt may take in a process; 0 means DefaultLimit. A long score gets more.
	Limit time.Duration
	// Kept is where drawings are kept; nil: each is drawn anew.
	Kept *Kept
}

// Press is the compiled engraver. It may be used by several goroutines; each takes its own Worker.
type Press struct {
	cache   wazero.CompilationCache
	runtime wazero.Runtime
	module  wazero.CompiledModule
	exports map[string]string
	process []string // see Options
	limit   time.Duration
	kept    *Kept

	mutex    sync.Mutex
	children []*child // processes that were started; those that ended among them
}

// Open makes the engraver ready: from the cache in about a tenth of a second, the first time in some seconds. Where
// the engraver is not installed the error is ErrMissing and says what to do.
func Open(ctx context.Context, options Options) (*Press, error) {
	module, table, err := prepared(ctx, options)
	if err != nil {
		return nil, err
	}
	limit := options.Limit
	if limit <= 0 {
		limit = DefaultLimit
	}
	if options.Process != nil {
		return &Press{process: options.Process, limit: limit, kept: options.Kept}, nil
	}
	cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(cacheFolder(options), "native"))
	if err != nil {
		return nil, fmt.Errorf("opening the engraver's cache: %w", err)
	}
	press := &Press{cache: cache, exports: table.Exports, limit: limit, kept: options.Kept}
	if err := press.link(ctx, options, module, table); err != nil {
		press.Close(ctx)
		return nil, err
	}
	return press, nil
}

func (p *Press) link(ctx context.Context, options Options, module []byte, table names) error {
	const pagesPerMiB = 16
	memory := options.MemoryMiB
	if memory <= 0 {
		memory = 1024
	}
	// The module's memory may not pass 2 GiB: it was linked with that maximum, and addresses are read as signed in
	// places.
	memory = min(memory, 2048)
	p.runtime = wazero.NewRuntimeWithConfig(ctx, wazero.NewRuntimeConfig().
		WithCompilationCache(p.cache).
		WithMemoryLimitPages(uint32(memory*pagesPerMiB)).
		// Not WithCloseOnContextDone: its checks in every loop make the engraver eight times slower (an excerpt 115 ms,
		// not 15). A cancelled context is honoured between calls and whenever the engraver asks the host for something; what
		// must be stopped at any time draws in a process of its own.
		WithDebugInfoEnabled(false))
	var err error
	compileCtx := experimental.WithCompilationWorkers(ctx, runtime.GOMAXPROCS(0))
	if p.module, err = p.runtime.CompileModule(compileCtx, module); err != nil {
		return fmt.Errorf("compiling the engraver: %w", err)
	}
	return buildHost(ctx, p.runtime, p.module, table)
}

// Worker gives one engraver with its own memory. It is for one goroutine at a time.
func (p *Press) Worker(ctx context.Context) (*Worker, error) {
	worker := &Worker{press: p}
	if p.process != nil {
		return worker, nil // its process starts with its first excerpt
	}
	if err := worker.renew(ctx); err != nil {
		return nil, err
	}
	return worker, nil
}

// Close frees the compiled engraver and every worker.
func (p *Press) Close(ctx context.Context) error {
	p.mutex.Lock()
	for _, c := range p.children {
		c.end()
	}
	p.mutex.Unlock()
	if p.runtime != nil {
		if err := p.runtime.Close(ctx); err != nil {
			return fmt.Errorf("closing the engraver: %w", err)
		}
	}
	if p.cache == nil {
		return nil
	}
	return p.cache.Close(ctx)
}
