//go:build !race

package console

const raceDetector = false
