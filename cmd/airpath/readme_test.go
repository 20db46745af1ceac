package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestReadmeShowsWhatTheProgramSays runs every "$ airpath ..." of README.md and holds what it prints against what stands
// there. A line of three dots stands for any number of lines. Numbers are not compared, because priors are tuned and
// processors round differently; go test ./cmd/airpath -run Readme -update writes the present ones.
func TestReadmeShowsWhatTheProgramSays(t *testing.T) {
	readme, err := filepath.Abs(filepath.Join(root, "README.md"))
	require.NoError(t, err)
	text, err := os.ReadFile(readme)
	require.NoError(t, err)
	blocks := regexp.MustCompile("(?s)```console\n\\$ airpath (.*?)\n(.*?)```").FindAllStringSubmatch(string(text), -1)
	require.NotEmpty(t, blocks, "README.md shows no command")
	t.Chdir(root)
	fresh := string(text)
	for _, block := range blocks {
		t.Run(block[1], func(t *testing.T) {
			var out bytes.Buffer
			p := &program{ctx: context.Background(), in: strings.NewReader(""), out: &out, err: &out}
			p.main(words(block[1]))
			now, ok := refresh(lines(block[2]), lines(out.String()))
			if !ok {
				t.Errorf("README.md shows what the program does not say: it says\n%s", out.String())
			}
			fresh = strings.Replace(fresh, block[0], "```console\n$ airpath "+block[1]+"\n"+strings.Join(now, "\n")+"\n```", 1)
		})
	}
	if *update && !t.Failed() {
		require.NoError(t, os.WriteFile(readme, []byte(fresh), 0o644))
	}
}

// words splits a command line; quotes keep a word together.
func words(line string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`'([^']*)'|"([^"]*)"|(\S+)`).FindAllStringSubmatch(line, -1) {
		out = append(out, m[1]+m[2]+m[3])
	}
	return out
}

func lines(text string) []string {
	all := strings.Split(strings.Trim(text, "\n"), "\n")
	for i := range all {
		all[i] = strings.TrimRight(all[i], " ")
	}
	return all
}

// refresh looks up what is shown in what is said now, numbers aside, and gives it back with the present numbers; ok is
// false where something shown is not said, in this order.
func refresh(shown, said []string) (now []string, ok bool) {
	anywhere := false
	for len(shown) > 0 {
		if shown[0] == "..." {
			anywhere, shown, now = true, shown[1:], append(now, "...")
			continue
		}
		n := slices.Index(shown, "...")
		last := n < 0
		if last {
			n = len(shown)
		}
		at := indexOf(said, shown[:n])
		if at < 0 || !anywhere && at > 0 || last && at+n < len(said) {
			return nil, false
		}
		now = append(now, said[at:at+n]...)
		said, shown, anywhere = said[at+n:], shown[n:], false
	}
	return now, true
}

func indexOf(all, part []string) int {
	for i := 0; i+len(part) <= len(all); i++ {
		if slices.EqualFunc(all[i:i+len(part)], part, func(a, b string) bool { return withoutNumbers(a) == withoutNumbers(b) }) {
			return i
		}
	}
	return -1
}

var (
	numbers = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	spaces  = regexp.MustCompile(` +`)
)

func withoutNumbers(line string) string {
	return spaces.ReplaceAllString(numbers.ReplaceAllString(line, "#"), " ")
}

func TestRefresh(t *testing.T) {
	said := []string{"a 1", "b", "c  25 s", "d"}
	for _, shown := range [][]string{{"a 2", "b", "c 3.5 s", "d"}, {"a 1", "..."}, {"...", "d"}, {"...", "b", "..."}, {"a 7", "...", "c 1 s", "d"}} {
		now, ok := refresh(shown, said)
		require.True(t, ok, "%q", shown)
		require.Len(t, now, len(shown))
		require.NotContains(t, strings.Join(now, ";"), "3.5")
	}
	for _, shown := range [][]string{{"b"}, {"a 1", "b"}, {"a 1", "c 25 s", "..."}, {"...", "c 25 s"}, {"...", "c 25 s", "...", "b", "..."}, {"a x", "..."}} {
		_, ok := refresh(shown, said)
		require.False(t, ok, "%q", shown)
	}
}
