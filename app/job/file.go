package job

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"spindlestick/profile"
	"spindlestick/profile/check"
	"spindlestick/profile/view"
	"spindlestick/profile/whole"
)

// Extension ends the name of every job file: a zip archive with the entries below.
const Extension = ".turning"

const (
	format      = "spindlestick-job"
	fileVersion = 1

	bodyEntry    = "job.json"
	patternEntry = "pattern.json"
	copiesEntry  = "copies.json" // none where there are no copies
	photoEntry   = "photo"       // the entry's name; the photograph's own name stands in the body

	// maxEntry bounds what one entry may unpack to, bytes: photographs are refused above 120 megapixels, whose
	// files stay under this, and an archive that claims more is damaged or hostile.
	maxEntry = 512 << 20
)

// ErrFile is wrapped by every error about the content of a job file.
var ErrFile = errors.New("the job file cannot be used")

// body is job.json. The pattern has an entry of its own so that other programs find it.
type body struct {
	Format      string           `json:"format"`
	Version     int              `json:"version"`
	Title       string           `json:"title,omitempty"`
	Note        string           `json:"note,omitempty"`
	PhotoName   string           `json:"photoName,omitempty"`
	Hints       view.Hints       `json:"hints"`
	Sighting    view.Sighting    `json:"sighting"`
	Measurement view.Measurement `json:"measurement"`
	Rounding    profile.Rounding `json:"rounding,omitempty"`
}

// Save writes the job whole or not at all.
func Save(path string, j Job) error {
	err := whole.WriteFile(path, func(w io.Writer) error { return Write(w, j) })
	if err != nil {
		return fmt.Errorf("save the job as %s: %w", path, err)
	}
	return nil
}

// Write writes the job's archive.
func Write(w io.Writer, j Job) error {
	z := zip.NewWriter(w)
	b := body{format, fileVersion, j.Title, j.Note, j.PhotoName, j.Hints, j.Sighting, j.Measurement, j.Rounding}
	entry, err := z.Create(bodyEntry)
	if err != nil {
		return err
	}
	if err := json.NewEncoder(entry).Encode(b); err != nil {
		return err
	}
	if j.Traced() {
		if entry, err = z.Create(patternEntry); err != nil {
			return err
		}
		if err := profile.WritePattern(entry, j.Pattern); err != nil {
			return err
		}
	}
	if !j.Copies.Empty() {
		if entry, err = z.Create(copiesEntry); err != nil {
			return err
		}
		if err := check.WriteSet(entry, j.Copies); err != nil {
			return err
		}
	}
	if len(j.Photo) > 0 {
		// Photographs are compressed already.
		if entry, err = z.CreateHeader(&zip.FileHeader{Name: photoEntry, Method: zip.Store}); err != nil {
			return err
		}
		if _, err := entry.Write(j.Photo); err != nil {
			return err
		}
	}
	return z.Close()
}

// Open reads a job file, or a pattern file as a job without a photograph.
func Open(path string) (Job, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return Job{}, fmt.Errorf("open the job: %w", err)
	}
	var j Job
	if IsJob(data) {
		j, err = Read(data)
	} else {
		j.Pattern, err = profile.ReadPattern(bytes.NewReader(data))
	}
	if err != nil {
		return Job{}, fmt.Errorf("open %s: %w", path, err)
	}
	if j.Title == "" {
		j.Title = titleOf(path)
	}
	return j, nil
}

// IsJob reports whether data begins as a job file does (as a zip archive).
func IsJob(data []byte) bool { return bytes.HasPrefix(data, []byte("PK\x03\x04")) }

// Read reads a job's archive. Entries that are not of this format are passed over.
func Read(data []byte) (Job, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return Job{}, fmt.Errorf("%w: it is not a whole archive (%v): it was cut short or damaged on its way, take another copy", ErrFile, err)
	}
	raw, err := unpack(z, bodyEntry)
	if err != nil {
		return Job{}, err
	}
	var b body
	if err := json.Unmarshal(raw, &b); err != nil {
		return Job{}, fmt.Errorf("%w: %s does not read: %v", ErrFile, bodyEntry, err)
	}
	if b.Format != format || b.Version < 1 || b.Version > fileVersion {
		return Job{}, fmt.Errorf("%w: it says format %q version %d, this program reads %q version %d: use a newer program", ErrFile, b.Format, b.Version, format, fileVersion)
	}
	j := Job{Title: b.Title, Note: b.Note, Hints: b.Hints, Sighting: b.Sighting, Measurement: b.Measurement}
	if b.PhotoName != "" {
		j.PhotoName = filepath.Base(b.PhotoName)
	}
	if j.Rounding, err = profile.ParseRounding(string(b.Rounding)); err != nil {
		return Job{}, fmt.Errorf("%w: %w", ErrFile, err)
	}
	return j, j.unpackRest(z)
}

func (j *Job) unpackRest(z *zip.Reader) error {
	if has(z, photoEntry) {
		photo, err := unpack(z, photoEntry)
		if err != nil {
			return err
		}
		j.Photo = photo
	}
	if has(z, copiesEntry) {
		raw, err := unpack(z, copiesEntry)
		if err != nil {
			return err
		}
		if j.Copies, err = check.ReadSet(bytes.NewReader(raw)); err != nil {
			return fmt.Errorf("%w: %w", ErrFile, err)
		}
	}
	if !has(z, patternEntry) {
		return nil
	}
	raw, err := unpack(z, patternEntry)
	if err != nil {
		return err
	}
	if j.Pattern, err = profile.ReadPattern(bytes.NewReader(raw)); err != nil {
		return fmt.Errorf("%w: %w", ErrFile, err)
	}
	j.read()
	return nil
}

func has(z *zip.Reader, name string) bool {
	for _, f := range z.File {
		if f.Name == name {
			return true
		}
	}
	return false
}

// unpack reads one entry. The archive's own word for its size is not believed.
func unpack(z *zip.Reader, name string) ([]byte, error) {
	f, err := z.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%w: it has no %s", ErrFile, name)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxEntry+1))
	if err != nil {
		return nil, fmt.Errorf("%w: %s is damaged (%v)", ErrFile, name, err)
	}
	if len(data) > maxEntry {
		return nil, fmt.Errorf("%w: %s unpacks to more than %d MB", ErrFile, name, maxEntry>>20)
	}
	return data, nil
}
