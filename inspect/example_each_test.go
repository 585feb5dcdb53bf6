package inspect_test

import (
	"fmt"
	"os"

	"axleend.example/inspect"
	"axleend.example/rules/packs"
)

func ExampleCompilePacks() {
	program, err := inspect.CompilePacks(packs.FS(), "us-commercial")
	if err != nil {
		fmt.Println(err)
		return
	}
	usual, err := inspect.DefaultProgram()
	fmt.Println(program.Packs(), usual.Packs(), err)
	// Output: [us-commercial] [coach-care dual-matching label servicing-safety] <nil>
}

func ExampleCheckPack() {
	report, err := inspect.CheckPack(os.DirFS("../rules/packs"), "dual-matching")
	fmt.Println(report.Pack, len(report.Failures), "failures", len(report.Gaps), "gaps", err)
	// Output: dual-matching 0 failures 0 gaps <nil>
}

func ExampleDidYouMean() {
	fmt.Println(inspect.DidYouMean("assses", []string{"assess", "weigh", "date"}))
	// Output: assess
}

func ExampleSetup_Check() {
	fmt.Println(inspect.Setup{}.Check())
	// Output: <nil>
}
