package variant

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"formbuck/buck/fixture/plate"
)

// maxBases is how many files a chain of bases may have, the variant's own not counted.
const maxBases = 8

// Load reads a variant file together with the file that it builds on, if its key base names one,
// and that one's base in turn. A key that a file gives goes before that of its base; the name is no
// one's but the file's own. Paths, of bases and of the drawing, are seen from the folder of the file
// that gives them. Open reads a whole file; its error should name neither the file nor the path.
//
// What is wrong comes back as Faults, each at its place in whichever file; an error of open for the
// variant file itself is its own.
func Load(file string, open func(path string) ([]byte, error)) (*Variant, error) {
	text, err := open(file)
	if err != nil {
		return nil, err
	}
	text, fault := plainText(file, text)
	if fault != nil {
		return nil, Faults{fault}
	}
	known := newSchema()
	doc := newDocument(source{file: file, text: text}, known)
	l := &loader{known: known, open: open, chain: []string{file}}
	l.under(doc)
	v, err := resolve(known, doc)
	if err != nil || v.Spec.Fixture.Plate == "" {
		return v, err
	}
	return v, v.readPlate(open)
}

// readPlate reads the file of the plate that the variant names, seen from the folder of the file that names it.
func (v *Variant) readPlate(open func(path string) ([]byte, error)) error {
	const key = "fixture.plate"
	at := v.Where(key)
	refuse := func(format string, args ...any) error {
		return Faults{{At: at, Key: key, Problem: BadText, What: fmt.Sprintf(format, args...)}}
	}
	file := filepath.FromSlash(v.Spec.Fixture.Plate)
	if !filepath.IsAbs(file) {
		file = filepath.Join(filepath.Dir(at.File), file)
	}
	text, err := open(file)
	if err != nil {
		return refuse("cannot be read: %s: %s", file, strings.TrimPrefix(err.Error(), file+": "))
	}
	if v.Spec.Fixture.Made, err = plate.Decode(file, text); err != nil {
		return refuse("%v", err)
	}
	return nil
}

// loader follows a chain of bases.
type loader struct {
	known *schema
	open  func(string) ([]byte, error)
	chain []string // files from the variant's to the one being read
}

// under lays a document over its base.
func (l *loader) under(doc *document) {
	written, given := doc.settings["base"]
	if !given || written.broken {
		return
	}
	refuse := func(format string, args ...any) {
		doc.faults = append(doc.faults, &Fault{
			At: written.value.at, Key: "base", Problem: BadText, What: fmt.Sprintf(format, args...),
		})
		doc.cut = true // what the base would have given is not missing
	}
	got, fault := understand(l.known.byPath["base"], written.value)
	if fault != nil {
		doc.cut = true // told when the key is resolved
		return
	}
	file := filepath.FromSlash(got.text)
	if !filepath.IsAbs(file) {
		file = filepath.Join(filepath.Dir(doc.source.file), file)
	}
	chain := append(slices.Clone(l.chain), file)
	told := strings.Join(chain, " -> ")
	same := func(other string) bool { return filepath.Clean(other) == file }
	switch {
	case slices.ContainsFunc(l.chain, same):
		refuse("the files build on each other in a circle: %s", told)
		return
	case len(l.chain) > maxBases:
		refuse("more than %d files build on each other: %s", maxBases, told)
		return
	}
	text, err := l.open(file)
	if err != nil {
		// The reader's error may name the path once more.
		refuse("cannot be read: %s: %s", told, strings.TrimPrefix(err.Error(), file+": "))
		return
	}
	text, fault = plainText(file, text)
	if fault != nil {
		doc.faults, doc.cut = append(doc.faults, fault), true
		return
	}
	base := newDocument(source{file: file, text: text}, l.known)
	l.chain = chain
	l.under(base)
	if fault := base.audit(base.faults); fault != nil {
		base.faults = append(base.faults, fault)
	}
	doc.over(base)
}

// over takes from a base what the document does not say itself.
func (d *document) over(base *document) {
	for path, s := range base.settings {
		if _, own := d.settings[path]; own || d.meant[path] || path == "name" || path == "base" {
			continue
		}
		d.settings[path] = s
	}
	for path := range base.meant {
		d.meant[path] = true
	}
	d.faults = append(d.faults, base.faults...)
	d.cut = d.cut || base.cut
	d.bases = append([]string{base.source.file}, base.bases...)
}

// Files are the variant's file and those it builds on, in that order.
func (v *Variant) Files() []string { return append([]string{v.file}, v.doc.bases...) }

// With is the variant with some keys as another has them: where the other does not give one of
// them, it falls back to its default. The variant itself stays as it is. The error is Faults: the keys
// cannot stand together like that.
func (v *Variant) With(other *Variant, keys ...string) (*Variant, error) {
	doc := emptyDocument(v.doc.source)
	doc.bases, doc.readable = v.doc.bases, v.doc.readable
	for path, s := range v.doc.settings {
		doc.settings[path] = s
	}
	for _, key := range keys {
		if s, given := other.doc.settings[key]; given {
			doc.settings[key] = s
		} else {
			delete(doc.settings, key)
		}
	}
	with, err := resolve(newSchema(), doc)
	if err != nil {
		return with, err
	}
	for _, from := range []*Variant{v, other} {
		if with.Spec.Fixture.Plate != "" && from.Spec.Fixture.Plate == with.Spec.Fixture.Plate {
			with.Spec.Fixture.Made = from.Spec.Fixture.Made
			break
		}
	}
	return with, nil
}

// Source is the variant as a file that gives its name and what it gives, a key a line, without its
// bases: decoded, it is the same variant.
func (v *Variant) Source() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "name = %s\n", quoted(v.Spec.Name))
	for _, s := range v.settings {
		if s.Given && s.Key.Path != "name" && s.Key.Path != "base" {
			fmt.Fprintf(&b, "%s = %s\n", s.Key.Path, s.Written)
		}
	}
	return b.Bytes()
}
