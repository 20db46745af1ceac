package circuit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// meshed builds plumbing of plain rooms and ways, for cases from the literature.
func meshed(t testing.TB, oneWay bool, pairs ...[2]string) *Plumbing {
	t.Helper()
	rooms := []string{Atmosphere}
	var ways []Way
	for i, pair := range pairs {
		for _, r := range pair {
			if !slices.Contains(rooms, r) {
				rooms = append(rooms, r)
			}
		}
		id := fmt.Sprintf("w%02d", i)
		ways = append(ways, Way{ID: Passage(id, Bore), Component: id, Name: Bore, From: pair[0], To: pair[1], OneWay: oneWay, Line: true})
	}
	p, err := plumb(rooms, ways)
	require.NoError(t, err)
	return p
}

// Lengauer and Tarjan 1979, figure 1: edges and immediate dominators.
func TestDominatorsOfTheLiterature(t *testing.T) {
	var pairs [][2]string
	for _, e := range strings.Fields("RA RB RC AD BA BD BE CF CG DL EH FI GI GJ HE HK IK JI KI KR LH") {
		pairs = append(pairs, [2]string{e[:1], e[1:]})
	}
	p := meshed(t, true, pairs...)
	d, err := p.Dominators("R", nil)
	require.NoError(t, err)
	want := map[string]string{
		"A": "R", "B": "R", "C": "R", "D": "R", "E": "R", "H": "R", "I": "R", "K": "R", "F": "C", "G": "C", "J": "G", "L": "D", "R": "",
	}
	for room, dominator := range want {
		assert.Equal(t, dominator, d.Immediate(room), room)
	}
	must, ok := d.Must("J")
	require.True(t, ok)
	var names []string
	for _, v := range must {
		names = append(names, v.Name)
	}
	// C is entered by one edge alone, and so are G and J: those edges are cuts too.
	assert.Equal(t, []string{"R", "w02/bore", "C", "w08/bore", "G", "w13/bore", "J"}, names)
	_, ok = d.Must(Atmosphere)
	assert.False(t, ok)
}

// Simple paths from corner to corner of n by n vertices: 2, 12, 184, 8512 (OEIS A007764, recomputed elsewhere by brute force).
func TestPathsOnGrids(t *testing.T) {
	for n, want := range map[int]int{2: 2, 3: 12, 4: 184, 5: 8512} {
		name := func(x, y int) string { return fmt.Sprintf("r%d_%d", x, y) }
		var pairs [][2]string
		for x := range n {
			for y := range n {
				if x+1 < n {
					pairs = append(pairs, [2]string{name(x, y), name(x+1, y)})
				}
				if y+1 < n {
					pairs = append(pairs, [2]string{name(x, y), name(x, y+1)})
				}
			}
		}
		p := meshed(t, false, pairs...)
		paths, complete := p.Paths(name(0, 0), name(n-1, n-1), nil, 10000)
		assert.True(t, complete)
		assert.Len(t, paths, want, "%d by %d", n, n)
		paths, complete = p.Paths(name(0, 0), name(n-1, n-1), nil, want)
		assert.True(t, complete)
		assert.Len(t, paths, want)
		paths, complete = p.Paths(name(0, 0), name(n-1, n-1), nil, want-1)
		assert.False(t, complete)
		assert.Len(t, paths, want-1)
	}
}

func TestParallelLinesAreNoCut(t *testing.T) {
	p := meshed(t, false, [2]string{"a", "b"}, [2]string{"a", "b"}, [2]string{"b", "c"})
	cuts := p.Cuts("a", "c", nil)
	require.Len(t, cuts, 1)
	assert.Equal(t, "w02/bore", cuts[0].ID)
	paths, _ := p.Paths("a", "c", nil, 10)
	assert.Len(t, paths, 2)
}

func TestAirIsLostInTheAtmosphere(t *testing.T) {
	p := meshed(t, false, [2]string{"a", Atmosphere}, [2]string{"b", Atmosphere}, [2]string{Atmosphere, "in"}, [2]string{"in", "head"})
	assert.Equal(t, []string{"a", Atmosphere}, p.Reach("a", nil), "not back in at b's exhaust, nor through the intake")
	assert.Equal(t, []string{Atmosphere, "head", "in"}, p.Reach(Atmosphere, nil), "an open exhaust is no way in")
	_, ok := p.Path("a", "head", nil)
	assert.False(t, ok)
	assert.Equal(t, []string{Atmosphere, "head", "in"}, p.Feeders("head", nil))
	assert.Equal(t, []string{"in"}, p.Sources("head", nil))
	// What is open to the atmosphere has its pressure in the end.
	assert.Equal(t, [][]string{{"a", Atmosphere, "b", "head", "in"}}, p.Zones(nil))
}

