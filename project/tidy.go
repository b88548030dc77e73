package project

import (
	"cmp"
	"slices"
)

// tidied is the option with the way chosen for each plane that makes the whole
// roof tidiest, in the order of layout.Tidiness, of all choices that hold at
// most cost modules less than the fullest and none of which puts more modules
// of a plane into last-resort shade. Of choices as tidy the one that costs
// least is taken, then the one with the earlier ways.
//
// It is exact: planes only add to each other's blocks and rail runs, so that of
// all choices for the first planes that cost as much and use the same turns
// only the tidiest can be part of the answer.
func (o option) tidied(cost int) option {
	if !slices.ContainsFunc(o.ways, func(ways []packed) bool { return len(ways) > 1 }) {
		return o
	}
	table := newTidyTable(cost)
	for _, ways := range o.ways {
		table.add(o.offers(ways))
	}
	out := o
	out.planes = make([]packed, len(o.ways))
	for i, way := range table.choice() {
		out.planes[i] = o.ways[i][way]
	}
	return out
}

// tidyOffer is what one way of laying out a plane adds to the roof.
type tidyOffer struct {
	way          int
	loss         int
	blocks, runs int
	turns        turnSet
}

// offers are the ways of one plane that may be chosen.
func (o option) offers(ways []packed) []tidyOffer {
	var out []tidyOffer
	most := ways[0].limit
	shade := inShade(ways[0].take(most))
	for i, w := range ways {
		places := w.take(w.limit)
		// An empty plane is no tidier layout of it.
		if i > 0 && (inShade(places) > shade || w.limit > most || len(places) == 0) {
			continue
		}
		t := o.tidiness(places)
		offer := tidyOffer{way: i, loss: most - w.limit, blocks: t.Blocks, runs: t.RailRuns}
		for _, k := range places {
			offer.turns = offer.turns.with(turnOf(k.Rect))
		}
		out = append(out, offer)
	}
	return out
}

// tidyTable holds, by planes taken in, modules lost and turns in use, the
// tidiest choice so far.
type tidyTable struct {
	cost   int
	layers [][]tidyCell
}

// turnSets is how many sets of turns there are.
const turnSets = 4

// tidyCell is a choice: way for the last plane, and for those before it the
// cell from of the layer before.
type tidyCell struct {
	ok           bool
	blocks, runs int
	from, way    int
}

func newTidyTable(cost int) *tidyTable {
	first := make([]tidyCell, (cost+1)*turnSets)
	first[0].ok = true
	return &tidyTable{cost: cost, layers: [][]tidyCell{first}}
}

// add lets every choice go on with every offer of the next plane.
func (t *tidyTable) add(offers []tidyOffer) {
	last := t.layers[len(t.layers)-1]
	next := make([]tidyCell, len(last))
	for i, c := range last {
		if !c.ok {
			continue
		}
		for _, offer := range offers {
			loss := i/turnSets + offer.loss
			if loss > t.cost {
				continue
			}
			to := &next[loss*turnSets+int(turnSet(i%turnSets)|offer.turns)]
			made := tidyCell{ok: true, blocks: c.blocks + offer.blocks, runs: c.runs + offer.runs, from: i, way: offer.way}
			if !to.ok || made.compare(*to) < 0 {
				*to = made
			}
		}
	}
	t.layers = append(t.layers, next)
}

// compare puts fewer blocks first, then fewer rail runs.
func (c tidyCell) compare(o tidyCell) int {
	return cmp.Or(cmp.Compare(c.blocks, o.blocks), cmp.Compare(c.runs, o.runs))
}

// choice is the way chosen for each plane. There is always one: the fullest way
// of each plane costs nothing.
func (t *tidyTable) choice() []int {
	at := -1
	cells := t.layers[len(t.layers)-1]
	for i, c := range cells {
		if c.ok && (at < 0 || cmp.Or(c.compare(cells[at]), turnSet(i%turnSets).count()-turnSet(at%turnSets).count()) < 0) {
			at = i
		}
	}
	ways := make([]int, len(t.layers)-1)
	for layer := len(ways); layer > 0; layer-- {
		c := t.layers[layer][at]
		ways[layer-1], at = c.way, c.from
	}
	return ways
}
