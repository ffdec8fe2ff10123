package storage

import "testing"

// Source of the numbers: linux/magic.h.
func TestRemoteKinds(t *testing.T) {
	for magic, want := range map[uint32]string{
		0x6969: "nfs", 0xFF534D42: "cifs", 0xFE534D42: "smb", 0x01021997: "9p", 0x5346414F: "afs",
		0xEF53: "", 0x01021994: "", 0x9123683E: "", 0x58465342: "", // ext4, tmpfs, btrfs, xfs
	} {
		if got := remoteKinds[magic]; got != want {
			t.Errorf("%#x: %q, want %q", magic, got, want)
		}
	}
	if got := remoteKind("/proc"); got != "" {
		t.Errorf("/proc lies on %q", got)
	}
}
