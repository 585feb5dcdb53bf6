package packs_test

import (
	"errors"
	"fmt"
	"io/fs"
	"testing"
	"testing/fstest"

	"axleend.example/rules"
	"axleend.example/rules/packs"
)

func ExampleBehind() {
	own := fstest.MapFS{"my-shop.yaml": {Data: []byte("pack: my-shop\nformat: 1\ntitle: Our own\nextends: [coach-care]\n")}}
	list, err := rules.Load(packs.Behind(own), "my-shop", "label")
	for _, p := range list {
		fmt.Println(p.Name())
	}
	fmt.Println(err)
	// Output:
	// coach-care
	// my-shop
	// label
	// <nil>
}

// TestBehind: a file in front wins, one behind is found from any folder, and what
// neither has is said by the name that was asked for.
func TestBehind(t *testing.T) {
	own := fstest.MapFS{
		"label.yaml":     {Data: []byte("pack: label\nformat: 1\ntitle: Pinned\nextends: [coach-care]\n")},
		"shop/mine.yaml": {Data: []byte("pack: mine\nformat: 1\ntitle: Mine\nextends: [coach-care]\n")},
		"pipe.yaml":      {Mode: fs.ModeNamedPipe},
	}
	list, err := rules.Load(packs.Behind(own), "shop/mine", "label")
	if err != nil || len(list) != 4 || list[1].Name() != "mine" || list[3].Title() != "Pinned" {
		t.Errorf("%v, %v", list, err)
	}
	for _, name := range []string{"pipe", "none", "shop/none"} {
		if _, err := rules.Load(packs.Behind(own), name); err == nil || errors.Is(err, fs.ErrNotExist) != (name != "pipe") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
