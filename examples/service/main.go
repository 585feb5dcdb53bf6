// Command service answers visits over HTTP, as dealer software would. With
// go run ./examples/service -tables examples/demo running, post one:
//
//	curl --data-binary @examples/demo/visit.yaml -H 'Content-Type: application/yaml' 127.0.0.1:8080/report
//
// The report is JSON, or text for "Accept: text/plain"; problems follow RFC
// 9457. It has no log-in and no encryption: put it behind a server with both.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"log"
	"mime"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
)

func main() {
	listen := flag.String("listen", "127.0.0.1:8080", "`address` to listen on")
	dir := flag.String("tables", ".", "`folder` of load and inflation tables")
	flag.Parse()
	ctx, _ := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	tables, err := tablefile.LoadFolder(os.DirFS(*dir)) // once, for all requests
	l, err2 := net.Listen("tcp", *listen)
	if err = errors.Join(err, err2); err == nil {
		err = serve(ctx, l, handler(inspect.Setup{Tables: tables}))
	}
	if err != nil {
		log.Fatal(err)
	}
}

// serve answers until ctx ends, then finishes what has begun, for up to three seconds.
func serve(ctx context.Context, l net.Listener, h http.Handler) error {
	srv := &http.Server{Handler: h, ReadTimeout: 10 * time.Second, WriteTimeout: 20 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10}
	done := make(chan error, 1)
	context.AfterFunc(ctx, func() { done <- srv.Shutdown(context.Background()) })
	context.AfterFunc(ctx, func() { time.AfterFunc(3*time.Second, func() { srv.Close() }) }) // cuts off what hangs
	if err := srv.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-done
}

func handler(setup inspect.Setup) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { refuse(w, 404, "there is only /report", nil) })
	mux.HandleFunc("/report", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Allow", "POST")
		kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
		data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, 1<<20))
		if tooLarge := new(http.MaxBytesError); r.Method != http.MethodPost {
			refuse(w, 405, "post a visit", nil)
		} else if errors.As(err, &tooLarge) {
			refuse(w, 413, "a visit has at most 1 MB", nil)
		} else if err != nil {
			refuse(w, 400, "the body broke off", nil)
		} else if kind != "application/yaml" && kind != "application/json" {
			refuse(w, 415, "want application/yaml or application/json", nil)
		} else if visit, err := record.Read("", data); err != nil {
			refuse(w, 422, "the visit cannot be read", err)
		} else if report, err := inspect.Assess(visit, setup); err != nil {
			refuse(w, 422, "the visit cannot be judged", err)
		} else if r.Header.Get("Accept") == "text/plain" {
			w.Header().Set("Content-Type", "text/plain; charset=utf-8")
			io.WriteString(w, sheet.Text(report, sheet.TextOptions{Full: true}))
		} else {
			w.Header().Set("Content-Type", "application/json")
			json.NewEncoder(w).Encode(report)
		}
	})
	return mux
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
