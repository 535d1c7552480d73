package codemutants

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"hash/fnv"
	"path/filepath"
	"strings"

	"golang.org/x/tools/go/packages"
)

// Mutant is one small change of a package's source.
type Mutant struct {
	// ID names the mutant by what it changes and in which function, not by its line: it stays the same while code
	// around it moves.
	ID     string
	File   string // base name
	Line   int
	Column int
	Func   string
	Kind   Kind
	Was    string // the changed source, on one line
	Now    string

	number int // of the mutant in the instrumented source, from 1
	wraps  []wrap
	swaps  []swap
}

// Kind is the kind of change.
type Kind string

// The kinds of change.
const (
	Negated  Kind = "condition negated"
	Boundary Kind = "boundary moved"
	Logic    Kind = "and/or exchanged"
	Operator Kind = "operator exchanged"
	Constant Kind = "constant changed"
	Removed  Kind = "statement removed"
	Returned Kind = "return value changed"
)

// String tells the change in one line.
func (m *Mutant) String() string {
	return fmt.Sprintf("%s  %s:%d:%d  %s: %s: %s → %s", m.ID, m.File, m.Line, m.Column, m.Func, m.Kind, m.Was, m.Now)
}

// wrap puts text before and after a stretch of source. Of two around the same stretch the one of the higher layer
// lies outside.
type wrap struct {
	from, to      int // offsets in the file
	before, after string
	layer         int
}

// swap replaces a token.
type swap struct {
	at, length int
	text       string
}

// large is the size from which a constant is doubled and halved instead of raised and lowered by one: nobody would
// notice a price of 1501 thousandths instead of 1500.
const large = 64

// finder walks one file and collects its mutants.
type finder struct {
	pkg    *packages.Package
	file   *ast.File
	source []byte
	base   int               // position of the file's first byte
	locals map[string]string // import path → name in this file
	out    *[]*Mutant
	serial map[string]int
	fn     string
	result []ast.Expr // types of the results of the innermost function, one entry each; nil entries where not written
	stack  []ast.Node
}

// find lists every mutant of a package in the order of its files.
func find(pkg *packages.Package, sources map[string][]byte) []*Mutant {
	var out []*Mutant
	serial := map[string]int{}
	for _, file := range pkg.Syntax {
		tf := pkg.Fset.File(file.FileStart)
		f := &finder{
			pkg: pkg, file: file, source: sources[tf.Name()], base: tf.Base(),
			locals: map[string]string{}, out: &out, serial: serial,
		}
		for _, spec := range file.Imports {
			name := pkg.TypesInfo.PkgNameOf(spec)
			if name != nil && name.Name() != "_" && name.Name() != "." {
				f.locals[name.Imported().Path()] = name.Name()
			}
		}
		for _, d := range file.Decls {
			f.declaration(d)
		}
	}
	for i, m := range out {
		m.number = i + 1
	}
	return out
}

func (f *finder) declaration(d ast.Decl) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Body == nil {
			return
		}
		f.fn = d.Name.Name
		if d.Recv != nil && len(d.Recv.List) > 0 {
			f.fn = f.text(d.Recv.List[0].Type) + "." + f.fn
		}
		f.result = results(d.Type)
		f.walk(d.Body)
	case *ast.GenDecl:
		if d.Tok != token.VAR {
			return
		}
		for _, s := range d.Specs {
			v := s.(*ast.ValueSpec)
			f.fn, f.result = "var "+v.Names[0].Name, nil
			for _, x := range v.Values {
				f.walk(x)
			}
		}
	}
}

// results lists the written types of a function's results, one for each value.
func results(t *ast.FuncType) (out []ast.Expr) {
	if t.Results == nil {
		return nil
	}
	for _, r := range t.Results.List {
		for range max(len(r.Names), 1) {
			out = append(out, r.Type)
		}
	}
	return out
}

func (f *finder) walk(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		if n == nil {
			f.stack = f.stack[:len(f.stack)-1]
			return true
		}
		down := f.visit(n)
		if down {
			f.stack = append(f.stack, n)
		}
		return down
	})
}

// parent is the node k levels up, nil above the top.
func (f *finder) parent(k int) ast.Node {
	if k > len(f.stack) {
		return nil
	}
	return f.stack[len(f.stack)-k]
}

