package main

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"spindlestick/app/job"
)

// parcel is one photograph of several: what goes into its files and what came out.
type parcel struct {
	photo string
	out   outputs

	job        job.Job // without its photograph, which is not kept
	err        error
	said, note bytes.Buffer // for standard output and standard error
	done       chan struct{}
}

// batch traces several photographs on all cores. Each one's table appears in the order named, a failed one does not
// stop the rest, and a summary stands at the end.
func (c traceCmd) batch(env environment) error {
	photos, err := expand(c.Photos)
	if err != nil {
		return err
	}
	parcels, err := c.parcels(photos)
	if err != nil {
		return err
	}
	go c.dispatch(env, parcels)
	for _, p := range parcels {
		<-p.done
		fmt.Fprintf(env.stdout, "%s\n%s\n", p.photo, p.said.Bytes())
		fmt.Fprint(env.stderr, p.notes())
	}
	if err := env.ctx.Err(); err != nil {
		return fmt.Errorf("stopped: %w", err)
	}
	if err := printSummary(env.stdout, parcels); err != nil {
		return err
	}
	if n := failures(parcels); n > 0 {
		return fmt.Errorf("%d of %d photographs could not be traced: their reasons stand above", n, len(parcels))
	}
	return nil
}

// notes are a photograph's lines for standard error, each under its name.
func (p *parcel) notes() string {
	var b strings.Builder
	for line := range strings.Lines(p.note.String()) {
		fmt.Fprintf(&b, "%s: %s\n", filepath.Base(p.photo), strings.TrimSpace(line))
	}
	if p.err != nil {
		fmt.Fprintf(&b, "%s: %v\n", filepath.Base(p.photo), p.err)
	}
	return b.String()
}

// dispatch starts the photographs in order, as cores and pixels allow.
func (c traceCmd) dispatch(env environment, parcels []*parcel) {
	g := newGate(runtime.GOMAXPROCS(0), pixelBudget)
	for _, p := range parcels {
		n := pixels(p.photo)
		g.enter(n)
		go func() {
			defer g.leave(n)
			defer close(p.done)
			c.handle(env, p)
		}()
	}
}

// handle traces one photograph. A fault of the program in one of them is that one's failure, not the end of all.
func (c traceCmd) handle(env environment, p *parcel) {
	defer func() {
		if fault := recover(); fault != nil {
			p.err = fmt.Errorf("a fault of the program, please report it: %v\n%s", fault, debug.Stack())
		}
	}()
	if p.err = env.ctx.Err(); p.err != nil {
		return
	}
	env.stdout, env.stderr = &p.said, &p.note
	p.job, p.err = c.one(env, p.photo, p.out)
	p.job.Photo = nil
}

// parcels names every photograph's files, and makes their folders.
func (c traceCmd) parcels(photos []string) ([]*parcel, error) {
	var all []*parcel
	from := map[string]string{}
	for _, photo := range photos {
		p := &parcel{photo: photo, out: c.outputsIn(photo), done: make(chan struct{})}
		for _, path := range p.out.paths() {
			key := strings.ToLower(path) // some file systems take both for one
			if other, taken := from[key]; taken {
				return nil, fmt.Errorf("%s and %s would both be written as %s: rename one, or trace them apart", other, photo, path)
			}
			from[key] = photo
		}
		all = append(all, p)
	}
	for _, folder := range []string{c.CSV, c.Trace, c.Pattern, c.Job} {
		if folder == "" {
			continue
		}
		if err := os.MkdirAll(folder, 0o777); err != nil {
			return nil, fmt.Errorf("of several photographs the outputs are folders: %w", err)
		}
	}
	return all, nil
}

// outputsIn takes the flags as folders and names the photograph's files in them.
func (c traceCmd) outputsIn(photo string) outputs {
	base := strings.TrimSuffix(filepath.Base(photo), filepath.Ext(photo))
	in := func(folder, ending string) string {
		if folder == "" {
			return ""
		}
		return filepath.Join(folder, base+ending)
	}
	return outputs{in(c.CSV, ".csv"), in(c.Trace, ".trace.csv"), in(c.Pattern, ".json"), in(c.Job, job.Extension)}
}

// paths are the files that are asked for.
func (o outputs) paths() []string {
	return slices.DeleteFunc([]string{o.csv, o.trace, o.pattern, o.job}, func(s string) bool { return s == "" })
}

// expand puts the photographs of a folder in its place, by name.
func expand(paths []string) ([]string, error) {
	var out []string
	for _, path := range paths {
		if !isFolder(path) {
			out = append(out, path)
			continue
		}
		entries, err := os.ReadDir(path)
		if err != nil {
			return nil, fmt.Errorf("look into the folder: %w", err)
		}
		n := len(out)
		for _, e := range entries {
			if !e.IsDir() && slices.Contains(photoEndings(), strings.ToLower(filepath.Ext(e.Name()))) {
				out = append(out, filepath.Join(path, e.Name()))
			}
		}
		if len(out) == n {
			return nil, fmt.Errorf("the folder %s holds no photographs (%s)", path, strings.Join(photoEndings(), ", "))
		}
	}
	return out, nil
}

// photoEndings are the names' endings by which a folder's photographs are told.
func photoEndings() []string {
	return []string{".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".heic", ".heif"}
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// pixelBudget is how many pixels are in work at once: as many as the largest photograph that is taken has, so that
// several need no more memory than one may.
const pixelBudget = 120_000_000

// pixels is a photograph's size by its head, the formats' readers being vision's; the whole budget where it does not say.
func pixels(path string) int {
	f, err := os.Open(path)
	if err != nil {
		return 0 // there is nothing to decode
	}
	defer f.Close()
	cfg, _, err := image.DecodeConfig(f)
	if err != nil || cfg.Width <= 0 || cfg.Height <= 0 || cfg.Width > pixelBudget/cfg.Height {
		return pixelBudget
	}
	return cfg.Width * cfg.Height
}

// gate lets work in as long as there is room for it.
type gate struct {
	mu           sync.Mutex
	freed        sync.Cond
	seats, units int
}

func newGate(seats, units int) *gate {
	g := &gate{seats: seats, units: units}
	g.freed.L = &g.mu
	return g
}

// enter waits for a seat and n units.
func (g *gate) enter(n int) {
	g.mu.Lock()
	defer g.mu.Unlock()
	for g.seats == 0 || g.units < n {
		g.freed.Wait()
	}
	g.seats--
	g.units -= n
}

func (g *gate) leave(n int) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.seats++
	g.units += n
	g.freed.Broadcast()
}

func failures(parcels []*parcel) int {
	n := 0
	for _, p := range parcels {
		if p.err != nil {
			n++
		}
	}
	return n
}
