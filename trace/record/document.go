package record

import (
	"time"

	"airpath/circuit"
	"airpath/circuit/symbol"
)

// A Document is what is to be read, in order, whatever it is put on.
type Document struct {
	Title   string // "Work record"
	Subject string // what it is about
	Facts   []Fact // at its head
	Parts   []Part
	Running string    // stands at the foot of every page, before its number
	Day     time.Time // zero where the case bears none
}

// A Fact is a name and what is so called. Without a text there is room to write it in by hand.
type Fact struct{ Name, Text string }

// A Part is a chapter.
type Part struct {
	Title  string
	Blocks []Block
}

// A Block is one thing in a chapter: [Text], [Facts], [List], [Table], [Frame], [Drawing] or [Signatures].
type Block interface{ block() }

// Text is a paragraph: a lead in the strong weight, and the rest.
type Text struct {
	Lead  string
	Words string
	Faint bool // of less weight: a source, a note
	Flag  bool // the lead is set light on dark, to be seen at once, also on a grey printer
	Blank bool // nothing is known: room to write

	leads bool // to the block after it: on one page with how that begins
}

// Facts are names and texts under one another.
type Facts []Fact

// A List has a bullet before each item, or a number.
type List struct {
	Numbered bool
	Items    []Text
}

// A Table has a head that is repeated on every page it runs over.
type Table struct {
	Columns []Column
	Rows    []Row
}

// A Column takes its share of the width.
type Column struct {
	Title string
	Share float64
}

// A Row has a cell for each column. A row whose first cell is empty of paragraphs belongs to the one above it.
type Row []Cell

// A Cell has one or more short paragraphs.
type Cell []Text

// A Frame sets its blocks apart from the rest.
type Frame []Block

// A Drawing is the vehicle's sheet with what is known marked on it, as large as a page allows.
type Drawing struct {
	Circuit *circuit.Circuit
	Marks   symbol.Marks
	Unit    string // of pressures
	Caption string
}

// Signatures are lines to sign on.
type Signatures struct{ Roles []string }

func (Text) block()       {}
func (Facts) block()      {}
func (List) block()       {}
func (Table) block()      {}
func (Frame) block()      {}
func (Drawing) block()    {}
func (Signatures) block() {}

// cell of one paragraph.
func cell(words string) Cell { return Cell{{Words: words}} }

// strong is a cell of one paragraph in the strong weight.
func strong(words string) Cell { return Cell{{Lead: words}} }
