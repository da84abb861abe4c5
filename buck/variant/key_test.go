package variant_test

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/variant"
)

// with is the smallest file with one key set, and the place of its value.
func with(key variant.Key, value string) (text, place string) {
	lines := strings.Split(strings.TrimSuffix(least, "\n"), "\n")
	at := slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, key.Path+" ") })
	if at < 0 {
		at, lines = len(lines), append(lines, "")
	}
	lines[at] = key.Path + " = " + value
	return strings.Join(lines, "\n"), fmt.Sprintf("knife.toml:%d:%d", at+1, len(key.Path)+4)
}

func TestKeysAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, key := range variant.Keys() {
		if seen[key.Path] {
			t.Errorf("%s is there twice", key.Path)
		}
		seen[key.Path] = true
		if key.Doc == "" || strings.HasSuffix(key.Doc, ".") || strings.Contains(key.Doc, "\n") {
			t.Errorf("%s: doc %q", key.Path, key.Doc)
		}
		held := 0
		for _, is := range []bool{key.Required, key.Default != "", key.Unset != ""} {
			if is {
				held++
			}
		}
		if held != 1 || key.Sample() == "" {
			t.Errorf("%s: required, default %q and unset %q: want one of them", key.Path, key.Default, key.Unset)
		}
		if key.Default != "" && key.Default != "0" && key.Default != `"auto"` && key.Source == "" {
			t.Errorf("%s: the default %s has no source", key.Path, key.Default)
		}
		if (key.Kind == variant.Choice || key.Kind == variant.List) != (len(key.Choices) > 0) {
			t.Errorf("%s: %s with choices %v", key.Path, key.Kind, key.Choices)
		}
	}
}

func TestEveryKeyTakesItsSample(t *testing.T) {
	for _, key := range variant.Keys() {
		text, place := with(key, key.Sample())
		v, err := decode(text)
		if err != nil {
			t.Errorf("%s = %s: %v", key.Path, key.Sample(), err)
			continue
		}
		if got := v.Where(key.Path).String(); got != place {
			t.Errorf("%s is at %s, want %s", key.Path, got, place)
		}
		for _, s := range v.Settings() {
			if s.Key.Path == key.Path && (!s.Given || s.At.String() != place) {
				t.Errorf("%s: %+v", key.Path, s)
			}
		}
	}
}

// refused checks that the file is refused for the one reason, at the key and place.
func refused(t *testing.T, text string, key variant.Key, place string, problem variant.Problem) {
	t.Helper()
	_, err := decode(text)
	var faults variant.Faults
	if !errors.As(err, &faults) {
		t.Errorf("%s was taken:\n%s", key.Path, text)
		return
	}
	if f := faults[0]; len(faults) != 1 || f.At.String() != place || f.Key != key.Path || f.Problem != problem {
		t.Errorf("%s: got %v (%s); want one fault: %s at %s", key.Path, err, f.Problem, problem, place)
	}
}

func TestEveryKeyRefusesOtherTypes(t *testing.T) {
	for _, key := range variant.Keys() {
		values := []string{"true", "2020-01-02", "{}"}
		switch key.Kind {
		case variant.YesNo:
			values = []string{"2020-01-02", "{}", "3", `["yes"]`}
		case variant.Speed:
			values = append(values, "2.0", "[2]")
		case variant.Count:
			values = append(values, "2.0", `"2"`, "[2]")
		case variant.List:
			values = append(values, `"right"`, "3")
		case variant.Text, variant.Choice:
			values = append(values, "3", `["a"]`)
		default:
			values = append(values, "[3]")
		}
		for _, value := range values {
			text, place := with(key, value)
			refused(t, text, key, place, variant.WrongType)
		}
	}
}

func TestEveryKeyRefusesWrongUnitsAndWords(t *testing.T) {
	for _, key := range variant.Keys() {
		var problem variant.Problem
		var values []string
		switch key.Kind {
		case variant.Length:
			problem, values = variant.BadQuantity, []string{`"5 deg"`, `"3"`, `"3,2 mm"`, `"3 furlong"`, `""`}
		case variant.Angle, variant.Direction:
			problem, values = variant.BadQuantity, []string{`"5 mm"`, `"5"`, `"5,5 deg"`, `"rihgt"`}
		case variant.Feed:
			problem, values = variant.BadQuantity, []string{`"5 deg"`, `"3"`, `"3,2 mm/min"`, `"3 mm/s"`, `"3 rpm"`, `""`}
		case variant.Speed:
			problem, values = variant.BadQuantity, []string{`"5 mm/min"`, `"3"`, `"2.5 rpm"`, `""`}
		case variant.YesNo:
			problem, values = variant.UnknownChoice, []string{`"maybe"`, `""`}
		case variant.Choice:
			problem, values = variant.UnknownChoice, []string{`"zzz"`, `""`}
		case variant.List:
			text, place := with(key, `["right", "lefft"]`)
			place = place[:strings.LastIndexByte(place, ':')+1] + strconv.Itoa(len(key.Path)+4+len(`["right", `))
			refused(t, text, key, place, variant.UnknownChoice)
			text, _ = with(key, `["right", "right"]`)
			refused(t, text, key, place, variant.Repeated)
		case variant.Text:
			problem, values = variant.BadText, []string{`""`, `"a\tb"`}
		}
		for _, value := range values {
			text, place := with(key, value)
			refused(t, text, key, place, problem)
		}
	}
}