// visit collects the mutants of one node and says whether to look inside.
func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.FuncLit:
		outer := f.result
		f.result = results(n.Type)
		f.walk(n.Body)
		f.result = outer
		return false
	case *ast.ArrayType, *ast.StructType, *ast.FuncType, *ast.MapType, *ast.InterfaceType, *ast.ChanType:
		return false // constants in types have to stay constants
	case *ast.GenDecl:
		return n.Tok == token.VAR
	case *ast.CompositeLit:
		f.elements(n)
		return false
	case *ast.ReturnStmt:
		f.returns(n)
	case ast.Stmt:
		f.statement(n)
	case ast.Expr:
		return f.expression(n)
	}
	return true
}

// elements looks into a composite literal; keys of arrays have to stay constants, names of fields are none.
func (f *finder) elements(n *ast.CompositeLit) {
	_, isMap := types.Unalias(f.typeOf(n)).Underlying().(*types.Map)
	f.stack = append(f.stack, n)
	for _, e := range n.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			if isMap {
				f.walk(kv.Key)
			}
			e = kv.Value
		}
		f.walk(e)
	}
	f.stack = f.stack[:len(f.stack)-1]
}

func (f *finder) typeOf(x ast.Expr) types.Type {
	if t := f.pkg.TypesInfo.TypeOf(x); t != nil {
		return t
	}
	return types.Typ[types.Invalid]
}

func (f *finder) expression(x ast.Expr) bool {
	tv, known := f.pkg.TypesInfo.Types[x]
	if !known {
		return true
	}
	if tv.IsType() {
		return false
	}
	if tv.Value != nil {
		f.constant(x, tv)
		return false
	}
	switch x := x.(type) {
	case *ast.BinaryExpr:
		f.binary(x)
	case *ast.CallExpr, *ast.Ident, *ast.SelectorExpr, *ast.IndexExpr, *ast.UnaryExpr:
		if f.isCondition(x) && isBool(tv.Type) {
			f.negate(x)
		}
	}
	return true
}

func isBool(t types.Type) bool {
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsBoolean != 0
}

// isCondition says that x, no comparison itself, decides what is done.
func (f *finder) isCondition(x ast.Expr) bool {
	switch p := f.parent(1).(type) {
	case *ast.IfStmt:
		return p.Cond == x
	case *ast.ForStmt:
		return p.Cond == x
	case *ast.BinaryExpr:
		return p.Op == token.LAND || p.Op == token.LOR
	}
	return false
}

func (f *finder) negate(x ast.Expr) {
	was := f.text(x)
	f.add(x, Negated, was, "!("+was+")", func(number string) []wrap {
		return []wrap{f.around(x, "((", ") != mutantOn("+number+"))", 1)}
	})
}

// Operators that change places, and the function of the instrumented source that does either.
var exchanged = map[token.Token]struct {
	to   token.Token
	name string
}{
	token.ADD: {token.SUB, "mutantAdd"}, token.SUB: {token.ADD, "mutantSub"},
	token.MUL: {token.QUO, "mutantMul"}, token.QUO: {token.MUL, "mutantQuo"}, token.REM: {token.MUL, "mutantRem"},
	token.AND: {token.OR, "mutantAnd"}, token.OR: {token.AND, "mutantOr"},
	token.XOR: {token.AND, "mutantXor"}, token.AND_NOT: {token.AND, "mutantAndNot"},
	token.SHL: {token.SHR, "mutantShl"}, token.SHR: {token.SHL, "mutantShr"},
	token.LSS: {token.LEQ, "mutantLess"}, token.LEQ: {token.LSS, "mutantLessEqual"},
	token.GTR: {token.GEQ, "mutantGreater"}, token.GEQ: {token.GTR, "mutantGreaterEqual"},
}

