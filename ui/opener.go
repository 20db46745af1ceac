package ui

import (
	"cmp"
	"path/filepath"

	"gioui.org/layout"

	"airpath/circuits"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// mostEntries of a folder are offered while a path is typed.
const mostEntries = 12

// openPanel is the way to one's own vehicle: a path, what was open before, the vehicles that come with the program.
type openPanel struct {
	open    bool
	fresh   bool
	path    widgets.Field
	go_     widgets.Button
	close   widgets.Button
	rows    map[string]*widgets.Press
	recent  []string
	typed   string // what entries are for
	folder  string // where looking begins: where the last file was, or the person's own folder
	up      string // the folder above the one that is looked through
	stale   bool
	entries []model.Entry
	titles  map[string]string // of library vehicles, by name
	scroll  widgets.Scroll
}

func (o *openPanel) show() { o.open, o.fresh = true, true }

func (o *openPanel) typing(gtx ctx) bool { return o.open && o.path.Focused(gtx) }

func (o *openPanel) row(key string) *widgets.Press {
	if o.rows == nil {
		o.rows = map[string]*widgets.Press{}
	}
	p, ok := o.rows[key]
	if !ok {
		p = &widgets.Press{}
		o.rows[key] = p
	}
	return p
}

func (o *openPanel) update(gtx ctx, s *shell) {
	if !o.open {
		return
	}
	if o.fresh {
		o.fresh = false
		b, _ := s.place.LoadBench()
		o.recent, o.titles = b.Recent, map[string]string{}
		for _, n := range circuits.Names() {
			o.titles[n] = n
			if c, err := circuits.Load(n); err == nil {
				o.titles[n] = c.Title
			}
		}
		o.folder, o.stale = model.FirstFolder(b.Recent), true
		o.path.Focus(gtx)
	}
	submitted, _ := o.path.Update(gtx)
	if o.typed != o.path.Text() || o.stale {
		o.typed, o.stale = o.path.Text(), false
		from := o.typed
		if from == "" {
			from = o.folder
		}
		o.entries = model.Browse(from, mostEntries, ".toml")
		o.up = model.Above(from)
	}
	if o.up != "" && o.row("up").Clicked(gtx) {
		o.typeIn(gtx, o.up)
		return
	}
	for _, e := range o.entries {
		if !o.row("entry/" + e.Path).Clicked(gtx) {
			continue
		}
		if e.Folder {
			o.typeIn(gtx, e.Path)
			return
		}
		o.open = false
		s.open(e.Path)
		return
	}
	if (o.go_.Clicked(gtx) || submitted) && o.path.Text() != "" {
		o.open = false
		s.open(model.Expand(o.path.Text()))
		return
	}
	if o.close.Clicked(gtx) {
		o.open = false
	}
	for _, r := range o.recent {
		if o.row(r).Clicked(gtx) {
			o.open = false
			s.open(r)
		}
	}
	for _, n := range circuits.Names() {
		if o.row("library/" + n).Clicked(gtx) {
			o.open = false
			s.openVehicle(n)
		}
	}
}

// typeIn a folder, as if it had been typed.
func (o *openPanel) typeIn(gtx ctx, folder string) {
	o.path.SetText(folder)
	o.path.SetCaret(o.path.Len(), o.path.Len())
	o.path.Focus(gtx)
}

func (o *openPanel) layout(gtx ctx, s *shell) dims {
	th := s.theme
	spaced := func(w layout.Widget) layout.Widget {
		return func(gtx ctx) dims { return layout.Inset{Bottom: theme.Step}.Layout(gtx, w) }
	}
	rows := []layout.Widget{
		func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, widgets.Text{Words: "Open your vehicle or a case", Size: theme.Large, Weight: theme.Strong}.In(th)),
				layout.Rigid(func(gtx ctx) dims {
					return o.close.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Close", Rank: widgets.Quiet})
				}))
		},
		spaced(widgets.Words("A vehicle is a text file that you can write yourself; circuits/README.md tells how, and airpath check FILE says what is missing. A case is what was found on one vehicle.").In(th)),
		spaced(func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return o.path.Layout(gtx, th, widgets.FieldLook{Label: "Path of the file", Hint: "Path of a vehicle or case file, such as ~/cases/"})
				}),
				widgets.Space(theme.Step),
				layout.Rigid(func(gtx ctx) dims {
					return o.go_.Layout(gtx, th, widgets.ButtonLook{Words: "Open", Rank: widgets.Primary})
				}))
		}),
	}
	list := func(title string, keys, names, notes []string) {
		if len(keys) == 0 {
			return
		}
		rows = append(rows, spaced(widgets.Title(title).In(th)))
		for i := range keys {
			rows = append(rows, spaced(func(gtx ctx) dims {
				return o.row(keys[i]).Layout(gtx, th, "Open "+names[i], false, func(gtx ctx) dims {
					return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
						gtx.Constraints.Min.X = gtx.Constraints.Max.X
						return widgets.Column(gtx,
							layout.Rigid(widgets.Text{Words: names[i], Lines: 1}.In(th)),
							layout.Rigid(widgets.Note(th, notes[i]).In(th)))
					})
				})
			}))
		}
	}
	var names, notes []string
	var keys []string
	for _, e := range o.entries {
		note := "a file"
		if e.Folder {
			note = "a folder"
		}
		keys, names, notes = append(keys, "entry/"+e.Path), append(names, e.Name), append(notes, note)
	}
	if o.up != "" {
		keys, names, notes = append(keys, "up"), append(names, "One folder up"), append(notes, o.up)
	}
	looked := func() { list("In the folder "+model.FolderOf(cmp.Or(o.typed, o.folder)), keys, names, notes) }
	if o.typed != "" {
		looked() // what is typed for comes first, before that what was open
	}
	var before []string
	for _, r := range o.recent {
		before = append(before, filepath.Base(r))
	}
	list("Open before", o.recent, before, o.recent)
	if o.typed == "" {
		looked()
	}
	keys, names, notes = nil, nil, nil
	for _, n := range circuits.Names() {
		keys, notes = append(keys, "library/"+n), append(notes, "a new case on a vehicle that comes with Airpath")
		names = append(names, o.titles[n])
	}
	list("Start a new case on", keys, names, notes)
	return o.scroll.Layout(gtx, th, rows)
}
