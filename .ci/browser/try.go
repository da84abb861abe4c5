package main

import (
	"encoding/base64"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

func decoded(address string) ([]byte, error) {
	_, text, ok := strings.Cut(address, "base64,")
	if !ok {
		return nil, errors.New("no picture")
	}
	return base64.StdEncoding.DecodeString(text)
}

// alive tries the page where there is WebGL2, drawn by the processor.
func alive(address, folder string) error {
	t, closed, err := open(address, chromedp.Flag("use-gl", "angle"), chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))
	if err != nil {
		return err
	}
	defer closed()
	best, err := first(t)
	if err != nil {
		return errors.Join(err, t.fault())
	}
	for _, trial := range []func(*tab) error{shows, hands, draws, pieces, turns} {
		if err := trial(t); err != nil {
			return errors.Join(err, t.fault())
		}
	}
	if folder != "" {
		if err := t.look(folder); err != nil {
			return err
		}
	}
	for range 2 { // other work on the machine only ever slows a page down
		if best < mostFirst {
			break
		}
		if err := chromedp.Do(t.ctx, chromedp.Navigate(address)); err != nil {
			return err
		}
		again, err := first(t)
		if err != nil {
			return err
		}
		best = min(best, again)
	}
	if best >= mostFirst {
		return fmt.Errorf("the first picture takes %d ms at best, more than %d", best, mostFirst)
	}
	return t.fault()
}

// first waits until the page is alive, and gives after how many ms it showed its first picture.
func first(t *tab) (ms int, err error) {
	for begin := time.Now(); time.Since(begin) < time.Minute; time.Sleep(50 * time.Millisecond) {
		at, err := ask[string](t, "document.body.dataset.live && document.body.dataset.first || ''")
		if err != nil {
			return 0, err
		}
		if why, _ := ask[string](t, "document.body.dataset.still || ''"); why != "" {
			return 0, fmt.Errorf("the page stays still: %s", why)
		}
		if _, err := fmt.Sscan(at, &ms); err == nil {
			fmt.Printf("first picture after %d ms\n", ms)
			return ms, nil
		}
	}
	return 0, errors.New("no picture within a minute")
}

func shows(t *tab) error { return notBlank(t, "scene") }

// notBlank tells whether a canvas shows something: more than a twentieth of it and more than 100 tones.
func notBlank(t *tab, id string) error {
	im, err := t.pixels(id)
	if err != nil {
		return err
	}
	tones := map[[3]uint32]int{}
	box := im.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, b, _ := im.At(x, y).RGBA()
			tones[[3]uint32{r, g, b}]++
		}
	}
	most := 0
	for _, n := range tones {
		most = max(most, n)
	}
	shown := 1 - float64(most)/float64(box.Dx()*box.Dy())
	fmt.Printf("%s: %d x %d, %d tones, %.0f %% of it covered\n", id, box.Dx(), box.Dy(), len(tones), 100*shown)
	if len(tones) < 100 || shown < 0.05 {
		return fmt.Errorf("the %s is blank", id)
	}
	return nil
}

// hands goes through the hands with an arrow key; every other hand shows another picture.
func hands(t *tab) error {
	if err := t.focus("#hands input:checked"); err != nil {
		return err
	}
	var last image.Image
	var was string
	for range 3 {
		im, err := t.pixels("scene")
		if err != nil {
			return err
		}
		hand, err := ask[string](t, "document.querySelector('#hands input:checked').parentElement.textContent")
		if err != nil {
			return err
		}
		if last != nil {
			share := differs(last, im)
			fmt.Printf("hand %s to %s: %.1f %% of the picture differs\n", was, hand, 100*share)
			if hand == was || share < 0.01 {
				return errors.New("the hand does not change the picture")
			}
		}
		last, was = im, hand
		if err := t.press(kb.ArrowDown); err != nil {
			return err
		}
	}
	return nil
}

// draws draws the knife out with the slider's keys; on the way contacts change, at the end the knife is out.
func draws(t *tab) error {
	if err := t.focus("#out"); err != nil {
		return err
	}
	said := map[string]bool{}
	before, err := t.pixels("map")
	if err != nil {
		return err
	}
	for _, key := range []string{kb.Home, kb.ArrowRight, kb.PageUp, kb.PageUp, kb.PageUp, kb.End} {
		if err := t.press(key); err != nil {
			return err
		}
		text, err := ask[string](t, "document.getElementById('said').textContent")
		if err != nil {
			return err
		}
		_, what, _ := strings.Cut(text, ": ")
		said[what] = true
		fmt.Println("slider:", text)
	}
	end, err := ask[bool](t, "document.getElementById('out').value === document.getElementById('out').max && document.getElementById('said').textContent.endsWith('the knife is out')")
	if err != nil {
		return err
	}
	after, err := t.pixels("map")
	switch {
	case err != nil:
		return err
	case !end:
		return errors.New("the slider's end does not have the knife out")
	case len(said) < 3:
		return errors.New("contacts do not change on the way")
	case differs(before, after) < 0.01:
		return errors.New("the map does not change on the way")
	}
	return t.press(kb.Home)
}

