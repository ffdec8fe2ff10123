package storage

import "golang.org/x/sys/unix"

// remoteKinds are file systems of other machines, by the number statfs gives for them.
// Source: linux/magic.h.
var remoteKinds = map[uint32]string{
	unix.NFS_SUPER_MAGIC:  "nfs",
	unix.SMB_SUPER_MAGIC:  "smb",
	unix.SMB2_SUPER_MAGIC: "smb",
	unix.CIFS_SUPER_MAGIC: "cifs",
	unix.V9FS_MAGIC:       "9p",
	unix.AFS_SUPER_MAGIC:  "afs",
	unix.CODA_SUPER_MAGIC: "coda",
	unix.NCP_SUPER_MAGIC:  "ncp",
	unix.CEPH_SUPER_MAGIC: "ceph",
	unix.FUSE_SUPER_MAGIC: "fuse, most often of another machine",
}

// remoteKind names the network file system a folder lies on, "" when it is a local one.
func remoteKind(dir string) string {
	var fs unix.Statfs_t
	if err := unix.Statfs(dir, &fs); err != nil {
		return ""
	}
	return remoteKinds[uint32(fs.Type)] // wider on some machines, and signed on others
}