func (f *finder) binary(x *ast.BinaryExpr) {
	was := f.text(x)
	switch x.Op {
	case token.LAND, token.LOR:
		to := token.LOR
		if x.Op == token.LOR {
			to = token.LAND
		}
		// a && b is what !(!a || !b) is: one negation switches all three.
		f.add(x, Logic, was, f.withOperator(x, to), func(number string) []wrap {
			on := ") != mutantOn(" + number + ")"
			return []wrap{f.around(x.X, "(", on, 2), f.around(x.Y, "(", on, 2), f.around(x, "((", on+")", 0)}
		})
		return
	case token.EQL, token.NEQ, token.LSS, token.LEQ, token.GTR, token.GEQ:
		f.negate(x)
	}
	e, ok := exchanged[x.Op]
	if !ok || !f.exchangeable(x) {
		return
	}
	kind := Operator
	if x.Op == token.LSS || x.Op == token.LEQ || x.Op == token.GTR || x.Op == token.GEQ {
		kind = Boundary
	}
	m := f.add(x, kind, was, f.withOperator(x, e.to), func(number string) []wrap {
		return []wrap{f.around(x, e.name+"("+number+", ", ")", 0)}
	})
	m.swaps = []swap{{int(x.OpPos) - f.base, len(x.Op.String()), ","}}
}

// exchangeable says that the operands suit the functions of the instrumented source.
func (f *finder) exchangeable(x *ast.BinaryExpr) bool {
	a, ok := f.typeOf(x.X).Underlying().(*types.Basic)
	if !ok {
		return false
	}
	info := a.Info()
	switch x.Op {
	case token.ADD:
		return info&types.IsNumeric != 0 && info&types.IsComplex == 0
	case token.SHL, token.SHR:
		return info&types.IsInteger != 0 && f.pkg.TypesInfo.Types[x.X].Value == nil
	}
	return info&types.IsOrdered != 0
}

func (f *finder) constant(x ast.Expr, tv types.TypeAndValue) {
	b, ok := tv.Type.Underlying().(*types.Basic)
	if !ok || b.Info()&types.IsInteger == 0 || b.Info()&types.IsUntyped != 0 {
		return
	}
	name, ok := f.typeName(tv.Type)
	if !ok {
		return
	}
	was, v := f.text(x), constant.ToInt(tv.Value)
	n, exact := constant.Int64Val(v)
	changes := [2]struct{ call, text string }{{"mutantUp", was + " + 1"}, {"mutantDown", was + " − 1"}}
	if !exact || n > large || n < -large {
		changes[0].call, changes[0].text = "mutantTwice", was+" · 2"
		changes[1].call, changes[1].text = "mutantHalf", was+" / 2"
	}
	for layer, c := range changes {
		f.add(x, Constant, was, c.text, func(number string) []wrap {
			return []wrap{f.around(x, c.call+"["+name+"]("+number+", ", ")", layer-2)}
		})
	}
}

// typeName writes a type as this file can; ok is false where it cannot.
func (f *finder) typeName(t types.Type) (name string, ok bool) {
	ok = true
	name = types.TypeString(t, func(p *types.Package) string {
		if p == f.pkg.Types {
			return ""
		}
		if local := f.locals[p.Path()]; local != "" {
			return local
		}
		ok = false
		return "?"
	})
	return name, ok
}

// statement collects what concerns a statement as a whole.
func (f *finder) statement(s ast.Stmt) {
	listed := false
	switch f.parent(1).(type) {
	case *ast.BlockStmt, *ast.CaseClause, *ast.CommClause:
		listed = true
	}
	if !listed {
		return
	}
	switch s := s.(type) {
	case *ast.AssignStmt:
		if s.Tok == token.DEFINE {
			return
		}
		f.signOf(s)
	case *ast.ExprStmt:
		if call, ok := s.X.(*ast.CallExpr); ok {
			if name, ok := call.Fun.(*ast.Ident); ok && name.Name == "panic" {
				return
			}
		}
	case *ast.IncDecStmt:
	case *ast.BranchStmt:
		if s.Tok != token.CONTINUE && s.Tok != token.BREAK || f.lastOfClause(s) {
			return
		}
	default:
		return
	}
	was := f.text(s)
	f.add(s, Removed, was, "(nothing)", func(number string) []wrap {
		return []wrap{f.around(s, "if !mutantOn("+number+") { ", " }", 4)}
	})
}

