package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/rules/packs"
)

func packsListCommand() *command {
	return &command{
		name: "packs", args: "[list | show NAME | new NAME | check FILE... | measures]", short: "the rules: what is held against what, and who says so",
		help: "list says what each pack is for; show prints one as a page; new writes a pack of\nyour own to start from, with its cases; check reads packs and runs their cases;\nmeasures lists what rules can judge.\n\nExample: axleend packs show coach-care",
		run:  packsCommand,
		flags: func(c *call) {
			c.packFlags()
			c.flags.BoolVar(&c.strict, "strict", false, "check: also exit with 1 when a rule or an edge has no case")
		},
	}
}

// packFS has the packs of the folder that was named, and the shipped ones.
func (c *call) packFS() fs.FS {
	if c.packDir != "" {
		return packs.Behind(os.DirFS(c.packDir))
	}
	return packs.FS()
}

// packNames are the packs to run: those that were named, else the default set,
// and those that were asked for beside them.
func (c *call) packNames() []string {
	names := packs.Default()
	if c.packs != "" {
		names = strings.Split(c.packs, ",")
	}
	if c.beside != "" {
		names = append(names, strings.Split(c.beside, ",")...)
	}
	return names
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
	case word == "new" && len(args) == 2:
		return c.newPack(args[1])
	case word == "check" && len(args) > 1:
		return c.checkPacks(&b, args[1:])
	case word == "measures" && len(args) == 1:
		return c.listMeasures(&b)
	}
	return c.misuse("packs wants list, show NAME, new NAME, check FILE... or measures")
}

// listMeasures says what rules may speak of, with what the packs that were named
// declare.
func (c *call) listMeasures(b *strings.Builder) int {
	d := inspect.Vocabulary().Definition()
	if c.packDir != "" {
		program, err := inspect.CompilePacks(c.packFS(), c.packNames()...)
		if err != nil {
			return c.fail(err)
		}
		d = program.Vocabulary().Definition()
	}
	b.WriteString("Actions, the worst first:\n")
	for _, a := range d.Actions {
		stops := ""
		if a.Stops {
			stops = " (stops the coach)"
		}
		wrap(b, fmt.Sprintf("  %-14s ", a.Name), a.Doc+stops)
	}
	b.WriteString("\nTasks that an advice may involve:\n")
	for _, k := range d.Tasks {
		wrap(b, fmt.Sprintf("  %-14s ", k.Name), k.Doc)
	}
	for _, s := range d.Subjects {
		fmt.Fprintf(b, "\n%s: %s\n", s.Name, s.Doc)
		for _, m := range s.Measures {
			wrap(b, fmt.Sprintf("  %-24s ", m.Name), m.Doc+" ["+m.Takes()+"]")
		}
	}
	return c.say(b.String())
}

// listPacks says of each pack what it is about, for which coach it is, which
// edition it holds, and on what its rules rest.
func (c *call) listPacks(b *strings.Builder) int {
	names, err := c.allPacks()
	if err != nil {
		return c.fail(err)
	}
	for _, name := range names {
		list, err := rules.Load(c.packFS(), name)
		if err != nil {
			return c.fail(err)
		}
		p := list[len(list)-1]
		wrap(b, p.Name()+": ", p.Title())
		parts := []string{"for " + forCoach(p)}
		program, err := rules.Compile(inspect.Vocabulary(), list...)
		if err != nil {
			return c.fail(err)
		}
		parts = append(parts, restsOn(program.Rules()))
		if p.Edition() != "" {
			parts = append(parts, p.Edition())
		}
		wrap(b, "    ", strings.Join(parts, "; "))
	}
	if c.packDir == "" {
		b.WriteByte('\n')
		wrap(b, "Run unless told otherwise: ", strings.Join(packs.Default(), ", "))
	}
	return c.say(b.String())
}

// forCoach says for which coach a pack is, as far as it says so: where that is
// registered, whether it works for its living, and what it may weigh.
func forCoach(p rules.Pack) string {
	whom, out := p.For(), "any coach"
	if len(whom.Countries) > 0 {
		out = "a coach registered in " + strings.Join(whom.Countries, " or ")
	}
	if len(whom.Uses) > 0 {
		out += ", in " + strings.Join(whom.Uses, " or ") + " use"
	}
	if p.Scope() != "" {
		out += "; only for a coach with " + p.Scope()
	}
	return out
}

// known refuses a name that no pack has, and says which was meant.
func (c *call) known(name string) error {
	all := packs.Names()
	if c.packDir != "" {
		own, err := c.allPacks()
		if err != nil {
			own = nil // said where the folder itself is read
		}
		all = append(own, all...)
	}
	name = strings.TrimSuffix(name, ".yaml")
	if slices.Contains(all, name) {
		return nil
	}
	if meant := c.meant(strings.ToLower(name), all); len(meant) > 0 {
		return fmt.Errorf("axleend: no pack %q: did you mean \"%s\"?", clip(name), strings.Join(meant, `" or "`))
	}
	return fmt.Errorf("axleend: no pack %q: there are %s", clip(name), strings.Join(all, ", "))
}

