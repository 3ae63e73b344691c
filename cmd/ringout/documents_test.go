package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ringout/cmd/ringout/lists"
	"ringout/layout"
	"ringout/samples"
)

// documents are those that go with the code.
var documents = []string{"README.md", "DEVELOPERS.md", "model/read/LANGUAGE.md", "model/finding/FINDINGS.md", "model/compute/COMPUTING.md",
	"layout/SHEETS.md", "layout/DRAWING.md", "cmd/ringout/COMMANDS.md", "cmd/ringout/lists/COLUMNS.md", "cmd/ringout/SPEED.md", "fonts/NOTICE.md"}

// TestDocumentsAreHeld: every page of documents in the repository is one of documents.
func TestDocumentsAreHeld(t *testing.T) {
	t.Parallel()
	err := filepath.WalkDir("../..", func(file string, e os.DirEntry, err error) error {
		if err == nil && e.IsDir() && strings.HasPrefix(e.Name(), ".") && file != "../.." {
			return filepath.SkipDir
		}
		if name, _ := filepath.Rel("../..", file); filepath.Ext(name) == ".md" && !slices.Contains(documents, filepath.ToSlash(name)) {
			t.Errorf("%s is not in documents", name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestDocumentSheets: README.md and SHEETS.md have a row for every kind of sheet.
func TestDocumentSheets(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"README.md", "layout/SHEETS.md"} {
		text := readDocument(t, name)
		for _, k := range layout.Set {
			words := strings.ToLower(k.Words)
			if !strings.Contains(text, "| "+words+" | ") && !strings.Contains(text, "| "+strings.TrimPrefix(words, "loop ")+" | ") {
				t.Errorf("%s has no row for a %s", name, words)
			}
		}
	}
}

// TestDocumentColumns keeps the tables of COLUMNS.md: every column of each list that import
// reads. -update rewrites them.
func TestDocumentColumns(t *testing.T) {
	t.Parallel()
	parts := map[string]string{}
	for _, l := range lists.All {
		if !slices.ContainsFunc(l.Columns, func(c lists.Column) bool { return c.Import == lists.Needed }) {
			continue
		}
		var b strings.Builder
		b.WriteString("| column | import reads it | unit | holds |\n|---|---|---|---|\n")
		for _, c := range l.Columns {
			if c.Means == "" {
				t.Errorf("nothing says what the column %s of %s holds", c.Head, l.Name)
			}
			row := fmt.Sprintf("| `%s` | %s | %s | %s |\n", c.Head, [...]string{lists.Unread: "no", lists.Read: "yes", lists.Needed: "required"}[c.Import], c.Unit, c.Means)
			b.WriteString(strings.ReplaceAll(row, "|  |", "| |"))
		}
		parts["columns of "+l.Name] = b.String()
	}
	samples.Document(t, "lists/COLUMNS.md", parts, *update, "go test ./cmd/ringout -run DocumentColumns -update")
}

// TestVerbsAreRun: every verb is run in a session of testdata/script.
func TestVerbsAreRun(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("testdata/script/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	var sessions strings.Builder
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		sessions.Write(text)
	}
	for _, c := range rootCommand().Commands() {
		if c.Name() != "help" && !regexp.MustCompile(`(?m)^status \d ringout `+c.Name()+`\b`).MatchString(sessions.String()) {
			t.Errorf("no session runs ringout %s", c.Name())
		}
	}
}

// readDocument reads a document by its path from the root of the repository.
func readDocument(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../..", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestDocumentParts keeps the parts of README.md and COMMANDS.md that are made from
// the commands: their help, and a finding. -update rewrites them.
func TestDocumentParts(t *testing.T) {
	t.Parallel()
	help := map[string]string{"help": helpBlock(t)}
	for _, c := range rootCommand().Commands() {
		if c.HasExample() && c.Name() != "completion" {
			help["help of "+c.Name()] = helpBlock(t, c.Name())
		}
	}
	for name, parts := range map[string]map[string]string{
		"README.md":               {"help": help["help"], "finding": findingBlock(t)},
		"cmd/ringout/COMMANDS.md": help,
	} {
		samples.Document(t, filepath.Join("../..", name), parts, *update, "go test ./cmd/ringout -run Document -update")
	}
}

// today is the default of --date in the help, which is another every day.
var today = regexp.MustCompile(`\(default "\d{4}-\d\d-\d\d"\)`)

// helpBlock is what a verb prints with -h.
func helpBlock(t *testing.T, verb ...string) string {
	t.Helper()
	code, stdout, stderr := ringoutRuns(append(verb, "-h")...)
	if code != fine {
		t.Fatal(stderr)
	}
	return "```\n" + today.ReplaceAllString(stdout, "(default today)") + "```\n"
}

// findingBlock is what check prints of the one-loop sample with a pair that its cable
// does not have.
func findingBlock(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "plant.yaml")
	spoilt := strings.Replace(string(data), "W-21 pair 3", "W-21 pair 9", 1)
	if err := os.WriteFile(file, []byte(spoilt), 0o644); err != nil {
		t.Fatal(err)
	}
	_, _, stderr := ringoutRuns("check", file)
	return "```\n" + strings.ReplaceAll(stderr, filepath.ToSlash(dir)+"/", "") + "```\n"
}

// words takes the words of a command line apart, as a shell would: quotes keep a
// text together, # begins a comment.
func words(line string) []string {
	var all []string
	for _, w := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line, -1) {
		if strings.HasPrefix(w, "#") {
			break
		}
		all = append(all, strings.Trim(w, `"`))
	}
	return all
}

// TestDocumentCommands runs the ringout commands in the shell blocks of all documents,
// each block in a folder that has the samples and is a plant itself.
func TestDocumentCommands(t *testing.T) {
	block := regexp.MustCompile("(?s)```sh\n(.*?)```")
	ran := 0
	for _, name := range documents {
		for i, m := range block.FindAllStringSubmatch(readDocument(t, name), -1) {
			t.Run(fmt.Sprintf("%s block %d", filepath.Base(name), i+1), func(t *testing.T) {
				dir := t.TempDir()
				if err := os.CopyFS(filepath.Join(dir, "samples"), os.DirFS("../../samples")); err != nil {
					t.Fatal(err)
				}
				if err := os.CopyFS(dir, os.DirFS("../../samples/one-loop")); err != nil {
					t.Fatal(err)
				}
				t.Chdir(dir)
				for _, line := range strings.Split(strings.TrimSpace(m[1]), "\n") {
					args := words(strings.Replace(line, "go run ./cmd/ringout", "ringout", 1))
					switch {
					case args[0] == "ringout":
						ran++
						var stderr bytes.Buffer
						if code := run(context.Background(), args[1:], io.Discard, &stderr); code != fine {
							t.Errorf("%s: exit code %d\n%s", line, code, &stderr)
						}
					case args[0] != "go" && args[0] != "pdftoppm":
						t.Errorf("nobody runs %q", line)
					}
				}
			})
		}
	}
	if ran < 8 {
		t.Errorf("only %d commands ran: the pattern of this test is stale", ran)
	}
}

// TestDocumentExamples puts the examples of every help before the verb that they call:
// it has to know the flags, and take as many arguments.
func TestDocumentExamples(t *testing.T) {
	t.Parallel()
	for _, c := range rootCommand().Commands() {
		for _, line := range strings.Split(c.Example, "\n") {
			line, _, _ = strings.Cut(line, " 2> ")
			line, _, _ = strings.Cut(line, " > ")
			for _, command := range strings.Split(line, " && ") {
				args := words(command)
				if len(args) < 2 || args[0] != "ringout" {
					continue
				}
				verb, rest, err := rootCommand().Find(args[1:])
				if err == nil {
					verb.InitDefaultHelpFlag()
					err = verb.ParseFlags(rest)
				}
				if err == nil && verb.Flags().Lookup("help").Value.String() != "true" {
					err = verb.ValidateArgs(verb.Flags().Args())
				}
				if err != nil {
					t.Errorf("%s: %v", command, err)
				}
			}
		}
	}
}

// TestDocumentLinks follows every link of the documents to a file or a heading, and
// looks for the files of source that they name.
func TestDocumentLinks(t *testing.T) {
	t.Parallel()
	link := regexp.MustCompile(`\]\(([^)\s]+)\)|(?:href|src)="([^"]+)"`)
	anchor := regexp.MustCompile(`[^\p{L}\p{N} _-]`)
	source := regexp.MustCompile("`((?:cmd|fonts|layout|model|render|samples)/[a-z_/]+\\.go)`")
	for _, name := range documents {
		for _, m := range source.FindAllStringSubmatch(readDocument(t, name), -1) {
			if _, err := os.Stat(filepath.Join("../..", m[1])); err != nil {
				t.Errorf("%s: there is no %s", name, m[1])
			}
		}
		for _, m := range link.FindAllStringSubmatch(readDocument(t, name), -1) {
			to := m[1] + m[2]
			if strings.Contains(to, "://") {
				continue
			}
			path, heading, _ := strings.Cut(to, "#")
			file := name
			if path != "" {
				file = filepath.Join(filepath.Dir(name), path)
			}
			if _, err := os.Stat(filepath.Join("../..", file)); err != nil {
				t.Errorf("%s: %s leads nowhere", name, to)
				continue
			}
			if heading == "" {
				continue
			}
			found := false
			for _, line := range strings.Split(readDocument(t, file), "\n") {
				if title := strings.TrimLeft(line, "#"); title != line {
					title = anchor.ReplaceAllString(strings.ToLower(strings.TrimSpace(title)), "")
					found = found || strings.ReplaceAll(title, " ", "-") == heading
				}
			}
			if !found {
				t.Errorf("%s: %s has no such heading", name, to)
			}
		}
	}
}
