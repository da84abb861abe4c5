package variant

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"formbuck/buck/measures"
)

// Default are measures to begin with: a blade of 3.2 mm stock, a handle of 22 mm, and for all else what
// holds where a variant file says nothing.
func Default() measures.Spec {
	v, err := ofGiven("knife", nil)
	if err != nil {
		return measures.Spec{} // no samples that are refused: a test holds them to that
	}
	return v.Spec
}

// Of is the variant of measures that come out of no file. They are held to what those of a file are held
// to. A measure that is 0 where 0 cannot be, and a word that is empty, are as where a file does not give
// them; so is one that follows from others, as the thickness at the tip does, and is left as [Default] has
// it. The error is Faults, without a place in a file.
func Of(spec measures.Spec) (*Variant, error) {
	known := newSchema()
	for _, m := range spec.Standoff.More {
		known.boss(moreTable + "." + m.Name + ".x")
	}
	usual := &Variant{Spec: Default()}
	given := map[string]string{}
	for { // each time round gives at least one more key
		v, err := ofGiven(spec.Name, given)
		if err != nil {
			return nil, err
		}
		before := len(given)
		for _, row := range known.all() {
			text, said := written(row, &Variant{Spec: spec})
			if got, _ := written(row, v); !said || got == text {
				continue
			}
			if was, _ := written(row, usual); was != text || row.reckon == nil && row.choose == nil {
				given[row.Path] = text
			}
		}
		if len(given) == before {
			v.Spec.Fixture.Made = spec.Fixture.Made
			return v, nil
		}
	}
}

// ofGiven is the variant that gives some keys, and samples for those that have to be given.
func ofGiven(name string, given map[string]string) (*Variant, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "name = %s\n", quoted(name))
	for _, k := range Keys() {
		switch {
		case k.Path == "name":
		case given[k.Path] != "":
			fmt.Fprintf(&b, "%s = %s\n", k.Path, given[k.Path])
		case k.Required:
			fmt.Fprintf(&b, "%s = %s\n", k.Path, k.Sample())
		}
	}
	for _, path := range slices.Sorted(maps.Keys(given)) {
		if strings.HasPrefix(path, moreTable+".") {
			fmt.Fprintf(&b, "%s = %s\n", path, given[path])
		}
	}
	known := newSchema()
	doc := newDocument(source{text: b.Bytes()}, known)
	for path, s := range doc.settings {
		s.at, s.value.at = Position{}, Position{}
		doc.settings[path] = s
	}
	v, err := resolve(known, doc)
	var faults Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			f.At = Position{}
		}
	}
	return v, err
}

// written is the value of a key as TOML, and whether it says anything.
func written(row *row, v *Variant) (text string, said bool) {
	if strings.HasPrefix(row.Path, "drawing.") || row.Path == "base" || row.Path == "name" {
		return "", false
	}
	field := reflect.ValueOf(row.into(v)).Elem()
	switch field.Kind() {
	case reflect.Float64, reflect.Int:
		text = strconv.FormatFloat(asFloat(field), 'f', -1, 64)
		return text, asFloat(field) != 0 || row.Range.holds(exactly(0))
	case reflect.String:
		return quoted(field.String()), field.String() != ""
	case reflect.Slice:
		words := make([]string, field.Len())
		for i := range words {
			words[i] = quoted(field.Index(i).String())
		}
		return "[" + strings.Join(words, ", ") + "]", len(words) > 0
	default:
		return "", false
	}
}

// asFloat is a number of either kind.
func asFloat(v reflect.Value) float64 {
	if v.CanInt() {
		return float64(v.Int())
	}
	return v.Float()
}
