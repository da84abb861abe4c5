package batch_test

import (
	"bytes"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/batch"
	"formbuck/buck/measures"

	"github.com/google/go-cmp/cmp"
)

const head = "order,variant,hand,colour,gauge,quantity,due,note\n"

func TestReadOrders(t *testing.T) {
	shop := readShop(t, shopText)
	got, err := batch.ReadOrders("week.csv", strings.NewReader("\ufeff"+head+
		"17,alder.toml,right,Moss,2.0,2,2026-12-04,\"a gift, wrapped\"\r\n18, birch.toml ,PLAIN,slate,0.093 in,1,,\n,,,,,,,\n"), shop.KnowsColour)
	if err != nil {
		t.Fatal(err)
	}
	want := []batch.Order{
		{ID: "17", Variant: "alder.toml", Hand: measures.Right, Colour: "moss", Gauge: 2, Quantity: 2, Due: day(t, "2026-12-04"), Note: "a gift, wrapped", Line: 2},
		{ID: "18", Variant: "birch.toml", Hand: measures.Plain, Colour: "slate", Gauge: 2.3622, Quantity: 1, Line: 3},
	}
	if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b batch.Day) bool { return a == b })); diff != "" {
		t.Error(diff)
	}
}

// TestSpreadsheetOrders reads lists as spreadsheets write them: a byte order mark, a line that names what parts the fields,
// semicolons with decimal commas, tabs, dates with the day first, fields to carry along, empty fields at the end.
func TestSpreadsheetOrders(t *testing.T) {
	shop := readShop(t, shopText)
	want := []batch.Order{{
		ID: "17", Variant: "alder.toml", Hand: measures.Right, Colour: "slate", Gauge: 2.3622, Quantity: 2, Due: day(t, "2026-12-24"),
		Note: "a gift, wrapped", More: []batch.Field{{Column: "Customer", Text: "=Ash & Co?"}}, Line: 3,
	}}
	for _, tt := range []struct{ name, text string }{
		{"semicolons", "\ufeffsep=;\r\norder;Variant;Hand;colour;gauge;quantity;due;note;Customer;;\r\n17;alder.toml;right;slate;0,093 in;2;24.12.2026;a gift, wrapped;=Ash & Co\a;;\r\n;;;;;;;;;;\r\n"},
		{"tabs", "\norder\tvariant\thand\tcolour\tgauge\tquantity\tdue\tnote\tCustomer\n17\talder.toml\tright\tslate\t2,3622\t2\t24/12/2026\ta gift, wrapped\t=Ash & Co\u202e\t\t\n"},
		{"commas", "\n\"order\",variant,hand,colour,gauge,quantity,due,note,Customer,\n17,alder.toml,right,slate,2.3622,2,24-12-2026,\"a gift, wrapped\",=Ash & Co\x1b,,,\n"},
	} {
		got, err := batch.ReadOrders("week.csv", strings.NewReader(tt.text), shop.KnowsColour)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
		} else if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b batch.Day) bool { return a == b })); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// TestOrderFaults checks where faults are found, and that all are found at once.
