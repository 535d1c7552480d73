// Package training fits tables of weights to the fingered material, whole or but for a fold: the settings here are
// those of the shipped tables.
package training

import (
	"crypto/rand"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/hand"
	"fingerproof/rules/learned"
)

// Hand is the hand the tables are fitted for: the middle one.
var Hand = hand.NinthHand

// TermSettings are those of the interpretable table. The settings of both shipped tables were chosen by the mean of
// all five folds.
func TermSettings() fit.Settings {
	s := HabitSettings()
	s.Habit = false
	return s
}

// HabitSettings are those of the delivered table.
func HabitSettings() fit.Settings {
	s := fit.Defaults()
	s.Aims = suggest.AimsOf(policies.Default())
	return s
}

// Prune is the price in nats below which a habit is left out of the shipped table.
const Prune = 0.015

// Examples makes training examples of every piece that keep accepts.
func Examples(pieces []*opendata.Piece, keep func(*opendata.Piece) bool) (out []*fit.Example) {
	for _, p := range pieces {
		if !keep(p) {
			continue
		}
		for h := range p.Lines {
			x, some := fit.NewExample(fingering.Hand(h), p.Lines[h], Hand, func(id int) fingering.Finger {
				if r := p.Row(id); r.Clean {
					return r.Finger
				}
				return 0
			})
			if some {
				out = append(out, x)
			}
		}
	}
	return out
}

// Without fits a table on every piece but those of the fold; fold −1 leaves none out. A table is kept in the folder
// of temporary files under the sum of all it depends on: what it was fitted from and the program that fitted it.
func Without(pieces []*opendata.Piece, fold int, s fit.Settings, name string, prune float64) *effort.Weights {
	return On(pieces, func(p *opendata.Piece) bool { return p.Fold != fold }, s, name, prune)
}

// On fits a table on the pieces that keep accepts.
func On(pieces []*opendata.Piece, keep func(*opendata.Piece) bool, s fit.Settings, name string, prune float64) *effort.Weights {
	x := Examples(pieces, keep)
	sum := fmt.Sprint(fit.Sum(x, effort.HandSet(), Hand, s), " ", name, " ", prune, " ", program())
	return keptTable(sum, func() *effort.Weights {
		return fit.Train(x, effort.HandSet(), Hand, s).Weights(name, prune)
	})
}

// NetworkWeight is the weight of the network in the delivered table, in thousandths, chosen by the mean of the folds.
const NetworkWeight = 500

//go:embed learned/folds
var networks embed.FS

// NetworkWithout is the network that was taught without the pieces of a fold; for fold −1 the shipped one.
func NetworkWithout(fold int) *learned.Network {
	if fold < 0 {
		return learned.Shipped()
	}
	data, err := networks.ReadFile(fmt.Sprintf("learned/folds/fold-%d.bin", fold))
	if err != nil {
		panic(err) // embedded
	}
	n, err := learned.Read(data)
	if err != nil {
		panic(err) // a test reads each
	}
	return n
}

// Delivered fits the delivered table without a fold, with the network that was taught without it.
func Delivered(pieces []*opendata.Piece, fold int) *effort.Weights {
	return Without(pieces, fold, HabitSettings(), "delivered", Prune).Asking(NetworkWithout(fold), NetworkWeight)
}

// EachFold fits the delivered table without each of so many folds and hands it to work, on all processors.
func EachFold(pieces []*opendata.Piece, folds int, work func(fold int, delivered *effort.Weights) error) error {
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for fold := range folds {
		g.Go(func() error { return work(fold, Delivered(pieces, fold)) })
	}
	return g.Wait()
}

// program is the sum of the program that runs: another one may fit otherwise. Where it cannot be read nothing is taken
// for the same.
var program = sync.OnceValue(func() string {
	path, err := os.Executable()
	if err != nil {
		return rand.Text()
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return rand.Text()
	}
	return fmt.Sprintf("%x", sha256.Sum256(data))
})

// keptTable takes a fitted table from the folder of temporary files, or fits it and lays it there. A file that cannot
// be read or written is as good as none.
func keptTable(sum string, train func() *effort.Weights) *effort.Weights {
	of := sha256.Sum256([]byte(sum))
	path := filepath.Join(os.TempDir(), "fingerproof-folds", hex.EncodeToString(of[:16])+".json")
	if f, err := os.Open(path); err == nil {
		defer f.Close()
		if w, err := effort.Read(f); err == nil {
			return w
		}
	}
	w := train()
	if os.MkdirAll(filepath.Dir(path), 0o755) == nil {
		if f, err := os.CreateTemp(filepath.Dir(path), "table"); err == nil {
			err = w.Write(f)
			if f.Close() == nil && err == nil {
				err = os.Rename(f.Name(), path)
			}
			if err != nil {
				os.Remove(f.Name())
			}
		}
	}
	return w
}
