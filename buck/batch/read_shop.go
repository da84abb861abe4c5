package batch

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"formbuck/buck/internal/nest"
	"formbuck/buck/measures"
	"formbuck/buck/quantity"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// length is a number of mm or a quantity in quotes.
type length float64

// UnmarshalText reads a quantity.
func (l *length) UnmarshalText(text []byte) error {
	r, err := quantity.ParseLength(string(text))
	if err != nil {
		return err
	}
	*l = length(quantity.Float(r))
	return nil
}

// clock is a time of day, in minutes after midnight.
type clock float64

// UnmarshalText reads a time such as 08:30.
func (c *clock) UnmarshalText(text []byte) error {
	hour, minute, colon := strings.Cut(string(text), ":")
	h, errH := strconv.Atoi(hour)
	m, errM := strconv.Atoi(minute)
	if !colon || errH != nil || errM != nil || h < 0 || h > 23 || m < 0 || m > 59 {
		return fmt.Errorf("%q is not a time of day such as 08:00", text)
	}
	*c = clock(60*h + m)
	return nil
}

// shopFile is the file as it is written.
type shopFile struct {
	Day struct {
		Begins clock
		Hours  float64
	}
	Heat struct {
		Places       int
		MinutesPerMM float64 `toml:"minutes_per_mm"`
	}
	Press struct {
		Presses      int
		Minutes      float64
		ChangeBuck   float64 `toml:"change_buck"`
		ChangeGauge  float64 `toml:"change_gauge"`
		ChangeColour float64 `toml:"change_colour"`
	}
	Mill struct {
		Mills        int
		SetUp        float64 `toml:"set_up"`
		Hole         float64
		MinutesPerMM float64 `toml:"minutes_per_mm"`
		PostsByHand  bool    `toml:"posts_by_hand"`
	}
	Bench struct {
		People                      int
		Split, Post, Finish, Eyelet float64
	}
	Saw    struct{ Kerf, Keep length }
	Drawer []string
	Sheet  []struct {
		Colour        string
		Gauge         length
		Width, Height length
		Count         int
	}
	Buck []struct {
		Variant, Hand string
		Count         int
	}
	Supply []struct {
		Name  string
		Count int
	}
}

// usual is a shop of one press and one person. Heat, press and the rest are common practice, no
// source; the shop's own clock goes before all of them.
func usual() *shopFile {
	f := &shopFile{}
	f.Day.Begins, f.Day.Hours = 8*60, 8
	f.Heat.Places, f.Heat.MinutesPerMM = 1, 3.5 // 7 min for 2 mm on a hot plate, 5 to 10 being usual
	f.Press.Presses, f.Press.Minutes = 1, 15
	f.Press.ChangeBuck, f.Press.ChangeGauge, f.Press.ChangeColour = 5, 10, 1
	f.Mill.Mills, f.Mill.SetUp, f.Mill.Hole = 1, 3, 0.15
	f.Mill.MinutesPerMM = 2.0 / 1800 // two passes at 1800 mm/min
	f.Bench.People, f.Bench.Split, f.Bench.Post, f.Bench.Finish, f.Bench.Eyelet = 1, 2, 1.5, 20, 0.5
	f.Saw.Kerf, f.Saw.Keep = 3, 80
	return f
}

// What is read of a shop file, in bytes and keys: some four hundred sheets. The decoder goes through the whole text for each
// key that it does not know.
const (
	maxShop     = 64 << 10
	maxShopKeys = 2000
)

