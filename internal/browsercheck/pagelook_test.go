package browsercheck

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// all opens everything on the page, the tire that is shown too.
const all = `for (const line of document.querySelectorAll("details")) { line.open = true; line.fill?.(); } judge()`

// key presses one key on the keyboard.
func (f form) key(name string, code int64, text string) {
	f.t.Helper()
	for _, kind := range []input.DispatchKeyEventType{"keyDown", "keyUp"} {
		p := input.DispatchKeyEventParams{Type: kind, Key: name, Code: name, WindowsVirtualKeyCode: code}
		if kind == "keyDown" {
			p.Text = text
		}
		if _, err := chromedp.Call(f.ctx, input.DispatchKeyEvent, p); err != nil {
			f.t.Fatal(err)
		}
	}
}

// In a hand and on a desk, by day and by night, nothing runs over the edge with all
// of it open, all type is 16 px or more and can be read, and no key is under 44 px.
func TestFormInTheHand(t *testing.T) {
	f := openForm(t)
	typeVisit(f)
	f.run(`put(["axles", 0, "gawr"], "wrong"); put(["axles", 0, "gawr"], "9500 lb"); put(["tires", 3, "note"], "` + strings.Repeat("x", 150) + `")`)
	for _, look := range []struct {
		width, height int64
		scheme        string
	}{{390, 844, "light"}, {390, 844, "dark"}, {320, 568, "light"}, {1280, 800, "light"}, {1280, 800, "dark"}} {
		f.media(t, "screen", look.width, look.height)
		if _, err := chromedp.Call(f.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "screen", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: look.scheme}}}); err != nil {
			t.Fatal(err)
		}
		where := fmt.Sprintf("%d px, %s", look.width, look.scheme)
		for _, tire := range []string{"steer-left", "drive-left-inner"} {
			f.tire(tire)
			f.run(all)
			got := eval[found](t, f.tab, layout)
			for _, s := range got.Over {
				t.Errorf("%s: runs over: %s", where, s)
			}
			for _, s := range got.Dim {
				t.Errorf("%s: hard to read: %s", where, s)
			}
			if got.Small < 16 {
				t.Errorf("%s: type of %.1f px: %s", where, got.Small, got.Smallest)
			}
		}
		small := eval[[]string](t, f.tab, `[...document.querySelectorAll("button, select, textarea, summary, a, .key, .pick, input:not(.pick input, .key input)")].filter((one) => one.getClientRects().length)
			.filter((one) => { const box = one.getBoundingClientRect(); return box.height < 44 || box.width < 44; }).map((one) => one.outerHTML.slice(0, 90))`)
		for _, s := range small {
			t.Errorf("%s: under 44 px: %s", where, s)
		}
	}
	f.quietForm()
}

// With the keyboard alone everything is opened and reached, in the order in which it
// stands, and what is reached has a name and a role for who does not see it.
func TestFormByKeyboard(t *testing.T) {
	f := openForm(t)
	f.run(`for (const line of document.querySelectorAll("details[open]")) line.open = false; globalThis.reached = []; document.activeElement.blur();`)
	for n := 0; ; n++ {
		f.key("Tab", 9, "")
		switch eval[string](t, f.tab, `{ const one = document.activeElement; if (one !== document.body) reached.push(one); one === document.body || reached.length > 1 && one === reached[0] ? "around" : one.tagName === "SUMMARY" && !one.parentNode.open ? "closed" : "" }`) {
		case "closed":
			f.key("Enter", 13, "\r")
			f.until(`{ const line = document.activeElement.parentNode; line.open && (!line.fill || line.lastChild.firstChild !== null) }`) // and what is behind it drawn
			continue
		case "":
			continue
		}
		if n < 100 {
			t.Errorf("around after %d keys", n)
		}
		break
	}
	missed := eval[[]string](t, f.tab, `[...document.querySelectorAll("button, input, select, textarea, summary, a[href]")].filter((one) => one.checkVisibility() && !one.disabled && one.tabIndex >= 0)
		.filter((one) => !reached.some((other) => other === one || one.type === "radio" && other.type === "radio" && other.name === one.name)).map((one) => one.outerHTML.slice(0, 120))`)
	for _, one := range missed {
		t.Errorf("not reached: %s", one)
	}
	if got := eval[[]string](t, f.tab, `reached.slice(1, -1).filter((one, i) => one !== reached[i] && reached[i].compareDocumentPosition(one) & Node.DOCUMENT_POSITION_PRECEDING).map((one) => one.outerHTML.slice(0, 120))`); len(got) != 0 {
		t.Errorf("reached before what stands ahead of it: %q", got)
	}
	tree, err := chromedp.Call(f.ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	if err != nil {
		t.Fatal(err)
	}
	count := make(map[string]int)
	for _, node := range tree.Nodes {
		if node.Ignored || node.Role == nil {
			continue
		}
		role := string(node.Role.Value)
		switch role {
		case `"textbox"`, `"radio"`, `"button"`, `"combobox"`, `"checkbox"`, `"group"`, `"Date"`, `"region"`, `"form"`:
			if node.Name == nil || len(node.Name.Value) <= len(`""`) {
				if role == `"group"` { // a line that opens has its name inside
					continue
				}
				t.Errorf("%s without a name: %d", role, node.BackendDOMNodeID)
			}
			count[role]++
		}
	}
	if count[`"textbox"`] < 50 || count[`"radio"`] < 100 || count[`"button"`] < 20 {
		t.Errorf("only %v", count)
	}

	f.tire("steer-left")
	f.run(`byId("tire").querySelector("input").focus()`)
	for _, digit := range "99" {
		f.key(string(digit), int64(digit), string(digit))
	}
	f.key("Enter", 13, "\r") // on to the next field, as the key of a phone
	f.key("ArrowRight", 39, "")
	if got := eval[string](t, f.tab, `doc.tires[0].found + ", " + doc.tires[0].read_at`); got != "99 psi, stem" {
		t.Errorf("typed %s", got)
	}
	f.quietForm()
}
