package model

import (
	"fmt"
	"os"
	"testing"
)

func TestTry(t *testing.T) {
	dir := os.Getenv("TRY")
	if dir == "" {
		t.Skip()
	}
	p, src, ps := Read(os.DirFS("."), dir)
	ps = append(ps, Check(p)...).Sort()
	ps.Print(os.Stdout, src)
	for _, w := range p.Conductors {
		fmt.Println(w.Fact(), w.Spare)
	}
}
