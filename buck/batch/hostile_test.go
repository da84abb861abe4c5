package batch_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/buck/batch"
	"formbuck/testdata/hostile"
	"formbuck/testdata/size"
)

// demo is a file of the demo's batch.
func demo(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "batch", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// told holds an error to be faults, none of more than a line.
func told(t *testing.T, err error) error {
	t.Helper()
	if err == nil {
		return nil
	}
	var faults batch.Faults
	var one *batch.Fault
	switch {
	case errors.As(err, &faults):
	case errors.As(err, &one):
		faults = batch.Faults{one}
	}
	if len(faults) == 0 {
		t.Errorf("%v: no faults", err)
	}
	for _, f := range faults {
		if strings.ContainsAny(f.Error(), "\n\r\x1b\u202e\x00") {
			t.Errorf("%q is not plain", f.Error())
		}
	}
	return err
}

func orders(t *testing.T) func([]byte) error {
	shop := readShop(t, shopText)
	return func(data []byte) error {
		_, err := batch.ReadOrders("week.csv", bytes.NewReader(data), shop.KnowsColour)
		return told(t, err)
	}
}

func shop(t *testing.T) func([]byte) error {
	return func(data []byte) error {
		_, err := batch.ReadShop("shop.toml", bytes.NewReader(data))
		return told(t, err)
	}
}

func status(t *testing.T) func([]byte) error {
	return func(data []byte) error {
		_, err := batch.ReadStatus("status.csv", data)
		return told(t, err)
	}
}

// TestHostile reads damaged lists of orders, shop files and tables of what is done.
func TestHostile(t *testing.T) {
	list := demo(t, "week.csv")
	t.Run("orders", func(t *testing.T) {
		hostile.Run(t, 1000, []string{list, strings.ReplaceAll(list, ",", ";")}, orders(t))
	})
	t.Run("shop", func(t *testing.T) { hostile.Run(t, 200, []string{demo(t, "shop.toml")}, shop(t)) })
	t.Run("status", func(t *testing.T) {
		hostile.Run(t, 1000, []string{"order,what,done\n17,alder right moss 2 mm,cut\n18,\"birch, plain\",\n'=19,x,press\n"}, status(t))
	})
}

// TestLarge reads what is made to take long: it is refused in time.
func TestLarge(t *testing.T) {
	size.Long(t)
	many := func(n int, line func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(line(i))
		}
		return b.String()
	}
	row := func(i int) string { return fmt.Sprintf("%d,alder.toml,right,moss,2,1,,\n", i) }
	key := func(i int) string { return fmt.Sprintf("k%d = 1\n", i) }
	for _, c := range []struct {
		name, text string
		read       func([]byte) error
	}{
		{"a million orders", head + many(1_000_000, row), orders(t)},
		{"as many orders as fit", head + many(200_000, row), orders(t)},
		{"faults", head + strings.Repeat("\x1b,\x1b,\x1b,\x1b,\x1b,\x1b,,\n", 8<<20/20), orders(t)},
		{"one field", head + strings.Repeat("x", 7<<20), orders(t)},
		{"columns", strings.Repeat("x,", 3<<20), orders(t)},
		{"columns of names", many(60_000, func(i int) string { return fmt.Sprintf("c%d,", i) }), orders(t)},
		{"a quote", head + `"` + strings.Repeat("a\n", 3<<20), orders(t)},
		{"keys", many(100_000, key), shop(t)},
		{"keys that fit", many(1900, key), shop(t)},
		{"keys given twice", strings.Repeat("k = 1\n", 2001), shop(t)},
		{"sheets", strings.Repeat("[[sheet]]\n", 6000), shop(t)},
		{"deep", "a = " + strings.Repeat("[", 1<<16-10), shop(t)},
		{"dots", "a" + strings.Repeat(".a", 1<<15-10) + " = 1", shop(t)},
		{"tables", strings.Repeat("{a=", 1900), shop(t)},
		{"slips", strings.Repeat("=\n", 1900), shop(t)},
		{"rows that are done", "order,what,done\n" + strings.Repeat("1,a,nought\n", 500_000), status(t)},
		{"breaks", "order,what,done\n1,\"" + strings.Repeat("\n", 4<<20) + "\",\n", status(t)},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := hostile.Bounded(t, c.name, []byte(c.text), c.read); err == nil {
				t.Error("taken")
			}
		})
	}
}
