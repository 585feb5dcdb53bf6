package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/testsize"
	"axleend.example/rules"
)

func demo(t *testing.T) (inspect.Setup, string) {
	t.Helper()
	data, err := os.ReadFile("../demo/visit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS("../demo"))
	if err != nil {
		t.Fatal(err)
	}
	return inspect.Setup{Tables: tables}, string(data)
}

const yaml, jsonType, problemType = "application/yaml", "application/json", "application/problem+json"

// ask posts and gives status, content type and body.
func ask(client *http.Client, url, kind, accept, body string) (int, string, string, error) {
	req, err := http.NewRequest(http.MethodPost, url, strings.NewReader(body))
	if err != nil {
		return 0, "", "", err
	}
	req.Header.Set("Content-Type", kind)
	req.Header.Set("Accept", accept)
	resp, err := client.Do(req)
	if err != nil {
		return 0, "", "", err
	}
	defer resp.Body.Close()
	data, err := io.ReadAll(resp.Body)
	return resp.StatusCode, resp.Header.Get("Content-Type"), string(data), err
}

// A refusal is the body of what is no report.
type refusal struct {
	Title    string
	Status   int
	Problems []struct {
		Line, Column       int
		Path, Code, Detail string
	}
}

func TestAnswers(t *testing.T) {
	setup, visit := demo(t)
	srv := httptest.NewServer(handler(setup, time.Minute))
	defer srv.Close()
	bad := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-lefty, found: 95}]\n"
	for name, tc := range map[string]struct {
		path, kind, accept, body string
		status                   int
		answer, says             string
	}{
		"a report":              {"/report", yaml, "", visit, 200, jsonType, `"drive":"must not move"`},
		"as JSON":               {"/report", "application/json; charset=utf-8", "", `{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "steer-left"}]}`, 200, jsonType, `"report":1`},
		"as text":               {"/report", yaml, "text/plain", visit, 200, "text/plain; charset=utf-8", "Do not air it up"},
		"no content type":       {"/report", "", "", visit, 415, problemType, "application/yaml"},
		"a form":                {"/report", "application/x-www-form-urlencoded", "", visit, 415, problemType, `"status":415`},
		"over 64 KiB":           {"/report", yaml, "", strings.Repeat("#", record.MaxSize) + "\n", 413, problemType, "at most 64 KiB"},
		"large":                 {"/report", yaml, "", visit + strings.Repeat("#", record.MaxSize-len(visit)), 200, jsonType, `"report":1`},
		"empty":                 {"/report", yaml, "", "", 422, problemType, `"problems":[`},
		"two problems":          {"/report", yaml, "", bad, 422, problemType, `"line":4,"path":"steer-lefty.at"`},
		"nothing to judge":      {"/report", yaml, "", "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\n", 422, problemType, "nothing to judge"},
		"another place":         {"/reports", yaml, "", visit, 404, problemType, `"title":"Not Found"`},
		"HTML in an error":      {"/report", yaml, "", "visit: <script>\n", 422, problemType, `\u003cscript\u003e`},
		"hundreds of problems":  {"/report", yaml, "", "visit: 1\n" + many(300), 422, problemType, `"more_problems":`},
		"a newer visit version": {"/report", yaml, "", strings.Replace(visit, "visit: 1", "visit: 2", 1), 422, problemType, "newer program"},
	} {
		status, answer, body, err := ask(srv.Client(), srv.URL+tc.path, tc.kind, tc.accept, tc.body)
		if err != nil || status != tc.status || answer != tc.answer || !strings.Contains(body, tc.says) {
			t.Errorf("%s: %d %s %v, want %d %s with %q:\n%.400s", name, status, answer, err, tc.status, tc.answer, tc.says, body)
		}
		if tc.status != 200 {
			var p refusal
			if err := json.Unmarshal([]byte(body), &p); err != nil || p.Status != tc.status || p.Title != http.StatusText(tc.status) {
				t.Errorf("%s: %+v %v", name, p, err)
			}
		}
	}
	status, _, body, err := ask(srv.Client(), srv.URL+"/report", yaml, "", bad)
	var p refusal
	if err != nil || json.Unmarshal([]byte(body), &p) != nil || status != 422 || len(p.Problems) != 2 || p.Problems[0].Line != 4 || p.Problems[0].Column != 14 {
		t.Errorf("two problems at once: %d %v %s", status, err, body)
	}
	resp, err := srv.Client().Get(srv.URL + "/report")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != 405 || resp.Header.Get("Allow") != "POST" || resp.Header.Get("Content-Type") != problemType {
		t.Errorf("GET: %d %v", resp.StatusCode, resp.Header)
	}
}

