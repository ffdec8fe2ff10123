//go:build !linux

package storage

// remoteKind is not known on this system.
func remoteKind(string) string { return "" }
