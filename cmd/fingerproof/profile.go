package main

import (
	"bytes"
	"fmt"
	"runtime"
	"runtime/pprof"

	"fingerproof/corpus/files"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// profile are the options that say where it is written what time and memory went to, for `go tool pprof`.
type profile struct{ cpu, memory string }

func (p *profile) add(f *pflag.FlagSet) {
	f.StringVar(&p.cpu, "cpuprofile", "", "write to this file where the time went, for go tool pprof")
	f.StringVar(&p.memory, "memprofile", "", "write to this file what memory was asked for, for go tool pprof")
}

// around is a command with the profiles that are asked for.
func (p *profile) around(command func(*cobra.Command, []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		return p.of(func() error { return command(cmd, args) })
	}
}

// of does a piece of work and writes the profiles that were asked for. What the work comes to is not changed by them.
func (p *profile) of(work func() error) error {
	var cpu bytes.Buffer
	if p.cpu != "" {
		if err := pprof.StartCPUProfile(&cpu); err != nil {
			return fmt.Errorf("taking a profile: %w", err)
		}
	}
	done := work()
	if p.cpu != "" {
		pprof.StopCPUProfile()
		if err := files.Write(p.cpu, cpu.Bytes()); err != nil {
			return fmt.Errorf("writing the profile %s: %w", p.cpu, err)
		}
	}
	if p.memory != "" {
		var memory bytes.Buffer
		runtime.GC() // what is written is what stood at the last collection
		if err := pprof.Lookup("allocs").WriteTo(&memory, 0); err != nil {
			return fmt.Errorf("taking a profile: %w", err)
		}
		if err := files.Write(p.memory, memory.Bytes()); err != nil {
			return fmt.Errorf("writing the profile %s: %w", p.memory, err)
		}
	}
	return done
}