func many(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "key%d: x\n", i)
	}
	return b.String()
}

// 500 requests at once share one program and one set of tables; each gets its
// own answer. The race detector watches in the check.
func TestConcurrent(t *testing.T) {
	setup, visit := demo(t)
	srv := httptest.NewServer(handler(setup, time.Minute))
	defer srv.Close()
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 500}, Timeout: time.Minute}
	defer client.CloseIdleConnections()
	_, _, want, err := ask(client, srv.URL+"/report", yaml, "", visit)
	if err != nil {
		t.Fatal(err)
	}
	var group sync.WaitGroup
	start := make(chan struct{})
	requests := 100
	if testsize.Full() {
		requests = 500
	}
	for i := range requests {
		group.Go(func() {
			<-start
			name := fmt.Sprintf("Invented demo coach number %d", i)
			body, wanted := strings.Replace(visit, "Invented demo coach, two axles", name, 1), strings.Replace(want, "Invented demo coach, two axles", name, 1)
			status := 200
			if i%5 == 0 {
				body, status = body+"unknown: key\n", 422
			}
			got, _, answer, err := ask(client, srv.URL+"/report", yaml, "", body)
			switch {
			case err != nil || got != status:
				t.Errorf("request %d: %d %v, want %d", i, got, err, status)
			case status == 200 && answer != wanted:
				t.Errorf("request %d: another coach's answer", i)
			}
		})
	}
	close(start)
	group.Wait()
}

// TestSoManyAtOnce: however many ask, only some visits are in memory as more than text.
func TestSoManyAtOnce(t *testing.T) {
	setup, visit := demo(t)
	var now, most atomic.Int64
	setup.Facts = func(*record.Visit, *rules.Facts) {
		n := now.Add(1)
		for old := most.Load(); n > old && !most.CompareAndSwap(old, n); old = most.Load() {
		}
		time.Sleep(time.Millisecond)
		now.Add(-1)
	}
	srv := httptest.NewServer(handler(setup, time.Minute))
	defer srv.Close()
	var group sync.WaitGroup
	for range 60 {
		group.Go(func() {
			if status, _, answer, err := ask(srv.Client(), srv.URL+"/report", yaml, "", visit); err != nil || status != 200 {
				t.Errorf("%d, %v: %s", status, err, answer)
			}
		})
	}
	group.Wait()
	if bound := int64(2 * runtime.GOMAXPROCS(0)); most.Load() > bound || most.Load() < 1 {
		t.Errorf("%d visits judged at once, at most %d", most.Load(), bound)
	}
}

// What has begun when the service is told to stop is answered; what comes
// later is not taken.
func TestStops(t *testing.T) {
	setup, visit := demo(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	begun := make(chan struct{})
	stopped := make(chan error, 1)
	go func() {
		stopped <- serve(ctx, l, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			close(begun)
			handler(setup, time.Minute).ServeHTTP(w, r)
		}))
	}()
	body, send := io.Pipe()
	answer := make(chan string, 1)
	go func() {
		resp, err := http.Post("http://"+l.Addr().String()+"/report", yaml, body)
		if err != nil {
			answer <- err.Error()
			return
		}
		defer resp.Body.Close()
		data, _ := io.ReadAll(resp.Body)
		answer <- string(data)
	}()
	io.WriteString(send, visit[:100])
	<-begun
	stop()
	for { // until it takes no more
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			break
		}
		c.Close()
	}
	io.WriteString(send, visit[100:])
	send.Close()
	if got := <-answer; !strings.Contains(got, `"drive":"must not move"`) {
		t.Errorf("a request that had begun: %.200s", got)
	}
	if err := <-stopped; err != nil {
		t.Errorf("stopped with %v", err)
	}
}

