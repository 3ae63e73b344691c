package render

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// kept are the names of devices, spelt out from Microsoft, "Naming Files, Paths, and
// Namespaces".
var kept = strings.Fields(`CON PRN AUX NUL COM0 COM1 COM2 COM3 COM4 COM5 COM6 COM7 COM8 COM9 COM¹ COM² COM³
	LPT0 LPT1 LPT2 LPT3 LPT4 LPT5 LPT6 LPT7 LPT8 LPT9 LPT¹ LPT² LPT³`)

// isKept follows the words of that page: a name with any ending is reserved too.
func isKept(file string) bool {
	base, _, _ := strings.Cut(file, ".")
	for _, k := range kept {
		if strings.EqualFold(strings.TrimRight(base, " "), k) {
			return true
		}
	}
	return false
}

// TestFileNames makes names of all that is reserved, with endings, blanks and
// points, in any case, and of random texts: no file of such a name is a device, ends
// with a point or blank, or has a sign that some system refuses.
func TestFileNames(t *testing.T) {
	t.Parallel()
	var texts []string
	for _, k := range kept {
		for _, s := range []string{k, strings.ToLower(k), k[:1] + strings.ToLower(k[1:])} {
			texts = append(texts, s, s+".", s+" ", s+". .", "."+s, s+".tar", s+" .x", "-"+s, s+"-1", s+".-", s+"/x")
		}
	}
	w := rand.New(rand.NewPCG(5, 6))
	signs := []string{"con", "NUL", "com", "1", "¹", ".", " ", "-", "/", `\`, ":", "*", "?", `"`, "<", ">", "|", "é", "Ж", "_", "\x00", "\t", "😀", "$"}
	for range 20000 {
		var b strings.Builder
		for range 1 + w.IntN(6) {
			b.WriteString(signs[w.IntN(len(signs))])
		}
		texts = append(texts, b.String())
	}
	texts = append(texts, strings.Repeat("Ж", 300), strings.Repeat("x", 300)+"1", strings.Repeat("x", 300)+"2")
	for _, s := range texts {
		name, same := FileName(s)
		if same != (name == s) {
			t.Errorf("%q: same is %t", s, same)
		}
		if again, ok := FileName(name); !ok || again != name {
			t.Errorf("%q is %q, which is %q", s, name, again)
		}
		for _, file := range []string{name + ".pdf", name + "-1.svg", name + "-html"} {
			if isKept(file) || strings.ContainsAny(file, "\x00\t /\\:*?\"<>|") || strings.HasSuffix(name, ".") || len(file) > 200 {
				t.Errorf("%q gives the file %q", s, file)
			}
		}
		if name != "" && !isFileName(name) {
			t.Errorf("%q: a page named %q would be refused", s, name)
		}
	}
	for _, k := range kept {
		if isFileName(k) || isFileName(k+".x") {
			t.Errorf("a page may be named %q", k)
		}
	}
	one, _ := FileName(strings.Repeat("x", 300) + "1")
	two, _ := FileName(strings.Repeat("x", 300) + "2")
	if one == two {
		t.Errorf("two long names are both %q", one)
	}
}