// ReadShop reads what the shop has, as TOML. The file's name is for messages. What is wrong with
// the content comes back as Faults; another error is the reader's own. Without a table the shop is
// one of one press and one person, with the usual times; sheets have to be told.
func ReadShop(file string, from io.Reader) (*Shop, error) {
	text, err := io.ReadAll(io.LimitReader(from, maxShop+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if len(text) > maxShop {
		return nil, Faults{{File: file, What: fmt.Sprintf("too long for a shop file: at most %d kB", maxShop>>10)}}
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if n := bytes.Count(text, []byte("=")); n > maxShopKeys {
		return nil, Faults{{File: file, What: fmt.Sprintf("too long for a shop file: at most %d keys", maxShopKeys)}}
	}
	f := usual()
	if faults := decode(file, text, f); faults != nil {
		return nil, faults
	}
	c := &checks{file: file, at: places(text)}
	c.all(f)
	if len(c.faults) > 0 {
		return nil, c.faults
	}
	return f.shop(), nil
}

// decode fills the file from the text.
func decode(file string, text []byte, f *shopFile) Faults {
	err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(f)
	if err == nil {
		return nil
	}
	fault := func(e *toml.DecodeError) *Fault {
		line, column := e.Position()
		return &Fault{
			File: file, Line: line, Column: column, Key: strings.Join(e.Key(), "."),
			What: strings.TrimPrefix(e.Error(), "toml: "),
		}
	}
	var unknown *toml.StrictMissingError
	var broken *toml.DecodeError
	switch {
	case errors.As(err, &unknown):
		var all Faults
		for _, e := range unknown.Errors {
			one := fault(&e)
			one.What = "unknown key"
			all = append(all, one)
		}
		return all
	case errors.As(err, &broken):
		return Faults{fault(broken)}
	default:
		return Faults{{File: file, What: strings.TrimPrefix(err.Error(), "toml: ")}}
	}
}

// places are the lines of all keys, by path; entries of lists are counted from 0: sheet[1].gauge.
func places(text []byte) map[string]int {
	at, count := make(map[string]int), make(map[string]int)
	table := ""
	var p unstable.Parser
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		var parts []string
		offset := 0
		for keys := e.Key(); keys.Next(); {
			parts = append(parts, string(keys.Node().Data))
			offset = int(keys.Node().Raw.Offset)
		}
		path := strings.Join(parts, ".")
		line := bytes.Count(text[:min(offset, len(text))], []byte("\n")) + 1
		switch e.Kind {
		case unstable.Table:
			table = path
		case unstable.ArrayTable:
			table = fmt.Sprintf("%s[%d]", path, count[path])
			count[path]++
		default:
			if table != "" {
				path = table + "." + path
			}
			at[path] = line
			continue
		}
		at[table] = line
	}
	return at
}

// checks gathers what is wrong with the values.
type checks struct {
	file   string
	at     map[string]int
	faults Faults
}

func (c *checks) refuse(path, format string, args ...any) {
	line, found := c.at[path]
	for above := path; !found && strings.Contains(above, "."); {
		above = above[:strings.LastIndex(above, ".")]
		line, found = c.at[above]
	}
	c.faults = append(c.faults, &Fault{File: c.file, Line: line, Key: path, What: fmt.Sprintf(format, args...)})
}

func (c *checks) within(path string, value, least, most float64, unit string) {
	if math.IsNaN(value) || value < least || value > most {
		c.refuse(path, "%.6g is not from %g to %g%s", value, least, most, unit)
	}
}

func (c *checks) all(f *shopFile) {
	const minutes, long = " minutes", 24 * 60
	for _, one := range []struct {
		path               string
		value, least, most float64
		unit               string
	}{
		{"day.hours", f.Day.Hours, 1, 24, " hours"},
		{"heat.places", float64(f.Heat.Places), 1, 50, ""},
		{"heat.minutes_per_mm", f.Heat.MinutesPerMM, 0.1, 60, minutes},
		{"press.presses", float64(f.Press.Presses), 1, 50, ""},
		{"press.minutes", f.Press.Minutes, 0.5, long, minutes},
		{"press.change_buck", f.Press.ChangeBuck, 0, long, minutes},
		{"press.change_gauge", f.Press.ChangeGauge, 0, long, minutes},
		{"press.change_colour", f.Press.ChangeColour, 0, long, minutes},
		{"mill.mills", float64(f.Mill.Mills), 1, 50, ""},
		{"mill.set_up", f.Mill.SetUp, 0, long, minutes},
		{"mill.hole", f.Mill.Hole, 0, 60, minutes},
		{"mill.minutes_per_mm", f.Mill.MinutesPerMM, 0, 1, minutes},
		{"bench.people", float64(f.Bench.People), 1, 50, ""},
		{"bench.split", f.Bench.Split, 0, long, minutes},
		{"bench.post", f.Bench.Post, 0, 60, minutes},
		{"bench.finish", f.Bench.Finish, 0, long, minutes},
		{"bench.eyelet", f.Bench.Eyelet, 0, 60, minutes},
		{"saw.kerf", float64(f.Saw.Kerf), 0, 20, " mm"},
		{"saw.keep", float64(f.Saw.Keep), 10, 5000, " mm"},
	} {
		c.within(one.path, one.value, one.least, one.most, one.unit)
	}
	c.stock(f)
}

// stock checks what is listed.
func (c *checks) stock(f *shopFile) {
	if len(f.Sheet) == 0 {
		c.refuse("sheet", "no stock sheet is listed; give each kind as [[sheet]] with colour, gauge, width and height")
	}
	for i, s := range f.Sheet {
		path := fmt.Sprintf("sheet[%d]", i)
		if strings.TrimSpace(s.Colour) == "" {
			c.refuse(path+".colour", "the sheet has no colour")
		}
		c.within(path+".gauge", float64(s.Gauge), 0.4, 6.5, " mm")
		c.within(path+".width", float64(s.Width), 20, 5000, " mm")
		c.within(path+".height", float64(s.Height), 20, 5000, " mm")
		c.within(path+".count", float64(s.Count), 0, 10_000, "")
	}
	for i, b := range f.Buck {
		path := fmt.Sprintf("buck[%d]", i)
		if b.Variant == "" {
			c.refuse(path+".variant", "the buck has no variant")
		}
		if !slices.Contains(measures.Hands(), measures.Hand(b.Hand)) {
			c.refuse(path+".hand", "%q is none of right, left, both or plain", b.Hand)
		}
		c.within(path+".count", float64(b.Count), 0, 1000, "")
	}
	for _, folder := range f.Drawer {
		if strings.TrimSpace(folder) == "" {
			c.refuse("drawer", "the name of a job folder is empty")
		}
	}
	for i, s := range f.Supply {
		path := fmt.Sprintf("supply[%d]", i)
		if !slices.Contains(Supplies(), s.Name) {
			c.refuse(path+".name", "%q is none of %s", s.Name, listed(Supplies()))
		}
		c.within(path+".count", float64(s.Count), 0, 1e6, "")
	}
}

// shop is the file's meaning.
func (f *shopFile) shop() *Shop {
	s := &Shop{
		Day:  Hours{Begins: float64(f.Day.Begins), Minutes: 60 * f.Day.Hours},
		Heat: Heat{Count: f.Heat.Places, PerMM: f.Heat.MinutesPerMM},
		Press: Press{
			Count: f.Press.Presses, Minutes: f.Press.Minutes,
			Buck: f.Press.ChangeBuck, Gauge: f.Press.ChangeGauge, Colour: f.Press.ChangeColour,
		},
		Mill: Mill{
			Count: f.Mill.Mills, SetUp: f.Mill.SetUp, Hole: f.Mill.Hole, PerMM: f.Mill.MinutesPerMM,
			ByHand: f.Mill.PostsByHand,
		},
		Bench: Bench{
			Count: f.Bench.People, Split: f.Bench.Split, Post: f.Bench.Post, Finish: f.Bench.Finish, Rivet: f.Bench.Eyelet,
		},
		Saw:      nest.Saw{Kerf: float64(f.Saw.Kerf), Keep: float64(f.Saw.Keep)},
		Supplies: make(map[string]int),
		Drawers:  f.Drawer,
	}
	for _, sheet := range f.Sheet {
		size := nest.Size{Width: float64(sheet.Width), Height: float64(sheet.Height)}
		s.Sheets = append(s.Sheets, Sheet{
			Colour: strings.ToLower(strings.TrimSpace(sheet.Colour)), Gauge: float64(sheet.Gauge),
			Stock: nest.Stock{Name: fmt.Sprintf("%.4g x %.4g mm", size.Width, size.Height), Size: size, Count: sheet.Count},
		})
	}
	for _, b := range f.Buck {
		s.Bucks = append(s.Bucks, Owned{Variant: b.Variant, Hand: measures.Hand(b.Hand), Count: b.Count})
	}
	for _, supply := range f.Supply {
		s.Supplies[supply.Name] += supply.Count
	}
	return s
}
