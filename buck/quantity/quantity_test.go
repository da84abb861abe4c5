package quantity_test

import (
	"errors"
	"fmt"
	"math/big"
	"testing"

	"formbuck/buck/quantity"
)

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text string
		mm   *big.Rat
	}{
		{"1/4 in", big.NewRat(635, 100)},
		{"2.4 mm", big.NewRat(24, 10)},
		{"1 1/2 in", big.NewRat(381, 10)},
		{"25.4mm", big.NewRat(254, 10)},
		{"2 cm", big.NewRat(20, 1)},
		{`1/4"`, big.NewRat(635, 100)},
		{`1 1/2 ″`, big.NewRat(381, 10)},
		{"1 inch", big.NewRat(254, 10)},
		{"1 IN", big.NewRat(254, 10)},
		{"  3 MM ", big.NewRat(3, 1)},
		{".5 in", big.NewRat(127, 10)},
		{"-0.1 mm", big.NewRat(-1, 10)},
		{"-1 1/2 in", big.NewRat(-381, 10)},
		{"+3 mm", big.NewRat(3, 1)},
		{"2.4\u00a0mm", big.NewRat(24, 10)},
		{"010 mm", big.NewRat(10, 1)},
		{"5/4 in", big.NewRat(3175, 100)},
	} {
		got, err := quantity.ParseLength(c.text)
		if err != nil || got.Cmp(c.mm) != 0 {
			t.Errorf("ParseLength(%q) = %v, %v; want %v mm", c.text, got, err, c.mm)
		}
	}
}

// Sheet gauges: 25.4 mm to the inch, worked by hand.
func TestGaugesAreExact(t *testing.T) {
	for text, want := range map[string]string{
		"0.028 in": "0.7112",
		"0.040 in": "1.016",
		"0.060 in": "1.524",
		"0.080 in": "2.032",
		"0.093 in": "2.3622",
		"0.118 in": "2.9972",
		"0.125 in": "3.175",
		"0.187 in": "4.7498",
	} {
		got, err := quantity.ParseLength(text)
		if err != nil || quantity.Format(got) != want {
			t.Errorf("%s = %v, %v; want %s mm", text, got, err, want)
		}
	}
	got, err := quantity.ParseLength("0.093 in")
	if err != nil || got.Cmp(big.NewRat(11811, 5000)) != 0 {
		t.Errorf("0.093 in = %v, %v; want 11811/5000 mm", got, err)
	}
}

