package buck

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"formbuck/buck/batch"
	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
)

// BatchOptions say how to plan a list of orders.
type BatchOptions struct {
	Shop   string                // path of the file that says what the shop has; empty: shop.toml beside the list
	Status string                // path of the file that keeps what is done; empty: none is read
	Done   map[string]batch.Step // orders that are done as far as a step, beside what that file says
	Start  batch.Day             // the first day; none: dates are not kept to
	Paper  drawing.Paper         // of all papers; empty: A4
	Title  string                // of the papers; empty: the list's name

	// Unfinished makes what [Source].Unfinished and [Options].Unfinished let pass.
	Unfinished bool
}

// Batch is a list of orders that is planned as one. Make or find what its works are, then plan it.
type Batch struct {
	List   string // path
	Shop   *batch.Shop
	Orders []batch.Order
	Works  []*Work        // what the orders are of: each variant in each gauge once
	Status []batch.Status // of each order
	Begun  []string       // orders that were changed and are begun anew

	// Printed holds the digests of the pieces that lie in the drawer, as records have them; the caller fills it.
	Printed map[string]bool

	from    Source
	options BatchOptions
}

// OpenBatch reads a list of orders, what the shop has, what is done, and the variants that are ordered.
// What is wrong with the list and the shop is told at once, in the order of the list.
func (s Source) OpenBatch(list string, o BatchOptions) (*Batch, error) {
	if o.Shop == "" {
		o.Shop = filepath.Join(filepath.Dir(list), "shop.toml")
	}
	o.Paper, o.Title = cmp.Or(o.Paper, drawing.A4), cmp.Or(o.Title, stem(list))
	s.Unfinished = s.Unfinished || o.Unfinished
	b := &Batch{List: list, from: s, options: o}
	if err := b.readShop(); err != nil {
		return nil, err
	}
	text, err := s.Read(list)
	if err != nil {
		return nil, err
	}
	b.Orders, err = batch.ReadOrders(list, bytes.NewReader(text), b.Shop.KnowsColour)
	var wrong batch.Faults
	if err != nil && !errors.As(err, &wrong) {
		return nil, err
	}
	if wrong = append(wrong, b.gather()...); len(wrong) > 0 {
		slices.SortStableFunc(wrong, func(a, b *batch.Fault) int { return cmp.Compare(a.Line, b.Line) })
		return nil, wrong
	}
	if err := b.progress(); err != nil {
		return nil, err
	}
	return b, b.named()
}

// readShop reads what the shop has.
func (b *Batch) readShop() error {
	file := b.options.Shop
	text, err := b.from.Read(file)
	if err == nil {
		b.Shop, err = batch.ReadShop(file, bytes.NewReader(text))
	}
	if errors.Is(err, fs.ErrNotExist) {
		return &Fault{Kind: NoShop, File: file, What: err.Error(), text: err.Error() + "; it says what the shop has", err: err}
	}
	return err
}

// gather finds which variants in which gauges are to be made, and what is wrong with them.
func (b *Batch) gather() (faults batch.Faults) {
	found := make(map[string]*Design) // by file; nil: it is at fault, which was told
	for n, o := range b.Orders {
		file := seenFrom(b.List, o.Variant)
		if _, known := found[file]; !known {
			d, err := b.from.Open(file)
			if err != nil {
				faults = append(faults, b.refused(o, "variant", err.Error())...)
			}
			found[file] = d
		}
		d := found[file]
		if d == nil {
			continue
		}
		own := d.variant.Spec.Sheet.Thickness
		wanted := o.Gauge
		if wanted == 0 {
			wanted = own
		}
		gauge, ok := b.Shop.Gauge(o.Colour, wanted)
		if !ok {
			what := fmt.Sprintf("no %s sheet of %.4g mm is in stock; there is %s", o.Colour, wanted, gaugesOf(b.Shop, o.Colour))
			faults = append(faults, b.refused(o, "gauge", what)...)
			continue
		}
		b.order(n, &Work{batch: b, file: file, read: d, gauge: gauge, other: !batch.SameGauge(gauge, own)})
	}
	return faults
}

