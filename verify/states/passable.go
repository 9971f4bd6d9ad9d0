package states

// maxPassages is how many contacts are tried, at most, in search of a way
// through them.
const maxPassages = 1 << 14

// passable looks for one way over contacts from a to b on which no control has
// to be in two positions at once, with one control held where at has it; -1
// holds none. It tells in next to no time what going through all settings tells
// late: that two conductors are one in some setting. sure is false where it was
// given up.
func (w *Web) passable(a, b int32, at []uint8, hold int) (found, sure bool) {
	from := make([][]int, w.conductors)
	for i := range w.Contacts {
		c := &w.Contacts[i]
		from[c.a], from[c.b] = append(from[c.a], i), append(from[c.b], i)
	}
	allowed := make([]uint64, len(w.Controls))
	for i := range allowed {
		allowed[i] = ^uint64(0)
		if i == hold {
			allowed[i] = 1 << at[i]
		}
	}
	passed := make([]bool, w.conductors)
	tries := 0
	var reach func(x int32) bool
	reach = func(x int32) bool {
		if x == b {
			return true
		}
		passed[x] = true
		defer func() { passed[x] = false }()
		for _, i := range from[x] {
			c := &w.Contacts[i]
			y, before := c.a+c.b-x, allowed[c.Control]
			if passed[y] || before&c.Closed == 0 {
				continue
			}
			if tries++; tries > maxPassages {
				return false
			}
			allowed[c.Control] &= c.Closed
			if reach(y) {
				return true
			}
			allowed[c.Control] = before
		}
		return false
	}
	found = reach(a)
	return found, found || tries <= maxPassages
}