func TestParseAngle(t *testing.T) {
	for text, want := range map[string]*big.Rat{
		"5 deg":  big.NewRat(5, 1),
		"118°":   big.NewRat(118, 1),
		"-2.5°":  big.NewRat(-5, 2),
		"1/2deg": big.NewRat(1, 2),
	} {
		got, err := quantity.ParseAngle(text)
		if err != nil || got.Cmp(want) != 0 {
			t.Errorf("ParseAngle(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
}

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]*big.Rat{
		"3":       big.NewRat(3, 1),
		"-3.25":   big.NewRat(-13, 4),
		"+0":      new(big.Rat),
		"1_000.5": big.NewRat(2001, 2),
		"0x1F":    big.NewRat(31, 1),
		"0b101":   big.NewRat(5, 1),
		"0o17":    big.NewRat(15, 1),
		"25e-1":   big.NewRat(5, 2),
		"2.5E+1":  big.NewRat(25, 1),
		"-0.0":    new(big.Rat),
	} {
		got, err := quantity.ParseNumber(text)
		if err != nil || got.Cmp(want) != 0 {
			t.Errorf("ParseNumber(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	length, angle, number := quantity.ParseLength, quantity.ParseAngle, quantity.ParseNumber
	for _, c := range []struct {
		parse func(string) (*big.Rat, error)
		text  string
		want  string
	}{
		{length, "", `empty: ""`},
		{length, "  ", `empty: "  "`},
		{length, "mm", `not a number: "mm"`},
		{length, "3.2", `no unit: "3.2": write "3.2 mm"`},
		{angle, "5", `no unit: "5": write "5 deg"`},
		{length, "2,4 mm", `comma in a number: "2,4 mm": write 2.4`},
		{length, "1,000.5 mm", `comma in a number: "1,000.5 mm": write it with a decimal point and no thousands mark`},
		{length, "3 furlong", `unknown unit: "3 furlong"`},
		{length, "93 thou", `unknown unit: "93 thou": write thousandths of an inch as 0.001 in`},
		{length, "1/4 ”", `unknown unit: "1/4 ”": write inches as in`},
		{length, "1/4''", `unknown unit: "1/4''": write inches as in`},
		{length, "2 m", `unknown unit: "2 m": write it in mm, cm or in`},
		{length, "1 in 2 mm", `unknown unit: "1 in 2 mm"`},
		{length, "5 deg", `unit of another kind: "5 deg"`},
		{angle, "5 mm", `unit of another kind: "5 mm"`},
		{length, "1/0 in", `not a proper fraction: "1/0 in"`},
		{length, "1 5/4 in", `not a proper fraction: "1 5/4 in"`},
		{length, "1 2/2 in", `not a proper fraction: "1 2/2 in"`},
		{length, "1-1/2 in", `not a number: "1-1/2 in": write a whole number and a fraction with a space, as in 1 1/2`},
		{length, "1.5 1/2 in", `not a number: "1.5 1/2 in"`},
		{length, "1.5/2 in", `not a number: "1.5/2 in"`},
		{length, "1/2/3 in", `not a number: "1/2/3 in"`},
		{length, "3. mm", `not a number: "3. mm"`},
		{length, ". mm", `not a number: ". mm"`},
		{length, "- 3 mm", `not a number: "- 3 mm"`},
		{length, "--3 mm", `not a number: "--3 mm"`},
		{length, "1e3 mm", `unknown unit: "1e3 mm"`},
		{length, "½ in", `not a number: "½ in"`},
		{length, "٣ mm", `not a number: "٣ mm"`},
		{number, "nan", `not a finite number: "nan"`},
		{number, "-inf", `not a finite number: "-inf"`},
		{number, "1e31", `number with more digits than any measure has: "1e31"`},
		{number, "1e-999999999", `number with more digits than any measure has: "1e-999999999"`},
		{number, "1e", `not a number: "1e"`},
		{number, "1/2", `not a number: "1/2"`},
		{number, "", `not a number: ""`},
		{number, "0xg", `not a number: "0xg"`},
	} {
		got, err := c.parse(c.text)
		var fault *quantity.Error
		if !errors.As(err, &fault) || got != nil || err.Error() != c.want {
			t.Errorf("%q: got %v, %v; want %s", c.text, got, err, c.want)
		}
	}
}

func TestLongTextIsRefused(t *testing.T) {
	text := fmt.Sprintf("%070d mm", 3)
	for _, parse := range []func(string) (*big.Rat, error){
		quantity.ParseLength, quantity.ParseAngle, quantity.ParseNumber,
	} {
		var fault *quantity.Error
		if _, err := parse(text); !errors.As(err, &fault) || fault.Fault != quantity.TooLong {
			t.Errorf("got %v, want %s", err, quantity.TooLong)
		}
	}
}

func TestFormat(t *testing.T) {
	for want, r := range map[string]*big.Rat{
		"2.3622":   big.NewRat(11811, 5000),
		"3":        big.NewRat(3, 1),
		"-0.5":     big.NewRat(-1, 2),
		"8.466667": big.NewRat(127, 15),
		"100":      big.NewRat(100, 1),
		"0":        big.NewRat(1, 1e15),
	} {
		if got := quantity.Format(r); got != want {
			t.Errorf("Format(%v) = %s, want %s", r, got, want)
		}
	}
}

func FuzzParseLength(f *testing.F) {
	for _, text := range []string{"1/4 in", "2.4 mm", "1 1/2 in", "-.5cm", `3"`, "2,4 mm", "5 deg", "", "1/0 mm"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { readAgain(t, quantity.ParseLength, text, " mm") })
}

func FuzzParseAngle(f *testing.F) {
	for _, text := range []string{"5 deg", "-7.5°", "1 1/2 DEG", "5", "5 mm", "1e3 deg", "1/0 deg", "deg"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { readAgain(t, quantity.ParseAngle, text, " deg") })
}

func FuzzParseShare(f *testing.F) {
	for _, text := range []string{"3 %", "0.6%", "1/2 %", "-1 1/3 %", "3", "3 deg", "%%", "+ %"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { readAgain(t, quantity.ParseShare, text, " %") })
}

// readAgain wants an *Error of a text, or a quantity that is the same once it was written in a unit and read.
func readAgain(t *testing.T, parse func(string) (*big.Rat, error), text, unit string) {
	t.Helper()
	got, err := parse(text)
	var fault *quantity.Error
	if (err == nil) == (got == nil) || err != nil && !errors.As(err, &fault) {
		t.Fatalf("%q: %v, %v", text, got, err)
	}
	if err != nil {
		return
	}
	const most = 64 // bytes that are read: with a blank, or as a decimal, a text of that length is longer
	written := quantity.Format(got) + unit
	if places, exact := got.FloatPrec(); exact && places <= 9 && len(written) <= most {
		again, err := parse(written)
		if err != nil || again.Cmp(got) != 0 {
			t.Fatalf("%q is %v%s, written again and read it is %v, %v", text, got, unit, again, err)
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, text := range []string{"3", "-2.5e3", "0x1f", "nan", "1_0", "1e999999999", "e"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := quantity.ParseNumber(text)
		var fault *quantity.Error
		if (err == nil) == (got == nil) || err != nil && !errors.As(err, &fault) {
			t.Fatalf("%q: %v, %v", text, got, err)
		}
	})
}

func ExampleParseLength() {
	for _, text := range []string{"1/4 in", "0.093 in", "2.4 mm"} {
		mm, err := quantity.ParseLength(text)
		fmt.Println(text, "=", quantity.Format(mm), "mm", err)
	}
	_, err := quantity.ParseLength("2,4 mm")
	fmt.Println(err)
	// Output:
	// 1/4 in = 6.35 mm <nil>
	// 0.093 in = 2.3622 mm <nil>
	// 2.4 mm = 2.4 mm <nil>
	// comma in a number: "2,4 mm": write 2.4
}

func TestParseFeedAndSpeed(t *testing.T) {
	for text, want := range map[string]*big.Rat{
		"1200 mm/min": big.NewRat(1200, 1),
		"48 in/min":   big.NewRat(12192, 10),
		"1.2 m/min":   big.NewRat(1200, 1),
		"1200 mm":     big.NewRat(1200, 1),
	} {
		if got, err := quantity.ParseFeed(text); err != nil || got.Cmp(want) != 0 {
			t.Errorf("ParseFeed(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]*big.Rat{"16000 rpm": big.NewRat(16000, 1), "16000 r/min": big.NewRat(16000, 1)} {
		if got, err := quantity.ParseSpeed(text); err != nil || got.Cmp(want) != 0 {
			t.Errorf("ParseSpeed(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"1200 rpm", "5 deg", "12 mm/s", "1200"} {
		if got, err := quantity.ParseFeed(text); err == nil {
			t.Errorf("ParseFeed(%q) = %v; want a refusal", text, got)
		}
	}
	for _, text := range []string{"1200 mm/min", "0.5 rpm", "1200"} {
		if got, err := quantity.ParseSpeed(text); err == nil {
			t.Errorf("ParseSpeed(%q) = %v; want a refusal", text, got)
		}
	}
}
