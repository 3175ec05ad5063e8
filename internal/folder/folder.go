// Package folder keeps pictures as files in a folder of the machine. It asks
// nobody for permission and knows no register: whoever calls it has checked
// that the group is theirs.
//
// A file is written beside its place, brought safely to the disk and only then
// given its name, so that a name always stands for a whole picture. Nothing is
// changed or taken away.
package folder

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
)

// Folder keeps pictures under one folder. Make one with Open. It is safe for
// use by several goroutines and processes.
type Folder struct{ root *os.Root }

// Open returns the folder dir, which must be there and be writable. Nothing
// outside of it is ever touched, whatever links lie in it.
func Open(dir string) (*Folder, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("open the folder for pictures: %w", err)
	}
	f := &Folder{root}
	const probe = ".writable"
	if err := errors.Join(f.write(probe, nil), root.Remove(probe)); err != nil {
		return nil, errors.Join(fmt.Errorf("write to the folder for pictures: %w", err), root.Close())
	}
	return f, nil
}

// Close lets go of the folder.
func (f *Folder) Close() error { return f.root.Close() }

// Rights of what is made here: pictures of private land and caves are nobody
// else's business.
const (
	folderRights = 0o700
	fileRights   = 0o600
)

var (
	hashForm = regexp.MustCompile(`^[0-9a-f]{64}$`)
	sizeForm = regexp.MustCompile(`^[a-z]{1,20}$`)
)

// path is <group>/<first two digits of the hash>/<hash>-<size>.jpg.
func path(group uuid.UUID, hash, size string) (string, error) {
	if !hashForm.MatchString(hash) || !sizeForm.MatchString(size) {
		return "", fault.New(fault.Internal, "no place for picture %q of size %q", hash, size)
	}
	return filepath.Join(group.String(), hash[:2], hash+"-"+size+".jpg"), nil
}

// KeepPicture keeps what a picture is made of, by size; what is kept already
// stays as it is.
func (f *Folder) KeepPicture(_ context.Context, group uuid.UUID, hash string, sizes map[string][]byte) error {
	for _, size := range slices.Sorted(maps.Keys(sizes)) {
		name, err := path(group, hash, size)
		if err != nil {
			return err
		}
		if _, err := f.root.Stat(name); err == nil {
			continue
		}
		if err := f.keep(name, sizes[size]); err != nil {
			return fault.Wrap(fault.Internal, err, "keep picture in the folder")
		}
	}
	return nil
}

// keep writes a file under another name and then gives it its own.
func (f *Folder) keep(name string, data []byte) error {
	dir := filepath.Dir(name)
	if err := f.root.MkdirAll(dir, folderRights); err != nil {
		return err
	}
	part := name + "." + uuid.NewString() + ".part"
	if err := f.write(part, data); err != nil {
		return errors.Join(err, f.root.Remove(part))
	}
	if err := f.root.Rename(part, name); err != nil {
		return errors.Join(err, f.root.Remove(part))
	}
	for _, d := range []string{dir, filepath.Dir(dir), "."} {
		if err := f.settle(d); err != nil {
			return err
		}
	}
	return nil
}

// write makes a new file and waits until the disk has it.
func (f *Folder) write(name string, data []byte) error {
	file, err := f.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, fileRights)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	return errors.Join(err, file.Sync(), file.Close())
}

// settle waits until the disk has the names in a folder.
func (f *Folder) settle(dir string) error {
	d, err := f.root.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// HasPicture says whether all of the sizes are kept.
func (f *Folder) HasPicture(_ context.Context, group uuid.UUID, hash string, sizes []string) (bool, error) {
	for _, size := range sizes {
		name, err := path(group, hash, size)
		if err != nil {
			return false, err
		}
		switch _, err := f.root.Stat(name); {
		case errors.Is(err, fs.ErrNotExist):
			return false, nil
		case err != nil:
			return false, fault.Wrap(fault.Internal, err, "look for picture in the folder")
		}
	}
	return true, nil
}

// KeptPicture returns one size of a picture, or fault.NotFound.
func (f *Folder) KeptPicture(_ context.Context, group uuid.UUID, hash, size string) ([]byte, error) {
	name, err := path(group, hash, size)
	if err != nil {
		return nil, err
	}
	data, err := f.root.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fault.Wrap(fault.NotFound, err, "read picture from the folder")
	case err != nil:
		return nil, fault.Wrap(fault.Internal, err, "read picture from the folder")
	}
	return data, nil
}
