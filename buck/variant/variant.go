package variant

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"formbuck/buck/measures"
	"formbuck/buck/quantity"
)

// Variant is what a variant file says, with the defaults filled in.
type Variant struct {
	Spec    measures.Spec
	Drawing Drawing

	// Base is the file that the variant builds on, as written; empty: none.
	Base string

	file     string
	doc      *document
	settings []Setting
	byPath   map[string]int // index in settings
}

// Drawing is where the knife's plan is and how to read it.
type Drawing struct {
	File    string   // as written: seen from the folder of the file that gives it, see Variant.Where
	Units   string   // mm, cm, m, in or ft; empty: as the drawing's header says
	TipDeg  *float64 // where the tip points in the drawing, from its x axis towards y; nil: to be found
	EdgeDeg *float64 // where the edge faces, likewise
	JoinGap float64  // widest gap between line ends that is closed, in mm
	Layers  Layers
}

// Layers are the names of the drawing's layers by role; an empty one is the role's own name.
type Layers struct {
	Outline, Handle, Grind, Throat, Edge, Tip, Guard, Swedge string
}

// Setting is one key with the value that holds for it.
type Setting struct {
	Key     Key
	Given   bool     // written in the file; else the default or a value that follows from others
	At      Position // of the value; only the file where it is not given
	Written string   // the value as TOML, or with its unit where it follows from others; may be empty
	Value   string   // what that comes to: in mm or degrees with the unit; a text without quotes
}

// Settings are all keys in the order of Keys, each with the value that holds for it.
func (v *Variant) Settings() []Setting { return slices.Clone(v.settings) }

// Where is the place of the value that the file gives for the key with the dotted path, or the
// file alone where the file does not give it.
func (v *Variant) Where(key string) Position {
	if i, known := v.byPath[key]; known {
		return v.settings[i].At
	}
	return Position{File: v.file}
}

// maxSize is the longest variant file in bytes. The starter file, with every key and its meaning,
// is a sixth of it.
const maxSize = 64 << 10

// Decode reads a variant file that stands for itself: its key base is not followed, see [Load]. The
// file's name is for messages, and its last part without the
// ending is the variant's name where the file does not give one. What is wrong with the content
// comes back as Faults; another error is the reader's own.
func Decode(file string, from io.Reader) (*Variant, error) {
	text, err := io.ReadAll(io.LimitReader(from, maxSize+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	text, fault := plainText(file, text)
	if fault != nil {
		return nil, Faults{fault}
	}
	known := newSchema()
	return resolve(known, newDocument(source{file: file, text: text}, known))
}

// plainText refuses what is no text in UTF-8 of a sensible size, and takes off a byte order mark.
func plainText(file string, text []byte) ([]byte, *Fault) {
	fault := &Fault{At: Position{File: file, Line: 1, Column: 1}, Problem: NotText}
	switch {
	case len(text) > maxSize:
		fault.What, fault.Expected = "too long for a variant file", fmt.Sprintf("at most %d kB", maxSize>>10)
		return nil, fault
	case bytes.HasPrefix(text, []byte{0xff, 0xfe}) || bytes.HasPrefix(text, []byte{0xfe, 0xff}):
		fault.Found, fault.Hint = "UTF-16", "save it as UTF-8"
		return nil, fault
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	for offset := 0; offset < len(text); {
		r, size := utf8.DecodeRune(text[offset:])
		if r == utf8.RuneError && size == 1 {
			fault.At = source{file: file, text: text}.position(offset)
			fault.Found, fault.Hint = fmt.Sprintf("byte 0x%02x", text[offset]), "save it as UTF-8"
			return nil, fault
		}
		offset += size
	}
	return text, nil
}

// nameOf is the variant's name that its file's name stands for.
func nameOf(file string) string {
	base := path.Base(strings.ReplaceAll(file, `\`, "/"))
	return strings.TrimSuffix(base, path.Ext(base))
}

// inUnit is a number with the unit of its kind.
func inUnit(kind Kind, text string) string {
	switch kind {
	case Length:
		return text + " mm"
	case Angle, Direction:
		return text + " deg"
	case Share:
		return text + " %"
	case Feed:
		return text + " mm/min"
	case Speed:
		return text + " rpm"
	default:
		return text
	}
}

// measure is a number as a message shows it, with its unit.
func (n numbers) measure(k Key) string {
	value := n[k.Path]
	if value == nil {
		return ""
	}
	return inUnit(k.Kind, quantity.Format(value))
}