// refused are the faults of an order, one for each line of what is wrong with it.
func (b *Batch) refused(o batch.Order, key, what string) (faults batch.Faults) {
	for line := range strings.SplitSeq(what, "\n") {
		faults = append(faults, &batch.Fault{File: b.List, Line: o.Line, Key: key, What: line})
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

// order puts an order to its work.
func (b *Batch) order(n int, w *Work) {
	i := slices.IndexFunc(b.Works, func(other *Work) bool { return other.file == w.file && other.gauge == w.gauge })
	if i < 0 {
		i = len(b.Works)
		b.Works = append(b.Works, w)
	}
	w = b.Works[i]
	w.orders = append(w.orders, n)
	if hand := b.Orders[n].Hand; !slices.Contains(w.hands, hand) {
		w.hands = append(w.hands, hand)
		slices.SortFunc(w.hands, func(x, y measures.Hand) int {
			return slices.Index(measures.Hands(), x) - slices.Index(measures.Hands(), y)
		})
	}
}

// progress reads what was done before, and takes the marks.
func (b *Batch) progress() error {
	for _, id := range slices.Sorted(maps.Keys(b.options.Done)) {
		if !slices.ContainsFunc(b.Orders, func(o batch.Order) bool { return o.ID == id }) {
			return &Fault{Kind: NoOrder, File: b.List, Value: id, What: fmt.Sprintf("there is no order %q", id), text: fmt.Sprintf("%s: there is no order %q", b.List, id)}
		}
	}
	var before []batch.Status
	if file := b.options.Status; file != "" {
		text, err := b.from.Read(file)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return err
		default:
			if before, err = batch.ReadStatus(file, text); err != nil {
				return err
			}
		}
	}
	b.Status, b.Begun = batch.Progress(b.Orders, before, b.options.Done)
	return nil
}

// named refuses two variants of one name, whose job folders would be one; where capitals do not count, as on some systems,
// so would those of names that differ in nothing else.
func (b *Batch) named() error {
	var faults batch.Faults
	names := make(map[string]*Work)
	for _, w := range b.Works {
		if err := w.understand(); err != nil {
			return err
		}
		name := strings.ToLower(w.Name())
		if other := names[name]; other != nil {
			what := fmt.Sprintf("%s and %s are both named %q; give one of them another name", other.file, w.file, w.Name())
			faults = append(faults, b.refused(b.Orders[w.orders[0]], "variant", what)...)
		}
		names[name] = w
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// Refused are the faults of works that could not be made, each told by the first order of it.
func (b *Batch) Refused(faults map[*Work]error) error {
	var all batch.Faults
	for _, w := range b.Works {
		if err := faults[w]; err != nil {
			all = append(all, b.refused(b.Orders[w.orders[0]], "variant", err.Error())...)
		}
	}
	if len(all) > 0 {
		return all
	}
	return nil
}

// Plan plans the batch, whose works are made.
func (b *Batch) Plan() (*batch.Plan, error) {
	r := batch.Request{Shop: b.Shop, Orders: b.Orders, Articles: make([]*batch.Article, len(b.Orders)), Done: b.Status, Start: b.options.Start}
	for _, w := range b.Works {
		if w.made == nil {
			return nil, fmt.Errorf("%s: %s is not made", b.List, w.Name())
		}
		hands := make(map[measures.Hand]*batch.Article)
		for _, n := range w.orders {
			h := b.Orders[n].Hand
			if hands[h] == nil {
				hands[h] = w.made.of(h, w.gauge, b.Printed)
			}
			r.Articles[n] = hands[h]
		}
	}
	p, err := batch.New(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", b.List, err)
	}
	return p, nil
}

// warnings are what the user should know of a plan before its files are written.
func (b *Batch) warnings(p *batch.Plan) []string {
	var all []string
	for _, w := range b.Works {
		for _, warning := range w.made.Warnings {
			warning.File = seenFrom(w.file, filepath.FromSlash(warning.File))
			all = append(all, warning.String())
		}
	}
	for _, id := range b.Begun {
		all = append(all, fmt.Sprintf("%s: order %s was changed; it is begun anew", b.List, id))
	}
	if said := p.Letters(); said != "" {
		all = append(all, b.List+": "+said)
	}
	return all
}

// StatusFile is what is done, to be read as [BatchOptions].Status by the next run.
func (b *Batch) StatusFile() ([]byte, error) {
	var text bytes.Buffer
	err := batch.WriteStatus(&text, b.Status)
	return text.Bytes(), err
}
