// Package config is what a keeper may set once for all books and windows on a machine:
// config.toml, in the folder that the desktop's base directories name.
//
// Start at Load. A Config holds the defaults where the file is silent; what is wrong
// with a file is said in one line with the key, the line and what is accepted. There is
// one table of settings (settings.go): reading, showing and the commented template are
// all made from it, so that none of them can know less than the others.
package config