// meant are the packs that a word may stand for: the nearest, else those with it as
// a part of their name, or as a word of their title.
func (c *call) meant(word string, all []string) (out []string) {
	if near := inspect.DidYouMean(word, all); near != "" {
		return []string{near}
	}
	among := func(words []string) bool { return slices.Contains(words, word) }
	for _, name := range all {
		if among(strings.Split(name, "-")) {
			out = append(out, name)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, name := range all {
		list, err := rules.Load(c.packFS(), name)
		if err == nil && among(strings.FieldsFunc(strings.ToLower(list[len(list)-1].Title()), func(r rune) bool { return !unicode.IsLetter(r) })) {
			out = append(out, name)
		}
	}
	return out
}

// allPacks are the shipped packs, or those in the folder that was named.
func (c *call) allPacks() ([]string, error) {
	if c.packDir == "" {
		return packs.Names(), nil
	}
	files, err := fs.Glob(os.DirFS(c.packDir), "*.yaml")
	if err != nil {
		return nil, err
	}
	var out []string
	for _, file := range files {
		if name := strings.TrimSuffix(file, ".yaml"); !strings.Contains(name, ".") && otherKind(os.DirFS(c.packDir), file) == "" {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: no pack in this folder", c.packDir)
	}
	return out, nil
}

// otherKind says what a file is that declares itself something else than a pack, by
// its first key: a folder of packs may hold visits and tables, too. Of any other, and
// of what cannot be read, it says nothing.
func otherKind(fsys fs.FS, file string) string {
	if info, err := fs.Stat(fsys, file); err != nil || !info.Mode().IsRegular() {
		return ""
	}
	f, err := fsys.Open(file)
	if err != nil {
		return ""
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, 4<<10))
	if err == nil && tablefile.IsTable(head) {
		return "a table"
	}
	for line := range strings.Lines(string(head)) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' || line == "---" {
			continue
		}
		if strings.HasPrefix(line, "visit:") {
			return "a visit"
		}
		break
	}
	return ""
}

// ownPacks compiles those packs of the folder that was named which visits ask
// for. Where the visits are not known yet it takes whatever there is a pack: of
// one that is none the report says that it is not at hand.
func (c *call) ownPacks(visits []*record.Visit) ([]*rules.Program, error) {
	if c.packDir == "" {
		return nil, nil
	}
	files, err := fs.Glob(os.DirFS(c.packDir), "*.yaml")
	if err != nil {
		return nil, err
	}
	var out []*rules.Program
	for _, file := range files {
		name := strings.TrimSuffix(file, ".yaml")
		asked := slices.ContainsFunc(visits, func(v *record.Visit) bool { return slices.Contains(v.Packs, name) })
		if len(visits) > 0 && !asked {
			continue
		}
		program, err := inspect.CompilePacks(c.packFS(), name)
		switch {
		case err == nil:
			out = append(out, program)
		case asked:
			return nil, err
		}
	}
	return out, nil
}

// restsOn counts rules by the best grade of their sources.
func restsOn(list []*rules.Rule) string {
	count := make(map[origin.Grade]int)
	for _, r := range list {
		best := origin.Invented
		for _, s := range r.Sources() {
			best = min(best, s.Grade)
		}
		count[best]++
	}
	var parts []string
	for g := origin.Published; g <= origin.Invented; g++ {
		if n := count[g]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, g))
		}
	}
	rule := "rules"
	if len(list) == 1 {
		rule = "rule"
	}
	return fmt.Sprintf("%d %s: %s", len(list), rule, strings.Join(parts, ", "))
}

// showPack prints a pack as a page: what it is for, its rules from the worst
// action on, and what its sources say that it does not judge.
func (c *call) showPack(b *strings.Builder, name string) int {
	if err := c.known(name); err != nil {
		return c.fail(err)
	}
	list, err := rules.Load(c.packFS(), name)
	if err != nil {
		return c.fail(err)
	}
	program, err := rules.Compile(inspect.Vocabulary(), list...)
	if err != nil {
		return c.fail(err)
	}
	clauses, err := rules.LoadClauses(c.packFS(), name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return c.fail(err)
	}
	p := list[len(list)-1] // those that it extends come before it
	wrap(b, p.Name()+": ", p.Title())
	for _, line := range [...][2]string{{"", p.About()}, {"For ", forCoach(p)}, {"Edition: ", p.Edition()}, {"", restsOn(program.Rules())}} {
		if line[1] != "" {
			wrap(b, "    "+line[0], line[1])
		}
	}
	for i, action := range program.Vocabulary().Definition().Actions {
		heading := "\n" + strings.ToUpper(strings.ReplaceAll(action.Name, "_", " ")) + ": " + action.Doc + "\n"
		for _, r := range program.Rules() {
			if r.Severity() != i {
				continue
			}
			b.WriteString(heading)
			heading = ""
			showRule(b, r)
		}
	}
	heading := "\nIts sources also say, and no rule here judges:\n"
	for _, clause := range clauses.All() {
		if clause.LeftOut != "" {
			b.WriteString(heading)
			heading = ""
			wrap(b, "  ", fmt.Sprintf("%s, %s: %s (%s)", clause.Title, clause.At, clause.Says, clause.LeftOut))
		}
	}
	return c.say(b.String())
}

