package main

import (
	"bufio"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The house's rules, checked on the source: imports run one way, rooms stay small and say what they are for.

const root = "../.."

// mayImport says what each package of the house may import of the house. "circuit/..." means circuit and all below it.
// A package that is not named here fails the test: a new one has to be given its place.
var mayImport = map[string][]string{
	"circuit":                   {},
	"circuit/limit":             {"circuit"},
	"circuit/symbol":            {"circuit", "circuit/symbol/..."},
	"circuit/airflow":           {"circuit"},
	"circuit/airflow/procedure": {"circuit", "circuit/limit", "circuit/airflow", "circuit/airflow/effort", "circuit/airflow/heat", "circuit/airflow/moisture"},
	"circuit/airflow/explain":   {"circuit", "circuit/airflow"},
	"circuit/airflow/walk":      {"circuit", "circuit/airflow"},
	"circuit/airflow/effort":    {"circuit", "circuit/limit", "circuit/airflow"},
	"circuit/airflow/heat":      {"circuit", "circuit/airflow/effort"},
	"circuit/airflow/usage":     {"circuit", "circuit/airflow", "circuit/airflow/effort"},
	"circuit/airflow/moisture":  {"circuit", "circuit/airflow", "circuit/airflow/effort"},
	"circuits":                  {"circuit"},
	"trace":                     {"circuit", "circuit/limit", "circuit/airflow/...", "trace/..."},
	"trace/drill":               {"circuit", "circuit/airflow", "circuit/airflow/procedure", "trace"},
	"trace/record":              {"circuit", "circuit/limit", "circuit/airflow", "circuit/airflow/procedure", "circuit/symbol/...", "trace"},
	"trace/chart":               {"circuit", "circuit/airflow/...", "circuit/symbol", "trace"},
	"ui":                        {"circuit/...", "circuits", "trace/...", "ui/..."},
	"cmd/score":                 {"circuit/...", "circuits", "trace/..."},
	"cmd/airpath":               {"circuit/...", "circuits", "trace/...", "ui/..."},
}

// rulesFor finds a package's rule, or that of the nearest folder above it.
func rulesFor(pkg string) ([]string, bool) {
	for ; pkg != "."; pkg = filepath.Dir(pkg) {
		if allowed, ok := mayImport[pkg]; ok {
			return allowed, true
		}
	}
	return nil, false
}

func allows(pattern, pkg string) bool {
	if base, below := strings.CutSuffix(pattern, "/..."); below {
		return pkg == base || strings.HasPrefix(pkg, base+"/")
	}
	return pkg == pattern
}

func TestImportsRunOneWay(t *testing.T) {
	for _, file := range goFiles(t) {
		pkg := filepath.Dir(file)
		allowed, known := rulesFor(pkg)
		if !known {
			t.Errorf("%s: package %s has no place in the house yet; give it one in mayImport", file, pkg)
			continue
		}
		for _, path := range importsOf(t, file) {
			own, ofTheHouse := strings.CutPrefix(path, "airpath/")
			switch {
			case ofTheHouse && strings.HasSuffix(file, "_test.go") && !strings.HasPrefix(own, "cmd"):
				// A test may look at whatever it checks.
			case ofTheHouse && own != pkg && !slices.ContainsFunc(allowed, func(a string) bool { return allows(a, own) }):
				t.Errorf("%s imports %s; %s may import only %s", file, path, pkg, strings.Join(allowed, ", "))
			case strings.HasPrefix(path, "gioui.org") && pkg != "ui" && !strings.HasPrefix(pkg, "ui/"):
				t.Errorf("%s imports %s; only ui knows the window toolkit", file, path)
			}
		}
	}
}

func TestRoomsStaySmall(t *testing.T) {
	const most = 500
	for _, file := range goFiles(t) {
		f, err := os.Open(filepath.Join(root, file))
		require.NoError(t, err)
		lines := 0
		for s := bufio.NewScanner(f); s.Scan(); {
			lines++
		}
		require.NoError(t, f.Close())
		if lines > most {
			t.Errorf("%s has %d lines; a file has one purpose and at most %d", file, lines, most)
		}
	}
}

func TestEveryPackageSaysWhatItIsFor(t *testing.T) {
	said := map[string]bool{}
	for _, file := range goFiles(t) {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, file), nil, parser.PackageClauseOnly|parser.ParseComments)
		require.NoError(t, err)
		pkg := filepath.Dir(file)
		said[pkg] = said[pkg] || parsed.Doc != nil
	}
	var bare []string
	for pkg, ok := range said {
		if !ok {
			bare = append(bare, pkg)
		}
	}
	slices.Sort(bare)
	require.Empty(t, bare, "these packages have no comment that says what they are for")
}

// goFiles lists every Go file of the repository, by its path from the root.
func goFiles(t *testing.T) []string {
	var files []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && d.Name() != ".." || d.Name() == "out" || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if strings.HasSuffix(path, ".go") {
			own, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			files = append(files, own)
		}
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

func importsOf(t *testing.T, file string) []string {
	parsed, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, file), nil, parser.ImportsOnly)
	require.NoError(t, err)
	var paths []string
	for _, spec := range parsed.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		require.NoError(t, err)
		paths = append(paths, path)
	}
	return paths
}
