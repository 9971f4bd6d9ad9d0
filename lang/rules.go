package lang

import "strings"

// The names of the sorts of mistake. They are stable.
const (
	ruleNotText       = "not-text"
	ruleTooLong       = "too-long"
	ruleTooMany       = "too-many-mistakes"
	ruleBadCharacter  = "bad-character"
	ruleOpenText      = "open-text"
	ruleOpenBrace     = "open-brace"
	ruleStrayLine     = "stray-line"
	ruleFactInBraces  = "fact-in-braces"
	ruleUnknownWord   = "unknown-word"
	ruleQuestion      = "question-in-file"
	ruleWrongForm     = "wrong-form"
	ruleReservedName  = "reserved-name"
	ruleWrongQuestion = "wrong-question"
)

// A RuleHelp explains one sort of mistake in the form of a notebook.
type RuleHelp struct {
	Name    string
	Title   string // what is wrong, in one line without a full stop
	Text    string // why it matters and what to do
	Example string // a text in which it is wrong
}

// Rules gives the sorts of mistake that Parse finds, in alphabetical order.
func Rules() []RuleHelp {
	return []RuleHelp{
		{ruleBadCharacter, "a character that no word may hold",
			"Control characters and invisible ones have no place in a name: two names that look alike would be two. Bytes that are not UTF-8 come from an editor that keeps another encoding. In texts in quotes and in comments anything may stand; it is shown written out.",
			"part R\u200B1 resistor 100k"},
		{ruleFactInBraces, "a fact inside the braces of another",
			"Braces hold the terminals of a list, or the lines of a kind or part, and no fact. The fact is read as if it stood after them, since only its place is wrong.",
			"net ground {\n    R1.1 R2.2\nset J1 in\n}"},
		{ruleNotText, "a file that is no text",
			"A notebook is plain text, kept as UTF-8. Pictures, documents of an office program and text kept as UTF-16 are not read.",
			"\xff\xfen\x00e\x00t\x00"},
		{ruleOpenBrace, "a brace that is never closed",
			"What stands in braces ends with }. No line in braces begins with a fact's word, so that the next fact shows that the brace is missing, and nothing after it is lost.",
			"net ground {\n    R1.1 R2.2\nnet input J1.tip"},
		{ruleOpenText, "a text whose closing quote is missing",
			"A text ends in the line in which it begins. It cannot hold a quote of its own sort; write “ ” around one that holds \".",
			"note \"the 100k in the bag read 131k"},
		{ruleQuestion, "a question in a notebook",
			"A notebook holds what is known. Questions are typed at the prompt, or given on the command line.",
			"try lead red A B"},
		{ruleReservedName, "a part called by a word of the language",
			"The first words of facts, and screen, with, probes, none, turned and unknown, mean something where a part's reference may stand, so that no part may be called by them.",
			"part none resistor 100k"},
		{ruleStrayLine, "a line of a kind or part, or a closing brace, where no brace is open",
			"Often a brace above was closed too early, or the brace that opens was left out.",
			"kind choke\n{\n}\ncoil 1 2"},
		{ruleTooLong, "a name, a fact or a notebook beyond all bounds",
			"The bounds lie far above what a notebook needs, and keep a wrong file from filling the memory.",
			"net a " + strings.Repeat("x", maxWord+1)},
		{ruleTooMany, "more mistakes than a notebook can have",
			"After a thousand mistakes the rest is not read: the file is most likely something else.",
			""},
		{ruleUnknownWord, "a line that begins with no word of the language",
			"The first word of a line says what it is about. `help` lists the words, and `help WORD` explains one.",
			"wire red A B"},
		{ruleWrongForm, "a fact whose words are not in the order that it wants",
			"Each fact has one form. The message says what was wanted where, and shows the form and an example.",
			"lead red"},
		{ruleWrongQuestion, "a question with a brace or a quote astray",
			"A question is words, and texts in quotes.",
			""},
	}
}
