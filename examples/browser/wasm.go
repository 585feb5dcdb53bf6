//go:build js

package main

import "syscall/js"

// main hands the page one function, says that it is there, and stays.
func main() {
	js.Global().Set("judgeVisit", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 1 || args[0].Type() != js.TypeString {
			return map[string]any{"wrong": "judgeVisit wants one text"}
		}
		page, err := judge(args[0].String())
		if err != nil {
			return map[string]any{"wrong": err.Error()}
		}
		return map[string]any{"page": page}
	}))
	js.Global().Call("libraryReady")
	select {}
}
