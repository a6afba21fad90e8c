package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"io/fs"
	"time"
)

// packed is a file of an archive.
type packed struct {
	name string // with slashes
	data []byte
	run  bool // it is a program
}

func (p packed) mode() fs.FileMode {
	if p.run {
		return 0o755
	}
	return 0o644
}

// then is the time of all files: the first that a zip can hold, so that archives differ only where the files do.
var then = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

func zipped(files []packed) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		h := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: then}
		h.SetMode(f.mode())
		w, err := z.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

func tarred(files []packed) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	t := tar.NewWriter(z)
	for _, f := range files {
		h := &tar.Header{Typeflag: tar.TypeReg, Name: f.name, Size: int64(len(f.data)), Mode: int64(f.mode()), ModTime: then, Format: tar.FormatUSTAR}
		if err := t.WriteHeader(h); err != nil {
			return nil, err
		}
		if _, err := t.Write(f.data); err != nil {
			return nil, err
		}
	}
	if err := t.Close(); err != nil {
		return nil, err
	}
	err = z.Close()
	return b.Bytes(), err
}
