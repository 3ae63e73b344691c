package samples
import ("os";"testing";"strconv")
func TestZZ(t *testing.T){ n,_:=strconv.Atoi(os.Getenv("SEED")); l:=1+n%4; if n%50==7 {l=12}; os.MkdirAll("/tmp/seed"+os.Getenv("SEED"),0o755); os.WriteFile("/tmp/seed"+os.Getenv("SEED")+"/plant.yaml",[]byte(Random(uint64(n),l)),0o644)}
