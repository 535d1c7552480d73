package engrave

import (
	"context"
	"encoding/gob"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"sync"
	"time"
)

// The engraver can be told to draw what it never finishes, and nothing inside this program can stop it then: its code
// has no place to look up. So each worker may have a process of its own (Options.Process), which is killed when an
// excerpt takes too long, when the run is over, and when this program dies.

// ErrTooLong says that an excerpt took longer than Options.Limit, and was given up.
var ErrTooLong = errors.New("the engraver took too long and was stopped")

// DefaultLimit is far more than any excerpt of real music takes: some hundredths of a second, a page full of chords
// two seconds.
const DefaultLimit = 20 * time.Second

// order is what a process is asked to draw; drawn is its answer.
type (
	order struct {
		Score []byte
		Width int
		All   bool // every page, not the first alone
		Apart int  // how far apart staves stand at least, in half staff spaces; 0 as the engraver has them
	}
	drawn struct {
		Pages   []string
		Problem string
	}
)

// child is an engraver in a process of its own.
type child struct {
	command *exec.Cmd
	orders  *gob.Encoder
	answers *gob.Decoder
	stop    context.CancelFunc
	ended   sync.Once
}

// startChild starts a process that draws. It ends with ctx.
func (p *Press) startChild(ctx context.Context) (*child, error) {
	ctx, stop := context.WithCancel(ctx)
	command := exec.CommandContext(ctx, p.process[0], p.process[1:]...)
	dieWithParent(command)
	in, err := command.StdinPipe()
	if err != nil {
		stop()
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	out, err := command.StdoutPipe()
	if err != nil {
		stop()
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	if err := command.Start(); err != nil {
		stop()
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	c := &child{command: command, orders: gob.NewEncoder(in), answers: gob.NewDecoder(out), stop: stop}
	p.mutex.Lock()
	p.children = append(p.children, c)
	p.mutex.Unlock()
	return c, nil
}

// end kills the process and waits until it is gone.
func (c *child) end() {
	c.ended.Do(func() {
		c.stop()
		_ = c.command.Wait() // it was killed: that it failed says nothing
	})
}

// drawInProcess has the worker's process draw a score, and ends the process where it takes too long or dies.
func (w *Worker) drawInProcess(ctx context.Context, o order) ([]string, error) {
	if w.child == nil {
		var err error
		if w.child, err = w.press.startChild(ctx); err != nil {
			return nil, err
		}
	}
	type reply struct {
		drawn
		err error
	}
	answered := make(chan reply, 1)
	go func(c *child) {
		var r reply
		if r.err = c.orders.Encode(o); r.err == nil {
			r.err = c.answers.Decode(&r.drawn)
		}
		answered <- r
	}(w.child)
	allowed := w.press.allowed(o)
	began, pid := time.Now(), w.child.command.Process.Pid
	before, told := worked(pid)
	// On a busy machine little of the time that passes is the engraver's: what counts is what it has worked.
	left := func() time.Duration {
		now, still := worked(pid)
		if !told || !still {
			return allowed - time.Since(began)
		}
		return min(allowed-(now-before), mostPatience*allowed-time.Since(began))
	}
	limit := time.NewTimer(allowed)
	defer limit.Stop()
	var r reply
	for waiting := true; waiting; {
		waiting = false
		select {
		case r = <-answered:
		case <-limit.C:
			if more := left(); more > 0 {
				limit.Reset(max(more, 50*time.Millisecond))
				waiting = true
				continue
			}
			r.err = fmt.Errorf("%w (after %s)", ErrTooLong, time.Since(began).Round(time.Second))
		case <-ctx.Done():
			r.err = ctx.Err()
		}
	}
	if r.err != nil {
		w.child.end()
		w.child = nil
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if errors.Is(r.err, io.EOF) || errors.Is(r.err, io.ErrUnexpectedEOF) {
			return nil, errors.New("the engraver ended without an answer")
		}
		return nil, r.err
	}
	if r.Problem != "" {
		return nil, errors.New(r.Problem)
	}
	return r.Pages, nil
}

// mostPatience is how many times the limit may pass on a machine that is busy with other things.
const mostPatience = 15

// perSecond is how many bytes of a score are surely drawn in a second; real ones take a fifth of that time.
const perSecond = 20_000

// allowed is how long drawing may take: the limit for an excerpt, more for long scores.
func (p *Press) allowed(o order) time.Duration {
	return p.limit + time.Duration(len(o.Score)/perSecond)*time.Second
}

// Serve is the other side: it draws what is ordered on in, and answers on out, until in ends. Should its parent be
// gone, it gives up by itself what takes longer than anyone waits for.
func Serve(ctx context.Context, options Options, in io.Reader, out io.Writer) error {
	runtime.GOMAXPROCS(max(2, runtime.GOMAXPROCS(0))) // the clock must go on while the engraver draws
	press, err := Open(ctx, options)
	if err != nil {
		return err
	}
	defer press.Close(context.WithoutCancel(ctx))
	worker := &Worker{press: press}
	orders, answers := gob.NewDecoder(in), gob.NewEncoder(out)
	for {
		var o order
		if err := orders.Decode(&o); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return fmt.Errorf("reading what is to be drawn: %w", err)
		}
		late := time.AfterFunc((mostPatience+1)*press.allowed(o), func() { os.Exit(2) })
		var a drawn
		a.Pages, err = worker.drawHere(ctx, o)
		late.Stop()
		if err != nil {
			a = drawn{Problem: err.Error()}
		}
		if err := answers.Encode(a); err != nil {
			return fmt.Errorf("giving a picture: %w", err)
		}
	}
}

// drawHere draws a score within this process.
func (w *Worker) drawHere(ctx context.Context, o order) ([]string, error) {
	w.width, w.apart = o.Width, o.Apart
	if err := w.Load(ctx, o.Score); err != nil {
		return nil, err
	}
	if !o.All {
		page, err := w.Page(ctx)
		return []string{page}, err
	}
	pages, err := w.current.tool(ctx, "getPageCount")
	if err != nil {
		return nil, w.failed(ctx, "counting the pages", err)
	}
	var out []string
	for k := 1; k <= int(int32(pages)); k++ {
		page, err := w.current.text(ctx, "renderToSVG", k, 0)
		if err != nil {
			return nil, w.failed(ctx, "drawing a page", err)
		}
		out = append(out, page)
	}
	return out, nil
}

// drawAnew draws a score where the press has its workers draw.
func (w *Worker) drawAnew(ctx context.Context, o order) ([]string, error) {
	if w.press.process != nil {
		return w.drawInProcess(ctx, o)
	}
	return w.drawHere(ctx, o)
}
