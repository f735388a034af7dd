package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// source is the syntax of a package's files without tests, with its string constants.
type source struct {
	files  []*ast.File
	consts map[string]string
}

func parseSource(t *testing.T, dir string) source {
	t.Helper()
	s := source{consts: map[string]string{}}
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no source in %s: %v", dir, err)
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		s.files = append(s.files, f)
	}
	s.walk(func(n ast.Node) {
		if v, ok := n.(*ast.ValueSpec); ok && len(v.Names) == len(v.Values) {
			for i, name := range v.Names {
				if text, ok := s.text(v.Values[i]); ok {
					s.consts[name.Name] = text
				}
			}
		}
	})
	return s
}

func (s source) walk(f func(ast.Node)) {
	for _, file := range s.files {
		ast.Inspect(file, func(n ast.Node) bool {
			if n != nil {
				f(n)
			}
			return true
		})
	}
}

// text evaluates a string literal, a constant, or a sum of them.
func (s source) text(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind != token.STRING {
			return "", false
		}
		v, err := strconv.Unquote(e.Value)
		return v, err == nil
	case *ast.Ident:
		v, ok := s.consts[e.Name]
		return v, ok
	case *ast.BinaryExpr:
		a, ok1 := s.text(e.X)
		b, ok2 := s.text(e.Y)
		return a + b, ok1 && ok2
	case *ast.ParenExpr:
		return s.text(e.X)
	}
	return "", false
}

// calls hands every call of a function or method to f, by its last name and, where it has one, its package or value.
func (s source) calls(f func(on, name string, args []ast.Expr)) {
	s.walk(func(n ast.Node) {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) == 0 {
			return
		}
		switch fun := call.Fun.(type) {
		case *ast.Ident:
			f("", fun.Name, call.Args)
		case *ast.SelectorExpr:
			on := ""
			if x, ok := fun.X.(*ast.Ident); ok {
				on = x.Name
			}
			f(on, fun.Sel.Name, call.Args)
		}
	})
}

// usedTexts are the keys that the code asks for by name.
func usedTexts(s source) map[string]bool {
	used := map[string]bool{}
	s.calls(func(on, name string, args []ast.Expr) {
		if on == "lang" && strings.Contains("L N X XN", name) || on == "" && (name == "phrase" || name == "counted") {
			if text, ok := s.text(args[0]); ok {
				used[text] = true
			}
		}
	})
	return used
}
