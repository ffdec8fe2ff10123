//go:build unix

package storage

import (
	"errors"
	"fmt"
	"os"
	"syscall"
)

// tryLock takes the lock of a file if nobody holds it.
func tryLock(f *os.File, exclusive bool) (taken bool, err error) {
	how := syscall.LOCK_SH
	if exclusive {
		how = syscall.LOCK_EX
	}
	err = syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}

// openPlain opens a file that is there, without registering it with the runtime's poller
// as os.OpenFile does: a file on a disk is never waited for, and each call costs. Nor is it
// waited for when it has just become a pipe: the call that opens it returns.
func openPlain(path string, flags int) (*os.File, error) {
	for {
		fd, err := syscall.Open(path, flags|syscall.O_CLOEXEC|syscall.O_NONBLOCK, 0)
		switch {
		case err == nil:
			if err := syscall.SetNonblock(fd, false); err != nil {
				syscall.Close(fd)
				return nil, &os.PathError{Op: "open", Path: path, Err: err}
			}
			return os.NewFile(uintptr(fd), path), nil
		case !errors.Is(err, syscall.EINTR):
			return nil, &os.PathError{Op: "open", Path: path, Err: err}
		}
	}
}

// identityOf tells a file that was looked at from every other, whatever it is called.
func identityOf(path string, info os.FileInfo) (device, inode uint64, err error) {
	stat, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, 0, fmt.Errorf("telling %s from other files is not possible on this system", path)
	}
	return uint64(stat.Dev), uint64(stat.Ino), nil
}

// diskFull tells whether an error is that of a disk, a quota or a limit with no room left.
func diskFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG)
}

// belongAs gives a file the owner, the group and the mode of another, or what of it may be
// given. Where the group may not, nobody of the group it has instead gets in.
func belongAs(path string, other os.FileInfo) error {
	mode := other.Mode().Perm()
	stat, ok := other.Sys().(*syscall.Stat_t)
	if ok && os.Chown(path, int(stat.Uid), int(stat.Gid)) != nil && os.Chown(path, -1, int(stat.Gid)) != nil {
		mode &^= 0o070
	}
	return os.Chmod(path, mode)
}

// syncFolder makes a new or renamed name in a folder durable.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
