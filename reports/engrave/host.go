package engrave

import (
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
)

// host is what one instance of the engraver sees of the world: its own embedded files, a clock that stands still, and
// chance that is always the same, so that the same score gives the same bytes.
type host struct {
	files *embeddedFiles
	log   []string
}

const maxLogLines = 50

func newHost() *host { return &host{files: newEmbeddedFiles()} }

type hostKey struct{}

// hostOf finds the host of the instance that is calling. It travels in the context, so that one runtime serves all
// workers.
func hostOf(ctx context.Context) *host { return ctx.Value(hostKey{}).(*host) }

type (
	hostCall  func(ctx context.Context, memory api.Memory, stack []uint64)
	hostEntry struct {
		params, results []api.ValueType
		call            hostCall
	}
)

const (
	i32 = api.ValueTypeI32
	i64 = api.ValueTypeI64
	f64 = api.ValueTypeF64
)

// Error numbers of the system interface the engraver was compiled against.
const (
	errBadFile  = 8
	errInvalid  = 28
	errNoEntry  = 44
	errNoDevice = 59
)

func failure(number int32) uint64 { return api.EncodeI32(-number) }

// hostFunctions is every function the pinned engraver imports, under its plain name.
var hostFunctions = map[string]hostEntry{
	"___assert_fail": {[]api.ValueType{i32, i32, i32, i32}, nil, func(
		_ context.Context, memory api.Memory, stack []uint64,
	) {
		panic(fmt.Errorf("assertion failed in the engraver: %s", readString(memory, uint32(stack[0]), 200)))
	}},
	"__abort_js": {nil, nil, func(context.Context, api.Memory, []uint64) { panic(fmt.Errorf("the engraver gave up")) }},
	"_exit": {
		[]api.ValueType{i32}, nil,
		func(context.Context, api.Memory, []uint64) { panic(fmt.Errorf("the engraver left")) },
	},

	"__emscripten_fs_load_embedded_files": {[]api.ValueType{i32}, nil, func(
		ctx context.Context, memory api.Memory, stack []uint64,
	) {
		hostOf(ctx).files.load(memory, uint32(stack[0]))
	}},
	"___syscall_openat": {[]api.ValueType{i32, i32, i32, i32}, []api.ValueType{i32}, func(
		ctx context.Context, memory api.Memory, stack []uint64,
	) {
		stack[0] = hostOf(ctx).files.open(readString(memory, uint32(stack[1]), 4096))
	}},
	"___syscall_getdents64": {[]api.ValueType{i32, i32, i32}, []api.ValueType{i32}, func(
		ctx context.Context, memory api.Memory, stack []uint64,
	) {
		stack[0] = hostOf(ctx).files.list(memory, uint32(stack[0]), uint32(stack[1]), uint32(stack[2]))
	}},
	"___syscall_fcntl64": {[]api.ValueType{i32, i32, i32}, []api.ValueType{i32}, answer(0)},
	"___syscall_ioctl":   {[]api.ValueType{i32, i32, i32}, []api.ValueType{i32}, answer(failure(errNoDevice))},
	"_fd_close": {[]api.ValueType{i32}, []api.ValueType{i32}, func(ctx context.Context, _ api.Memory, stack []uint64) {
		stack[0] = hostOf(ctx).files.close(uint32(stack[0]))
	}},
	"_fd_read": {[]api.ValueType{i32, i32, i32, i32}, []api.ValueType{i32}, func(
		ctx context.Context, memory api.Memory, stack []uint64,
	) {
		stack[0] = hostOf(ctx).files.read(
			memory, uint32(stack[0]), uint32(stack[1]), uint32(stack[2]), uint32(stack[3]),
		)
	}},
	"_fd_seek": {[]api.ValueType{i32, i64, i32, i32}, []api.ValueType{i32}, func(
		ctx context.Context, memory api.Memory, stack []uint64,
	) {
		stack[0] = hostOf(ctx).files.seek(memory, uint32(stack[0]), int64(stack[1]), uint32(stack[2]), uint32(stack[3]))
	}},
	"_fd_write": {[]api.ValueType{i32, i32, i32, i32}, []api.ValueType{i32}, func(
		ctx context.Context, memory api.Memory, stack []uint64,
	) {
		stack[0] = swallow(memory, uint32(stack[1]), uint32(stack[2]), uint32(stack[3]))
	}},

	"_emscripten_asm_const_int": {[]api.ValueType{i32, i32, i32}, []api.ValueType{i32}, func(
		ctx context.Context, memory api.Memory, stack []uint64,
	) {
		// The pinned engraver has five such snippets; each writes the message its one argument points at.
		if message, ok := memory.ReadUint32Le(uint32(stack[2])); ok {
			hostOf(ctx).note(readString(memory, message, 1000))
		}
		stack[0] = 0
	}},
	"_emscripten_date_now":    {nil, []api.ValueType{f64}, answer(math.Float64bits(0))},
	"_emscripten_resize_heap": {[]api.ValueType{i32}, []api.ValueType{i32}, growHeap},
	"__localtime_js": {[]api.ValueType{i64, i32}, []api.ValueType{i32}, func(
		_ context.Context, memory api.Memory, stack []uint64,
	) {
		// struct tm of the first of January 1970: sec, min, hour, mday, mon, year, wday (a Thursday), yday, isdst, gmtoff.
		for i, field := range []uint32{0, 0, 0, 1, 0, 70, 4, 0, 0, 0} {
			memory.WriteUint32Le(uint32(stack[1])+uint32(4*i), field)
		}
		stack[0] = 0
	}},
	"__mktime_js": {[]api.ValueType{i32}, []api.ValueType{i64}, answer(0)},
	"__tzset_js": {[]api.ValueType{i32, i32, i32, i32}, nil, func(
		_ context.Context, memory api.Memory, stack []uint64,
	) {
		memory.WriteUint32Le(uint32(stack[0]), 0)
		memory.WriteUint32Le(uint32(stack[1]), 0)
		memory.Write(uint32(stack[2]), []byte("UTC\x00"))
		memory.Write(uint32(stack[3]), []byte("UTC\x00"))
	}},
	"_environ_get": {[]api.ValueType{i32, i32}, []api.ValueType{i32}, answer(0)},
	"_environ_sizes_get": {[]api.ValueType{i32, i32}, []api.ValueType{i32}, func(
		_ context.Context, memory api.Memory, stack []uint64,
	) {
		memory.WriteUint32Le(uint32(stack[0]), 0)
		memory.WriteUint32Le(uint32(stack[1]), 0)
		stack[0] = 0
	}},
	"_random_get": {[]api.ValueType{i32, i32}, []api.ValueType{i32}, func(
		_ context.Context, memory api.Memory, stack []uint64,
	) {
		if bytes, ok := memory.Read(uint32(stack[0]), uint32(stack[1])); ok {
			clear(bytes)
		}
		stack[0] = 0
	}},
}

