package diagnose

import "math"

// weighed is a level with the weight of the hypothesis that foretells it.
type weighed struct {
	bin    float32
	weight float64
}

// A histogram counts weights by the level that is predicted. A level between
// the middles of two bins counts in both, in proportion, so that nothing hangs
// on where a bin ends.
type histogram struct {
	bins    []float64
	touched []int32
	within  float64
	over    float64
}

// information is how many bits a reading tells about the hypotheses: the
// entropy of what it may say, less that which is left when one knows which
// hypothesis is true. Those not in the list foretell the sound level.
func (b *histogram) information(list []weighed, sound float32, total float64) float64 {
	if len(list) == 0 {
		return 0
	}
	b.touched, b.within, b.over = b.touched[:0], 0, 0
	rest := total
	for _, w := range list {
		rest -= w.weight
		b.count(w.bin, w.weight)
	}
	b.count(sound, max(rest, 0))
	sum := 0.0
	if b.over > 0 {
		sum -= b.over / total * math.Log2(b.over/total)
	}
	for _, bin := range b.touched {
		p := b.bins[bin] / total
		b.bins[bin] = 0
		if p > 0 {
			sum -= p * math.Log2(p)
		}
	}
	return max(0, sum-b.within/total)
}

func (b *histogram) count(bin float32, weight float64) {
	if bin >= overRange {
		b.over += weight
		return
	}
	low := int32(bin)
	if int(low)+2 > len(b.bins) {
		b.bins = append(b.bins, make([]float64, int(low)+2-len(b.bins))...)
	}
	f := float64(bin) - float64(low)
	b.put(low, weight*(1-f))
	if f > 0 {
		b.put(low+1, weight*f)
		b.within += weight * entropies[int(f*float64(len(entropies)-1)+0.5)]
	}
}

func (b *histogram) put(bin int32, weight float64) {
	if b.bins[bin] == 0 {
		b.touched = append(b.touched, bin)
	}
	b.bins[bin] += weight
}

// entropies are those of a choice of two, in bits, in steps of 1/1024.
var entropies = func() (list [1025]float64) {
	for i := range list {
		if f := float64(i) / 1024; f > 0 && f < 1 {
			list[i] = -f*math.Log2(f) - (1-f)*math.Log2(1-f)
		}
	}
	return list
}()
