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
	"errors"
	"flag"
	"log"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
)

func main() {
	listen := flag.String("listen", "127.0.0.1:8080", "`address` to listen on")
	dir := flag.String("tables", ".", "`folder` of load and inflation tables")
	flag.Parse()
	ctx, _ := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	tables, err := tablefile.LoadFolder(os.DirFS(*dir)) // once, for all requests
	l, err2 := net.Listen("tcp", *listen)
	if err = errors.Join(err, err2); err == nil {
		err = serve(ctx, l, handler(inspect.Setup{Tables: tables}, 8*time.Second))
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
