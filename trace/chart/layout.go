package chart

import "math"

// A block is a box with what hangs on it to the right.
type block struct {
	box      *box
	node     *Node
	from     string
	children []*block
}

func (b *block) height() float64 {
	return math.Max(b.box.height(), b.below())
}

// below is the height of the children.
func (b *block) below() float64 {
	h := 0.0
	for i, c := range b.children {
		if i > 0 {
			h += between
		}
		h += c.height()
	}
	return h
}

// A sheet is one page of the tree.
type sheet struct {
	roots []*block
}

const roomOnPage = bottomEdge - topEdge

// layOut sets the tree out on pages. A page begins with a node, takes as much of what hangs on it as there is room for, and
// refers to other pages for the rest; small pieces share a page.
func (c *Chart) layOut() []*sheet {
	var sheets []*sheet
	type waiting struct {
		node *Node
		from string
	}
	queue := []waiting{{c.Root, ""}}
	for len(queue) > 0 {
		w := queue[0]
		queue = queue[1:]
		var referred []waiting
		for _, piece := range c.pieces(w.node, w.from) {
			var find func(b *block)
			find = func(b *block) {
				if b.box.refers != nil {
					referred = append(referred, waiting{b.box.refers, b.from})
				}
				for _, k := range b.children {
					find(k)
				}
			}
			find(piece)
			sheets = place(sheets, piece)
		}
		queue = append(referred, queue...) // the tree is read depth first
	}
	return sheets
}

// place a piece on the last page, or on a new one.
func place(sheets []*sheet, piece *block) []*sheet {
	if n := len(sheets); n > 0 {
		used := 0.0
		for _, r := range sheets[n-1].roots {
			used += r.height() + 3*between
		}
		if used+piece.height() <= roomOnPage {
			sheets[n-1].roots = append(sheets[n-1].roots, piece)
			return sheets
		}
	}
	return append(sheets, &sheet{roots: []*block{piece}})
}

// pieces of a node that fit a page each: one, unless its answers alone are too many.
func (c *Chart) pieces(n *Node, from string) []*block {
	root := c.grown(n, from, 0)
	for root.height() > roomOnPage {
		if !c.fold(root) {
			break
		}
	}
	if root.height() <= roomOnPage {
		return []*block{root}
	}
	var out []*block
	part := &block{box: root.box, node: n, from: from}
	for _, k := range root.children {
		if len(part.children) > 0 && part.below()+between+k.height() > roomOnPage {
			out = append(out, part)
			part = &block{box: c.boxOf(n, from), node: n, from: from}
		}
		part.children = append(part.children, k)
	}
	return append(out, part)
}

// grown is a node with all that hangs on it, as far as the columns of the page go.
func (c *Chart) grown(n *Node, from string, column int) *block {
	if column == columns-1 && n.Leaf == nil {
		return &block{box: refersTo(n, from), node: n, from: from}
	}
	b := &block{box: c.boxOf(n, from), node: n, from: from}
	for i := range n.Branches {
		br := &n.Branches[i]
		words := answerWords(br)
		if br.To == nil {
			b.children = append(b.children, &block{box: endBox(words, br.End), from: words})
		} else {
			b.children = append(b.children, c.grown(br.To, words, column+1))
		}
	}
	return b
}

// fold one question below the root into a reference: the smallest that makes the page fit, else the largest there is.
func (c *Chart) fold(root *block) bool {
	over := root.height() - roomOnPage
	var best *block
	better := func(b *block) bool {
		if best == nil {
			return true
		}
		gain, most := saved(b), saved(best)
		if (gain >= over) != (most >= over) {
			return gain >= over
		}
		if gain >= over {
			return gain < most
		}
		return gain > most
	}
	var walk func(b *block)
	walk = func(b *block) {
		for _, k := range b.children {
			if len(k.children) > 0 && saved(k) > 0 && better(k) {
				best = k
			}
			walk(k)
		}
	}
	walk(root)
	if best == nil {
		return false
	}
	best.box, best.children = refersTo(best.node, best.from), nil
	return true
}

// saved is how much lower a block is when it is folded.
func saved(b *block) float64 { return b.height() - refersTo(b.node, b.from).height() }

// settle the boxes of a page: each beside the middle of what hangs on it.
func (s *sheet) settle() {
	y := topEdge
	for _, r := range s.roots {
		r.settle(margin, y)
		y += r.height() + 3*between
	}
}

func (b *block) settle(x, y float64) {
	h := b.height()
	b.box.x = x
	at := y + (h-b.below())/2
	for _, k := range b.children {
		k.settle(x+boxWidth+boxGap, at)
		at += k.height() + between
	}
	b.box.y = y + (h-b.box.height())/2
	if n := len(b.children); n > 0 { // beside its first answers rather than in an empty middle
		first, last := b.children[0].box, b.children[n-1].box
		middle := (first.y + last.y + last.height()) / 2
		b.box.y = min(max(middle-b.box.height()/2, y), y+h-b.box.height())
	}
}
