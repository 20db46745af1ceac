package tracing

import (
	"strconv"
	"strings"

	"gioui.org/io/key"

	"airpath/circuit"
)

// timed tells whether something of this procedure is taken with a stopwatch.
func (d *doing) timed() bool { return d.timedEntry(nil) != nil }

// timedEntry is the field that a time goes into: the one that the keyboard is in, else the first that is empty, else the first.
func (d *doing) timedEntry(focused func(*entry) bool) *entry {
	var first, empty *entry
	for _, e := range d.entries {
		if e.yesNo() || e.reading.Dimension != circuit.Time {
			continue
		}
		if focused != nil && focused(e) {
			return e
		}
		if first == nil {
			first = e
		}
		if empty == nil && !e.filled() {
			empty = e
		}
	}
	if empty != nil {
		return empty
	}
	return first
}

// stopped puts the time into its field and the keyboard with it.
func (d *doing) stopped(gtx ctx) {
	e := d.timedEntry(func(e *entry) bool { return e.field.Focused(gtx) })
	if e == nil {
		return
	}
	e.field.SetText(strconv.FormatFloat(d.watch.Shows(gtx.Now).Seconds(), 'f', 1, 64))
	e.kind, e.bad = "", ""
	e.field.Focus(gtx)
	if !d.inFoot(e) {
		d.scroll.Reveal(e.row)
	}
}

// space works the stopwatch. It is asked for after everything else was laid out, so that a button that has the keyboard keeps
// it; in a field it is only taken while the field is empty.
func (d *doing) space(gtx ctx) {
	if !d.timed() {
		return
	}
	for {
		ev, ok := gtx.Event(key.Filter{Name: key.NameSpace})
		if !ok {
			break
		}
		e, isKey := ev.(key.Event)
		if !isKey || e.State != key.Press {
			continue
		}
		typing := d.log.path.Focused(gtx)
		for _, x := range d.entries {
			typing = typing || x.field.Focused(gtx) && strings.TrimSpace(x.field.Text()) != ""
		}
		if typing && (!d.watch.Running() || d.log.path.Focused(gtx)) {
			continue
		}
		d.watch.Press(gtx.Now)
		if !d.watch.Running() {
			d.stopped(gtx)
		} else if t := d.timedEntry(nil); t != nil && !t.filled() {
			t.field.Focus(gtx)
		}
	}
	for _, x := range d.entries { // the blank that the key leaves in an empty field
		if text := x.field.Text(); text != "" && strings.TrimSpace(text) == "" {
			x.field.SetText("")
		}
	}
}
