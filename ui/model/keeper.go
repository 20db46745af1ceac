package model

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// A Keeper writes the case into the state folder after every change, in the background, so that a kill loses nothing.
type Keeper struct {
	place Place
	path  string
	fail  func(error)

	mu      sync.Mutex
	waiting []byte
	left    []byte // what was put off, to be written beside it
	busy    bool
	idle    *sync.Cond
}

// NewKeeper keeps the case of one origin. Fail is told, from another goroutine, when it cannot be written.
func (p Place) NewKeeper(o Origin, fail func(error)) *Keeper {
	return newKeeper(p, p.keptPath(o), fail)
}

func newKeeper(p Place, path string, fail func(error)) *Keeper {
	k := &Keeper{place: p, path: path, fail: fail}
	k.idle = sync.NewCond(&k.mu)
	return k
}

// keptPath names the autosave of one origin: two cases never share one.
func (p Place) keptPath(o Origin) string {
	sum := sha256.Sum256([]byte(o.Path + "\n" + o.Vehicle))
	return filepath.Join(p.State, "cases", hex.EncodeToString(sum[:8])+".toml")
}

// Keep hands over the newest text. Writing is left to a goroutine; of several texts in a row only the newest is written.
func (k *Keeper) Keep(text []byte) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.waiting = text
	if !k.busy {
		k.busy = true
		go k.write()
	}
}

// Left is what a person has put off in a case: it is kept beside the autosave, also of a case that has a file of its own.
type Left struct {
	Skipped []string `json:"skipped"` // procedures, by id
	Refused []string `json:"refused"` // that could not be done
}

// KeepLeft hands over what was put off.
func (k *Keeper) KeepLeft(l Left) {
	text, err := json.MarshalIndent(l, "", "\t")
	if err != nil {
		k.fail(err)
		return
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.left = text
	if !k.busy {
		k.busy = true
		go k.write()
	}
}

// KeptLeft is what was put off in the case of an origin. What can't be read counts as nothing: every test is offered again.
func (p Place) KeptLeft(o Origin) Left {
	var l Left
	text, err := os.ReadFile(leftPath(p.keptPath(o)))
	if err != nil || json.Unmarshal(text, &l) != nil {
		return Left{}
	}
	return l
}

func leftPath(kept string) string { return strings.TrimSuffix(kept, ".toml") + ".left.json" }

func (k *Keeper) write() {
	for {
		k.mu.Lock()
		text, left := k.waiting, k.left
		k.waiting, k.left = nil, nil
		if text == nil && left == nil {
			k.busy = false
			k.idle.Broadcast()
			k.mu.Unlock()
			return
		}
		k.mu.Unlock()
		if text != nil {
			if err := writeWhole(k.path, text); err != nil {
				k.fail(err)
			}
		}
		if left != nil {
			if err := writeWhole(leftPath(k.path), left); err != nil {
				k.fail(err)
			}
		}
	}
}

// Close waits until everything is written.
func (k *Keeper) Close() {
	k.mu.Lock()
	defer k.mu.Unlock()
	for k.busy {
		k.idle.Wait()
	}
}

// Forget removes what was kept: the case is safe in its file, or is not wanted any more.
func (k *Keeper) Forget() error {
	k.Close()
	if err := os.Remove(k.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("cannot remove the autosave: %w", err)
	}
	return nil
}

// Kept is the text that was kept for an origin; nil where there is none.
func (p Place) Kept(o Origin) ([]byte, string, error) {
	path := p.keptPath(o)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, path, nil
	}
	return text, path, err
}

// A Bench is what was last being worked on, and what was opened before.
type Bench struct {
	Last   Origin   `json:"last"`
	Recent []string `json:"recent"` // paths of circuit and case files, newest first
}

// maxRecent is how many files are offered again.
const maxRecent = 8

func (p Place) benchPath() string { return filepath.Join(p.State, "bench.json") }

// LoadBench tells what was last worked on; ok is false at a first start.
func (p Place) LoadBench() (b Bench, ok bool) {
	text, err := os.ReadFile(p.benchPath())
	if err != nil || json.Unmarshal(text, &b) != nil {
		return Bench{}, false
	}
	return b, b.Last != (Origin{})
}

// SaveBench notes what is being worked on now.
func (p Place) SaveBench(o Origin) error {
	b, _ := p.LoadBench()
	b.Last = o
	for _, path := range []string{o.Vehicle, o.Path} {
		if filepath.IsAbs(path) {
			b.Recent = append([]string{path}, without(b.Recent, path)...)
		}
	}
	b.Recent = b.Recent[:min(len(b.Recent), maxRecent)]
	text, err := json.MarshalIndent(b, "", "\t")
	if err != nil {
		return err
	}
	return writeWhole(p.benchPath(), append(text, '\n'))
}

func without(list []string, gone string) []string {
	var out []string
	for _, s := range list {
		if s != gone {
			out = append(out, s)
		}
	}
	return out
}
