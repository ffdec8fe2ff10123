package storage

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// tryLock takes the lock of a file if nobody holds it: the same last byte of the range
// that bbolt locks, so that both exclude one another.
func tryLock(f *os.File, exclusive bool) (taken bool, err error) {
	flags := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if exclusive {
		flags |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	const last = 1<<32 - 1
	at := &windows.Overlapped{Offset: last, OffsetHigh: last}
	err = windows.LockFileEx(windows.Handle(f.Fd()), flags, 0, 1, 0, at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return false, nil
	}
	return err == nil, err
}

// openPlain opens a file that is there.
func openPlain(path string, flags int) (*os.File, error) { return os.OpenFile(path, flags, 0) }

// identityOf tells a file that was looked at from every other, whatever it is called.
func identityOf(path string, _ os.FileInfo) (device, inode uint64, err error) {
	f, err := os.Open(path)
	if err != nil {
		return 0, 0, err
	}
	defer f.Close()
	var info windows.ByHandleFileInformation
	if err := windows.GetFileInformationByHandle(windows.Handle(f.Fd()), &info); err != nil {
		return 0, 0, err
	}
	return uint64(info.VolumeSerialNumber), uint64(info.FileIndexHigh)<<32 | uint64(info.FileIndexLow), nil
}

// diskFull tells whether an error is that of a disk or a quota with no room left.
func diskFull(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL) || errors.Is(err, windows.ERROR_DISK_QUOTA_EXCEEDED)
}

// belongAs has nothing to do here: a new file takes its rights from its folder.
func belongAs(string, os.FileInfo) error { return nil }

// syncFolder has nothing to do here: the system keeps names durable by itself and
// refuses to flush a folder.
func syncFolder(string) error { return nil }
