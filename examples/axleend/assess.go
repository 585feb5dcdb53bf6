package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

func assess(c *call, args []string) int {
	if len(args) != 1 {
		return c.misuse("assess wants one visit file; axleend assess -h shows how it is used")
	}
	data, err := c.read(args[0])
	if err != nil {
		return c.fail(err)
	}
	visit, err := record.Read(args[0], data)
	if err != nil {
		return c.fail(err)
	}
	setup, err := c.setup(args[0])
	if err != nil {
		return c.fail(err)
	}
	report, err := inspect.Assess(visit, setup)
	if err != nil {
		return c.fail(fmt.Errorf("%s: %w", args[0], err))
	}
	code := exitDone
	if report.Stops || c.strict && report.NotJudged > 0 {
		code = exitStop
	}
	var page []byte
	switch c.as {
	case "json":
		if page, err = json.MarshalIndent(report, "", "  "); err != nil {
			return c.fail(err)
		}
		page = append(page, '\n')
	case "html":
		var b bytes.Buffer
		if err := sheet.HTML(&b, report, sheet.HTMLOptions{OnePage: c.onePage}); err != nil {
			return c.fail(err)
		}
		page = b.Bytes()
	default:
		page = []byte(sheet.Text(report))
	}
	written := c.save(page)
	if written != exitDone {
		return written
	}
	return code
}

func (c *call) setup(visit string) (inspect.Setup, error) {
	var setup inspect.Setup
	var err error
	if c.packs != "" || c.packDir != "" {
		if c.packDir != "" {
			c.reads(c.packDir, visitKinds[:1])
		}
		if setup.Program, err = inspect.CompilePacks(c.packFS(), c.packNames()...); err != nil {
			return setup, err
		}
	}
	dir := c.tables
	if dir == "" && visit != "-" {
		dir = filepath.Dir(visit)
	}
	if dir != "" {
		c.reads(dir, tableKinds[:])
		if setup.Tables, err = tablefile.LoadFolder(os.DirFS(dir)); err != nil {
			return setup, err
		}
	}
	return setup, nil
}

func (c *call) packFS() fs.FS {
	if c.packDir != "" {
		return os.DirFS(c.packDir)
	}
	return packs.FS()
}

func (c *call) packNames() []string {
	if c.packs == "" {
		return packs.Default()
	}
	return strings.Split(c.packs, ",")
}

func (c *call) printJSON(v any) int {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return c.fail(err)
	}
	return c.print(string(data) + "\n")
}

func packsCommand(c *call, args []string) int {
	if len(args) == 0 {
		args = []string{"list"}
	}
	var b strings.Builder
	switch word := args[0]; {
	case word == "list" && len(args) == 1:
		return c.listPacks(&b)
	case word == "show" && len(args) == 2:
		return c.showPack(&b, args[1])
	case word == "check" && len(args) > 1:
		return c.checkPacks(&b, args[1:])
	case word == "measures" && len(args) == 1:
		d := inspect.Vocabulary().Definition()
		b.WriteString("Actions, the worst first:\n")
		for _, a := range d.Actions {
			stops := ""
			if a.Stops {
				stops = " (stops the coach)"
			}
			wrap(&b, fmt.Sprintf("  %-14s ", a.Name), a.Doc+stops)
		}
		b.WriteString("\nTasks that an advice may involve:\n")
		for _, k := range d.Tasks {
			wrap(&b, fmt.Sprintf("  %-14s ", k.Name), k.Doc)
		}
		for _, s := range d.Subjects {
			fmt.Fprintf(&b, "\n%s: %s\n", s.Name, s.Doc)
			for _, m := range s.Measures {
				wrap(&b, fmt.Sprintf("  %-24s ", m.Name), m.Doc+" ["+m.Takes()+"]")
			}
		}
		return c.print(b.String())
	}
	return c.misuse("packs wants list, show NAME, check FILE... or measures")
}

func (c *call) listPacks(b *strings.Builder) int {
	list, err := rules.Load(packs.FS(), packs.Names()...)
	if err != nil {
		return c.fail(err)
	}
	for _, p := range list {
		fmt.Fprintf(b, "%-18s %s\n", p.Name(), p.Title())
	}
	fmt.Fprintf(b, "\nRun unless told otherwise: %s\n", strings.Join(packs.Default(), ", "))
	return c.print(b.String())
}

func (c *call) showPack(b *strings.Builder, name string) int {
	program, err := inspect.CompilePacks(c.packFS(), name)
	if err != nil {
		return c.fail(err)
	}
	list, err := rules.Load(c.packFS(), name)
	if err != nil {
		return c.fail(err)
	}
	p := list[len(list)-1] // those that it extends come before it
	wrap(b, p.Name()+": ", p.Title())
	if p.About() != "" {
		wrap(b, "    ", p.About())
	}
	b.WriteByte('\n')
	for _, r := range program.Rules() {
		wrap(b, r.Pack()+"/"+r.ID()+": ", r.Sentence())
		for _, s := range r.Sources() {
			wrap(b, "    source: ", s.String())
		}
	}
	return c.print(b.String())
}

// checkPacks reads each pack with its cases from its own folder.
func (c *call) checkPacks(b *strings.Builder, files []string) int {
	code := exitDone
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		report, err := inspect.CheckPack(os.DirFS(filepath.Dir(file)), name)
		if err != nil {
			fmt.Fprintf(b, "%s: bad\n%v\n", file, err)
			code = exitStop
			continue
		}
		fmt.Fprintf(b, "%s: %d cases, %d failed, %d gaps\n", file, report.Cases, len(report.Failures), len(report.Gaps))
		for _, p := range report.Failures {
			fmt.Fprintf(b, "  %v\n", p)
			code = exitStop
		}
		if c.strict && len(report.Gaps) > 0 {
			code = exitStop
		}
		for _, g := range report.Gaps {
			fmt.Fprintf(b, "  %s: no case covers: %s\n", g.Rule, g.Missing)
		}
	}
	return worse(c.print(b.String()), code)
}
