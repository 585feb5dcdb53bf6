//go:build js

package main

import "syscall/js"

// main hands the page one function, says that it is there, and stays.
func main() {
	var d desk
	js.Global().Set("askLibrary", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 3 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString || args[2].Type() != js.TypeNumber {
			return `{"wrong":"askLibrary wants what, a text, and how many columns fit"}`
		}
		return d.ask(args[0].String(), args[1].String(), args[2].Int())
	}))
	js.Global().Call("libraryReady")
	select {}
}
