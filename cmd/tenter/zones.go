package main

// The time zones travel in the binary: a bare container or a Windows machine
// has no files of them, and the studio's dates are read in its own zone.
import _ "time/tzdata"
