package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"fingerproof/pipeline/3_records/register"

	"github.com/google/renameio/v2"
)

// readRegister reads a register of corrections; one that is not there yet is empty.
func readRegister(path string) (*register.Register, error) {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return &register.Register{}, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading the register of corrections: %w", err)
	}
	return register.Read(path, data)
}

func readMarks(path string) (*register.Register, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading the marks: %w\nhint: they are saved from the page of a diff", err)
	}
	return register.Read(path, data)
}

func writeRegister(path string, r *register.Register) error {
	data, err := register.Write(r)
	if err != nil {
		return err
	}
	if err := renameio.WriteFile(path, data, 0o644); err != nil {
		return fmt.Errorf("writing the register of corrections: %w", err)
	}
	return nil
}
