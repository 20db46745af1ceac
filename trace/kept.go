package trace

import (
	"cmp"
	"slices"
	"sync"

	"airpath/trace/reason"
)

// What a tracer has worked out it keeps, so that the next question takes less, and lets go again, so that it does not grow with every case.
// What is gone is worked out anew, to the same bits.
const (
	mostFactors = 24   // observations whose weight is kept beside those of the present question: some megabytes each
	mostAdded   = 6000 // vehicles simulated for closer looks: a case takes some hundred, each some kilobytes
)

// factors that have been worked out, by content.
type factors struct {
	mu       sync.Mutex
	kept     map[string]*keptFactor
	question int
}

type keptFactor struct {
	taken *reason.Taken
	used  int // the last question that used it
}

// of some content, which is made if it is not there.
func (k *factors) of(content string, make func() (*reason.Taken, error)) (*reason.Taken, error) {
	k.mu.Lock()
	f, ok := k.kept[content]
	if ok {
		f.used = k.question
	}
	k.mu.Unlock()
	if ok {
		return f.taken, nil
	}
	taken, err := make()
	if err != nil {
		return nil, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil {
		k.kept = map[string]*keptFactor{}
	}
	k.kept[content] = &keptFactor{taken, k.question}
	return taken, nil
}

// next question: of what was not used for the last one only the latest stay.
func (k *factors) next() {
	k.mu.Lock()
	defer k.mu.Unlock()
	type old struct {
		content string
		used    int
	}
	var unused []old
	for content, f := range k.kept {
		if f.used < k.question {
			unused = append(unused, old{content, f.used})
		}
	}
	slices.SortFunc(unused, func(a, b old) int { return cmp.Or(cmp.Compare(b.used, a.used), cmp.Compare(a.content, b.content)) })
	for i := mostFactors; i < len(unused); i++ {
		delete(k.kept, unused[i].content)
	}
	k.question++
}

// letGo of what closer looks have simulated, once it is too much. The numbers of those vehicles go to others then.
func (t *Tracer) letGo() {
	if t.table.letGo() {
		t.recordings = nil // curves are kept by the vehicle's number
	}
}

func (t *table) letGo() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	around := len(t.scatter(vehicle{}))
	from := t.own
	if t.first[0] == t.own { // the first that are added are those around the healthy one
		from += around
	}
	if len(t.vehicles)-from <= t.mostAdded {
		return false
	}
	for v := from; v < len(t.vehicles); v++ {
		delete(t.between, v)
	}
	clear(t.places)
	for base, first := range t.first {
		if first >= from {
			delete(t.first, base)
		}
	}
	t.vehicles, t.alias = cut(t.vehicles, from), cut(t.alias, from)
	for p := range t.known {
		t.known[p], t.failed[p] = cut(t.known[p], from), cut(t.failed[p], from)
	}
	t.twin()
	t.stood.letGo()
	t.saved = min(t.saved, t.count()) // what the disk has beside is of use there
	return true
}

// cut a list, with its memory.
func cut[T any](list []T, n int) []T { return append(make([]T, 0, n), list[:n]...) }