func TestEveryKeyRefusesOutOfRange(t *testing.T) {
	for _, key := range variant.Keys() {
		if key.Range == (variant.Range{}) {
			continue
		}
		values := []string{decimal(key.Range.Min - 1), decimal(key.Range.Max + 1)}
		if key.Range.Above {
			values = append(values, decimal(key.Range.Min))
		}
		if key.Kind != variant.Count && key.Kind != variant.Speed {
			values = append(values, "nan", "-inf", decimal(key.Range.Max)+".000001")
		}
		for _, value := range values {
			if strings.Count(value, ".") > 1 {
				continue
			}
			text, place := with(key, value)
			refused(t, text, key, place, variant.OutOfRange)
		}
		text, place := with(key, "123456789012345678901")
		refused(t, text, key, place, variant.OutOfRange)
	}
}

// Both ends of a range belong to it, but for the lower one where it says "over".
func TestEveryKeyTakesTheEndsOfItsRange(t *testing.T) {
	for _, key := range variant.Keys() {
		if key.Range == (variant.Range{}) {
			continue
		}
		ends := []float64{key.Range.Max}
		if !key.Range.Above {
			ends = append(ends, key.Range.Min)
		}
		for _, end := range ends {
			text, _ := with(key, decimal(end))
			_, err := decode(text)
			var faults variant.Faults
			errors.As(err, &faults)
			for _, fault := range faults {
				if fault.Problem != variant.Conflict {
					t.Errorf("%s: %v", key.Path, fault)
				}
			}
		}
	}
}

func decimal(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

func TestStarter(t *testing.T) {
	starter, err := variant.Starter("heron")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"heron", "otter"} { // a copy is a variant of its own
		v, err := variant.Decode(name+".toml", bytes.NewReader(starter))
		if err != nil {
			t.Fatal(err)
		}
		if v.Spec.Name != name || v.Drawing.File != "heron.dxf" {
			t.Errorf("name %q, drawing %q of %s.toml", v.Spec.Name, v.Drawing.File, name)
		}
	}
	lines := strings.Split(string(starter), "\n")
	keys, table := map[string]bool{}, ""
	for _, line := range lines {
		if len(line) > 100 {
			t.Errorf("a line of %d characters: %s", len(line), line)
		}
		if strings.HasPrefix(line, "[") {
			table = strings.Trim(line, "[]") + "."
		}
		if name, _, found := strings.Cut(strings.TrimPrefix(line, "#"), " = "); found && !strings.HasPrefix(name, " ") {
			keys[table+name] = true
		}
	}
	for _, key := range variant.Keys() {
		if !keys[key.Path] {
			t.Errorf("the starter does not show %s", key.Path)
		}
	}
	if len(keys) != len(variant.Keys()) {
		t.Errorf("the starter shows %d keys of %d", len(keys), len(variant.Keys()))
	}
}

// Taking off the # before any one key, or before all so far, leaves a file that is read and, where
// the line shows the default, means the same.
func TestStarterWithoutItsComments(t *testing.T) {
	starter, err := variant.Starter("heron")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(starter), "\n")
	all := slices.Clone(lines)
	opened := 0
	for i, line := range lines {
		if !strings.HasPrefix(line, "#") || strings.HasPrefix(line, "# ") || line == "#" {
			continue
		}
		opened++
		all[i] = line[1:]
		one := slices.Clone(lines)
		one[i] = line[1:]
		for _, text := range [][]string{one, all} {
			if _, err := decode(strings.Join(text, "\n")); err != nil {
				t.Errorf("%s: %v", line[1:], err)
			}
		}
	}
	if want := len(variant.Keys()) - 3; opened != want {
		t.Errorf("%d keys were opened, want %d", opened, want)
	}
	want, got := mustDecode(t, string(starter)).Spec, mustDecode(t, strings.Join(all, "\n")).Spec
	got.Blade.WheelRadius, got.Blade.Bulge, got.Nub.Holes = 0, 0, "" // which have no default
	got.Name, got.Layout.Holes, got.Layout.NoEyelets = want.Name, "", ""
	got.Fixture.Holes, got.Fixture.Pin, got.Fixture.Stock, got.Fixture.Plate = "", 0, "", ""
	if fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", want) {
		t.Errorf("all keys opened: got %+v, want %+v", got, want)
	}
}

func TestStarterRefusesNames(t *testing.T) {
	for name, want := range map[string]string{
		"":         `name: text that cannot be used: found ""; a name has at least one character`,
		"a/b":      `name: text that cannot be used: found "a/b"; file names begin with the name, so '/' cannot stand in it`,
		"..":       `name: text that cannot be used: found ".."; a name begins with a letter or a digit`,
		"knife.":   `name: text that cannot be used: found "knife."; a name does not end in a space or a point`,
		"\x00":     `name: text that cannot be used: found "\x00"; file names begin with the name, so '\x00' cannot stand in it`,
		"a:b":      `name: text that cannot be used: found "a:b"; file names begin with the name, so ':' cannot stand in it`,
		"-o":       `name: text that cannot be used: found "-o"; a name begins with a letter or a digit`,
		"\xff":     `name: text that cannot be used: found "\xff"; file names begin with the name, so '�' cannot stand in it`,
		"\u202exe": `name: text that cannot be used: found "\u202exe"; file names begin with the name, so '\u202e' cannot stand in it`,
	} {
		if text, err := variant.Starter(name); err == nil || text != nil || err.Error() != want {
			t.Errorf("%q: got %v, want %s", name, err, want)
		}
	}
	if _, err := variant.Starter("Nordlicht größer 2"); err != nil {
		t.Error(err)
	}
}
