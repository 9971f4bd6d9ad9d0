package shell

import "regexp"

var figure = regexp.MustCompile(`(\d) ((?:[GMkmµnp]?(?:Ω|V|A|F|W|Hz))|%)`)

// tiedFigures keeps each figure of a sentence and its unit on one line.
func tiedFigures(text string) string { return figure.ReplaceAllString(text, "$1\u00a0$2") }
