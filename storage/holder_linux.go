package storage

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"syscall"
)

// holder is the process that holds the lock of a file, 0 when it can't be told.
func holder(f *os.File) (pid int) {
	info, err := f.Stat()
	if err != nil {
		return 0
	}
	stat, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0
	}
	locks, err := os.Open("/proc/locks")
	if err != nil {
		return 0
	}
	defer locks.Close()
	inode := fmt.Sprintf(":%d", stat.Ino)
	for lines := bufio.NewScanner(locks); lines.Scan(); {
		// 1: FLOCK  ADVISORY  WRITE 4711 fe:00:1234 0 EOF
		fields := strings.Fields(lines.Text())
		if len(fields) < 6 || fields[1] != "FLOCK" || !strings.HasSuffix(fields[5], inode) {
			continue
		}
		if _, err := fmt.Sscan(fields[4], &pid); err == nil && pid > 0 {
			return pid
		}
	}
	return 0
}
