package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/cmd/internal/folder"
)

// watching is a watch whose looks are asked for one by one.
type watching struct {
	t         *testing.T
	idle, now chan bool // the watch waits for its next look; it is to look
	out, errs bytes.Buffer
	builds    int
	stop      func() error
}

// watch begins to watch a.toml in a fresh folder.
func watch(t *testing.T) *watching {
	t.Helper()
	t.Chdir(t.TempDir())
	w := &watching{t: t, idle: make(chan bool), now: make(chan bool)}
	w.save("a.toml", "b.toml")
	w.save("b.toml", "one")
	a := &app{out: &answer{to: &w.out}, err: &w.errs, load: func(o order) (work, error) {
		w.builds++
		text, err := o.read("a.toml")
		if err != nil {
			return nil, err
		}
		base, _, _ := strings.Cut(string(text), "\n")
		if _, err := o.read(base); err != nil {
			return nil, err
		}
		return &bench{}, nil
	}}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error)
	go func() { done <- a.watch(ctx, order{variant: "a.toml"}, makeFlags{}, w.next) }()
	w.stop = func() error {
		cancel()
		return <-done
	}
	t.Cleanup(cancel)
	<-w.idle
	return w
}

// next waits until the test lets the watch look.
func (w *watching) next(ctx context.Context) bool {
	select {
	case w.idle <- true:
	case <-ctx.Done():
		return false
	}
	select {
	case <-w.now:
		return true
	case <-ctx.Done():
		return false
	}
}

// looks lets the watch look n times, and waits until it has done what follows from that.
func (w *watching) looks(n int) {
	for range n {
		w.now <- true
		<-w.idle
	}
}

func (w *watching) save(name, text string) {
	w.t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		w.t.Fatal(err)
	}
}

// want compares what was said since the last call.
func (w *watching) want(out, errs string, builds int) {
	w.t.Helper()
	if w.out.String() != out || w.errs.String() != errs || w.builds != builds {
		w.t.Errorf("out %q, want %q\nerr %q, want %q\nbuilds %d, want %d", w.out.String(), out, w.errs.String(), errs, w.builds, builds)
	}
	w.out.Reset()
	w.errs.Reset()
	w.builds = 0
}

const begun = "kestrel: 1 file written\n"

const beganSaying = "formbuck: warning: the throat is short\nformbuck: watching a.toml, b.toml; Ctrl-C ends it\n"

func TestWatchMakesAtEverySave(t *testing.T) {
	w := watch(t)
	w.want(begun, beganSaying, 1)
	w.looks(5)
	w.want("", "", 0)
	w.save("b.toml", "two") // of the same size, within the same tick of the file system's clock
	w.looks(3)
	w.want("b.toml: kestrel: 0 files written, 1 unchanged\n", "", 1)
	w.save("b.toml", "two") // the same once more
	w.looks(5)
	w.want("", "", 0)
	w.save("c.toml", "three")
	w.save("a.toml", "c.toml\n")
	w.looks(3)
	w.want("a.toml: kestrel: 0 files written, 1 unchanged\n", "", 1)
	w.save("b.toml", "read by no one any more")
	w.looks(5)
	w.want("", "", 0)
	if err := w.stop(); err != nil {
		t.Error(err)
	}
}

// TestWatchWaitsForTheWriter writes a file in parts, and takes one away before its successor is in place.
func TestWatchWaitsForTheWriter(t *testing.T) {
	w := watch(t)
	w.want(begun, beganSaying, 1)
	for _, text := range []string{"c.to", "c.toml\nha", "c.toml\nhalf", "b.toml\nwhole"} {
		w.save("a.toml", text)
		w.looks(1)
	}
	w.want("", "", 0)
	w.looks(3)
	w.want("a.toml: kestrel: 0 files written, 1 unchanged\n", "", 1)

	if err := os.Remove("a.toml"); err != nil {
		t.Fatal(err)
	}
	w.looks(2)
	w.save("beside", "b.toml\nsuccessor")
	if err := os.Rename("beside", "a.toml"); err != nil {
		t.Fatal(err)
	}
	w.looks(3)
	w.want("a.toml: kestrel: 0 files written, 1 unchanged\n", "", 1)
	if err := w.stop(); err != nil {
		t.Error(err)
	}
}

// TestWatchGoesOnAfterFaults takes the base away for good, and then puts it back.
func TestWatchGoesOnAfterFaults(t *testing.T) {
	w := watch(t)
	w.want(begun, beganSaying, 1)
	if err := os.Rename("b.toml", "away"); err != nil {
		t.Fatal(err)
	}
	w.looks(20)
	w.want("", "formbuck: b.toml: no such file or directory\n", 1)
	if err := os.Rename("away", "b.toml"); err != nil {
		t.Fatal(err)
	}
	w.looks(3)
	w.want("b.toml: kestrel: 0 files written, 1 unchanged\n", "", 1)
	if err := w.stop(); err != nil {
		t.Error(err)
	}
}

// TestWatchWaitsForOthers has another run in the folder: that is told once, and the make follows.
func TestWatchWaitsForOthers(t *testing.T) {
	w := watch(t)
	w.want(begun, beganSaying, 1)
	other, err := folder.Open("kestrel", folder.Options{})
	if err != nil {
		t.Fatal(err)
	}
	w.save("b.toml", "two")
	w.looks(12)
	if w.builds < 2 {
		t.Errorf("%d tries", w.builds)
	}
	w.want("", "formbuck: kestrel: another run is writing here; try again when it is done\n", w.builds)
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	w.looks(3)
	w.want("kestrel: 0 files written, 1 unchanged\n", "", 1)
	if err := w.stop(); err != nil {
		t.Error(err)
	}
}

func TestWatchNeedsTheVariant(t *testing.T) {
	t.Chdir(t.TempDir())
	a := &app{out: &answer{to: &bytes.Buffer{}}, err: &bytes.Buffer{}}
	err := a.watch(context.Background(), order{variant: filepath.Join("no", "such.toml")}, makeFlags{}, nil)
	if err == nil || errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
