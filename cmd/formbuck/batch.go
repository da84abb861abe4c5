package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"formbuck/buck"
	"formbuck/buck/batch"
	shop "formbuck/buck/paper/drawing"
	"formbuck/cmd/internal/folder"

	"github.com/spf13/cobra"
)

// batchFlags are the flags of batch.
type batchFlags struct {
	dir, shop, start string
	done             []string
	paper            choices
	force, json      bool
	unfinished       bool
}

func newBatch(a *app) *cobra.Command {
	f := batchFlags{paper: choices{of: paperNames(), single: true}}
	cmd := &cobra.Command{
		Use:     "batch ORDERS.csv",
		Short:   "Plan a list of orders: print, cut, press, drill, count",
		Long:    batchLong + shopExample,
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
	flags.BoolVar(&f.unfinished, "unfinished", false, unfinishedHelp)
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

	warnings []string
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
	if err := mistaken(b.list, ".csv"); err != nil {
		return err
	}
	if err := folderName(b.flags.dir); err != nil {
		return err
	}
	if info, err := os.Stat(b.flags.dir); err == nil && !info.IsDir() {
		return fmt.Errorf("%s: is a file, and a folder is wanted here", b.flags.dir)
	}
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
	for _, k := range b.knives {
		for _, w := range k.made.Warnings {
			w.File = seenFrom(k.file, filepath.FromSlash(w.File))
			b.warnings = append(b.warnings, w.String())
		}
	}
	for _, id := range b.again {
		b.warnings = append(b.warnings, fmt.Sprintf("%s: order %s was changed; it is begun anew", b.list, id))
	}
	if said := p.Letters(); said != "" {
		b.warnings = append(b.warnings, b.list+": "+said)
	}
	report, err := b.write(ctx, a, p)
	if err != nil {
		return err
	}
	for _, w := range b.warnings {
		a.warn(w)
	}
	if b.flags.json {
		return a.answerJSON(b.answer(p, report))
	}
	a.done("%s", b.text(p))
	return nil
}

// make makes the job folders, as many at once as there are processors. All that is at fault is told.
func (b *batchRun) make(ctx context.Context, a *app) error {
	if err := b.named(); err != nil {
		return err
	}
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	var saying sync.Mutex
	finished := 0
	for _, k := range b.knives {
		wait.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			if k.fault = ctx.Err(); k.fault == nil {
				k.made, k.fault = k.article(ctx, a, filepath.Join(b.flags.dir, "bucks"))
			}
			saying.Lock()
			defer saying.Unlock()
			finished++
			a.progress.tell("%d of %d variants are made", finished, len(b.knives))
		})
	}
	wait.Wait()
	if ctx.Err() != nil {
		return &folder.Fault{Path: b.flags.dir, Kind: folder.Interrupted, Err: ctx.Err()}
	}
	return b.faults()
}

// named refuses two variants of one name, whose job folders would be one; where capitals do not count, as on some systems,
// so would those of names that differ in nothing else.
func (b *batchRun) named() error {
	var faults batch.Faults
	names := make(map[string]*knives)
	for _, k := range b.knives {
		w, err := k.work()
		if err != nil {
			return err
		}
		name := strings.ToLower(w.Name())
		if other := names[name]; other != nil {
			what := fmt.Sprintf("%s and %s are both named %q; give one of them another name", other.file, k.file, w.Name())
			faults = append(faults, b.refused(b.orders[k.orders[0]], "variant", what)...)
		}
		names[name] = k
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// faults are those of the variants, each told by the first order of it.
func (b *batchRun) faults() error {
	var faults batch.Faults
	for _, k := range b.knives {
		if k.fault != nil {
			faults = append(faults, b.refused(b.orders[k.orders[0]], "variant", k.fault.Error())...)
		}
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
