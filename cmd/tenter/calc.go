package main

import (
	"fmt"
	"io"
	"os"

	"tenter/models/calc"
)

type calcCommand struct {
	Name string `arg:"" help:"Which calculation."`
	File string `arg:"" optional:"" help:"The input; standard input when absent."`
}

// largestInput bounds what a calculation reads, in bytes.
const largestInput = 64 << 20

func (c *calcCommand) Run(ends streams) error {
	in := ends.in
	if c.File != "" {
		f, err := os.Open(c.File)
		if err != nil {
			return err
		}
		defer f.Close()
		in = f
	}
	raw, err := io.ReadAll(io.LimitReader(in, largestInput+1))
	if err != nil {
		return fmt.Errorf("read input: %w", err)
	}
	if len(raw) > largestInput {
		return invalid("input", "is larger than %d MiB", largestInput>>20)
	}
	out, err := calc.Run(c.Name, raw)
	if err != nil {
		return err
	}
	_, err = ends.out.Write(out)
	return err
}