func TestOrderFaults(t *testing.T) {
	shop := readShop(t, shopText)
	for _, tt := range []struct {
		name, text string
		want       []string
	}{
		{"empty", " \n", []string{"w.csv:1:1: is empty"}},
		{"utf-16", "\xff\xfeo", []string{"w.csv:1:1: is UTF-16"}},
		{"not utf-8", "order\xff", []string{"w.csv:1:1: is not UTF-8"}},
		{"semicolons", "order;variant;hand\n1;a;left\n", []string{"w.csv:1: colour: the column is missing", "w.csv:1: quantity: the column is missing"}},
		{"decimal comma beside commas", head + "1,a,left,moss,\"2,0\",1,,\n", []string{`w.csv:2:15: gauge: "2,0" is not a length such as 2.4 or 0.093 in: write 2.0`}},
		{"ambiguous date", head + "1,a,left,moss,,1,05/12/2026,\n", []string{`w.csv:2:18: due: "05/12/2026" may be 5 December or 12 May: write 2026-12-05 or 2026-05-12`}},
		{"month first", head + "1,a,left,moss,,1,12/24/2026,\n", []string{`w.csv:2:18: due: "12/24/2026" has the month first: write 2026-12-24`}},
		{"year of two digits", head + "1,a,left,moss,,1,24.12.26,\n", []string{`w.csv:2:18: due: "24.12.26" is not a date such as 2026-12-24`}},
		{"slip in a column that may be left out", "order,variant,hand,colour,gage,quantity\n", []string{`w.csv:1:27: unknown column "gage"; did you mean gauge?`}},
		{"field without a column's name", "order,variant,hand,colour,quantity,\n1,a,left,moss,1,blue box\n", []string{`w.csv:2:17: "blue box" stands in a column without a name`}},
		{"long texts", head + strings.Repeat("n", 61) + ",a,left,moss,,1,," + strings.Repeat("ä", 2001) + "\n", []string{
			"w.csv:2:1: order: has 61 characters, and 60 are allowed", "w.csv:2:79: note: has 2001 characters, and 2000 are allowed",
		}},
		{"control characters", head + "\"1\x1b[2J\",a\u202eb.toml,left,moss,,1,,\n", []string{
			`w.csv:2:1: order: "1\x1b[2J" holds the character U+001B`, `w.csv:2:9: variant: "a\u202eb.toml" holds the character U+202E`,
		}},
		{"empty lines", head + ",,,,,,,\n , \n", []string{"w.csv:1: there is no order"}},
		{"only names", head, []string{"w.csv:1: there is no order"}},
		{"unknown column", "order,variant,hand,color,quantity\n", []string{`w.csv:1:20: unknown column "color"; did you mean colour?`}},
		{"twice", "order,order,variant,hand,colour,quantity\n", []string{"w.csv:1:7: order: the column is there twice"}},
		{"quote", head + "1,\"a,right,moss,,1,,\n", []string{"w.csv:2:22: not CSV"}},
		{"fields", head + "1,a,right\n", []string{"w.csv:2: 3 fields, and there are 8 columns"}},
		{"all at once", head + "1,,middle,pink,9,0,2026-13-01,\n1,b,left,moss,2,1,,\n", []string{
			"w.csv:2:3: variant: is empty", `w.csv:2:4: hand: "middle" is none of`, `w.csv:2:11: colour: no sheet of colour "pink" is in stock; there is moss and slate`,
			"w.csv:2:16: gauge: 9 is not from 0.4 to 6.5 mm", `w.csv:2:18: quantity: "0"`, `w.csv:2:20: due: "2026-13-01" is not a date`,
			`w.csv:3:1: order: "1" is in line 2 too`,
		}},
		{"line break", head + "1,\"a\nb\",left,moss,,1,,\"two\nlines\"\n", []string{`w.csv:2:3: variant: "a\nb" holds a line break`}},
		{"gauge", head + "1,a,left,moss,thick,1,,\n", []string{`w.csv:2:15: gauge: "thick" is not a length`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := batch.ReadOrders("w.csv", strings.NewReader(tt.text), shop.KnowsColour)
			if err == nil {
				t.Fatal("no fault")
			}
			lines := strings.Split(err.Error(), "\n")
			for i, want := range tt.want {
				if i >= len(lines) || !strings.HasPrefix(lines[i], want) {
					t.Errorf("fault %d: %q, want %q...", i, lines[min(i, len(lines)-1)], want)
				}
			}
			if len(lines) != len(tt.want) {
				t.Errorf("%d faults, want %d:\n%v", len(lines), len(tt.want), err)
			}
		})
	}
}

func TestShopFaults(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"nothing", "", "s.toml: sheet: no stock sheet is listed"},
		{"unknown key", shopText + "[heat]\nplates = 2\n", "s.toml:15:1: heat.plates: unknown key"},
		{"not a length", strings.Replace(shopText, `"24 in"`, `"24 ells"`, 1), "s.toml:7:9: sheet.width: "},
		{"out of range", strings.Replace(shopText, "gauge = 2", "gauge = 20", 1), "s.toml:6: sheet[0].gauge: 20 is not from 0.4 to 6.5 mm"},
		{"no press", strings.Replace(shopText, "presses = 1", "presses = 0", 1), "s.toml:3: press.presses: 0 is not from 1 to 50"},
		{"time", shopText + "[day]\nbegins = \"25:00\"\n", "s.toml:15:10: day.begins: \"25:00\" is not a time of day"},
		{"hand", shopText + "[[buck]]\nvariant = \"alder\"\nhand = \"middle\"\ncount = 1\n", `s.toml:16: buck[0].hand: "middle" is none`},
		{"missing colour", "[[sheet]]\ngauge = 2\nwidth = 300\nheight = 300\n", "s.toml:1: sheet[0].colour: the sheet has no colour"},
		{"supply", shopText + "[[supply]]\nname = \"glue\"\n", `s.toml:15: supply[0].name: "glue" is none of eyelet, plate, screw and clip`},
		{"not TOML", "[press\n", "s.toml:1:"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := batch.ReadShop("s.toml", strings.NewReader(tt.text))
			if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("%v, want %s...", err, tt.want)
			}
		})
	}
}

