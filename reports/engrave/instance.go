package engrave

import (
	"context"
	"fmt"
	"strings"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
)

// instance is one running engraver: a module with its memory and the toolkit object inside it.
type instance struct {
	module  api.Module
	host    *host
	exports map[string]string
	toolkit uint64
	options string // the engraver's options as last set
}

// start makes an instance and its toolkit.
func (p *Press) start(ctx context.Context) (*instance, error) {
	started := &instance{host: newHost(), exports: p.exports}
	ctx = started.in(ctx)
	var err error
	// Without a name any number of instances can live in one runtime; the constructors are called by hand, as the
	// script does.
	started.module, err = p.runtime.InstantiateModule(
		ctx, p.module, wazero.NewModuleConfig().WithName("").WithStartFunctions(),
	)
	if err != nil {
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	if _, err := started.call(ctx, constructName); err != nil {
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	// Log lines go to the host, level 1 (errors) and 2 (warnings) only.
	if _, err := started.call(ctx, "_enableLog", 2); err != nil {
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	if started.toolkit, err = started.call(ctx, "_vrvToolkit_constructor"); err != nil {
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	return started, nil
}

func (in *instance) in(ctx context.Context) context.Context {
	return context.WithValue(ctx, hostKey{}, in.host)
}

// call runs an exported function by its plain name. Functions without result give 0.
func (in *instance) call(ctx context.Context, name string, arguments ...uint64) (uint64, error) {
	short, ok := in.exports[name]
	if !ok {
		return 0, fmt.Errorf("calling the engraver: it exports no %s", name)
	}
	function := in.module.ExportedFunction(short)
	if function == nil || len(function.Definition().ParamTypes()) != len(arguments) {
		return 0, fmt.Errorf("calling the engraver: %s has another signature than the one tested", name)
	}
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	results, err := function.Call(in.in(ctx), arguments...)
	if err != nil {
		if ctx.Err() != nil {
			return 0, ctx.Err()
		}
		return 0, trapError(name, err)
	}
	if len(results) == 0 {
		return 0, nil
	}
	return results[0], nil
}

// trapError shortens wazero's error, whose further lines are addresses in the engraver.
func trapError(name string, err error) error {
	reason, _, _ := strings.Cut(err.Error(), "\n")
	return fmt.Errorf("engraver trapped in %s: %s", strings.TrimPrefix(name, "_vrvToolkit_"), reason)
}

// tool calls a function of the toolkit, with strings placed in the engraver's memory for the time of the call.
func (in *instance) tool(ctx context.Context, name string, arguments ...any) (uint64, error) {
	values := []uint64{in.toolkit}
	var placed []uint64
	for _, argument := range arguments {
		switch argument := argument.(type) {
		case int:
			values = append(values, api.EncodeI32(int32(argument)))
		case string:
			at, err := in.place(ctx, argument)
			if err != nil {
				return 0, err
			}
			placed, values = append(placed, at), append(values, at)
		}
	}
	result, err := in.call(ctx, "_vrvToolkit_"+name, values...)
	if err != nil {
		return 0, err
	}
	for _, at := range placed {
		if _, err := in.call(ctx, "_free", at); err != nil {
			return 0, err
		}
	}
	return result, nil
}

// text is tool for functions that give a string.
func (in *instance) text(ctx context.Context, name string, arguments ...any) (string, error) {
	at, err := in.tool(ctx, name, arguments...)
	if err != nil {
		return "", err
	}
	return readString(in.module.Memory(), uint32(at), 0), nil
}

func (in *instance) place(ctx context.Context, text string) (uint64, error) {
	at, err := in.call(ctx, "_malloc", uint64(len(text)+1))
	if err != nil {
		return 0, err
	}
	memory := in.module.Memory()
	if at == 0 || !memory.WriteString(uint32(at), text) || !memory.WriteByte(uint32(at)+uint32(len(text)), 0) {
		return 0, fmt.Errorf("engraver has no room for %d bytes", len(text))
	}
	return at, nil
}
