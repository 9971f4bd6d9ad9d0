package console

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
)

// longestLine is the most bytes that a line from a pipe may have: a line of a
// notebook has some hundred, and what is longer is no notebook.
const longestLine = 1 << 20

// A script gives the lines of a pipe, every byte as it stands.
type script struct {
	in     *bufio.Reader
	prompt io.Writer // nil where nobody would see it
}

func newScript(in io.Reader, prompt io.Writer) *script {
	return &script{bufio.NewReader(in), prompt}
}

func (s *script) line(prompt string, _ bool) (string, error) {
	if s.prompt != nil {
		fmt.Fprint(s.prompt, printable(prompt))
	}
	var b strings.Builder
	for {
		piece, err := s.in.ReadSlice('\n')
		// Two bytes more are the line break.
		if b.Len() <= longestLine+2 {
			b.Write(piece)
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err == io.EOF && b.Len() == 0:
			return "", io.EOF
		case err != nil && err != io.EOF:
			return "", err
		}
		line := strings.TrimSuffix(b.String(), "\n")
		line = strings.TrimSuffix(line, "\r")
		if len(line) > longestLine {
			return "", &LongLineError{longestLine, "bytes"}
		}
		return line, nil
	}
}

func (s *script) remember(string) error { return nil }
func (s *script) restore()              {}
func (s *script) close() error          { return nil }
