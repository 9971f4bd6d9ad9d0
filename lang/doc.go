// Package lang reads the notebook language. It knows words and their order, and
// nothing of electricity.
//
// [Parse] makes a [File] of a text: its statements in the order written, and
// the mistakes, each told once with its place. [ParseLine] does the same for
// what is typed at a prompt, where there are questions, too, and [NeedsMore]
// says when a prompt should ask for another line. A name, a figure and a colour
// are all a [Word] at first; whoever knows what must stand there asks
// [ReadFigures], [ReadColour], [ReadTaped] or [Expand].
//
// A text is read in four steps, none of which can fail:
//
//  1. The scanner cuts it into tokens. Characters that no word may hold become
//     a token as well.
//  2. The cutter parts the tokens into statements, so that a mistake in one can
//     never reach the next; a brace that was never closed ends where a line
//     begins with a fact's word.
//  3. participle reads each statement. Its grammar is in grammar.go, and printed
//     for people by [Grammar]; its errors are only asked for the token that it
//     did not expect.
//  4. Of a statement with a mistake and braces, the head and each line in the
//     braces are read again by themselves, and what is right is kept.
//
// [Tidy] lays a text out in the one style there is.
package lang
