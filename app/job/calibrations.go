package job

import (
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"spindlestick/profile/view"
	"spindlestick/profile/whole"
)

// Calibrations are the measured cameras: one file for each camera, picture size and lens, in a folder of their own. The zero
// value holds none.
type Calibrations struct {
	// Folder is where the files stand; it is made when needed. Empty = nothing is kept.
	Folder string
}

const (
	calibrationFormat  = "spindlestick-camera"
	calibrationVersion = 1
	calibrationEnding  = ".json"
	// maxCalibration bounds what is read of a file, bytes: what Save writes is under a thousand.
	maxCalibration = 64 << 10
	// maxNameStem keeps names under the 255 bytes that file systems take, with all that follows.
	maxNameStem = 80
)

// ErrCalibrationFile is wrapped by every error about the content of a camera's file.
var ErrCalibrationFile = errors.New("the camera's file cannot be used")

// calibrationFile is what a file holds.
type calibrationFile struct {
	Format  string           `json:"format"`
	Version int              `json:"version"`
	Camera  view.Calibration `json:"camera"`
}

// List returns the cameras, in the order of their names. Files that cannot be used are passed over; the error, which may come
// beside cameras, says which and why.
func (c Calibrations) List() ([]view.Calibration, error) {
	paths, err := c.files()
	if err != nil {
		return nil, fmt.Errorf("look for measured cameras: %w", err)
	}
	var all []view.Calibration
	var faults []error
	for _, path := range paths {
		v, err := openCalibration(path)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		all = append(all, v)
	}
	return all, errors.Join(faults...)
}

// files are the paths that may hold cameras.
func (c Calibrations) files() ([]string, error) {
	if c.Folder == "" {
		return nil, nil
	}
	entries, err := os.ReadDir(c.Folder)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	var paths []string
	for _, e := range entries {
		if e.Type().IsRegular() && filepath.Ext(e.Name()) == calibrationEnding {
			paths = append(paths, filepath.Join(c.Folder, e.Name()))
		}
	}
	return paths, err
}

// Find returns the calibration of the camera that took the photograph, the newest of several; nil when there is none.
func (c Calibrations) Find(s view.Sighting) *view.Calibration {
	all, _ := c.List() // a damaged file of another camera is no reason to fail; List tells of it
	var best *view.Calibration
	for _, v := range all {
		if v.Matches(s) && (best == nil || v.Date > best.Date) {
			best = &v
		}
	}
	return best
}

// Save keeps a calibration, in place of the one of the same camera, size and lens.
func (c Calibrations) Save(v view.Calibration) error {
	if err := v.Check(); err != nil {
		return err
	}
	if c.Folder == "" {
		return errors.New("keep the camera's calibration: there is no folder for it")
	}
	if err := os.MkdirAll(c.Folder, 0o700); err != nil {
		return fmt.Errorf("keep the camera's calibration: %w", err)
	}
	return whole.WriteFile(c.path(v), func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(calibrationFile{calibrationFormat, calibrationVersion, v})
	})
}

// Remove forgets the calibrations of the camera, size and lens of v, whatever their files are called.
func (c Calibrations) Remove(v view.Calibration) error {
	paths, err := c.files()
	if err != nil {
		return fmt.Errorf("forget the camera: %w", err)
	}
	key := calibrationKey(v)
	for _, path := range paths {
		if kept, err := openCalibration(path); err != nil || calibrationKey(kept) != key {
			continue
		}
		if err := os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
			return fmt.Errorf("forget the camera: %w", err)
		}
	}
	return nil
}

func (c Calibrations) path(v view.Calibration) string {
	return filepath.Join(c.Folder, calibrationName(v)+calibrationEnding)
}

// calibrationKey tells cameras, sizes and lenses apart as Matches does.
func calibrationKey(v view.Calibration) string {
	wide, high := max(v.Width, v.Height), min(v.Width, v.Height)
	return strings.ToLower(fmt.Sprintf("%s\x00%s\x00%dx%d\x00%.0f", v.Make, v.Model, wide, high, v.Focal35))
}

// calibrationName is a file name of letters, digits and hyphens that people can read, made unique by the key's hash.
func calibrationName(v view.Calibration) string {
	words := strings.FieldsFunc(strings.ToLower(v.Make+" "+v.Model), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	})
	stem := strings.Join(slices.Compact(words), "-")
	if len(stem) > maxNameStem {
		stem = stem[:maxNameStem]
	}
	if stem == "" {
		stem = "camera"
	}
	h := fnv.New32a()
	_, _ = h.Write([]byte(calibrationKey(v))) // a hash takes anything
	return fmt.Sprintf("%s-%dx%d-%08x", stem, v.Width, v.Height, h.Sum32())
}

func openCalibration(path string) (view.Calibration, error) {
	f, err := os.Open(path)
	if err != nil {
		return view.Calibration{}, err
	}
	defer f.Close()
	v, err := ReadCalibration(f)
	if err != nil {
		return v, fmt.Errorf("%s: %w", path, err)
	}
	return v, nil
}

// ReadCalibration reads a camera's file.
func ReadCalibration(r io.Reader) (view.Calibration, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxCalibration+1))
	if err != nil {
		return view.Calibration{}, fmt.Errorf("%w: %w", ErrCalibrationFile, err)
	}
	if len(data) > maxCalibration {
		return view.Calibration{}, fmt.Errorf("%w: it is longer than %d kB", ErrCalibrationFile, maxCalibration>>10)
	}
	var f calibrationFile
	if err := json.Unmarshal(data, &f); err != nil {
		return view.Calibration{}, fmt.Errorf("%w: it does not read (%v): measure the camera again", ErrCalibrationFile, err)
	}
	if f.Format != calibrationFormat || f.Version < 1 || f.Version > calibrationVersion {
		return view.Calibration{}, fmt.Errorf("%w: it says format %q version %d, this program reads %q version %d: use a newer program", ErrCalibrationFile, f.Format, f.Version, calibrationFormat, calibrationVersion)
	}
	if err := f.Camera.Check(); err != nil {
		return view.Calibration{}, fmt.Errorf("%w: %w", ErrCalibrationFile, err)
	}
	return f.Camera, nil
}
