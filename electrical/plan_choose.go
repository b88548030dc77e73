package electrical

import "encoding/binary"

// mostStates is where the exact search gives up. A house of 60 modules in four
// facings on three trackers of two inputs takes under two thousand.
const mostStates = 50_000

// choice is what one tracker gets: strings of n modules, parallel[g] of them
// from group g. The zero choice leaves the tracker unused.
type choice struct {
	n        int
	parallel []share
}

// share is how many strings of a choice come from one group.
type share struct{ group, strings int }

// worth is what a plan is judged by, the first difference decides: more modules,
// then fewer of them in strings that clip or leave the window, then fewer mixed
// trackers, fewer strings, and lengths more alike.
type worth struct{ modules, worse, mixed, strings, squares int }

func (a worth) plus(b worth) worth {
	return worth{a.modules + b.modules, a.worse + b.worse, a.mixed + b.mixed, a.strings + b.strings, a.squares + b.squares}
}

// above reports whether a is better than b.
func (a worth) above(b worth) bool {
	switch {
	case a.modules != b.modules:
		return a.modules > b.modules
	case a.worse != b.worse:
		return a.worse < b.worse
	case a.mixed != b.mixed:
		return a.mixed < b.mixed
	case a.strings != b.strings:
		return a.strings < b.strings
	}
	return a.squares < b.squares
}

// option is a choice with what it is worth.
type option struct {
	choice
	worth worth
}

// choose returns one choice for each tracker. It tries all of them, remembering
// what each number of modules left in each group is worth; the bool is false
// where that took more than mostStates, and then each tracker in turn took what
// was best for itself.
func choose(rules planRules, groups []group) ([]choice, bool) {
	c := newChooser(rules, groups)
	left := make([]int, len(groups))
	for g := range groups {
		left[g] = len(groups[g].members)
	}
	room := rules.mostModules
	exact := true
	if c.best(0, left, room); c.gaveUp {
		exact = false
	}
	out := make([]choice, len(c.options))
	for t := range out {
		var pick option
		if exact {
			pick = c.best(t, left, room).first
		} else {
			pick = greedy(c.options[t], left, room)
		}
		out[t] = pick.choice
		pick.take(left, -1)
		room -= pick.worth.modules
	}
	return out, exact
}

// chooser is the state of one search.
type chooser struct {
	rules   planRules
	options [][]option // by tracker
	// capacity is the most modules that tracker t and those after it can take.
	capacity []int
	memo     map[string]answer
	gaveUp   bool
}

func newChooser(rules planRules, groups []group) *chooser {
	c := &chooser{rules: rules, memo: map[string]answer{}, capacity: make([]int, len(rules.parallel)+1)}
	for t, k := range rules.parallel {
		c.options = append(c.options, c.optionsOf(t, groups))
		for before := range t + 1 {
			c.capacity[before] += k * max(0, rules.longest)
		}
	}
	return c
}

// answer is the best that trackers t and later can do, and what t does for it.
type answer struct {
	first option
	worth worth
}

// best answers for trackers t and later with so many modules left in each group
// and room for so many more on the inverter.
func (c *chooser) best(t int, left []int, room int) answer {
	if t == len(c.options) || c.gaveUp {
		return answer{}
	}
	key := stateKey(t, left, room)
	if known, ok := c.memo[key]; ok {
		return known
	}
	if len(c.memo) >= mostStates {
		c.gaveUp = true
		return answer{}
	}
	best := answer{worth: c.best(t+1, left, room).worth}
	most := min(room, total(left)) // that can be wired at all from here
	for _, o := range c.options[t] {
		if !o.fits(left, room) || min(most, o.worth.modules+c.capacity[t+1]) < best.worth.modules {
			continue
		}
		o.take(left, -1)
		rest := c.best(t+1, left, room-o.worth.modules).worth
		o.take(left, +1)
		// Of equals the first tracker is used before a later one.
		if w := o.worth.plus(rest); w.above(best.worth) || best.first.n == 0 && w == best.worth {
			best = answer{o, w}
		}
	}
	c.memo[key] = best
	return best
}

// total sums the modules left.
func total(left []int) int {
	sum := 0
	for _, n := range left {
		sum += n
	}
	return sum
}

// stateKey writes a state as a map key.
func stateKey(t int, left []int, room int) string {
	key := make([]byte, 0, 4+2*len(left))
	key = binary.BigEndian.AppendUint16(key, uint16(t))
	key = binary.BigEndian.AppendUint16(key, uint16(min(room, maxPlaced)))
	for _, n := range left {
		key = binary.BigEndian.AppendUint16(key, uint16(n))
	}
	return string(key)
}

// fits reports whether so many modules are left.
func (o option) fits(left []int, room int) bool {
	if o.worth.modules > room {
		return false
	}
	for _, s := range o.parallel {
		if s.strings*o.n > left[s.group] {
			return false
		}
	}
	return true
}

// take adds the option's modules to what is left, times sign. It changes left.
func (o option) take(left []int, sign int) {
	for _, s := range o.parallel {
		left[s.group] += sign * s.strings * o.n
	}
}

// greedy returns the option of one tracker that is worth most by itself.
func greedy(options []option, left []int, room int) option {
	var best option
	for _, o := range options {
		if o.fits(left, room) && o.worth.above(best.worth) {
			best = o
		}
	}
	return best
}

// optionsOf lists what a tracker can get: each length, each number of strings
// from one group and, where mixing is allowed, from two.
func (c *chooser) optionsOf(t int, groups []group) []option {
	var out []option
	rules := c.rules
	for n := rules.longest; n >= max(1, rules.shortest); n-- { // of equals the first counts: longer strings come first
		for g := range groups {
			for k := 1; k <= rules.parallel[t] && k*n <= len(groups[g].members); k++ {
				out = append(out, rules.option(t, n, share{g, k}))
			}
			for h := g + 1; rules.mix && h < len(groups); h++ {
				out = append(out, rules.mixed(t, n, g, h, groups)...)
			}
		}
	}
	return out
}

// mixed lists the options of one length with strings from two groups.
func (rules planRules) mixed(t, n, g, h int, groups []group) []option {
	var out []option
	for k := 1; k < rules.parallel[t] && k*n <= len(groups[g].members); k++ {
		for l := 1; k+l <= rules.parallel[t] && l*n <= len(groups[h].members); l++ {
			out = append(out, rules.option(t, n, share{g, k}, share{h, l}))
		}
	}
	return out
}

// option says what strings of n modules on a tracker are worth.
func (rules planRules) option(t, n int, shares ...share) option {
	o := option{choice: choice{n: n, parallel: shares}}
	for _, s := range shares {
		o.worth.strings += s.strings
	}
	o.worth.modules = o.worth.strings * n
	o.worth.squares = o.worth.strings * n * n
	if n > rules.inWindow || o.worth.strings > rules.clean(t, n) {
		o.worth.worse = o.worth.modules
	}
	if len(shares) > 1 {
		o.worth.mixed = 1
	}
	return o
}
