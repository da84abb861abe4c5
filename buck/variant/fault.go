package variant

import "strings"

// Problem is a kind of fault in a variant file.
type Problem string

// The problems: a closed list.
const (
	NotText       Problem = "not a text file in UTF-8"
	Syntax        Problem = "not TOML"
	Repeated      Problem = "given twice"
	UnknownKey    Problem = "unknown key"
	Missing       Problem = "missing"
	WrongType     Problem = "wrong type"
	BadQuantity   Problem = "not a quantity"
	OutOfRange    Problem = "out of range"
	UnknownChoice Problem = "unknown choice"
	BadText       Problem = "text that cannot be used"
	Conflict      Problem = "impossible together"
)

// Fault is one thing that is wrong with a variant file.
type Fault struct {
	At       Position // of the value, or of the key where the key is at fault
	Key      string   // dotted; empty where no key is concerned
	Problem  Problem
	What     string // the problem in this place, where that says more than Problem
	Found    string // as written, shortened
	Expected string
	Hint     string // what to do about it
}

// Error is the fault as one line.
func (f *Fault) Error() string {
	what := f.What
	if what == "" {
		what = string(f.Problem)
	}
	var b strings.Builder
	for _, part := range []string{f.At.String(), f.Key} {
		if part != "" {
			b.WriteString(part + ": ")
		}
	}
	b.WriteString(what)
	joint := ": "
	for _, part := range []struct{ lead, text string }{{"found ", f.Found}, {"expected ", f.Expected}, {"", f.Hint}} {
		if part.text != "" {
			b.WriteString(joint + part.lead + part.text)
			joint = "; "
		}
	}
	return b.String()
}

// Faults is everything that is wrong with a variant file, in the order of the file. It is the only
// error of Decode beside a failure of the reader.
type Faults []*Fault

// Error is one line for each fault.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, fault := range f {
		lines[i] = fault.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap are the single faults.
func (f Faults) Unwrap() []error {
	errs := make([]error, len(f))
	for i, fault := range f {
		errs[i] = fault
	}
	return errs
}