// TestSpreadsheetFormulas writes names that a spreadsheet would take for formulas so that it does not, and reads them back.
func TestSpreadsheetFormulas(t *testing.T) {
	var all []batch.Status
	for _, id := range []string{"=1+2", "+cmd", "-12a", "@SUM(A1)", "'=x", "''", "'", "plain", "-12", "=", "a=b"} {
		all = append(all, batch.Status{Order: id, What: "=" + id, Done: batch.Cut})
	}
	var b bytes.Buffer
	if err := batch.WriteStatus(&b, all); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(b.String()) {
		for field := range strings.SplitSeq(strings.TrimSpace(line), ",") {
			if _, err := strconv.ParseFloat(field, 64); err != nil && strings.ContainsAny(field[:1], "=+-@\t") {
				t.Errorf("%q is written as it is", field)
			}
		}
	}
	if again, err := batch.ReadStatus("status.csv", b.Bytes()); err != nil || !slices.Equal(again, all) {
		t.Errorf("%v is read again as %v: %v", all, again, err)
	}

	shop := readShop(t, shopText)
	p := newPlan(t, batch.Request{
		Shop: shop, Orders: []batch.Order{{ID: "=1+2", Hand: measures.Right, Colour: "moss", Quantity: 1}}, Articles: []*batch.Article{article("alder", measures.Right, 2)},
	})
	for name, write := range map[string]func(io.Writer, *batch.Plan) error{"steps": batch.WriteSteps, "cuts": batch.WriteCuts} {
		b.Reset()
		if err := write(&b, p); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(b.String(), ",'=1+2"); n == 0 || strings.Count(b.String(), "=1+2") != n {
			t.Errorf("%s: the order stands there as\n%s", name, b.String())
		}
	}
}

// TestProgress keeps what is done of an order that did not change.
func TestProgress(t *testing.T) {
	orders := []batch.Order{
		{ID: "1", Variant: "a.toml", Hand: measures.Left, Colour: "moss", Quantity: 1},
		{ID: "2", Variant: "a.toml", Hand: measures.Left, Colour: "moss", Quantity: 2},
		{ID: "3", Variant: "b.toml", Hand: measures.Left, Colour: "moss", Quantity: 1},
	}
	first, _ := batch.Progress(orders, nil, map[string]batch.Step{"1": batch.Pressing, "2": batch.Cut})
	var b bytes.Buffer
	if err := batch.WriteStatus(&b, first); err != nil {
		t.Fatal(err)
	}
	before, err := batch.ReadStatus("status.csv", b.Bytes())
	if err != nil || !slices.Equal(before, first) {
		t.Fatalf("%v, %v", before, err)
	}
	orders[1].Colour, orders[0].Note = "slate", "in a box"
	now, changed := batch.Progress(orders, before, map[string]batch.Step{"3": batch.Riveting})
	if now[0].Done != batch.Pressing || now[1].Done != "" || now[2].Done != batch.Riveting || !slices.Equal(changed, []string{"2"}) {
		t.Errorf("%+v, changed %v", now, changed)
	}
	if _, err := batch.ReadStatus("status.csv", []byte("order,what,done\n1,x,glue\n")); err == nil || !strings.Contains(err.Error(), "status.csv:2: done") {
		t.Errorf("%v", err)
	}
}

// TestResume plans the rest of a batch: what is pressed is not pressed again.
func TestResume(t *testing.T) {
	shop := readShop(t, shopText)
	r := batch.Request{Shop: shop}
	for n, hand := range measures.Hands() {
		r.Orders = append(r.Orders, batch.Order{ID: string(rune('a' + n)), Hand: hand, Colour: "moss", Quantity: 1})
		r.Articles = append(r.Articles, article("alder", hand, 2))
	}
	r.Done, _ = batch.Progress(r.Orders, nil, map[string]batch.Step{"a": batch.Cut, "b": batch.Pressing, "c": batch.Riveting})
	p := newPlan(t, r)
	count := make(map[batch.Step]int)
	for _, s := range p.Schedule.Slots {
		count[s.Step]++
	}
	want := map[batch.Step]int{batch.Heating: 2, batch.Pressing: 2, batch.Drilling: 3, batch.Parting: 3, batch.Trimming: 3, batch.Finish: 3, batch.Riveting: 3}
	if diff := cmp.Diff(want, count); diff != "" {
		t.Error(diff)
	}
	blanks := 0
	for _, c := range p.Cutting {
		blanks += len(c.Loads)
	}
	if blanks != 2 || len(p.Bucks) != 2 {
		t.Errorf("%d blanks and %d bucks, want 2 and 2", blanks, len(p.Bucks))
	}
}

func FuzzReadOrders(f *testing.F) {
	f.Add(head + "17,alder.toml,right,moss,2.0,2,2026-12-04,\"a, b\"\n")
	f.Add("order,variant,hand,colour,quantity\n1,\"a\"\"b\",left,slate,3\n")
	f.Fuzz(func(t *testing.T, text string) {
		orders, err := batch.ReadOrders("w.csv", strings.NewReader(text), func(string) string { return "" })
		if err == nil && len(orders) == 0 {
			t.Error("no order and no fault")
		}
	})
}

func FuzzReadShop(f *testing.F) {
	f.Add(shopText)
	f.Add("[[sheet]]\ncolour = 'a'\n")
	f.Fuzz(func(_ *testing.T, text string) {
		_, _ = batch.ReadShop("s.toml", strings.NewReader(text)) // must not panic
	})
}
