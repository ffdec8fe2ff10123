package schedule

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// handful is how many chores are worth another processor's while, and are taken by it at a time.
const handful = 8

// abreast does something for each of n numbers from 0 on, on as many processors as there are. What it does for one may
// not depend on another.
func abreast(n int, do func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n/handful)
	if workers < 2 {
		for i := range n {
			do(i)
		}
		return
	}
	var taken atomic.Int64
	var all sync.WaitGroup
	for range workers {
		all.Go(func() {
			for {
				end := int(taken.Add(handful))
				for i := end - handful; i < min(end, n); i++ {
					do(i)
				}
				if end >= n {
					return
				}
			}
		})
	}
	all.Wait()
}
