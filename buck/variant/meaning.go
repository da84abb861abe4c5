package variant

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"formbuck/buck/internal/nearest"

	"formbuck/buck/quantity"

	"github.com/pelletier/go-toml/v2/unstable"
)

// meaning is a value as its key understands it.
type meaning struct {
	number *big.Rat // of a length in mm, an angle or direction in degrees, a share in percent, a count, mm/min, rpm
	text   string   // of a choice or text; yes or no
	words  []string // of a list
}

// understand reads the value as the key's kind asks.
func understand(key *row, v value) (meaning, *Fault) {
	switch key.Kind {
	case Length, Angle, Share, Count, Direction, Feed, Speed:
		return number(key, v)
	case YesNo:
		return yesNo(key, v)
	case List:
		return list(key, v)
	default:
		return word(key, v)
	}
}

func number(key *row, v value) (meaning, *Fault) {
	value, err := parseNumber(key.Kind, v)
	var broken *quantity.Error
	switch {
	case errors.As(err, &broken) && broken.Fault == quantity.NotFinite:
		fault := refusal(key, v, OutOfRange)
		fault.Expected = key.Allowed()
		return meaning{}, fault
	case errors.As(err, &broken):
		fault := refusal(key, v, BadQuantity)
		fault.What, fault.Hint = string(broken.Fault), broken.Hint
		return meaning{}, fault
	case err != nil:
		return meaning{}, refusal(key, v, WrongType)
	case !key.Range.holds(value):
		fault := refusal(key, v, OutOfRange)
		fault.Expected = key.Allowed()
		if v.kind == unstable.String {
			fault.Found += " (" + inUnit(key.Kind, quantity.Format(value)) + ")"
		} else {
			fault.Found = inUnit(key.Kind, v.shown())
		}
		return meaning{}, fault
	}
	return meaning{number: value}, nil
}

// errKind is a value that is no number and no quantity.
var errKind = errors.New("neither a number nor a quantity")

func parseNumber(kind Kind, v value) (*big.Rat, error) {
	switch {
	case v.kind == unstable.Integer, v.kind == unstable.Float && kind != Count && kind != Speed:
		return quantity.ParseNumber(v.raw)
	case v.kind != unstable.String || kind == Count:
		return nil, errKind
	case kind == Length:
		return quantity.ParseLength(v.text)
	case kind == Share:
		return quantity.ParseShare(v.text)
	case kind == Feed:
		return quantity.ParseFeed(v.text)
	case kind == Speed:
		return quantity.ParseSpeed(v.text)
	case kind == Direction:
		if turn := slices.Index([]string{"right", "up", "left", "down"}, v.text); turn >= 0 {
			return big.NewRat(int64(90*turn), 1), nil
		}
	}
	return quantity.ParseAngle(v.text)
}

func (r Range) holds(value *big.Rat) bool {
	if r == (Range{}) {
		return true
	}
	low, high := value.Cmp(exactly(r.Min)), value.Cmp(exactly(r.Max))
	return low >= 0 && high <= 0 && (low > 0 || !r.Above)
}

// exactly is the decimal that the number is written as, not the binary fraction that it is kept as.
func exactly(f float64) *big.Rat {
	r, ok := new(big.Rat).SetString(short(f))
	if !ok {
		return new(big.Rat)
	}
	return r
}

// yesNo reads true, false, "yes" or "no".
func yesNo(key *row, v value) (meaning, *Fault) {
	switch {
	case v.kind == unstable.Bool && v.raw == "true", v.kind == unstable.String && v.text == "yes":
		return meaning{text: "yes"}, nil
	case v.kind == unstable.Bool, v.kind == unstable.String && v.text == "no":
		return meaning{text: "no"}, nil
	case v.kind == unstable.String:
		return meaning{}, refusal(key, v, UnknownChoice)
	default:
		return meaning{}, refusal(key, v, WrongType)
	}
}

func word(key *row, v value) (meaning, *Fault) {
	if v.kind != unstable.String {
		return meaning{}, refusal(key, v, WrongType)
	}
	if key.Kind == Choice && !slices.Contains(key.Choices, v.text) {
		return meaning{}, unknownChoice(key, v)
	}
	if key.usable != nil {
		if reason := key.usable(v.text); reason != "" {
			fault := refusal(key, v, BadText)
			fault.Expected, fault.Hint = "", reason
			return meaning{}, fault
		}
	}
	return meaning{text: v.text}, nil
}

func list(key *row, v value) (meaning, *Fault) {
	if v.kind != unstable.Array || len(v.items) == 0 {
		fault := refusal(key, v, WrongType)
		if v.kind == unstable.Array {
			fault.Problem, fault.Found = OutOfRange, "an empty list"
		}
		return meaning{}, fault
	}
	var got meaning
	for _, item := range v.items {
		switch {
		case item.kind != unstable.String:
			return meaning{}, refusal(key, item, WrongType)
		case !slices.Contains(key.Choices, item.text):
			return meaning{}, unknownChoice(key, item)
		case slices.Contains(got.words, item.text):
			fault := refusal(key, item, Repeated)
			fault.Expected = "each at most once"
			return meaning{}, fault
		}
		got.words = append(got.words, item.text)
	}
	return got, nil
}

