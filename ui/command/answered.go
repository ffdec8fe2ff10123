package command

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
)

// Answers remembers what was answered, with a text that names all it was made of. It gives an answer back to one who
// names the very same.
type Answers interface {
	Get(question, of string) (answer []byte, ok bool)
	Put(question, of string, answer []byte)
	// Path is where they are kept.
	Path() string
}

// stamped is a Store that can tell one state of its file from every other.
type stamped interface {
	// Stamp is "" when it can't be told.
	Stamp() string
}

// answered prints the answer to a question about the book and gives its exit code: the answer of last time, if it was
// made of the same book and of the rest that is named by the same program, or the one that make writes now. That one is
// remembered, unless there was an error.
func (p *program) answered(question, rest string, make func(io.Writer) (exitCode, error)) error {
	path, of := p.madeOf(rest)
	if of == "" {
		code, err := make(p.Stdout)
		return code.or(err)
	}
	question = path + "\n" + question
	if known, ok := p.Answers.Get(question, of); ok && len(known) > 0 {
		_, err := p.Stdout.Write(known[1:])
		return exitCode(known[0]).or(err)
	}
	var answer bytes.Buffer
	code, err := make(inColumns(&answer, p.Getenv("COLUMNS")))
	if err == nil {
		_, err = p.Stdout.Write(answer.Bytes())
	}
	if err == nil {
		p.Answers.Put(question, of, append([]byte{byte(code)}, answer.Bytes()...))
	}
	return code.or(err)
}

// madeOf names what an answer about the book is made of now, beside the place of the book; it is "" when nothing is to be
// remembered.
func (p *program) madeOf(rest string) (path, of string) {
	s, ok := p.store().(stamped)
	if !ok || p.Answers == nil {
		return "", ""
	}
	path, err := filepath.Abs(p.path())
	stamp, build := s.Stamp(), p.Build()
	if err != nil || stamp == "" || build == "" {
		return "", ""
	}
	return path, fmt.Sprintf("%s\n%s\n%s\n%s", stamp, build, p.Getenv("COLUMNS"), rest)
}
