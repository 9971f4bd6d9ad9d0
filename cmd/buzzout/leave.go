package main

import (
	"os"
	"os/signal"
	"syscall"

	"buzzout/cmd/internal/shell"
)

// leaveTidily gives the terminal back when the process is told to end, or its
// terminal goes away, while a line is being typed; then it ends as it would
// have. stop undoes that.
func leaveTidily(restore func()) (stop func()) {
	told := make(chan os.Signal, 1)
	done := make(chan struct{})
	signal.Notify(told, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		select {
		case <-done:
		case s := <-told:
			restore()
			signal.Reset(s)
			if self, err := os.FindProcess(os.Getpid()); err != nil || self.Signal(s) != nil {
				os.Exit(int(shell.Broken)) // where a process cannot signal itself
			}
		}
	}()
	return func() {
		signal.Stop(told)
		close(done)
	}
}
