package main

import (
	"context"
	"errors"
	"time"
)

// errInterrupted is said where a verb is ended that had nothing to put back.
var errInterrupted = errors.New("interrupted")

// hold tells that something is being written which the verb looks after itself when it is interrupted, until the
// function is called that it gives.
func (a *app) hold() (release func()) {
	a.held.Add(1)
	return func() { a.held.Add(-1) }
}

const (
	// ending is how often it is looked whether an interrupted verb has ended.
	ending = 20 * time.Millisecond
	// grace is how many looks a verb that holds nothing has to end by itself, with words of its own.
	grace = 5
)

// interruptible runs work whose status it gives, and ends soon after the context is done: at once where nothing is
// held, else when that is put back.
func (a *app) interruptible(ctx context.Context, work func() int) int {
	done := make(chan int, 1)
	go func() { done <- work() }()
	select {
	case status := <-done:
		return status
	case <-ctx.Done():
	}
	tick := time.NewTicker(ending)
	defer tick.Stop()
	for free := 0; free < grace; {
		select {
		case status := <-done:
			return status
		case <-tick.C:
			if free++; a.held.Load() > 0 {
				free = 0
			}
		}
	}
	a.complain(errInterrupted)
	return exitFault
}
