package diagnose

import "math"

// The series of preferred values of IEC 60063, one decade.
var (
	e12 = []float64{1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2}
	// trackValues are those that pots are made in (common practice, no source).
	trackValues = []float64{1.0, 2.2, 2.5, 4.7, 5.0}
)

// neighbours are the values next below and next above in a series: what lies in
// the neighbouring drawers. Those within three tolerances, or a twelfth, are
// passed over: no reading in circuit tells the two apart. 0 where there is none.
func neighbours(series []float64, ohms, tolerance float64) (below, above float64) {
	decade := math.Pow(10, math.Floor(math.Log10(ohms)))
	apart := max(1.0/12, 3*tolerance)
	for _, d := range []float64{decade / 10, decade, decade * 10} {
		for _, s := range series {
			v := s * d
			if v < ohms*(1-apart) {
				below = v
			}
			if v > ohms*(1+apart) && above == 0 {
				above = v
			}
		}
	}
	return below, above
}
