// Command browser opens a job's page in Chromium and tries all that it is for: that it asks nothing of a network, says no error,
// shows the buck, changes with the hand, draws the knife to the end, and can be worked by keyboard. It exits 1 at
// the first fault. With a folder as second argument it leaves pictures of the page there, to be looked at.
package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

const (
	mostBytes = 2 << 20
	mostFirst = 1000 // ms until the first picture
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: browser PAGE.html [FOLDER]")
		os.Exit(2)
	}
	folder := ""
	if len(os.Args) > 2 {
		folder = os.Args[2]
	}
	if err := try(os.Args[1], folder); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func try(path, folder string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	fmt.Printf("%d bytes\n", info.Size())
	if info.Size() >= mostBytes {
		return fmt.Errorf("%s is larger than %d bytes", path, mostBytes)
	}
	address := (&url.URL{Scheme: "file", Path: path}).String()
	if err := alive(address, folder); err != nil {
		return err
	}
	return still(address, folder)
}

// tab is the page in a browser of its own, and what was heard of it.
type tab struct {
	ctx    context.Context
	heard  sync.Mutex
	faults []string
}

// open starts a browser with an empty profile. The flags keep it from asking anything of a network by itself.
func open(address string, extra ...chromedp.ExecAllocatorOption) (*tab, func(), error) {
	profile, err := os.MkdirTemp("", "browser")
	if err != nil {
		return nil, nil, err
	}
	flags := []chromedp.ExecAllocatorOption{
		chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.UserDataDir(profile),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("hide-scrollbars", true),
		chromedp.WindowSize(1200, 900), chromedp.WSURLReadTimeout(2 * time.Minute),
	}
	limit, stop := context.WithTimeout(context.Background(), 5*time.Minute)
	allocator, end := chromedp.NewExecAllocator(limit, append(flags, extra...)...)
	t := &tab{}
	ctx, cancel := chromedp.NewContext(allocator, chromedp.WithListener(func(event any) { t.hear(event, address) }))
	t.ctx = ctx
	closed := func() {
		cancel()
		end()
		stop()
		os.RemoveAll(profile)
	}
	err = chromedp.Do(ctx,
		call(network.Enable, network.EnableParams{}), call(log.Enable, cdp.Empty{}),
		chromedp.Navigate(address))
	if err != nil {
		closed()
		return nil, nil, err
	}
	return t, closed, nil
}

// hear keeps what should not be: errors, what is written to the console, requests other than for the page itself.
func (t *tab) hear(event any, address string) {
	t.heard.Lock()
	defer t.heard.Unlock()
	add := func(format string, args ...any) { t.faults = append(t.faults, fmt.Sprintf(format, args...)) }
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		add("an error: %s", e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		add("the console: %s", e.Type)
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			add("the log: %s", e.Entry.Text)
		}
	case *network.EventRequestWillBeSent:
		if at := e.Request.URL; at != address && !strings.HasPrefix(at, "data:") {
			add("a request: %s", at)
		}
	}
}

// fault is what was heard that should not be.
func (t *tab) fault() error {
	t.heard.Lock()
	defer t.heard.Unlock()
	if len(t.faults) == 0 {
		return nil
	}
	return errors.New(strings.Join(t.faults, "\n"))
}

// ask is the value of an expression of the page's script.
func ask[T any](t *tab, expression string) (T, error) {
	return chromedp.Run(t.ctx, chromedp.Evaluate[T](expression))
}

// press presses keys, and waits until the picture is drawn.
func (t *tab) press(keys string) error {
	if err := chromedp.Do(t.ctx, chromedp.KeyEvent(keys)); err != nil {
		return err
	}
	return t.settle()
}

func (t *tab) focus(selector string) error {
	_, err := ask[bool](t, fmt.Sprintf("(document.querySelector(%q).focus(), true)", selector))
	return err
}

// settle waits for two pictures of the screen.
func (t *tab) settle() error {
	_, err := chromedp.Run(t.ctx, chromedp.Evaluate[bool](
		"new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))", chromedp.EvalAwaitPromise))
	return err
}

// pixels is the picture in a canvas.
func (t *tab) pixels(id string) (image.Image, error) {
	text, err := ask[string](t, fmt.Sprintf("document.getElementById(%q).toDataURL('image/png')", id))
	if err != nil {
		return nil, err
	}
	data, err := decoded(text)
	if err != nil {
		return nil, err
	}
	return png.Decode(bytes.NewReader(data))
}

// differs is the share of pixels in which two pictures differ visibly.
func differs(a, b image.Image) float64 {
	if a.Bounds() != b.Bounds() {
		return 1
	}
	n := 0
	box := a.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, l, _ := a.At(x, y).RGBA()
			s, h, m, _ := b.At(x, y).RGBA()
			if math.Abs(float64(r)-float64(s))+math.Abs(float64(g)-float64(h))+math.Abs(float64(l)-float64(m)) > 0x1800 {
				n++
			}
		}
	}
	return float64(n) / float64(box.Dx()*box.Dy())
}

// media has the page shown in light or dark colours.
func (t *tab) media(scheme string) error {
	return chromedp.Do(t.ctx, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	}))
}

// call is a command of the browser's protocol as an action.
func call[P any](c cdp.Command[P, cdp.Empty], params P) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, t, c, params)
		return chromedp.Void{}, err
	}
}
