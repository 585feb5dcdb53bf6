package main

import (
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net/http"
	"runtime"
	"time"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
)

// handler answers on /report. Of more visits at once than it judges, each waits so long
// at most.
func handler(setup inspect.Setup, wait time.Duration) http.Handler {
	free := make(chan struct{}, 2*runtime.GOMAXPROCS(0)) // so many visits at once, and memory has a bound
	mux := http.NewServeMux()
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { refuse(w, 404, "there is only /report", nil) })
	mux.HandleFunc("/report", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Allow", "POST")
		kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
		data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, record.MaxSize))
		if tooLarge := new(http.MaxBytesError); r.Method != http.MethodPost {
			refuse(w, 405, "post a visit", nil)
		} else if errors.As(err, &tooLarge) {
			refuse(w, 413, "a visit has at most 64 KiB", nil)
		} else if err != nil {
			refuse(w, 400, "the body broke off", nil)
		} else if kind != "application/yaml" && kind != "application/json" {
			refuse(w, 415, "want application/yaml or application/json", nil)
		} else {
			select {
			case free <- struct{}{}:
				defer func() { <-free }()
			case <-r.Context().Done():
				return // nobody waits for the answer
			case <-time.After(wait):
				w.Header().Set("Retry-After", "10")
				refuse(w, 503, "too many visits at once: try again", nil)
				return
			}
			kind, page, err := judge(data, setup, r.Header.Get("Accept") == "text/plain")
			if err != nil {
				refuse(w, 422, "the visit cannot be read or judged", err)
				return
			}
			w.Header().Set("Content-Type", kind)
			w.Write(page)
		}
	})
	return mux
}

// judge gives the report on a visit, as text or as JSON.
func judge(data []byte, setup inspect.Setup, text bool) (kind string, page []byte, err error) {
	visit, err := record.Read("", data)
	if err != nil {
		return "", nil, err
	}
	report, err := inspect.Assess(visit, setup)
	if err != nil {
		return "", nil, err
	}
	if text {
		return "text/plain; charset=utf-8", []byte(sheet.Text(report, sheet.TextOptions{Full: true})), nil
	}
	page, err = json.Marshal(report)
	return "application/json", append(page, '\n'), err
}

// refuse says what is wrong, each problem of a visit by line and column.
func refuse(w http.ResponseWriter, status int, detail string, err error) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	var all origin.Problems
	all.AddError(origin.Position{}, "visit", err)
	list := []any{}
	for _, p := range all.All() {
		list = append(list, map[string]any{"line": p.Position.Line, "column": p.Position.Column, "path": p.Path, "code": p.Code, "detail": p.Err.Error()})
	}
	json.NewEncoder(w).Encode(map[string]any{"title": http.StatusText(status), "status": status, "detail": detail, "problems": list, "more_problems": all.More()})
}