func answer(value uint64) hostCall {
	return func(_ context.Context, _ api.Memory, stack []uint64) { stack[0] = value }
}

// growHeap enlarges the engraver's memory by at least a fifth, so that a big score does not ask a thousand times.
// Beyond the runtime's limit it says no, and the engraver's allocation fails: a trap, not a full machine.
func growHeap(_ context.Context, memory api.Memory, stack []uint64) {
	const page = 65536
	wanted, have := uint64(uint32(stack[0])), uint64(memory.Size())
	for _, size := range []uint64{max(wanted, have+have/5), wanted} {
		pages := (size - have + page - 1) / page
		if _, ok := memory.Grow(uint32(pages)); ok {
			stack[0] = 1
			return
		}
	}
	stack[0] = 0
}

func (h *host) note(line string) {
	if len(h.log) < maxLogLines {
		h.log = append(h.log, strings.TrimSpace(line))
	}
}

// buildHost gives the runtime the imports of the module, and refuses a module that asks for anything it was not
// tested with.
func buildHost(ctx context.Context, runtime wazero.Runtime, module wazero.CompiledModule, table names) error {
	builder := runtime.NewHostModuleBuilder("a")
	for _, wanted := range module.ImportedFunctions() {
		from, short, _ := wanted.Import()
		plain, known := table.Imports[short]
		entry, given := hostFunctions[plain]
		if from != "a" || !known || !given {
			return fmt.Errorf("linking the engraver: unknown import %s.%s (%q)", from, short, plain)
		}
		if !sameTypes(wanted.ParamTypes(), entry.params) || !sameTypes(wanted.ResultTypes(), entry.results) {
			return fmt.Errorf("linking the engraver: import %s has another signature than the one tested", plain)
		}
		builder.NewFunctionBuilder().WithGoModuleFunction(api.GoModuleFunc(func(
			ctx context.Context, caller api.Module, stack []uint64,
		) {
			if err := ctx.Err(); err != nil {
				panic(err)
			}
			entry.call(ctx, caller.Memory(), stack)
		}), entry.params, entry.results).WithName(plain).Export(short)
	}
	if _, err := builder.Instantiate(ctx); err != nil {
		return fmt.Errorf("linking the engraver: %w", err)
	}
	return nil
}

func sameTypes(a, b []api.ValueType) bool { return string(a) == string(b) }
