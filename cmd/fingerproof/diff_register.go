package main

import (
	"fmt"
	"path/filepath"

	"fingerproof/corpus/files"
	"fingerproof/pipeline/3_records/register"
)

// readRegister reads a register of corrections, and gives the file as it was read; one that is not there yet is empty.
func readRegister(path string) (*register.Register, []byte, error) {
	data, err := files.ReadIfThere(path, files.StateLimit)
	if err == nil && data == nil {
		return &register.Register{}, nil, nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("reading the register of corrections: %w", err)
	}
	r, err := register.Read(path, data)
	return r, data, err
}

func readMarks(path string) (*register.Register, error) {
	data, err := files.ReadNamed(path, files.StateLimit)
	if err != nil {
		return nil, fmt.Errorf("reading the marks: %w\nhint: they are saved from the page of a diff", err)
	}
	return register.Read(path, data)
}

// writeRegister writes a register over the file as it was read, and over nothing that someone else wrote meanwhile.
func writeRegister(path string, was []byte, r *register.Register) error {
	data, err := register.Write(r)
	if err != nil {
		return err
	}
	if err := files.Replace(path, was, data); err != nil {
		return fmt.Errorf("writing the register of corrections: %w", err)
	}
	return nil
}

// fromRegister names a proof by its way from the register's folder, so that it has one name wherever it is read from.
func fromRegister(path, proof string) string {
	folder, err := filepath.Abs(filepath.Dir(path))
	if err != nil {
		return filepath.ToSlash(proof)
	}
	whole, err := filepath.Abs(proof)
	if err != nil {
		return filepath.ToSlash(proof)
	}
	way, err := filepath.Rel(folder, whole)
	if err != nil { // on another disk
		return filepath.ToSlash(proof)
	}
	return filepath.ToSlash(way)
}
