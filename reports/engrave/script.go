package engrave

import (
	"bytes"
	"fmt"
	"regexp"
	"unicode/utf8"
)

// names says what the minified names of the module's imports and exports stand for. They change with each release of
// the engraver.
type names struct {
	Imports map[string]string `json:"imports"` // minified name -> function the host gives
	Exports map[string]string `json:"exports"` // function the host calls -> minified name
}

var (
	moduleStart   = []byte("binaryDecode('")
	importsTable  = regexp.MustCompile(`var wasmImports=\{([^}]*)\}`)
	importEntry   = regexp.MustCompile(`^([A-Za-z_$][\w$]*):([A-Za-z_$][\w$]*)$`)
	exportEntry   = regexp.MustCompile(`([A-Za-z_$][\w$]*)=(?:Module\["[^"]+"\]=)?wasmExports\["([^"]+)"\]`)
	exportsTable  = regexp.MustCompile(`function assignWasmExports\(wasmExports\)\{([^}]*)\}`)
	constructors  = regexp.MustCompile(`TTY\.init\(\);wasmExports\["([^"]+)"\]\(\)`)
	constructName = "constructors"
)

// splitScript takes the engraver's JavaScript apart into its WebAssembly module and the map of names.
//
// The module lies in the script as one string literal, a character a byte, U+0100 standing for NUL.
func splitScript(script []byte) (module []byte, table names, err error) {
	start := bytes.Index(script, moduleStart)
	if start < 0 {
		return nil, names{}, fmt.Errorf("taking the engraver's script apart: no module literal found")
	}
	module, length, err := decodeLiteral(script[start+len(moduleStart):])
	if err != nil {
		return nil, names{}, fmt.Errorf("taking the engraver's script apart: %w", err)
	}
	// The names stand after the literal and in the code before it, never inside: cut the literal out before looking.
	glue := append(bytes.Clone(script[:start]), script[start+len(moduleStart)+length:]...)
	table, err = readNames(glue)
	if err != nil {
		return nil, names{}, fmt.Errorf("taking the engraver's script apart: %w", err)
	}
	return module, table, nil
}

// decodeLiteral reads a single-quoted JavaScript string up to its closing quote and gives its bytes and its length in
// the script.
func decodeLiteral(text []byte) (decoded []byte, length int, err error) {
	decoded = make([]byte, 0, len(text))
	for at := 0; at < len(text); {
		r, size := utf8.DecodeRune(text[at:])
		at += size
		switch {
		case r == utf8.RuneError && size <= 1:
			return nil, 0, fmt.Errorf("module literal: byte %d is not UTF-8", at)
		case r == '\'':
			return decoded, at, nil
		case r == '\\':
			if at == len(text) {
				return nil, 0, fmt.Errorf("module literal: ends inside an escape")
			}
			switch escaped := text[at]; escaped {
			case 'n':
				decoded = append(decoded, '\n')
			case 'r':
				decoded = append(decoded, '\r')
			case '\\', '\'':
				decoded = append(decoded, escaped)
			default:
				return nil, 0, fmt.Errorf("module literal: unknown escape \\%c at byte %d", escaped, at)
			}
			at++
		case r == 0x100:
			decoded = append(decoded, 0)
		case r < 0x100:
			decoded = append(decoded, byte(r))
		default:
			return nil, 0, fmt.Errorf("module literal: character %U at byte %d is no byte", r, at)
		}
	}
	return nil, 0, fmt.Errorf("module literal: no closing quote")
}

func readNames(glue []byte) (names, error) {
	table := names{Imports: map[string]string{}, Exports: map[string]string{}}
	imports := importsTable.FindSubmatch(glue)
	if imports == nil {
		return names{}, fmt.Errorf("no table of imports found")
	}
	for _, entry := range bytes.Split(imports[1], []byte(",")) {
		pair := importEntry.FindSubmatch(entry)
		if pair == nil {
			return names{}, fmt.Errorf("table of imports: cannot read %q", entry)
		}
		table.Imports[string(pair[1])] = string(pair[2])
	}
	exports := exportsTable.FindSubmatch(glue)
	if exports == nil {
		return names{}, fmt.Errorf("no table of exports found")
	}
	for _, pair := range exportEntry.FindAllSubmatch(exports[1], -1) {
		table.Exports[string(pair[1])] = string(pair[2])
	}
	start := constructors.FindSubmatch(glue)
	if start == nil {
		return names{}, fmt.Errorf("no call of the module's constructors found")
	}
	table.Exports[constructName] = string(start[1])
	return table, nil
}
