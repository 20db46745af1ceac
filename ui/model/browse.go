package model

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// An Entry is a file or a folder that a typed path may become.
type Entry struct {
	Path   string
	Name   string
	Folder bool
}

// Browse lists what a typed path may become: in the folder that it names, what begins with the rest of it. Folders come first,
// then files with one of the endings; hidden ones only where the rest begins with a dot. An unreadable folder gives nothing.
func Browse(typed string, most int, endings ...string) []Entry {
	typed = expand(typed)
	dir, rest := filepath.Split(typed)
	if dir == "" {
		dir = "."
	}
	list, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var folders, files []Entry
	for _, f := range list {
		name := f.Name()
		if !strings.HasPrefix(strings.ToLower(name), strings.ToLower(rest)) || strings.HasPrefix(name, ".") && !strings.HasPrefix(rest, ".") {
			continue
		}
		path := filepath.Join(dir, name)
		info, err := os.Stat(path) // through links
		switch {
		case err != nil:
		case info.IsDir():
			folders = append(folders, Entry{path + string(filepath.Separator), name, true})
		case slices.Contains(endings, strings.ToLower(filepath.Ext(name))):
			files = append(files, Entry{path, name, false})
		}
	}
	out := append(folders, files...)
	return out[:min(len(out), most)]
}

// FirstFolder is where looking for a file begins: beside the file that was open last, else in the person's own folder.
func FirstFolder(recent []string) string {
	for _, r := range recent {
		if dir := filepath.Dir(r); dir != "." {
			if info, err := os.Stat(dir); err == nil && info.IsDir() {
				return withEnd(dir)
			}
		}
	}
	if home, err := os.UserHomeDir(); err == nil {
		return withEnd(home)
	}
	return ""
}

// FolderOf is the folder that a typed path is in.
func FolderOf(typed string) string {
	dir, _ := filepath.Split(expand(typed))
	return dir
}

// Above is the folder above the one that a typed path is in; "" at the root, and where there is none.
func Above(typed string) string {
	dir := filepath.Clean(FolderOf(typed))
	if above := filepath.Dir(dir); above != dir && filepath.IsAbs(dir) {
		return withEnd(above)
	}
	return ""
}

func withEnd(dir string) string {
	if os.IsPathSeparator(dir[len(dir)-1]) {
		return dir
	}
	return dir + string(filepath.Separator)
}

// expand puts the person's own folder in the place of a leading "~".
func expand(path string) string {
	if rest, ok := strings.CutPrefix(path, "~"); ok && (rest == "" || os.IsPathSeparator(rest[0])) {
		if home, err := os.UserHomeDir(); err == nil {
			return home + rest
		}
	}
	return path
}

// Expand is a typed path as the system understands it.
func Expand(path string) string { return expand(strings.TrimSpace(path)) }
