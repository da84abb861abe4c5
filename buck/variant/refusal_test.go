package variant_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"formbuck/buck/variant"

	"github.com/google/go-cmp/cmp"
)

// refusal is a faulty file.
type refusal struct {
	name, text string
}

// refusals are faulty files, named for their fault.
func refusals() []refusal {
	return []refusal{
		{"empty file", ""},
		{"only the drawing", "[drawing]\nfile = 'a.dxf'\n[blade]\n"},
		{"unknown key", least + "blade.thicknes = 3\n"},
		{"misspelt required key", "[drawing]\nflie = 'a.dxf'\n[blade]\nthikness = 3\n[handle]\nThickness = 22\n"},
		{"key of another table", least + "blade.rounding = 3\n"},
		{"key without its table", least + "thickness = 3\n"},
		{"line below another table", "[drawing]\nfile = 'a.dxf'\n[blade]\nthickness = 3\n[handle]\nthickness = 22\n[mill]\nhandle.thickness = 24\nblade.thicknes = 4\nname = 'otter'\nclip.length = 50\nstandoff.more.low.x = 4\n"},
		{"key without its table below another", least + "[mill]\nthickness = 3\n"},
		{"key like nothing", least + "throat.wibble = 3\ncolour = 'black'\n"},
		{"dotted key in quotes", least + "'nub.fit' = 3\n"},
		{"unknown table", least + "[wibble]\nx = 1\n"},
		{"misspelt table", "drawing.file = 'a.dxf'\n[balde]\nthickness = 3\ntip_thickness = 4\n[handel]\nthickness = 22\n"},
		{"table instead of key", "drawing.file = 'a.dxf'\nhandle.thickness = 22\n[blade.thickness]\nx = 1\n"},
		{"key instead of table", "blade = 3\ndrawing.file = 'a.dxf'\nhandle.thickness = 22\n"},
		{"array of tables", least + "[[clip]]\nlength = 60\n"},
		{"key given twice", least + "hole.diameter = 6\nhole.diameter = 7\n"},
		{"table given twice", least + "[hole]\ndiameter = 6\n[clip]\n[hole]\ndiameter = 7\n"},
		{"table reopens dotted keys", "drawing.file = 'a.dxf'\nhandle.thickness = 22\nblade.thickness = 3\n[blade]\ngrind = 'flat'\n"},
		{"misspelt hand", "hands = ['right', 'rihgt']\n" + least},
		{"no hand", "hands = []\n" + least},
		{"hand not in a list", "hands = 'right'\n" + least},
		{"hand twice", "hands = ['right', 'plain',\n  'right']\n" + least},
		{"misspelt grind", least + "blade.grind = 'holow'\n"},
		{"negative thickness", "drawing.file = 'a.dxf'\nblade.thickness = -3.2\nhandle.thickness = 22\n"},
		{"thickness 0", "drawing.file = 'a.dxf'\nblade.thickness = 0\nhandle.thickness = '0 in'\n"},
		{"inches taken for mm", "drawing.file = 'a.dxf'\nblade.thickness = '3.2 in'\nhandle.thickness = 22\n"},
		{"angle for a length", least + "clip.length = '60 deg'\nnub.angle = '120 mm'\n"},
		{"unit missing", least + "clip.length = '60'\n"},
		{"decimal comma in quotes", least + "sheet.thickness = '2,4 mm'\n"},
		{"unknown unit", least + "sheet.thickness = '93 thou'\nplate.length = '2 fathom'\n"},
		{"hands that are no words", "hands = ['right', 3]\n" + least},
		{"long values", "name = '" + strings.Repeat("ab", 40) + "'\n" + least + "clip.length = 0." + strings.Repeat("1", 80) + "\n" + strings.Repeat("k", 80) + " = 1\n"},
		{"control character", least + "clip.length = 3\x01\n"},
		{"twenty slips and no more", strings.Repeat("x = ?\n", 25) + least},
		{"not finite", least + "nub.x = nan\nnub.y = -inf\n"},
		{"more than 64 bits", least + "tape.layers = 9223372036854775808\nclip.length = 1e400\n"},
		{"quantities without quotes", "[drawing]\nfile = 'a.dxf'\n[blade]\nthickness = 3.2 mm\ntip_thickness = 1/8 in # thin\nedge_thickness = 3/8\"\n[handle]\nthickness = 22mm\n"},
		{"decimal comma", least + "sheet.thickness = 2,4\n"},
		{"point without a digit", least + "sheet.boss_thickness = .9\nsheet.thickness = 2.\n"},
		{"text without quotes", "drawing.file = knife.dxf\nblade.thickness = 3\nblade.grind = flat\nhandle.thickness = 22\n"},
		{"curly quotes", "drawing.file = “knife.dxf”\nblade.thickness = 3\nhandle.thickness = 22\n"},
		{"quote not closed", "drawing.file = \"a.dxf\nblade.thickness = 3\nhandle.thickness = 0\n"},
		{"value missing", least + "[clip]\nlength =\nwidth = # later\n"},
		{"list not closed", least + "[clip]\nlength = -1\n[hole\nhands = ['right'\n"},
		{"nothing but words", "A knife for my uncle\n"},
		{"backslashes in a path", "drawing.file = \"C:\\thistle.dxf\"\nblade.thickness = 3\nhandle.thickness = 22\n"},
		{"backslashes that are no escapes", "drawing.file = \"C:\\Users\\me\\a.dxf\"\nblade.thickness = 3\nhandle.thickness = 22\n"},
		{"backslash before a letter", "drawing.file = \"knives\\otter.dxf\"\nblade.thickness = 3\nhandle.thickness = 22\n"},
		{"fractions without unit", "drawing.file = 'a.dxf'\nblade.thickness = 1/8\nhandle.thickness = 1 1/4\nclip.length = '7/8'\n"},
		{"semicolon after a value", "drawing.file = 'a.dxf';\nblade.thickness = 3;\nhandle.thickness = 22,\n"},
		{"drawing of another kind", "drawing.file = 'knife.svg'\nblade.thickness = 3\nhandle.thickness = 22\n"},
		{"name of a device", "name = 'Nul.v2'\n" + least},
		{"name that is long in bytes", "name = '" + strings.Repeat("𐐀", 50) + "'\n" + least},
		{"name with a slash", "name = 'a/b'\n" + least},
		{"UTF-16", "\xff\xfen\x00a\x00"},
		{"not UTF-8", "# gr\xfc\xdfe\n" + least},
		{"too long", "#" + strings.Repeat(" ", 1<<16)},
		{"column counts characters", "drawing = { file = 'ä.dxf', layers = { tip = 'Größe', edge = 3 } }\nblade.thickness = 3\nhandle.thickness = 22\n"},

		{"tip thicker than heel", least + "blade.tip_thickness = 3.3\n"},
		{"edge as thick as the blade", least + "blade.edge_thickness = 3.2\n"},
		{"edge thicker than the tip", least + "blade.tip_thickness = 1\nblade.edge_thickness = 1.1\n"},
		{"hollow without wheel", least + "blade.grind = 'hollow'\n"},
		{"convex without bulge", least + "blade.grind = 'convex'\n"},
		{"bulge too high", least + "blade.grind = 'convex'\nblade.bulge = 0.71\n"},
		{"handle thinner than blade", "drawing.file = 'a.dxf'\nblade.thickness = 3.2\nhandle.thickness = 3\n"},
		{"rounding over half the handle", least + "handle.rounding = 11.1\n"},
		{"boss thicker than sheet", least + "sheet.boss_thickness = 2.1\n"},
		{"posts beyond the plate", least + "plate.post_spacing = 40\n"},
		{"short plate", least + "plate.length = '1 1/4 in'\n"},
		{"plate wider than long", least + "plate.width = 43\n"},
		{"posts wider than plate", least + "plate.width = 5\n"},
		{"posts run together", least + "plate.post_spacing = 6\n"},
		{"posts thicker than their holes", least + "hole.diameter = 5\n"},
		{"clip wider than long", least + "clip.width = 61\n"},
		{"flange as wide as the hole", least + "eyelet.flange = '1/4 in'\n"},
		{"nub sharper than the drill", least + "nub.angle = 118\n"},
		{"nub for a blunter drill", least + "hole.point_angle = 135\nnub.angle = '120 deg'\n"},
		{"nub wider than the hole", least + "nub.base = 6.35\n"},
		{"feed over the machine's", least + "mill.feed = 6000\nmill.drill_feed = '200 in'\n"},
		{"tool change in plain programs", least + "mill.dialect = 'plain'\nmill.tool_change = 'm6'\n"},
		{"speed over the spindle's", least + "mill.speed = 30000\nmill.max_speed = 18000\n"},
		{"margin of the whole hole", least + "nub.margin = '1/4 in'\n"},
		{"edge along the blade", least + "drawing.edge = 10\ndrawing.tip = 'right'\n"},
		{"edge towards the butt", least + "drawing.tip = 'up'\ndrawing.edge = '-70 deg'\n"},
		{"a key at fault is not blamed again", least + "plate.length = -1\nplate.width = 50\nplate.post_spacing = 100\n"},
	}
}

