package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"formbuck/buck"
	"formbuck/buck/batch"
	"formbuck/buck/record"
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
			o, err := batchOptions(cmd, args[0], &f)
			if err != nil {
				return err
			}
			return a.batch(cmd.Context(), args[0], f, o)
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

// batchOptions takes the command line, and fills in the folder where none is given.
func batchOptions(cmd *cobra.Command, list string, f *batchFlags) (o buck.BatchOptions, err error) {
	o = buck.BatchOptions{Shop: f.shop, Done: make(map[string]batch.Step), Paper: paperOf(f.paper), Unfinished: f.unfinished}
	if f.start != "" {
		if o.Start, err = batch.ParseDay(f.start); err != nil {
			return o, misuse(cmd, "--start: %v", err)
		}
	}
	for _, mark := range f.done {
		i := strings.LastIndex(mark, "=")
		if i < 1 || !slices.Contains(markNames(), mark[i+1:]) {
			return o, misuse(cmd, "--done: expected ORDER=STEP with a step out of %s, found %q", oneOf(markNames()), mark)
		}
		o.Done[mark[:i]] = batch.Step(mark[i+1:])
	}
	if o.Shop == "" {
		o.Shop = filepath.Join(filepath.Dir(list), "shop.toml")
	}
	name := strings.TrimSuffix(filepath.Base(list), filepath.Ext(list))
	o.Title = seen(name)
	if f.dir == "" {
		f.dir = name
		if name == filepath.Base(list) {
			f.dir += "-plan"
		}
	}
	o.Status = filepath.Join(f.dir, "status.csv")
	return o, nil
}

// batch reads, makes, plans and writes.
func (a *app) batch(ctx context.Context, list string, f batchFlags, o buck.BatchOptions) error {
	if err := mistaken(list, ".csv"); err != nil {
		return err
	}
	if err := folderName(f.dir); err != nil {
		return err
	}
	if info, err := os.Stat(f.dir); err == nil && !info.IsDir() {
		return fmt.Errorf("%s: is a file, and a folder is wanted here", f.dir)
	}
	b, err := buck.Source{Read: readFile}.OpenBatch(list, o)
	if err != nil {
		return batchError(err)
	}
	if b.Printed, err = drawer(b.Shop, o.Shop); err != nil {
		return err
	}
	if err := a.makeWorks(ctx, b, f.dir); err != nil {
		return err
	}
	p, err := b.Plan()
	if err != nil {
		return err
	}
	files, warnings, err := b.Files(p)
	if err != nil {
		return err
	}
	report, err := a.writePlan(ctx, b, f, files)
	if err != nil {
		return err
	}
	for _, w := range warnings {
		a.warn(w)
	}
	if f.json {
		return a.answerJSON(batchAnswerOf(b, p, f.dir, warnings, report))
	}
	a.done("%s", batchText(b, p, f.dir))
	return nil
}

// batchError is an error of a list of orders, in the words of the command line.
func batchError(err error) error {
	var f *buck.Fault
	switch {
	case errors.As(err, &f) && f.Kind == buck.NoShop:
		return fmt.Errorf("%w: formbuck batch -h shows one", err)
	case errors.As(err, &f) && f.Kind == buck.NoOrder:
		return fmt.Errorf("%s: --done: %s", f.File, f.What)
	}
	return passable(err)
}

// makeWorks makes the job folders, as many at once as there are processors. All that is at fault is told.
func (a *app) makeWorks(ctx context.Context, b *buck.Batch, dir string) error {
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	var saying sync.Mutex
	faults := make(map[*buck.Work]error)
	finished := 0
	for _, w := range b.Works {
		wait.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			err := ctx.Err()
			if err == nil {
				err = a.makeWork(ctx, w, filepath.Join(dir, "bucks", w.Name()))
			}
			saying.Lock()
			defer saying.Unlock()
			faults[w] = err
			finished++
			a.progress.tell("%d of %d variants are made", finished, len(b.Works))
		})
	}
	wait.Wait()
	if ctx.Err() != nil {
		return &folder.Fault{Path: dir, Kind: folder.Interrupted, Err: ctx.Err()}
	}
	return b.Refused(faults)
}

// makeWork makes the job folder of a variant, or finds it made.
func (a *app) makeWork(ctx context.Context, w *buck.Work, dir string) error {
	if w.Kept(jobFolder(dir)) {
		return nil
	}
	o := buck.Options{Origin: origin(w.File(), dir, w.Name())}
	_, _, err := a.built(ctx, w, o, dir, folder.Options{}, func(*buck.Made) {})
	return err
}

// jobFolder is a folder of the disk as a file system whose files are read as all others are.
type jobFolder string

// Open looks at a file.
func (dir jobFolder) Open(name string) (fs.File, error) { return os.Open(dir.at(name)) }

// ReadFile reads a file.
func (dir jobFolder) ReadFile(name string) ([]byte, error) { return readFile(dir.at(name)) }

// Stat looks whether a file is there.
func (dir jobFolder) Stat(name string) (fs.FileInfo, error) { return os.Stat(dir.at(name)) }

func (dir jobFolder) at(name string) string {
	return filepath.Join(string(dir), filepath.FromSlash(name))
}

// drawer is the digests of the pieces that are printed already, from the records of their job folders.
func drawer(shop *batch.Shop, file string) (map[string]bool, error) {
	found := make(map[string]bool)
	var faults batch.Faults
	refuse := func(format string, args ...any) {
		faults = append(faults, &batch.Fault{File: file, Key: "drawer", What: fmt.Sprintf(format, args...)})
	}
	for _, name := range shop.Drawers {
		dir := seenFrom(file, name)
		records, _ := filepath.Glob(filepath.Join(escaped(dir), "*"+buck.RecordName("")))
		if len(records) == 0 {
			refuse("%s: is no job folder: there is no record in it of what was made", dir)
		}
		for _, path := range records {
			r, err := input(path, record.Decode)
			if err != nil {
				refuse("%s: %v", path, err)
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

// writePlan keeps what is done and writes the plan.
func (a *app) writePlan(ctx context.Context, b *buck.Batch, f batchFlags, files buck.Files) (folder.Report, error) {
	defer a.hold()()
	target, err := folder.Open(filepath.Join(f.dir, "plan"), folder.Options{Force: f.force})
	if err != nil {
		return folder.Report{}, err
	}
	status, err := b.StatusFile()
	if err == nil {
		err = overwrite(filepath.Join(f.dir, "status.csv"), status)
	}
	if err != nil {
		return folder.Report{}, errors.Join(err, target.Close())
	}
	report, err := target.Write(ctx, again{}.files(&buck.Made{Files: files}))
	return report, errors.Join(err, target.Close())
}
