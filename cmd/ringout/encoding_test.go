package main

import (
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
)

// TestEncodings: every text that people write is read alike, whatever program saved
// it: a byte order mark at its start does no harm, and what is no UTF-8 is told with
// the same place and the same words. Lists come from spreadsheets, which write Latin-1 and
// UTF-16 too: they are read, and that is told. The marks are those of the Unicode Standard,
// section 23.8.
func TestEncodings(t *testing.T) {
	t.Parallel()
	wide := func(order binary.AppendByteOrder, mark bool) func(string) []byte {
		return func(s string) []byte {
			var b []byte
			units := utf16.Encode([]rune(s))
			if mark {
				units = append([]uint16{0xFEFF}, units...)
			}
			for _, u := range units {
				b = order.AppendUint16(b, u)
			}
			return b
		}
	}
	wider := func(order binary.AppendByteOrder, mark bool) func(string) []byte {
		return func(s string) []byte {
			var b []byte
			if mark {
				b = order.AppendUint32(b, 0xFEFF)
			}
			for _, r := range s {
				b = order.AppendUint32(b, uint32(r))
			}
			return b
		}
	}
	at := func(mark string) func(string) []byte { // in the third place of the second line
		return func(s string) []byte {
			i := strings.IndexByte(s, '\n') + 3
			return []byte(s[:i] + mark + s[i:])
		}
	}
	const utf16Words, utf32Words = ":1:1: the file is written in UTF-16", ":1:1: the file is written in UTF-32"
	const markWords = ": invisible byte order mark"
	told := map[string]string{"latin 1": "read as Latin-1", "UTF-16 LE": "read as UTF-16", "UTF-16 BE": "read as UTF-16"} // of lists, which are read all the same
	for _, c := range []struct {
		name  string
		write func(string) []byte
		fault string
	}{
		{"plain", func(s string) []byte { return []byte(s) }, ""},
		{"mark", func(s string) []byte { return []byte("\xEF\xBB\xBF" + s) }, ""},
		{"two marks", func(s string) []byte { return []byte("\xEF\xBB\xBF\xEF\xBB\xBF" + s) }, ":1:1" + markWords},
		{"mark inside", at("\xEF\xBB\xBF"), ":2:3" + markWords},
		{"mark before and inside", func(s string) []byte { return append([]byte("\xEF\xBB\xBF"), at("\xEF\xBB\xBF")(s)...) }, ":2:3" + markWords},
		{"latin 1", at("\xE9"), ":2:3: byte 0xe9 is not UTF-8"},
		{"UTF-16 LE", wide(binary.LittleEndian, true), utf16Words}, {"UTF-16 BE", wide(binary.BigEndian, true), utf16Words},
		{"UTF-16 LE without mark", wide(binary.LittleEndian, false), utf16Words}, {"UTF-16 BE without mark", wide(binary.BigEndian, false), utf16Words},
		{"UTF-32 LE", wider(binary.LittleEndian, true), utf32Words}, {"UTF-32 BE", wider(binary.BigEndian, true), utf32Words},
		{"UTF-32 LE without mark", wider(binary.LittleEndian, false), utf32Words}, {"UTF-32 BE without mark", wider(binary.BigEndian, false), utf32Words},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			file := func(name, text string) string {
				path := filepath.Join(dir, name)
				if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
					t.Fatal(err)
				}
				return path
			}
			plant, err := os.ReadFile("../../samples/one-loop/plant.yaml")
			if err != nil {
				t.Fatal(err)
			}
			sound := file("sound.yaml", string(plant))
			list := func(name string) string {
				_, out, _ := ringoutRuns("list", name, sound, "--as", "csv")
				return out
			}
			cables, cores := list("cables"), list("cores")
			importing := func(name string) []string {
				return []string{"import", filepath.Join(dir, "cables.csv"), filepath.Join(dir, "cores.csv"), "--map", filepath.Join(dir, "map.txt"), "-o", filepath.Join(dir, "of-"+name)}
			}
			for _, k := range []struct {
				name, text string
				args       []string
			}{
				{"plant.yaml", string(plant), []string{"check", filepath.Join(dir, "plant.yaml")}},
				{"cables.csv", cables, importing("cables")},
				{"map.txt", "cables:\n  cable: cable\n", importing("map")},
				{"tags.txt", "W-21\nW-2107\n", []string{"pack", sound, "--tag-file", filepath.Join(dir, "tags.txt"), "-o", dir}},
			} {
				file("cables.csv", cables)
				file("cores.csv", cores)
				file("map.txt", "cables:\n")
				path := file(k.name, string(c.write(k.text)))
				code, out, stderr := ringoutRuns(k.args...)
				switch as := told[c.name]; {
				case as != "" && k.name == "cables.csv":
					if code == wrong || !strings.Contains(stderr, "it is "+as) {
						t.Errorf("%s: exit code %d:\n%s%s", k.name, code, out, stderr)
					}
				case c.fault == "" && strings.Contains(out+stderr, "UTF") || c.fault == "" && code == wrong:
					t.Errorf("%s: exit code %d: %s%s", k.name, code, out, stderr)
				case c.fault != "" && (code == fine || !strings.Contains(out+stderr, path+c.fault)):
					t.Errorf("%s: exit code %d:\n%s%s\nwithout %s", k.name, code, out, stderr, path+c.fault)
				}
			}
		})
	}
}

// TestTagLimits: a file of tags that is too long is told with the line, and the limit
// stands in COMMANDS.md.
func TestTagLimits(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := filepath.Join(dir, "tags.txt")
	if err := os.WriteFile(file, []byte(strings.Repeat("W-21 # again\n", mostTags)+"\n\nW-21\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	code, _, stderr := ringoutRuns("pack", "../../samples/one-loop", "--tag-file", file, "-o", dir)
	if want := fmt.Sprintf("%s:%d: more than %d tags", file, mostTags+3, mostTags); code != wrong || !strings.Contains(stderr, want) {
		t.Errorf("exit code %d: %s, not %s", code, stderr, want)
	}
	commands, err := os.ReadFile("COMMANDS.md")
	if err != nil {
		t.Fatal(err)
	}
	words := fmt.Sprintf("tag file has a maximum of %d tags", mostTags)
	if !strings.Contains(string(commands), words) {
		t.Errorf("COMMANDS.md does not say %q", words)
	}
}
