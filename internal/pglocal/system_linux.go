package pglocal

import "syscall"

// locale is the C locale that knows UTF-8; every glibc and musl has it.
const locale = "C.UTF-8"

// signalOnDeath asks the kernel to send s when the thread that forks is gone.
func signalOnDeath(attr *syscall.SysProcAttr, s syscall.Signal) { attr.Pdeathsig = s }
