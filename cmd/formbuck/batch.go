package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"formbuck/buck"
	"formbuck/buck/batch"
	"formbuck/buck/batch/picture"
	shop "formbuck/buck/paper/drawing"
	"formbuck/buck/record"
	"formbuck/cmd/internal/folder"
	"formbuck/profile/dxf"

	"github.com/spf13/cobra"
)

const batchLong = `Turn a list of orders into a plan for the shop: what to print, cut, press, drill and count, and
when. The list is a table in CSV whose first line names its columns:

  order      its name, once in the list
  variant    the variant file, seen from the list's folder
  hand       right, left, both or plain
  colour     of the sheet
  gauge      of the sheet, where it is not the variant's: 2.4 or "0.093 in"
  quantity   how many sheaths
  due        the day it has to be done, as 2026-12-24
  note       what goes along with it

gauge, due and note may be left out. What the shop has and how long its steps take stands in
shop.toml beside the list, or in the file that --shop names: stock sheets, presses, bucks that are
owned, supplies, and the drawer: job folders whose pieces are printed already.

The folder gets bucks/NAME, the job folder of each variant, and plan with what is pinned up
(plan.pdf; day-1.png and so on), fetched (picklist.pdf) and goes along with the orders (travellers.pdf), a drawing of each
sheet to be cut (DXF, SVG), and the steps in their time (steps.csv). What is done is kept in
status.csv: mark it with --done, and the rest is planned anew. A run that was stopped goes on where
it was.`

const batchExample = `  formbuck batch week.csv                        plan the week's orders into the folder week
  formbuck batch week.csv --start 2026-12-07     say who is late
  formbuck batch week.csv --done 1041=press      order 1041 is pressed; plan the rest
  formbuck batch week.csv --shop other.toml      with another shop
  formbuck batch week.csv --json | jq .late`

// batchFlags are the flags of batch.
type batchFlags struct {
	dir, shop, start string
	done             []string
	paper            choices
	force, json      bool
}

