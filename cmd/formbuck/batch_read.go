package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"formbuck/buck"
	"formbuck/buck/batch"
	"formbuck/buck/record"
)

// read reads the shop, the list, what is done, and how thick the variants' sheets are.
func (b *batchRun) read() error {
	var err error
	if b.shop, err = input(b.flags.shop, func(r io.Reader) (*batch.Shop, error) { return batch.ReadShop(b.flags.shop, r) }); errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%w; it says what the shop has: formbuck batch -h shows one", err)
	} else if err != nil {
		return err
	}
	b.orders, err = input(b.list, func(r io.Reader) ([]batch.Order, error) {
		return batch.ReadOrders(b.list, r, b.shop.KnowsColour)
	})
	var wrong batch.Faults
	if err != nil && !errors.As(err, &wrong) {
		return err
	}
	if wrong = append(wrong, b.gather()...); len(wrong) > 0 {
		slices.SortStableFunc(wrong, func(a, b *batch.Fault) int { return cmp.Compare(a.Line, b.Line) })
		return wrong
	}
	return b.progress()
}

// gather finds which variants in which gauges are to be made, and what is wrong with them.
func (b *batchRun) gather() (faults batch.Faults) {
	found := make(map[string]*knifeWork) // by file; nil: it is at fault, which was told
	for n, o := range b.orders {
		file := seenFrom(b.list, o.Variant)
		if _, known := found[file]; !known {
			w, err := loadWork(order{variant: file, unfinished: b.flags.unfinished})
			if err != nil {
				faults = append(faults, b.refused(o, "variant", err.Error())...)
				found[file] = nil
			} else {
				found[file] = w.(*knifeWork)
			}
		}
		w := found[file]
		if w == nil {
			continue
		}
		own := w.variant.Spec.Sheet.Thickness
		wanted := o.Gauge
		if wanted == 0 {
			wanted = own
		}
		gauge, ok := b.shop.Gauge(o.Colour, wanted)
		if !ok {
			what := fmt.Sprintf("no %s sheet of %.4g mm is in stock; there is %s", o.Colour, wanted, gaugesOf(b.shop, o.Colour))
			faults = append(faults, b.refused(o, "gauge", what)...)
			continue
		}
		b.order(n, &knives{file: file, read: w, gauge: gauge, other: !batch.SameGauge(gauge, own), paper: b.paper})
	}
	return faults
}

// refused are the faults of an order, one for each line of what is wrong with it.
func (b *batchRun) refused(o batch.Order, key, what string) (faults batch.Faults) {
	for line := range strings.SplitSeq(what, "\n") {
		faults = append(faults, &batch.Fault{File: b.list, Line: o.Line, Key: key, What: line})
	}
	return faults
}

func gaugesOf(s *batch.Shop, colour string) string {
	var all []string
	for _, g := range s.Gauges(colour) {
		all = append(all, fmt.Sprintf("%.4g mm", g))
	}
	return strings.Join(all, ", ")
}

// order puts an order to its knives.
func (b *batchRun) order(n int, k *knives) {
	i := slices.IndexFunc(b.knives, func(other *knives) bool { return other.file == k.file && other.gauge == k.gauge })
	if i < 0 {
		i = len(b.knives)
		b.knives = append(b.knives, k)
	}
	k = b.knives[i]
	k.orders = append(k.orders, n)
	if hand := b.orders[n].Hand; !slices.Contains(k.hands, hand) {
		k.hands = append(k.hands, hand)
		slices.SortFunc(k.hands, func(x, y buck.Hand) int { return slices.Index(buck.Hands(), x) - slices.Index(buck.Hands(), y) })
	}
}

// statusName is where what is done is kept.
func (b *batchRun) statusName() string { return filepath.Join(b.flags.dir, "status.csv") }

// progress reads what was done before, and takes the marks.
func (b *batchRun) progress() error {
	for _, id := range slices.Sorted(maps.Keys(b.marks)) {
		if !slices.ContainsFunc(b.orders, func(o batch.Order) bool { return o.ID == id }) {
			return fmt.Errorf("%s: --done: there is no order %q", b.list, id)
		}
	}
	var before []batch.Status
	if _, err := os.Stat(b.statusName()); err == nil {
		text, err := input(b.statusName(), io.ReadAll)
		if err != nil {
			return err
		}
		if before, err = batch.ReadStatus(b.statusName(), text); err != nil {
			return err
		}
	}
	b.status, b.again = batch.Progress(b.orders, before, b.marks)
	return nil
}

// drawer is the digests of the pieces that are printed already, from the records of their job folders.
func (b *batchRun) drawer() (map[string]bool, error) {
	found := make(map[string]bool)
	var faults batch.Faults
	for _, name := range b.shop.Drawers {
		dir := seenFrom(b.flags.shop, name)
		records, _ := filepath.Glob(filepath.Join(escaped(dir), "*"+recordName("")))
		if len(records) == 0 {
			faults = append(faults, &batch.Fault{File: b.flags.shop, Key: "drawer", What: fmt.Sprintf("%s: is no job folder: there is no record in it of what was made", dir)})
		}
		for _, file := range records {
			r, err := input(file, record.Decode)
			if err != nil {
				faults = append(faults, &batch.Fault{File: b.flags.shop, Key: "drawer", What: fmt.Sprintf("%s: %v", file, err)})
				continue
			}
			for _, p := range r.Pieces {
				found[p.SHA256] = true
			}
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return found, nil
}

// escaped is a path in which nothing is a pattern.
func escaped(path string) string {
	return strings.NewReplacer("*", `\*`, "?", `\?`, "[", `\[`, `\`, `\\`).Replace(path)
}
