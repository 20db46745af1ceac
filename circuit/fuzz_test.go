package circuit

import (
	"os"
	"testing"
)

// Whatever bytes come: no panic, an error that has a place or a circuit that is whole, and what was read is written so
// that it reads the same.
func FuzzReadCircuit(f *testing.F) {
	gritter, err := os.ReadFile("../circuits/gritter.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(gritter)
	f.Add(gritter[:len(gritter)/2])
	f.Add([]byte(small))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := Read("fuzz.toml", text)
		if err != nil {
			ps, ok := err.(Problems)
			if !ok || len(ps.Errors()) == 0 || c != nil {
				t.Fatalf("circuit %v with error %T %v", c, err, err)
			}
			for _, p := range ps {
				if p.File == "" || p.Line < 1 || p.Column < 1 || p.What == "" {
					t.Fatalf("a problem without a place: %#v", p)
				}
			}
			return
		}
		_ = Check(c).Error()
		_ = c.Digest(c.ids()...)
		_ = c.Reservoirs()
		saved := Write(c)
		again, err := Read("fuzz.toml", saved)
		if err != nil {
			t.Fatalf("what was saved can't be read: %v\n%s", err, saved)
		}
		if same := Write(again); string(same) != string(saved) {
			t.Fatalf("saved twice, and differently:\n%s\n%s", saved, same)
		}
		c.source = nil
		if anew, err := Read("fuzz.toml", Write(c)); err != nil || len(anew.Components) != len(c.Components) || len(anew.Lines) != len(c.Lines) {
			t.Fatalf("written without its file it can't be read: %v", err)
		}
	})
}

func FuzzReadCase(f *testing.F) {
	f.Add([]byte(slowBuild))
	f.Add([]byte(slowBuild[:200]))
	f.Add([]byte(mended))
	gritter, err := os.ReadFile("../circuits/gritter.toml")
	if err != nil {
		f.Fatal(err)
	}
	c, err := Read("gritter.toml", gritter)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		k, err := ReadCase("fuzz.toml", text)
		if err != nil {
			ps, ok := err.(Problems)
			if !ok || len(ps.Errors()) == 0 || k != nil {
				t.Fatalf("case %v with error %T %v", k, err, err)
			}
			for _, p := range ps {
				if p.File == "" || p.Line < 1 || p.Column < 1 || p.What == "" {
					t.Fatalf("a problem without a place: %#v", p)
				}
			}
			return
		}
		_ = CheckCase(k, c).Error()
		for _, f := range k.Findings {
			for _, d := range Dimensions() {
				low, high, err := f.Result.Bounds(d)
				if err == nil && !(low <= high) {
					t.Fatalf("%q reads as %v to %v", f.Result.Text, low, high)
				}
			}
		}
		saved := WriteCase(k)
		again, err := ReadCase("fuzz.toml", saved)
		if err != nil {
			t.Fatalf("what was saved can't be read: %v\n%s", err, saved)
		}
		if same := WriteCase(again); string(same) != string(saved) {
			t.Fatalf("saved twice, and differently:\n%s\n%s", saved, same)
		}
	})
}