func (f *finder) lastOfClause(s ast.Stmt) bool {
	c, ok := f.parent(1).(*ast.CaseClause)
	return ok && len(c.Body) > 0 && c.Body[len(c.Body)-1] == s && s.(*ast.BranchStmt).Tok == token.BREAK
}

// signOf turns the sign of what is added to or taken from a variable.
func (f *finder) signOf(s *ast.AssignStmt) {
	if s.Tok != token.ADD_ASSIGN && s.Tok != token.SUB_ASSIGN {
		return
	}
	b, ok := f.typeOf(s.Lhs[0]).Underlying().(*types.Basic)
	if !ok || b.Info()&types.IsNumeric == 0 || b.Info()&types.IsComplex != 0 {
		return
	}
	name, ok := f.typeName(f.typeOf(s.Lhs[0]))
	if !ok {
		return
	}
	now := strings.Replace(f.text(s), "+=", "−=", 1)
	if s.Tok == token.SUB_ASSIGN {
		now = strings.Replace(f.text(s), "-=", "+=", 1)
	}
	f.add(s, Operator, f.text(s), now, func(number string) []wrap {
		return []wrap{f.around(s.Rhs[0], "mutantSign["+name+"]("+number+", ", ")", 3)}
	})
}

// returns collects changes of what a function gives back: another truth, one more, or the zero value.
func (f *finder) returns(r *ast.ReturnStmt) {
	if len(r.Results) != len(f.result) {
		return
	}
	for i, x := range r.Results {
		t := f.typeOf(f.result[i])
		tv := f.pkg.TypesInfo.Types[x]
		was := f.text(x)
		b, basic := t.Underlying().(*types.Basic)
		switch {
		case isBool(t):
			if _, compared := x.(*ast.BinaryExpr); compared {
				continue // negated or exchanged where it is compared
			}
			f.add(x, Returned, was, "!("+was+")", func(number string) []wrap {
				return []wrap{f.around(x, "((", ") != mutantOn("+number+"))", 3)}
			})
		case tv.Value != nil || tv.IsNil():
			// a constant is changed where it stands; the zero value stays the zero value
		case basic && b.Info()&types.IsInteger != 0:
			f.add(x, Returned, was, was+" + 1", func(number string) []wrap {
				return []wrap{f.around(x, "mutantUp["+f.text(f.result[i])+"]("+number+", ", ")", 3)}
			})
		default:
			if lit, ok := x.(*ast.CompositeLit); ok && len(lit.Elts) == 0 {
				continue
			}
			f.add(x, Returned, was, "zero value", func(number string) []wrap {
				return []wrap{f.around(x, "mutantZero["+f.text(f.result[i])+"]("+number+", ", ")", 3)}
			})
		}
	}
}

// add keeps a mutant at node n. wraps is given the mutant's number as it stands in the instrumented source.
func (f *finder) add(n ast.Node, kind Kind, was, now string, wraps func(number string) []wrap) *Mutant {
	at := f.pkg.Fset.Position(n.Pos())
	m := &Mutant{
		File: filepath.Base(at.Filename), Line: at.Line, Column: at.Column, Func: f.fn, Kind: kind, Was: was, Now: now,
	}
	key := strings.Join([]string{filepath.Base(filepath.Dir(at.Filename)), f.fn, string(kind), was, now}, "\x00")
	f.serial[key]++
	h := fnv.New64a()
	fmt.Fprintf(h, "%s\x00%d", key, f.serial[key])
	m.ID = fmt.Sprintf("%016x", h.Sum64())[:10]
	m.wraps = wraps(placeholder)
	*f.out = append(*f.out, m)
	return m
}

// placeholder stands for the number of a mutant until it is given.
const placeholder = "#"

func (f *finder) around(n ast.Node, before, after string, layer int) wrap {
	return wrap{int(n.Pos()) - f.base, int(n.End()) - f.base, before, after, layer}
}

// text is the source of a node on one line.
func (f *finder) text(n ast.Node) string {
	return strings.Join(strings.Fields(string(f.source[int(n.Pos())-f.base:int(n.End())-f.base])), " ")
}

func (f *finder) withOperator(x *ast.BinaryExpr, op token.Token) string {
	return f.text(x.X) + " " + op.String() + " " + f.text(x.Y)
}