// Told to stop, the service ends also beside somebody who began and never goes
// on.
func TestStopsBesideWhatHangs(t *testing.T) {
	t.Parallel()
	setup, _ := demo(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	begun := make(chan struct{})
	stopped := make(chan error, 1)
	go func() {
		stopped <- serve(ctx, l, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			close(begun)
			handler(setup, time.Minute).ServeHTTP(w, r)
		}))
	}()
	c, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprintf(c, "POST /report HTTP/1.1\r\nHost: a\r\nContent-Type: application/yaml\r\nContent-Length: 100\r\n\r\nvisit: 1\n")
	<-begun
	stop()
	if err := <-stopped; err != nil {
		t.Errorf("stopped with %v", err)
	}
}

// FuzzBody: whatever is posted, the answer is a report, its text, or a problem
// with its status; and the JSON of it can be read.
func FuzzBody(f *testing.F) {
	for _, name := range []string{"visit.yaml", "trip.yaml"} {
		data, err := os.ReadFile("../demo/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(yaml, "", string(data))
		f.Add(yaml, "text/plain", string(data))
	}
	f.Add(jsonType, "", `{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "steer-left"}]}`)
	f.Add("", "", "visit: 1\n")
	tables, err := tablefile.LoadFolder(os.DirFS("../demo"))
	if err != nil {
		f.Fatal(err)
	}
	h := handler(inspect.Setup{Tables: tables}, time.Minute)
	f.Fuzz(func(t *testing.T, kind, accept, body string) {
		r := httptest.NewRequest(http.MethodPost, "/report", strings.NewReader(body))
		r.Header.Set("Content-Type", kind)
		r.Header.Set("Accept", accept)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		is := w.Header().Get("Content-Type")
		switch {
		case w.Code == 200 && is == "text/plain; charset=utf-8" && accept == "text/plain":
			if w.Body.Len() == 0 {
				t.Error("no text")
			}
		case w.Code == 200 && is == jsonType:
			if _, err := report.Read("", w.Body.Bytes()); err != nil {
				t.Errorf("a report that cannot be read back: %v", err)
			}
		case is == problemType:
			var p refusal
			if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || p.Status != w.Code || w.Code < 400 || w.Code > 422 {
				t.Errorf("%d: %v %s", w.Code, err, w.Body)
			}
		default:
			t.Errorf("%d %s", w.Code, is)
		}
	})
}

// TestBusyServiceSaysSo: who finds no room in time is told to try again, and once there
// is room a visit is judged.
func TestBusyServiceSaysSo(t *testing.T) {
	t.Parallel()
	judging, release := make(chan struct{}), make(chan struct{})
	busy := handler(inspect.Setup{Facts: func(*record.Visit, *rules.Facts) {
		select {
		case judging <- struct{}{}:
			<-release
		case <-release:
		}
	}}, 10*time.Millisecond)
	ask := func() *httptest.ResponseRecorder {
		w, r := httptest.NewRecorder(), httptest.NewRequest("POST", "/report", strings.NewReader(small))
		r.Header.Set("Content-Type", "application/yaml")
		busy.ServeHTTP(w, r)
		return w
	}
	var all sync.WaitGroup
	for range 2 * runtime.GOMAXPROCS(0) {
		all.Go(func() { ask() })
		<-judging
	}
	if w := ask(); w.Code != 503 || w.Header().Get("Retry-After") == "" {
		t.Errorf("%d %v %s", w.Code, w.Header(), w.Body)
	}
	close(release)
	all.Wait()
	if w := ask(); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

const small = "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, found: 100 psi}]\n"
