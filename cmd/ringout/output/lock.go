package output

import (
	"errors"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"
)

// ErrHeld says that another run holds a lock.
var ErrHeld = errors.New("another run holds it")

// LockOf is the name of the lock of a file, hidden beside it.
func LockOf(name string) string {
	return filepath.Join(filepath.Dir(name), "."+filepath.Base(name)+lockSuffix)
}

// Lock makes a file, if need be, and takes the lock on it, or fails with
// ErrHeld. The lock ends with the process, however that ends.
func Lock(name string) (*flock.Flock, error) {
	for {
		lock := flock.New(name, flock.SetPermissions(0o666))
		switch ok, err := lock.TryLock(); {
		case err != nil:
			return nil, err
		case !ok:
			lock.Close()
			return nil, ErrHeld
		}
		// Who let go in between has removed the file: this lock is then on one that
		// nobody else can find.
		mine, err := lock.Stat()
		found, e := os.Stat(name)
		if err == nil && e == nil && os.SameFile(mine, found) {
			return lock, nil
		}
		lock.Close()
	}
}

// Unlock removes the file of a lock and lets go of it.
func Unlock(lock *flock.Flock) {
	err := os.Remove(lock.Path())
	lock.Close()
	if err != nil { // some systems remove no file that is open
		os.Remove(lock.Path())
	}
}