func showRule(b *strings.Builder, r *rules.Rule) {
	b.WriteByte('\n')
	wrap(b, "  "+r.Pack()+"/"+r.ID()+"  ", r.Title())
	wrap(b, "      Limit:   ", r.Limit())
	wrap(b, "      Do:      ", r.Advice())
	if causes := r.Causes(); len(causes) > 0 {
		wrap(b, "      Perhaps: ", strings.Join(causes, "; "))
	}
	for _, s := range r.Sources() {
		wrap(b, "      Source:  ", s.String())
	}
}

// checkPacks reads each pack with its cases and clauses from its own folder. Those
// files stand for the pack that they belong to, and each pack is checked once.
func (c *call) checkPacks(b *strings.Builder, files []string) int {
	code, some := exitDone, false
	checked := make(map[string]bool)
	for _, file := range files {
		checked[filepath.Clean(file)] = belongsTo(file) == file // a pack is checked in its own place
	}
	for _, file := range files {
		pack := belongsTo(file)
		if pack != file {
			fmt.Fprintf(b, "%s: checked with %s\n", file, pack)
			if checked[filepath.Clean(pack)] {
				continue
			}
			checked[filepath.Clean(pack)] = true
		}
		if kind := otherKind(os.DirFS(filepath.Dir(pack)), filepath.Base(pack)); kind != "" {
			fmt.Fprintf(b, "%s: %s, no pack: left out\n", pack, kind)
			continue
		}
		some = true
		code = max(code, c.checkPack(b, pack))
	}
	if !some {
		return c.misuse("no pack among them: %s", clip(strings.Join(files, ", ")))
	}
	return worse(c.print(b.String()), code) // a problem stays on its line, for editors
}

// belongsTo is the pack that a file of cases or clauses is for, beside it; of any
// other file it is the file itself.
func belongsTo(file string) string {
	for _, ending := range [...]string{".cases.yaml", ".clauses.yaml"} {
		if pack, ok := strings.CutSuffix(file, ending); ok {
			return pack + ".yaml"
		}
	}
	return file
}

func (c *call) checkPack(b *strings.Builder, file string) int {
	report, err := inspect.CheckPack(os.DirFS(filepath.Dir(file)), strings.TrimSuffix(filepath.Base(file), ".yaml"))
	if err != nil {
		fmt.Fprintf(b, "%s: bad\n%v\n", file, err)
		return exitStop
	}
	code := exitDone
	fmt.Fprintf(b, "%s: %d cases, %d failed, %d gaps\n", file, report.Cases, len(report.Failures), len(report.Gaps))
	for _, p := range report.Failures {
		fmt.Fprintf(b, "  %v\n", p)
		code = exitStop
	}
	for _, g := range report.Gaps {
		fmt.Fprintf(b, "  %s: no case covers %s\n", g.Rule, g.Missing)
		if c.strict {
			code = exitStop
		}
	}
	return code
}

// newPack writes a pack to begin with and its cases, and no file over another.
func (c *call) newPack(name string) int {
	name = strings.TrimSuffix(name, ".yaml")
	if filepath.Base(name) != name {
		return c.misuse("packs new wants a name, not a path: %q; -pack-dir is the folder to write to", clip(name))
	}
	pack, cases := packs.Starter(name)
	if _, err := rules.ReadPack(name+".yaml", []byte(pack)); err != nil {
		return c.misuse("packs new %q: want lower-case letters, digits and hyphens, a letter first", clip(name))
	}
	if slices.Contains(packs.Names(), name) {
		return c.misuse("%s is a shipped pack: choose another name", name)
	}
	files := [...]string{filepath.Join(c.packDir, name+".yaml"), filepath.Join(c.packDir, name+".cases.yaml")}
	for _, file := range files {
		if _, err := os.Lstat(file); err == nil {
			return c.misuse("%s is there already: choose another name, or move it away", file)
		}
	}
	for i, text := range [...]string{pack, cases} {
		if err := writeFile(files[i], []byte(text), false); err != nil {
			return c.unwritten(err)
		}
	}
	return c.say(fmt.Sprintf("wrote %s and %s\nChange the rule and its cases, then: axleend packs check %s\n", files[0], files[1], files[0]))
}