func newBatch(a *app) *cobra.Command {
	f := batchFlags{paper: choices{of: paperNames(), single: true}}
	cmd := &cobra.Command{
		Use:     "batch ORDERS.csv",
		Short:   "Plan a list of orders: print, cut, press, drill, count",
		Long:    batchLong,
		Example: batchExample,
		Args:    positional("ORDERS.csv", 1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			b, err := newBatchRun(cmd, args[0], f)
			if err != nil {
				return err
			}
			return b.run(cmd.Context(), a)
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.dir, "output", "o", "", "write into the folder `DIR` (default: the list's name)")
	flags.StringVar(&f.shop, "shop", "", "read what the shop has from `SHOP.toml` (default: shop.toml beside the list)")
	flags.StringVar(&f.start, "start", "", "begin on this `DAY`, as 2026-12-07: dates are then kept to, and who is late is named")
	flags.StringArrayVar(&f.done, "done", nil, "mark `ORDER=STEP` as done: "+oneOf(markNames())+"; may be repeated")
	flags.Var(&f.paper, "paper", "lay papers out for this paper: "+oneOf(paperNames())+" (default a4)")
	flags.BoolVar(&f.force, "force", false, "overwrite files in DIR/plan that formbuck did not write")
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON")
	complete(cmd, "paper", paperNames())
	return cmd
}

func markNames() []string {
	var names []string
	for _, s := range batch.Marks() {
		names = append(names, string(s))
	}
	return names
}

// batchRun is one run of batch.
type batchRun struct {
	flags  batchFlags
	list   string // path
	start  batch.Day
	marks  map[string]batch.Step
	paper  shop.Paper
	shop   *batch.Shop
	orders []batch.Order
	knives []*knives
	status []batch.Status
	again  []string // orders that were changed and are begun anew
}

// newBatchRun takes the command line.
func newBatchRun(cmd *cobra.Command, list string, f batchFlags) (*batchRun, error) {
	b := &batchRun{flags: f, list: list, marks: make(map[string]batch.Step), paper: shop.A4}
	if len(f.paper.chosen) > 0 {
		b.paper = shop.Paper(f.paper.chosen[0])
	}
	if f.start != "" {
		var err error
		if b.start, err = batch.ParseDay(f.start); err != nil {
			return nil, misuse(cmd, "--start: %v", err)
		}
	}
	for _, mark := range f.done {
		i := strings.LastIndex(mark, "=")
		if i < 1 || !slices.Contains(markNames(), mark[i+1:]) {
			return nil, misuse(cmd, "--done: expected ORDER=STEP with a step out of %s, found %q", oneOf(markNames()), mark)
		}
		b.marks[mark[:i]] = batch.Step(mark[i+1:])
	}
	if b.flags.dir == "" {
		b.flags.dir = strings.TrimSuffix(filepath.Base(list), filepath.Ext(list))
		if b.flags.dir == filepath.Base(list) {
			b.flags.dir += "-plan"
		}
	}
	if b.flags.shop == "" {
		b.flags.shop = filepath.Join(filepath.Dir(list), "shop.toml")
	}
	return b, nil
}

// run reads, makes, plans and writes.
func (b *batchRun) run(ctx context.Context, a *app) error {
	if err := b.read(); err != nil {
		return err
	}
	drawer, err := b.drawer()
	if err != nil {
		return err
	}
	if err := b.make(ctx, a); err != nil {
		return err
	}
	p, err := b.plan(drawer)
	if err != nil {
		return err
	}
	report, err := b.write(ctx, p)
	if err != nil {
		return err
	}
	for _, id := range b.again {
		a.warn(fmt.Sprintf("%s: order %s was changed; it is begun anew", b.list, id))
	}
	if b.flags.json {
		return a.answerJSON(b.answer(p, report))
	}
	a.printf("%s", b.text(p))
	return nil
}

// read reads the shop, the list, what is done, and how thick the variants' sheets are.
func (b *batchRun) read() error {
	var err error
	if b.shop, err = input(b.flags.shop, func(r io.Reader) (*batch.Shop, error) { return batch.ReadShop(b.flags.shop, r) }); err != nil {
		return err
	}
	b.orders, err = input(b.list, func(r io.Reader) ([]batch.Order, error) {
		return batch.ReadOrders(b.list, r, b.shop.KnowsColour)
	})
	if err != nil {
		return err
	}
	if err := b.gather(); err != nil {
		return err
	}
	return b.progress()
}

// gather finds which variants in which gauges are to be made.
func (b *batchRun) gather() error {
	var faults batch.Faults
	refuse := func(o batch.Order, key, what string) {
		for line := range strings.SplitSeq(what, "\n") {
			faults = append(faults, &batch.Fault{File: b.list, Line: o.Line, Key: key, What: line})
		}
	}
	own := make(map[string]float64)
	wrong := make(map[string]bool)
	for n, o := range b.orders {
		file := o.Variant
		if !filepath.IsAbs(file) {
			file = filepath.Join(filepath.Dir(b.list), file)
		}
		if _, known := own[file]; !known && !wrong[file] {
			w, err := loadWork(order{variant: file})
			if err != nil {
				wrong[file] = true
				refuse(o, "variant", err.Error())
			} else {
				own[file] = w.(*knifeWork).variant.Spec.Sheet.Thickness
			}
		}
		if wrong[file] {
			continue
		}
		wanted := o.Gauge
		if wanted == 0 {
			wanted = own[file]
		}
		gauge, ok := b.shop.Gauge(o.Colour, wanted)
		if !ok {
			refuse(o, "gauge", fmt.Sprintf("no %s sheet of %.4g mm is in stock; there is %s", o.Colour, wanted, gaugesOf(b.shop, o.Colour)))
			continue
		}
		b.order(n, &knives{file: file, gauge: gauge, other: !batch.SameGauge(gauge, own[file])})
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
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
	for _, id := range sortedKeys(b.marks) {
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

func sortedKeys[T any](m map[string]T) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// drawer is the digests of the pieces that are printed already, from the records of their job folders.
func (b *batchRun) drawer() (map[string]bool, error) {
	found := make(map[string]bool)
	var faults batch.Faults
	for _, name := range b.shop.Drawers {
		dir := name
		if !filepath.IsAbs(dir) {
			dir = filepath.Join(filepath.Dir(b.flags.shop), dir)
		}
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

// make makes the job folders, as many at once as there are processors. All that is at fault is told.
func (b *batchRun) make(ctx context.Context, a *app) error {
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	var saying sync.Mutex
	for _, k := range b.knives {
		wait.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			var warnings []string
			if k.fault = ctx.Err(); k.fault == nil {
				k.made, warnings, k.fault = k.article(ctx, filepath.Join(b.flags.dir, "bucks"), readFile)
			}
			saying.Lock()
			defer saying.Unlock()
			for _, w := range warnings {
				a.warn(w)
			}
		})
	}
	wait.Wait()
	if ctx.Err() != nil {
		return &folder.Fault{Path: b.flags.dir, Kind: folder.Interrupted, Err: ctx.Err()}
	}
	return b.faults()
}

// faults are those of the variants, each told by the first order of it, and two variants of one name.
func (b *batchRun) faults() error {
	var faults batch.Faults
	names := make(map[string]*knives)
	for _, k := range b.knives {
		o := b.orders[k.orders[0]]
		if k.fault != nil {
			for line := range strings.SplitSeq(k.fault.Error(), "\n") {
				faults = append(faults, &batch.Fault{File: b.list, Line: o.Line, Key: "variant", What: line})
			}
			continue
		}
		if other := names[k.made.Variant]; other != nil {
			faults = append(faults, &batch.Fault{
				File: b.list, Line: o.Line, Key: "variant",
				What: fmt.Sprintf("%s and %s are both named %q; give one of them another name", other.file, k.file, k.made.Variant),
			})
		}
		names[k.made.Variant] = k
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// plan plans.
func (b *batchRun) plan(drawer map[string]bool) (*batch.Plan, error) {
	r := batch.Request{Shop: b.shop, Orders: b.orders, Articles: make([]*batch.Article, len(b.orders)), Done: b.status, Start: b.start}
	for _, k := range b.knives {
		hands := make(map[buck.Hand]*batch.Article)
		for _, n := range k.orders {
			h := b.orders[n].Hand
			if hands[h] == nil {
				hands[h] = k.made.of(h, k.gauge, drawer)
			}
			r.Articles[n] = hands[h]
		}
	}
	p, err := batch.New(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", b.list, err)
	}
	return p, nil
}

// write keeps what is done and writes the plan.
func (b *batchRun) write(ctx context.Context, p *batch.Plan) (folder.Report, error) {
	files, err := b.files(p)
	if err != nil {
		return folder.Report{}, err
	}
	target, err := folder.Open(filepath.Join(b.flags.dir, "plan"), folder.Options{Force: b.flags.force})
	if err != nil {
		return folder.Report{}, err
	}
	var status bytes.Buffer
	err = batch.WriteStatus(&status, b.status)
	if err == nil {
		err = overwrite(b.statusName(), status.Bytes())
	}
	if err != nil {
		return folder.Report{}, errors.Join(err, target.Close())
	}
	report, err := target.Write(ctx, files)
	return report, errors.Join(err, target.Close())
}

// files are the plan's files.
func (b *batchRun) files(p *batch.Plan) ([]folder.File, error) {
	name := strings.TrimSuffix(filepath.Base(b.list), filepath.Ext(b.list))
	var files []folder.File
	add := func(file string, write func(io.Writer) error) error {
		var out bytes.Buffer
		if err := write(&out); err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		files = append(files, folder.File{Name: file, Data: out.Bytes()})
		return nil
	}
	pdf := func(file, title string, pages func(*batch.Plan, string, shop.Paper) []*shop.Drawing) error {
		return add(file, func(w io.Writer) error { return shop.PDF(w, title, pages(p, title, b.paper)...) })
	}
	errs := []error{
		pdf("plan.pdf", name+": plan", picture.Plan),
		pdf("picklist.pdf", name+": pick list", picture.PickList),
		pdf("travellers.pdf", name+": travellers", picture.Travellers),
		add("steps.csv", func(w io.Writer) error { return batch.WriteSteps(w, p) }),
	}
	for i, d := range picture.Days(p, dayPicture) {
		errs = append(errs, add(fmt.Sprintf("day-%d.png", i+1), func(w io.Writer) error { return d.PNG(w, 130) }))
	}
	for _, c := range picture.Cuts(p) {
		file := fmt.Sprintf("sheet-%s-%.4gmm-%d", fileWord(c.Colour), c.Gauge, c.Number)
		errs = append(
			errs,
			add(file+".dxf", func(w io.Writer) error { return dxf.Encode(w, c.DXF()) }),
			add(file+".svg", c.Drawing(sheetPicture).SVG),
		)
	}
	return files, errors.Join(errs...)
}