func unknownChoice(key *row, v value) *Fault {
	fault := refusal(key, v, UnknownChoice)
	fault.Expected = listed(key.Choices)
	if near := nearest.To(v.text, key.Choices); near != "" {
		fault.Hint = fmt.Sprintf("did you mean %q?", near)
	}
	return fault
}

func refusal(key *row, v value, problem Problem) *Fault {
	return &Fault{At: v.at, Key: key.Path, Problem: problem, Found: v.shown(), Expected: key.expected()}
}

// expected says what the key takes, with samples of how to write it.
func (k Key) expected() string {
	switch k.Kind {
	case Length:
		return k.Allowed() + `, such as 2.4, "2.4 mm" or "1/4 in"`
	case Angle:
		return k.Allowed() + `, such as 5 or "5 deg"`
	case Share:
		return k.Allowed() + `, such as 0.4 or "0.4 %"`
	case Feed:
		return k.Allowed() + `, such as 1200, "1200 mm/min" or "48 in/min"`
	case Speed:
		return k.Allowed() + `, such as 16000 or "16000 rpm"`
	case Direction:
		return k.Allowed() + `, such as "right", 35 or "35 deg"`
	case List:
		return k.Allowed() + `, such as ["` + k.Choices[0] + `"]`
	case Text:
		if sample := k.Sample(); sample != "" {
			return k.Allowed() + ", such as " + sample
		}
	}
	return k.Allowed()
}

// maxName is the longest name of a variant, in characters: it begins file names.
const maxName = 60

// maxNameBytes leaves room for what follows the name in those of files, of which file systems take 255 bytes.
const maxNameBytes = 180

// Device reports whether Windows keeps a file's name for a device, with whatever ending (Microsoft, "Naming Files, Paths,
// and Namespaces", from memory).
func Device(name string) bool {
	stem, _, _ := strings.Cut(strings.ToUpper(name), ".")
	switch stem = strings.TrimRight(stem, " "); stem {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	number, isPort := strings.CutPrefix(stem, "COM")
	if !isPort {
		number, isPort = strings.CutPrefix(stem, "LPT")
	}
	return isPort && utf8.RuneCountInString(number) == 1 && strings.Contains("0123456789¹²³", number)
}

// faultOfName says why a text cannot be a variant's name, or "".
func faultOfName(name string) string {
	refused := func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsMark(r) && !unicode.IsDigit(r) && !strings.ContainsRune(" -_.", r)
	}
	first, _ := utf8.DecodeRuneInString(name)
	switch at := strings.IndexFunc(name, refused); {
	case name == "":
		return "a name has at least one character"
	case utf8.RuneCountInString(name) > maxName:
		return fmt.Sprintf("a name has at most %d characters", maxName)
	case at >= 0:
		r, _ := utf8.DecodeRuneInString(name[at:])
		return "file names begin with the name, so " + strconv.QuoteRune(r) + " cannot stand in it"
	case !unicode.IsLetter(first) && !unicode.IsDigit(first):
		return "a name begins with a letter or a digit"
	case strings.HasSuffix(name, " ") || strings.HasSuffix(name, "."):
		return "a name does not end in a space or a point"
	case len(name) > maxNameBytes:
		return fmt.Sprintf("a name has at most %d bytes in UTF-8, since file names begin with it", maxNameBytes)
	case Device(name):
		return "Windows keeps this name for a device; give another"
	default:
		return ""
	}
}

func faultOfDrawingFile(file string) string { return faultOfFile(file, ".dxf", "a drawing") }

func faultOfBase(file string) string { return faultOfFile(file, ".toml", "a variant file") }

// faultOfFile says why a path cannot be that of a file with the ending.
func faultOfFile(file, ending, what string) string {
	switch {
	case strings.ContainsFunc(file, turning):
		return "a path has no characters that turn the direction of writing; write it anew"
	case strings.ContainsFunc(file, unicode.IsControl):
		return `a path has no control characters; in double quotes a backslash begins one: write / instead`
	case len(file) <= len(ending) || !strings.EqualFold(file[len(file)-len(ending):], ending):
		return what + "'s name ends in " + ending
	default:
		return ""
	}
}

// turning tells of a character that turns the direction of writing, so that a name does not read as it is.
func turning(r rune) bool { return unicode.Is(unicode.Bidi_Control, r) }

func faultOfLayer(name string) string {
	if strings.TrimSpace(name) == "" || strings.ContainsFunc(name, unicode.IsControl) || strings.ContainsFunc(name, turning) {
		return "a layer's name has at least one character and no control characters"
	}
	return ""
}
