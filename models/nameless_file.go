package models

import "os"

// NamelessFile is a file in the system's folder for them of which no name is
// left there where the system allows that, so that a crash leaves nothing
// behind.
type NamelessFile struct{ *os.File }

// NewNamelessFile makes an empty one. of is what it holds, in a word: where
// names have to stay, they say so.
func NewNamelessFile(of string) (NamelessFile, error) {
	f, err := os.CreateTemp("", "tenter-"+of+"-*")
	if err != nil {
		return NamelessFile{}, err
	}
	os.Remove(f.Name()) //nolint:errcheck // where an open file keeps its name, Discard removes it
	return NamelessFile{f}, nil
}

// Discard ends the file and what is left of it.
func (f NamelessFile) Discard() {
	name := f.Name()
	f.Close()       //nolint:errcheck // nothing of it is kept
	os.Remove(name) //nolint:errcheck // mostly gone already
}