func TestUnknownRooms(t *testing.T) {
	p := meshed(t, false, [2]string{"tank.primary", "relay.1"})
	assert.Nil(t, p.Reach("tank.primry", nil))
	_, err := p.Dominators("tank.primry", nil)
	assert.EqualError(t, err, `there is no room "tank.primry"; did you mean "tank.primary"?`)
	_, err = p.LeakingBack("w01/bore")
	assert.EqualError(t, err, `there is no way "w01/bore"; did you mean "w00/bore"?`)
	_, ok := p.Path("relay.1", "", nil)
	assert.False(t, ok)
}

// reachByForce repeats over all ways until nothing is added: slow, and too simple to be wrong.
func reachByForce(p *Plumbing, from string, open Open) []string {
	in := map[string]bool{from: true}
	for changed := true; changed; {
		changed = false
		pass := func(a, b string) {
			if in[a] && !in[b] && (a != Atmosphere || from == Atmosphere) {
				in[b], changed = true, true
			}
		}
		for _, w := range p.Ways() {
			if !open(w.Component, w.Name) {
				continue
			}
			pass(w.From, w.To)
			if !w.OneWay && w.To != Atmosphere {
				pass(w.To, w.From)
			}
		}
	}
	var rooms []string
	for r := range in {
		rooms = append(rooms, r)
	}
	slices.Sort(rooms)
	return rooms
}

func TestQuestionsAgreeOnRandomPlumbing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rooms := []string{Atmosphere}
		for i := range rapid.IntRange(1, 7).Draw(t, "rooms") {
			rooms = append(rooms, fmt.Sprintf("r%d", i))
		}
		var ways []Way
		shut := map[string]bool{}
		for i := range rapid.IntRange(0, 12).Draw(t, "ways") {
			id := fmt.Sprintf("w%02d", i)
			ways = append(ways, Way{
				ID: Passage(id, "p"), Component: id, Name: "p",
				From: rapid.SampledFrom(rooms).Draw(t, "from"), To: rapid.SampledFrom(rooms).Draw(t, "to"),
				OneWay: rapid.Bool().Draw(t, "one way"),
			})
			shut[id] = rapid.IntRange(0, 4).Draw(t, "shut") == 0
		}
		open := func(component, _ string) bool { return !shut[component] }
		p, err := plumb(rooms, ways)
		require.NoError(t, err)
		order := rand.New(rand.NewPCG(1, rapid.Uint64().Draw(t, "order")))
		shuffled := slices.Clone(ways)
		order.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		q, err := plumb(rooms, shuffled)
		require.NoError(t, err)
		assert.Equal(t, p.Zones(open), q.Zones(open))

		for _, from := range rooms {
			reach := p.Reach(from, open)
			require.Equal(t, reachByForce(p, from, open), reach, "reach from %s", from)
			d, err := p.Dominators(from, open)
			require.NoError(t, err)
			for _, to := range rooms {
				reached := slices.Contains(reach, to)
				assert.Equal(t, reached, slices.Contains(p.Feeders(to, open), from), "feeders mirror reach")
				path, ok := p.Path(from, to, open)
				paths, complete := p.Paths(from, to, open, 100000)
				require.True(t, complete)
				require.Equal(t, reached, ok, "%s to %s", from, to)
				require.Equal(t, reached, len(paths) > 0)
				if !reached {
					continue
				}
				shortest := slices.MinFunc(paths, func(a, b Path) int { return len(a.Ways) - len(b.Ways) })
				assert.Equal(t, shortest, path, "the first of the shortest")
				same, _ := q.Path(from, to, open)
				assert.Equal(t, path, same, "the order of the file changes nothing")
				// A dominator is what all simple paths have in common.
				common := func(name string) bool {
					return !slices.ContainsFunc(paths, func(p Path) bool {
						return !slices.Contains(p.Rooms, name) && !slices.ContainsFunc(p.Ways, func(w Way) bool { return w.ID == name })
					})
				}
				must, ok := d.Must(to)
				require.True(t, ok)
				in := map[string]bool{}
				for _, v := range must {
					in[v.Name] = true
				}
				for _, r := range p.Rooms() {
					assert.Equal(t, common(r), in[r], "room %s from %s to %s", r, from, to)
				}
				for _, w := range p.Ways() {
					assert.Equal(t, common(w.ID), in[w.ID], "way %s from %s to %s", w.ID, from, to)
				}
			}
		}
	})
}
