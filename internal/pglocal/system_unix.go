//go:build unix && !linux

package pglocal

import "syscall"

// locale is the one locale that every system has; the encoding is UTF-8 still.
const locale = "C"

// signalOnDeath does nothing: only Linux can tie a child's life to its parent's.
func signalOnDeath(*syscall.SysProcAttr, syscall.Signal) {}
