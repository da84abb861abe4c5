package buck_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// marked is what says where a number is from: a source, a standard, a derivation or measurement of our own, or the word that
// there is none.
var marked = regexp.MustCompile(`(?i)source|from\s+memory|deriv|measured|common practice|\b(ISO|ASME|DIN|NIST|SPE|BS) ?[A-Z]?[0-9]|\b(19|20)[0-9]{2}\b`)

// unit is what tells that a whole number is a measure.
var unit = regexp.MustCompile(`\b(mm|mm2|mm3|deg|degrees|radians|MPa|rpm|m/min|mm/min)\b|%|°`)

// looks are the rooms whose numbers are how papers, pictures and pages look, or of a twin that judges others: no maker works by
// them.
var looks = regexp.MustCompile(`^(bucktest|paper|picture|batch/picture|path/picture|internal/(page|twin|lettering)|layout/(plan|sheet)\.go|fixture/(picture|sheet)\.go|planned\.go)`)

// tiny is what a number's least is that is no rounding: a file's own is 0.01 mm.
const tiny = 0.01

// TestConstantsHaveSources finds the numbers that the house has by name, and that a maker or engineer would ask about: every
// constant of the library that is no whole number, or is told to be so many mm, degrees, newtons and so on. Its own comment, that
// of its group, or a file's words on its numbers say where it is from.
func TestConstantsHaveSources(t *testing.T) {
	found := 0
	err := fs.WalkDir(os.DirFS("."), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || looks.MatchString(path) {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		all, lacking, err := constants(path, text)
		found += all
		for _, one := range lacking {
			t.Errorf("%s: no word on where it is from: a source, \"derived\", \"measured\", \"common practice, no source\" or \"from memory\"", one)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if found < 100 {
		t.Errorf("%d constants were looked at", found)
	}
}

// TestConstantsLacking finds a number without a mark, and none that has one or is no measure.
func TestConstantsLacking(t *testing.T) {
	const text = `package p

// Doc of all; from memory.
const (
	a = 0.5
	b = 3 // mm
)

const c = 0.25 // mm

const d, e = 4, 1e-9

const f = 4 // degrees

func g() {
	const h = 2.5
	const i = 2.5 // common practice, no source
	const j = "0.5 mm"
}
`
	found, lacking, err := constants("p.go", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(lacking, "; "); found != 6 || got != "p.go:9:7: c = 0.25; p.go:13:7: f = 4; p.go:16:8: h = 2.5" {
		t.Errorf("%d, lacking %s", found, got)
	}
}

// constants are how many measures a file has by name, and those that nothing is said of.
func constants(path string, text []byte) (found int, lacking []string, err error) {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, text, parser.ParseComments)
	if err != nil {
		return 0, nil, err
	}
	ast.Inspect(file, func(n ast.Node) bool {
		group, ok := n.(*ast.GenDecl)
		if !ok || group.Tok != token.CONST {
			return true
		}
		for _, spec := range group.Specs {
			one := spec.(*ast.ValueSpec)
			said := group.Doc.Text() + one.Doc.Text() + one.Comment.Text()
			if !measure(one, said) {
				continue
			}
			if found++; !marked.MatchString(said) {
				lacking = append(lacking, fmt.Sprintf("%s: %s", set.Position(one.Pos()), names(one)))
			}
		}
		return true
	})
	return found, lacking, nil
}

// measure tells whether a constant is a number that has a unit.
func measure(one *ast.ValueSpec, said string) bool {
	fraction, number := false, false
	for _, v := range one.Values {
		ast.Inspect(v, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok {
				return true
			}
			if v, err := strconv.ParseFloat(lit.Value, 64); err != nil || v < tiny {
				return true // no number in figures, or a rounding
			}
			fraction = fraction || lit.Kind == token.FLOAT
			number = number || lit.Kind == token.INT || lit.Kind == token.FLOAT
			return true
		})
	}
	return fraction || number && unit.MatchString(said)
}

func names(one *ast.ValueSpec) string {
	var all []string
	for i, n := range one.Names {
		said := n.Name
		if i < len(one.Values) {
			if lit, ok := one.Values[i].(*ast.BasicLit); ok {
				said += " = " + lit.Value
			}
		}
		all = append(all, said)
	}
	return fmt.Sprint(strings.Join(all, ", "))
}
