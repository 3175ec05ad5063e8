package pglocal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// account is the system user that the server runs as.
type account struct {
	name     string
	uid, gid uint32
	drop     bool // this process is root and hands over to name
}

// runAs returns this process's user, or user postgres when this process is
// root, because PostgreSQL refuses to run as root.
func runAs() (account, error) {
	if os.Geteuid() != 0 {
		return account{name: "this user", uid: uint32(os.Geteuid()), gid: uint32(os.Getegid())}, nil //nolint:gosec // ids are never negative on Unix
	}
	u, err := user.Lookup("postgres")
	if err != nil {
		return account{}, errors.New("PostgreSQL does not run as root, and this machine has no user postgres to run it as: " +
			"install the distribution's postgresql package, or start this as an ordinary user")
	}
	uid, err := strconv.ParseUint(u.Uid, 10, 32)
	if err != nil {
		return account{}, fmt.Errorf("id of user postgres: %w", err)
	}
	gid, err := strconv.ParseUint(u.Gid, 10, 32)
	if err != nil {
		return account{}, fmt.Errorf("group of user postgres: %w", err)
	}
	return account{name: "postgres", uid: uint32(uid), gid: uint32(gid), drop: true}, nil
}

// own hands a folder to the account.
func (a account) own(dir string) error {
	if !a.drop {
		return nil
	}
	if err := os.Chown(dir, int(a.uid), int(a.gid)); err != nil {
		return fmt.Errorf("hand folder to user %s: %w", a.name, err)
	}
	return nil
}

// reaches returns an error naming the first folder on the way to dir that the
// account may not pass through. Only root hands over to another account, so
// only then can there be one.
func (a account) reaches(dir string) error {
	if !a.drop {
		return nil
	}
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		info, err := os.Stat(at)
		if errors.Is(err, fs.ErrNotExist) && at != "/" {
			continue
		}
		if err != nil {
			return err
		}
		if !a.passes(info) {
			return fmt.Errorf("user %s, which the server runs as, may not enter %s: choose a folder elsewhere, or allow it with chmod o+x", a.name, at)
		}
		if at == "/" {
			return nil
		}
	}
}

func (a account) passes(info fs.FileInfo) bool {
	mode := info.Mode().Perm()
	st, ok := info.Sys().(*syscall.Stat_t)
	switch {
	case ok && st.Uid == a.uid:
		return mode&0o100 != 0
	case ok && st.Gid == a.gid:
		return mode&0o010 != 0
	default:
		return mode&0o001 != 0
	}
}
