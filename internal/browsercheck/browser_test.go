package browsercheck

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// needVariable is the environment variable that makes a missing browser a
// failure.
const needVariable = "AXLEEND_NEED_BROWSER"

// start runs a headless Chromium with an empty profile until the test ends, or
// skips the test where there is none. It talks to nobody by itself.
func start(t *testing.T) context.Context {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		if os.Getenv(needVariable) != "" {
			t.Fatal("no chromium on this machine, and " + needVariable + " is set: apt-get install chromium")
		}
		t.Skip("no chromium on this machine: apt-get install chromium, then this runs")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.UserDataDir(t.TempDir()), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("no-pings", true),
	)
	ctx, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, closeBrowser := chromedp.NewContext(ctx)
	t.Cleanup(closeBrowser)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("%s does not start: %v", path, err)
	}
	return ctx
}

// A tab is a page that is open, with what it asked for and complained of.
type tab struct {
	ctx context.Context

	mu       sync.Mutex
	requests []string
	problems []string
}

// open opens a new tab in the browser of start and listens to it.
func open(t *testing.T, browser context.Context) *tab {
	t.Helper()
	ctx, closeTab := chromedp.NewContext(browser)
	t.Cleanup(closeTab)
	out := &tab{}
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(stop)
	out.ctx = ctx
	err := chromedp.Listen(ctx, func(event any) {
		out.mu.Lock()
		defer out.mu.Unlock()
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			out.requests = append(out.requests, e.Request.URL)
		case *runtime.EventExceptionThrown:
			out.problems = append(out.problems, fmt.Sprint("exception: ", e.ExceptionDetails.Text))
		case *runtime.EventConsoleAPICalled:
			if e.Type == runtime.ConsoleAPICalledTypeError {
				out.problems = append(out.problems, fmt.Sprint("console: ", len(e.Args), " arguments"))
			}
		case *log.EventEntryAdded:
			if e.Entry.Level == log.EntryLevelError {
				out.problems = append(out.problems, "log: "+e.Entry.Text)
			}
		}
	})
	if err == nil {
		_, err = chromedp.Call(ctx, network.Enable, network.EnableParams{})
	}
	if err == nil {
		_, err = chromedp.Call(ctx, log.Enable, cdp.Empty{})
	}
	if err == nil {
		_, err = chromedp.Call(ctx, runtime.Enable, cdp.Empty{})
	}
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// visit navigates and waits until the page is loaded.
func (p *tab) visit(t *testing.T, url string) {
	t.Helper()
	if err := chromedp.Do(p.ctx, chromedp.Navigate(url)); err != nil {
		t.Fatal(err)
	}
}

// media has the page laid out for a medium, "print" or "screen", in a window
// of that many CSS pixels.
func (p *tab) media(t *testing.T, medium string, width, height int64) {
	t.Helper()
	_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: medium})
	if err == nil {
		err = chromedp.Do(p.ctx, chromedp.EmulateViewport(width, height))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// eval runs an expression in the page and gives its value.
func eval[T any](t *testing.T, p *tab, expression string) T {
	t.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%v in %.200s", err, expression)
	}
	return v
}

// pdf prints the page on paper of that size in inches, with the page's own
// margins.
func (p *tab) pdf(t *testing.T, paper chromedp.PaperSize) []byte {
	t.Helper()
	data, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// asked gives the addresses that the tab has asked for.
func (p *tab) asked() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.requests...)
}

// complaints gives the errors on the tab's console.
func (p *tab) complaints() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.problems...)
}
