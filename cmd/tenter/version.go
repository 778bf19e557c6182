package main

import (
	"fmt"
	"runtime/debug"
)

// release is set at build time: -ldflags "-X main.release=1.2.3".
var release string

type versionCommand struct{}

func (versionCommand) Run(io streams) error {
	fmt.Fprintln(io.out, "tenter", buildVersion())
	return nil
}

func buildVersion() string {
	if release != "" {
		return release
	}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "unreleased"
}
