package main

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ringout/cmd/ringout/output"
)

// TestForgedRegister has a register that tells, under the right digest, of one
// sheet less of a drawing than there is: the set does not fit together, and all
// sheets have to be drawn.
func TestForgedRegister(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	plant, out := filepath.Join(dir, "plant.yaml"), filepath.Join(dir, "out")
	text, err := os.ReadFile("../../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	draw := func(changed bool) {
		t.Helper()
		r, err := readPlant(plant)
		if err != nil {
			t.Fatal(err)
		}
		d := drawing{reading: r, out: out, format: []string{"svg"}, changed: changed}
		if err := d.run(t.Context(), t.Output()); err != nil {
			t.Fatal(err)
		}
	}
	write := func(name, s string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(s), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	read := func(name string) string {
		t.Helper()
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	write(plant, string(text))
	draw(false)
	register := filepath.Join(out, output.RegisterName)
	whole := read(register)

	// The box is kept, and the loop that is drawn again refers to it.
	body, _, _ := strings.Cut(whole, "\nend ")
	forged := strings.Replace(body, " 1 - box JB-21", " 2 - box JB-21", 1)
	if forged == body {
		t.Fatal("the register has another form")
	}
	write(register, fmt.Sprintf("%s\nend %x\n", forged, sha256.Sum256([]byte(forged))))
	if err := os.Remove(filepath.Join(out, "loop-F-2107.svg")); err != nil {
		t.Fatal(err)
	}
	draw(true)
	if read(register) != whole {
		t.Error("the register is not what it was")
	}
	read(filepath.Join(out, "loop-F-2107.svg"))
}
