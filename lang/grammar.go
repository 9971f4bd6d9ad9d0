package lang

import (
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar, as participle reads it: one type for each sort of fact and line.
// What it says is printed for people by Grammar, and a test holds the two
// together. It needs one token of look-ahead, because the words that begin or
// part a line have been made Verbs and Marks where they do; they are ordinary
// words everywhere else.
//
// A repetition is captured whole, commas and all, as the tokens that it ran
// over: captured one by one, participle would keep the last alone.

type factGrammar interface {
	fact(b *builder, n factNode) Fact
}

type lineGrammar interface {
	line(b *builder) KindLine
}

type (
	amplifierGrammar struct {
		Title lexer.Token `parser:"'amplifier':Verb @Text"`
	}
	useGrammar struct {
		Path lexer.Token `parser:"'use':Verb @Text"`
	}
	kindGrammar struct {
		Name  lexer.Token   `parser:"'kind':Verb @Word"`
		Title lexer.Token   `parser:"@Text?"`
		Lines []lineGrammar `parser:"'{' Break* ( @@ (?= Break | '}' ) Break* )* '}'"`
	}
	partGrammar struct {
		Refs  []lexer.Token `parser:"'part':Verb @( Word ( ',' Word )* )"`
		Kind  lexer.Token   `parser:"@Word"`
		Words []lexer.Token `parser:"@( Word+ )?"`
		Label lexer.Token   `parser:"@Text?"`
		Lines []lineGrammar `parser:"( '{' Break* ( @@ (?= Break | '}' ) Break* )* '}' )?"`
	}
	netGrammar struct {
		Verb   string        `parser:"@( 'net':Verb | 'copper':Verb )"`
		Name   lexer.Token   `parser:"@Word"`
		List   []lexer.Token `parser:"@( Word ( ','? Word )* | '{' ( Word | ',' | Break )* '}' )"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	spareGrammar struct {
		List   []lexer.Token `parser:"'spare':Verb @( Word ( ','? Word )* | '{' ( Word | ',' | Break )* '}' )"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	drawingGrammar struct {
		Name   lexer.Token `parser:"'drawing':Verb @Word"`
		Remark lexer.Token `parser:"@Text?"`
	}
	coloursGrammar struct {
		Part   lexer.Token   `parser:"'colours':Verb @Word"`
		Origin lexer.Token   `parser:"@Word"`
		Pairs  []lexer.Token `parser:"@( Word Word ( ',' Word Word )* | '{' ( ',' | Break )* ( Word Word (?= ',' | Break | '}' ) ( ',' | Break )* )* '}' )"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	trustGrammar struct {
		Part   lexer.Token `parser:"'trust':Verb @Word"`
		Origin lexer.Token `parser:"@Word"`
		Reason lexer.Token `parser:"@Text?"`
	}
	leadGrammar struct {
		Colour lexer.Token   `parser:"'lead':Verb @Word"`
		Points []lexer.Token `parser:"@( Word+ )"`
		Screen []lexer.Token `parser:"( 'screen':Mark @( Word+ ) )?"`
		Label  lexer.Token   `parser:"@Text?"`
	}
	spotGrammar struct {
		Verb   string        `parser:"@( 'solder':Verb | 'bolt':Verb | 'unsolder':Verb )"`
		List   []lexer.Token `parser:"@( Word ( ','? Word )* | '{' ( Word | ',' | Break )* '}' )"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	fitGrammar struct {
		Refs   []lexer.Token `parser:"'fit':Verb @( Word ( ',' Word )* )"`
		Words  []lexer.Token `parser:"@( Word+ )?"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	readingGrammar struct {
		Words  []lexer.Token `parser:"'reading':Verb @( Word+ )"`
		With   []lexer.Token `parser:"( 'with':Mark @( Word Word ( ',' Word Word )* | '{' ( ',' | Break )* ( Word Word (?= ',' | Break | '}' ) ( ',' | Break )* )* '}' ) )?"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	setGrammar struct {
		Pairs  []lexer.Token `parser:"'set':Verb @( Word Word ( ',' Word Word )* | '{' ( ',' | Break )* ( Word Word (?= ',' | Break | '}' ) ( ',' | Break )* )* '}' )"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	wiringGrammar struct {
		State  string        `parser:"'wiring':Verb @( 'complete':Mark | 'open':Mark )"`
		Nets   []lexer.Token `parser:"@( Word+ )?"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	noteGrammar struct {
		Text lexer.Token `parser:"'note':Verb @Text"`
	}
	strikeGrammar struct {
		Struck factGrammar `parser:"'strike':Verb @@"`
	}
	// tryGrammar and questionGrammar are read at the prompt alone.
	tryGrammar struct {
		Fact factGrammar `parser:"'try':Verb @@"`
	}
	questionGrammar struct {
		Words []lexer.Token `parser:"@( Verb ( Word | Text | ',' )* )"`
	}
)

// lineTokens are all the tokens of a line, filled in by participle.
type lineTokens struct {
	Tokens []lexer.Token
}

type (
	declareGrammar struct {
		lineTokens
		Words  []lexer.Token `parser:"Declare @( Word+ )"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	betweenGrammar struct {
		lineTokens
		From    lexer.Token   `parser:"Between @Word"`
		To      lexer.Token   `parser:"@Word"`
		Figures []lexer.Token `parser:"@( Word+ )"`
		Remark  lexer.Token   `parser:"@Text?"`
	}
	elementGrammar struct {
		lineTokens
		Words  []lexer.Token `parser:"Element @( Word+ )"`
		By     lexer.Token   `parser:"( 'by':Mark @Word"`
		Moves  lexer.Token   `parser:"| 'moves':Mark @Word )?"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	contactGrammar struct {
		lineTokens
		From      lexer.Token   `parser:"'contact':Line @Word"`
		To        lexer.Token   `parser:"@Word"`
		Control   lexer.Token   `parser:"'when':Mark @Word"`
		Positions []lexer.Token `parser:"@( Word+ )"`
		Remark    lexer.Token   `parser:"@Text?"`
	}
	poleGrammar struct {
		lineTokens
		Common lexer.Token   `parser:"'pole':Line @Word"`
		Ways   []lexer.Token `parser:"@( Word+ )"`
		By     lexer.Token   `parser:"'by':Mark @Word"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	alikeGrammar struct {
		lineTokens
		These  []lexer.Token `parser:"'alike':Line @( Word+ )"`
		Those  []lexer.Token `parser:"'with':Mark @( Word+ )"`
		But    string        `parser:"( 'but':Mark @( 'phase':Mark | 'hum':Mark ) )?"`
		Remark lexer.Token   `parser:"@Text?"`
	}
	limitGrammar struct {
		lineTokens
		Name    lexer.Token   `parser:"'limit':Line @Word"`
		Figures []lexer.Token `parser:"@( Word+ )"`
		Remark  lexer.Token   `parser:"@Text?"`
	}
	originGrammar struct {
		lineTokens
		Status string      `parser:"'source':Line @( 'seen':Mark | 'quoted':Mark | 'derived':Mark | 'practice':Mark | 'memory':Mark )"`
		Remark lexer.Token `parser:"@Text?"`
	}
)

// An entryGrammar is one entry at the prompt. In a file every entry is a fact.
type entryGrammar struct {
	Fact     factGrammar      `parser:"@@"`
	Try      *tryGrammar      `parser:"| @@"`
	Question *questionGrammar `parser:"| @@"`
}

// A blockLineGrammar is one line of a block, parsed by itself when its block
// has a mistake in it.
type blockLineGrammar struct {
	Line lineGrammar `parser:"@@"`
}

// The commonest come first: participle tries them in turn.
var (
	anyFact = participle.Union[factGrammar](
		&leadGrammar{}, &spotGrammar{}, &netGrammar{}, &partGrammar{}, &fitGrammar{}, &readingGrammar{},
		&kindGrammar{}, &spareGrammar{}, &coloursGrammar{}, &trustGrammar{}, &setGrammar{}, &wiringGrammar{},
		&noteGrammar{}, &drawingGrammar{}, &useGrammar{}, &amplifierGrammar{}, &strikeGrammar{},
	)
	anyLine = participle.Union[lineGrammar](
		&declareGrammar{}, &elementGrammar{}, &contactGrammar{}, &alikeGrammar{}, &betweenGrammar{},
		&limitGrammar{}, &poleGrammar{}, &originGrammar{},
	)
)

// productions are the parts of the grammar by the word that a fact begins
// with, so that participle need not try them in turn.
type productions struct {
	facts    map[string]func(*lexer.PeekingLexer) (factGrammar, error)
	try      *participle.Parser[tryGrammar]
	question *participle.Parser[questionGrammar]
}

// entries builds the parser when the first text is read; several may use it at
// a time.
var entries = sync.OnceValue(func() productions {
	all := participle.MustBuild[entryGrammar](participle.Lexer(definition{}), anyFact, anyLine)
	spot, net := production[spotGrammar](all), production[netGrammar](all)
	return productions{
		facts: map[string]func(*lexer.PeekingLexer) (factGrammar, error){
			"amplifier": production[amplifierGrammar](all),
			"use":       production[useGrammar](all),
			"kind":      production[kindGrammar](all),
			"part":      production[partGrammar](all),
			"net":       net,
			"copper":    net,
			"spare":     production[spareGrammar](all),
			"drawing":   production[drawingGrammar](all),
			"colours":   production[coloursGrammar](all),
			"trust":     production[trustGrammar](all),
			"lead":      production[leadGrammar](all),
			"solder":    spot,
			"bolt":      spot,
			"unsolder":  spot,
			"fit":       production[fitGrammar](all),
			"reading":   production[readingGrammar](all),
			"set":       production[setGrammar](all),
			"wiring":    production[wiringGrammar](all),
			"note":      production[noteGrammar](all),
			"strike":    production[strikeGrammar](all),
		},
		try:      must(participle.ParserForProduction[tryGrammar](all)),
		question: must(participle.ParserForProduction[questionGrammar](all)),
	}
})

// blockLines is the parser of a single line of a block.
var blockLines = sync.OnceValue(func() *participle.Parser[blockLineGrammar] {
	return participle.MustBuild[blockLineGrammar](participle.Lexer(definition{}), anyLine)
})

func production[G any, P interface {
	*G
	factGrammar
}](all *participle.Parser[entryGrammar]) func(*lexer.PeekingLexer) (factGrammar, error) {
	parser := must(participle.ParserForProduction[G](all))
	return func(tokens *lexer.PeekingLexer) (factGrammar, error) {
		g, err := parser.ParseFromLexer(tokens)
		return P(g), err
	}
}

// must is for grammars, which are right or wrong once and for all.
func must[P any](parser *participle.Parser[P], err error) *participle.Parser[P] {
	if err != nil {
		panic(err)
	}
	return parser
}
