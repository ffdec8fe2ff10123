// Package recall remembers what commands have answered, in the user's cache folder, so that what is asked again while
// nothing has changed (by a prompt, by a status line) is not worked out again.
//
// An answer is kept with a text that names all it was made of. It is given back to one who names the very same, and is
// otherwise as good as none: the folder may be emptied at any time, and what goes wrong here is never an error.
package recall

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"hash/fnv"
	"os"
	"path/filepath"
)

// Folder is where answers are kept. The zero Folder remembers nothing.
type Folder struct{ path string }

// In is the folder at a path, which need not exist yet. It should belong to the user alone.
func In(path string) Folder { return Folder{path} }

// Path is where the folder is, or would be; "" for the zero Folder.
func (f Folder) Path() string { return f.path }

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sealLen is how many bytes of a file come before what they are the checksum of.
const sealLen = 4

// Get is the latest answer to a question, if it was made of what is named now. ok is false otherwise.
func (f Folder) Get(question, of string) (answer []byte, ok bool) {
	if f.path == "" {
		return nil, false
	}
	data, err := os.ReadFile(f.file(question))
	if err != nil || len(data) < sealLen {
		return nil, false
	}
	seal, data := binary.LittleEndian.Uint32(data), data[sealLen:]
	if crc32.Checksum(data, castagnoli) != seal {
		return nil, false // the machine stopped before it was on the disk
	}
	if answer, ok = bytes.CutPrefix(data, head(question, of)); !ok {
		return nil, false
	}
	return answer, true
}

// Put remembers an answer in place of the one before. It must not be asked to where the question's answer depends on
// more than is named.
func (f Folder) Put(question, of string, answer []byte) {
	if f.path == "" || os.MkdirAll(f.path, 0o700) != nil {
		return
	}
	data := append(make([]byte, sealLen), head(question, of)...)
	data = append(data, answer...)
	binary.LittleEndian.PutUint32(data, crc32.Checksum(data[sealLen:], castagnoli))
	// Another process may read the old answer, or write its own, meanwhile.
	t, err := os.CreateTemp(f.path, "new-*")
	if err != nil {
		return
	}
	_, err = t.Write(data)
	if t.Close() != nil || err != nil || os.Rename(t.Name(), f.file(question)) != nil {
		_ = os.Remove(t.Name())
	}
}

// head is what stands before an answer. The lengths keep one text from running into the other.
func head(question, of string) []byte {
	return fmt.Appendf(nil, "%d %d %s%s", len(question), len(of), question, of)
}

// file is where the answer to a question is. Two questions may share one: each then forgets the other's answer.
func (f Folder) file(question string) string {
	h := fnv.New64a()
	h.Write([]byte(question))
	return filepath.Join(f.path, fmt.Sprintf("%016x", h.Sum64()))
}