// transcript is the file in a margin of bars and every line of what is said about it.
func transcript(c refusal, said string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "== %s\n", c.name)
	if utf8.ValidString(c.text) && len(c.text) < 1000 {
		for line := range strings.Lines(c.text) {
			b.WriteString("| " + line)
		}
	}
	b.WriteString(said + "\n\n")
	return b.String()
}

// The words for every refusal, as a person reads them: testdata/refusals.txt.
func TestRefusals(t *testing.T) {
	var got strings.Builder
	for _, c := range refusals() {
		v, err := decode(c.text)
		if err == nil {
			t.Fatalf("%s was taken: %+v", c.name, v.Spec)
		}
		got.WriteString(transcript(c, err.Error()))
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile("testdata/refusals.txt", []byte(got.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/refusals.txt")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got.String(), "\n")); diff != "" {
		t.Error(diff)
	}
}

// What each refusal is about, apart from its words.
func TestRefusalsByProblem(t *testing.T) {
	want := map[string]variant.Problem{
		"empty file": variant.Missing, "unknown key": variant.UnknownKey, "misspelt table": variant.UnknownKey,
		"table instead of key": variant.WrongType, "key given twice": variant.Repeated,
		"table reopens dotted keys": variant.Syntax, "misspelt hand": variant.UnknownChoice,
		"negative thickness": variant.OutOfRange, "angle for a length": variant.BadQuantity,
		"quantities without quotes": variant.Syntax, "name with a slash": variant.BadText,
		"UTF-16": variant.NotText, "posts beyond the plate": variant.Conflict, "hollow without wheel": variant.Missing,
	}
	for _, c := range refusals() {
		problem, asked := want[c.name]
		if !asked {
			continue
		}
		delete(want, c.name)
		var faults variant.Faults
		if _, err := decode(c.text); !errors.As(err, &faults) || faults[0].Problem != problem {
			t.Errorf("%s: got %v, want %s", c.name, err, problem)
		}
	}
	if len(want) > 0 {
		t.Errorf("not tried: %v", want)
	}
}

// TestTurnedNames refuses names that a terminal would show otherwise than they are.
func TestTurnedNames(t *testing.T) {
	for _, text := range []string{
		"drawing.file = 'a\u202efxd.dxf'\nblade.thickness = 3\nhandle.thickness = 22\n", least + "drawing.layers.tip = 'T\u2066IP'\n", "name = 'a\u200fb'\n" + least,
	} {
		var faults variant.Faults
		if _, err := decode(text); !errors.As(err, &faults) || faults[0].Problem != variant.BadText || strings.ContainsAny(err.Error(), "\u202e\u2066\u200f") {
			t.Errorf("%q: got %v", text, err)
		}
	}
}

func TestFaultsUnwrap(t *testing.T) {
	_, err := decode("x = 1")
	var fault *variant.Fault
	if !errors.As(err, &fault) || fault.Key == "" {
		t.Errorf("got %v", err)
	}
}

func ExampleDecode() {
	const text = `
[drawing]
file = "thistle.dxf"
[blade]
thickness = "1/8 in"
[handle]
thickness = 22
[standoff]
draught = 5
hight = 3
[plate]
post_spacing = 40
`
	_, err := variant.Decode("thistle.toml", strings.NewReader(text))
	fmt.Println(err)
	v, err := variant.Decode("thistle.toml", strings.NewReader(text[:strings.Index(text, "[standoff]")]))
	fmt.Println(v.Spec.Blade.Thickness, v.Spec.Sheet.BossThickness, v.Where("blade.thickness"), err)
	// Output:
	// thistle.toml:9:1: standoff.draught: unknown key: expected x, y, cant, fit, side_clearance, clearance, glue, draft, edge_radius, height or mark
	// thistle.toml:10:1: standoff.hight: unknown key: did you mean standoff.height?
	// thistle.toml:12:16: plate.post_spacing: the posts stand out over the plate's ends: found plate.post_spacing 40 mm (line 12) + plate.post_diameter 6 mm (not given) = 46 mm; expected at most plate.length 42 mm (not given)
	// 3.175 1.8 thistle.toml:5:13 <nil>
}