// pieces walks with the tabulator to the list, and hides and shows a piece with the space bar.
func pieces(t *tab) error {
	if err := t.focus("#hands input:checked"); err != nil {
		return err
	}
	reached := []string{}
	for range 30 {
		if err := t.press(kb.Tab); err != nil {
			return err
		}
		name, err := ask[string](t, "document.activeElement.dataset.part || ''")
		if err != nil {
			return err
		}
		if name == "" {
			continue
		}
		reached = append(reached, name)
		if name != "knife" {
			continue
		}
		shown, err := t.pixels("scene")
		if err != nil {
			return err
		}
		if err := t.press(" "); err != nil {
			return err
		}
		hidden, err := t.pixels("scene")
		if err != nil {
			return err
		}
		share := differs(shown, hidden)
		fmt.Printf("without the knife %.1f %% of the picture differs\n", 100*share)
		if share < 0.01 {
			return errors.New("the space bar does not hide the knife")
		}
		if err := t.press(" "); err != nil {
			return err
		}
	}
	fmt.Println("by keyboard:", strings.Join(reached, ", "))
	if len(reached) < 5 || reached[0] != "knife" {
		return errors.New("the list of pieces is not reached by keyboard")
	}
	return nil
}

// turns turns and zooms the scene by keyboard and sets it back.
func turns(t *tab) error {
	if err := t.focus("#scene"); err != nil {
		return err
	}
	if err := t.press(kb.Home); err != nil {
		return err
	}
	home, err := t.pixels("scene")
	if err != nil {
		return err
	}
	for _, key := range []string{kb.ArrowLeft, "+"} {
		if err := t.press(key); err != nil {
			return err
		}
		im, err := t.pixels("scene")
		if err != nil {
			return err
		}
		if differs(home, im) < 0.01 {
			return fmt.Errorf("the key %q does not change the picture", key)
		}
		if err := t.press(kb.Home); err != nil {
			return err
		}
		if im, err = t.pixels("scene"); err != nil {
			return err
		}
		if share := differs(home, im); share > 0.005 { // fine lines come out anew each time
			return fmt.Errorf("Home leaves %.2f %% of the picture changed", 100*share)
		}
	}
	fmt.Println("turns and zooms by keyboard, and Home brings it back")
	return nil
}

// still tries the page where there is no WebGL: a picture and the tables, no error.
func still(address, folder string) error {
	t, closed, err := open(address, chromedp.Flag("disable-3d-apis", true))
	if err != nil {
		return err
	}
	defer closed()
	for begin := time.Now(); time.Since(begin) < time.Minute; time.Sleep(50 * time.Millisecond) {
		if why, err := ask[string](t, "document.body.dataset.still || ''"); err != nil || why != "" {
			break
		}
	}
	seen, err := ask[bool](t, "document.getElementById('still').naturalWidth > 400 && document.getElementById('still').offsetHeight > 200 && document.getElementById('scene').offsetHeight === 0 && document.getElementById('panel').hidden && document.querySelectorAll('tbody tr').length > 10")
	if err != nil {
		return err
	}
	if !seen {
		return errors.New("without WebGL the page does not show its still picture and tables")
	}
	fmt.Println("without WebGL: the still picture and the tables")
	if folder != "" {
		if err := t.shoot(filepath.Join(folder, "still.png"), 1200); err != nil {
			return err
		}
	}
	return t.fault()
}

// look leaves pictures of the page in a folder.
func (t *tab) look(folder string) error {
	for _, one := range []struct {
		name, scheme string
		wide         int64
	}{{"light", "light", 1200}, {"dark", "dark", 1200}, {"phone", "light", 390}, {"phone-dark", "dark", 390}} {
		if err := t.media(one.scheme); err != nil {
			return err
		}
		if err := t.shoot(filepath.Join(folder, one.name+".png"), one.wide); err != nil {
			return err
		}
	}
	if err := errors.Join(t.media("light"), t.shoot(filepath.Join(folder, "light.png"), 1200)); err != nil {
		return err
	}
	print, err := chromedp.Run(t.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "print.pdf"), print, 0o666)
}

// shoot takes a picture of all of the page at a width.
func (t *tab) shoot(path string, wide int64) error {
	if err := chromedp.Do(t.ctx, chromedp.EmulateViewport(wide, 900)); err != nil {
		return err
	}
	if err := errors.Join(t.settle(), t.settle()); err != nil {
		return err
	}
	data, err := chromedp.Run(t.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o666)
}
