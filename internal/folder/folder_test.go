package folder_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/folder"
)

var (
	hash  = strings.Repeat("0123456789abcdef", 4)
	group = uuid.MustParse("01890000-0000-7000-8000-000000000001")
	other = uuid.MustParse("01890000-0000-7000-8000-000000000002")
)

func open(t *testing.T) (*folder.Folder, string) {
	t.Helper()
	dir := t.TempDir()
	f, err := folder.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	})
	return f, dir
}

// files lists every file below a folder.
func files(t *testing.T, dir string) []string {
	t.Helper()
	var list []string
	err := fs.WalkDir(os.DirFS(dir), ".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			list = append(list, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestKeptAsItWas(t *testing.T) {
	t.Parallel()
	f, dir := open(t)
	if err := f.KeepPicture(t.Context(), group, hash, map[string][]byte{"full": []byte("large"), "small": []byte("little")}); err != nil {
		t.Fatal(err)
	}
	got, err := f.KeptPicture(t.Context(), group, hash, "small")
	if err != nil || string(got) != "little" {
		t.Errorf("small = %q, %v", got, err)
	}
	want := filepath.Join(group.String(), "01", hash+"-full.jpg")
	if list := files(t, dir); len(list) != 2 || list[0] != want {
		t.Errorf("files = %v, want %s and one more", list, want)
	}
	if info, err := os.Stat(filepath.Join(dir, want)); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("rights = %v, %v, want only the owner's", info.Mode(), err)
	}
	// What is kept under a hash stays.
	if err := f.KeepPicture(t.Context(), group, hash, map[string][]byte{"small": []byte("other")}); err != nil {
		t.Fatal(err)
	}
	if got, err := f.KeptPicture(t.Context(), group, hash, "small"); err != nil || string(got) != "little" {
		t.Errorf("small after another came = %q, %v", got, err)
	}
}

func TestGroupsAreApart(t *testing.T) {
	t.Parallel()
	f, _ := open(t)
	if err := f.KeepPicture(t.Context(), group, hash, map[string][]byte{"small": {1}}); err != nil {
		t.Fatal(err)
	}
	if _, err := f.KeptPicture(t.Context(), other, hash, "small"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("another group: %v, want not found", err)
	}
	if _, err := f.KeptPicture(t.Context(), group, hash, "full"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a size that was never kept: %v, want not found", err)
	}
}

// Many at once leave whole files and nothing else.
func TestKeepAtOnce(t *testing.T) {
	t.Parallel()
	f, dir := open(t)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if err := f.KeepPicture(t.Context(), group, hash, map[string][]byte{"small": []byte("little")}); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if list := files(t, dir); len(list) != 1 {
		t.Errorf("files = %v, want one", list)
	}
}

func TestNamesCannotLeaveTheFolder(t *testing.T) {
	t.Parallel()
	f, dir := open(t)
	for _, c := range [][2]string{{"../../x", "small"}, {hash, "../x"}, {strings.ToUpper(hash), "small"}, {"", ""}} {
		if err := f.KeepPicture(t.Context(), group, c[0], map[string][]byte{c[1]: {1}}); err == nil {
			t.Errorf("hash %q, size %q was kept", c[0], c[1])
		}
		if _, err := f.KeptPicture(t.Context(), group, c[0], c[1]); err == nil {
			t.Errorf("hash %q, size %q was read", c[0], c[1])
		}
	}
	if list := files(t, dir); len(list) != 0 {
		t.Errorf("files = %v, want none", list)
	}
	// A link that leads out is not followed.
	out := t.TempDir()
	if err := os.Symlink(out, filepath.Join(dir, group.String())); err != nil {
		t.Fatal(err)
	}
	if err := f.KeepPicture(t.Context(), group, hash, map[string][]byte{"small": {1}}); err == nil || len(files(t, out)) > 0 {
		t.Errorf("through a link: %v, outside: %v", err, files(t, out))
	}
}

func TestOpenRejects(t *testing.T) {
	t.Parallel()
	if _, err := folder.Open(filepath.Join(t.TempDir(), "missing")); err == nil || !strings.Contains(err.Error(), "folder for pictures") {
		t.Errorf("a folder that is not there: %v", err)
	}
}
