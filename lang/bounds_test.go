package lang

import (
	"math/rand/v2"
	"strings"
	"testing"

	"buzzout/lang/diag"
)

// Texts that are no notebooks cost one clear message, or one a line, and no
// more memory and time than their size.
func TestTextsOutOfBounds(t *testing.T) {
	noise := make([]byte, 1<<20)
	r := rand.New(rand.NewPCG(1, 1))
	for i := range noise {
		noise[i] = byte(r.Uint32())
	}
	million := 1_000_000
	for name, c := range map[string]struct {
		text    string
		rule    string
		message string
	}{
		"far too long":                   {strings.Repeat("net a A\n", 2*million), ruleTooLong, "this text has 16 million bytes, and a notebook has at most 8 million"},
		"binary":                         {string(noise), ruleNotText, "this is not a text: "},
		"noughts":                        {strings.Repeat("\x00", 4096), ruleNotText, "this is not a text: 4096 of its 4096 bytes are no letters"},
		"UTF-16, least first":            {"\xff\xfen\x00e\x00t\x00", ruleNotText, "this text is kept as UTF-16, and a notebook is kept as UTF-8"},
		"UTF-16, most first":             {"\xfe\xff\x00n\x00e\x00t", ruleNotText, "this text is kept as UTF-16, and a notebook is kept as UTF-8"},
		"a word of a million letters":    {strings.Repeat("x", million), ruleTooLong, "this word has 1000000 characters, and a name has at most 200"},
		"a name of a million letters":    {"net " + strings.Repeat("x", million) + " A", ruleTooLong, "this word has 1000000 characters, and a name has at most 200"},
		"a fact of half a million words": {"net a " + strings.Repeat("A ", million/2), ruleTooLong, "this fact has 500002 words and signs, and one has at most 200000"},
		"a million braces in a line":     {"net a " + strings.Repeat("{", million), ruleTooLong, "this fact has 1000002 words and signs, and one has at most 200000"},
		"a million braces in lines":      {strings.Repeat("{\n", million), ruleTooLong, "this fact has 1999999 words and signs, and one has at most 200000"},
		"a hundred thousand braces":      {"net a " + strings.Repeat("{", 100_000), ruleWrongForm, "the brace { stands where a terminal is wanted"},
		"a million closing braces":       {strings.Repeat("}", million), ruleTooLong, ""},
		"an open text of a megabyte":     {"note \"" + strings.Repeat("x", million), ruleOpenText, "this text is not closed"},
		"a long head, and long lists":    {"reading " + strings.Repeat("A ", 60_000) + "with {\n" + strings.Repeat("x\n", 60_000) + "}", ruleWrongForm, "the line ends where a position is wanted"},
		"strike without end":             {strings.Repeat("strike ", 50_000), ruleWrongForm, "`strike` stands where the fact that was never true is wanted"},
		"one line of Latin-1":            {"net a A\nnote caf\xe9\nnet b B\n", ruleBadCharacter, "the byte E9 (hexadecimal) is not UTF-8"},
		"one control character":          {"net a A\nnet \x1b[31m B\n", ruleBadCharacter, "a control character, U+001B, stands here"},
		"an invisible character":         {"part R\u200B1 resistor\n", ruleBadCharacter, "an invisible character, U+200B, stands here"},
		"a curly quote that only closes": {"note x”\n", ruleBadCharacter, "” closes a text, and none is open here"},
	} {
		file := Parse(diag.NewSource("test", c.text))
		if c.message == "" {
			if len(file.Mistakes) == 0 {
				t.Errorf("%s: nothing is wrong", name)
			}
			continue
		}
		if len(file.Mistakes) != 1 || file.Mistakes[0].Rule != c.rule || !strings.HasPrefix(file.Mistakes[0].Message, c.message) {
			t.Errorf("%s: %d mistakes", name, len(file.Mistakes))
			for _, m := range file.Mistakes[:min(3, len(file.Mistakes))] {
				t.Errorf("  %s %s", m.Rule, m.Message)
			}
		}
		checkRendering(t, file.Mistakes)
	}
}

func TestTextsWithinBounds(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":                  "",
		"a byte order mark":        "\uFEFF",
		"blank lines":              strings.Repeat("\n", 1000),
		"a remark of a megabyte":   "note \"" + strings.Repeat("x", 1_000_000) + "\"",
		"a comment of a megabyte":  "#" + strings.Repeat("{", 1_000_000),
		"a net of 50,000":          "net a " + strings.Repeat("A.1 ", 50_000),
		"a net of 50,000 in lines": "net a {\n" + strings.Repeat("A.1\n", 50_000) + "}",
		"old line ends":            "net a A\rnet b B\rkind k {\r coil 1 2\r}\r",
		"strange letters in texts": "note \"\x00\x1b[31m \xff\"  # \x00\xff\n",
	} {
		file := Parse(diag.NewSource("test", text))
		for _, m := range file.Mistakes {
			t.Errorf("%s: %s", name, m.Message)
		}
	}
}

func TestTooManyMistakes(t *testing.T) {
	for _, text := range []string{strings.Repeat("x;", 1_000_000), "colours T1 x {\n" + strings.Repeat("x\n", 90_000) + "}\n"} {
		file := Parse(diag.NewSource("test", text))
		last := file.Mistakes[len(file.Mistakes)-1]
		if n := len(file.Mistakes); n < maxMistakes || n > maxMistakes+2 || last.Rule != ruleTooMany {
			t.Errorf("%d mistakes, the last of them: %s", n, last.Message)
		}
	}
}
