package layout

import (
	"context"
	"fmt"
	"testing"
	"time"
)

// palletSteps are enough for every row of the pallet table, in either direction: a
// tenth of what Deep allows for blocks.
const palletSteps = deepBlockSteps / 10

// palletJobs are the rows of the pallet table, each also with its sides exchanged.
func palletJobs(t testing.TB) (jobs []*job, counts []int, names []string) {
	for _, c := range palletRows(t) {
		long, short := c.region.Outer[2].UM, c.region.Outer[2].VM
		for _, r := range []Region{c.region, {Outer: rectRing(0, 0, short, long)}} {
			j, err := newJob(context.Background(), r, c.spec)
			if err != nil {
				t.Fatal(err)
			}
			jobs, counts = append(jobs, j), append(counts, c.fiveBlocks)
			names = append(names, fmt.Sprintf("%v of %v", r.Outer[2], c.spec))
		}
	}
	return jobs, counts, names
}

// The published five-block counts (column five_block_count) are met within
// palletSteps, which BenchmarkPallets times.
func TestBlocksMeetFiveBlockCountsSoon(t *testing.T) {
	jobs, counts, names := palletJobs(t)
	for i, j := range jobs {
		if got := len(j.packBlocks(palletSteps, 0)); got != counts[i] {
			t.Errorf("%s: %d, published %d", names[i], got, counts[i])
		}
	}
}

// BenchmarkPallets reports the processor time of the slowest row of the pallet table
// and of all its rows, in either direction, five blocks alone.
func BenchmarkPallets(b *testing.B) {
	jobs, _, names := palletJobs(b)
	b.ReportAllocs()
	times := make([]time.Duration, len(jobs))
	for b.Loop() {
		for i, j := range jobs {
			start := cpuTime()
			j.packBlocks(palletSteps, 0)
			times[i] += cpuTime() - start
		}
	}
	slowest, all := 0, time.Duration(0)
	for i, spent := range times {
		if all += spent; spent > times[slowest] {
			slowest = i
		}
	}
	b.ReportMetric(inMs(times[slowest])/float64(b.N), "cpu-ms/slowest")
	b.ReportMetric(inMs(all)/float64(b.N), "cpu-ms/all")
	b.Logf("slowest: %s", names[slowest])
}
