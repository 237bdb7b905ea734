package server

import (
	"errors"
	"sync"
	"time"

	"golang.org/x/time/rate"
)

var errTooMany = errors.New("too many requests")

const limiterKeys = 10_000 // more than this many at once and the idle ones are forgotten

// A limiter lets each key do something so often and no more. Idle keys are forgotten.
type limiter struct {
	mu    sync.Mutex
	every time.Duration
	burst int
	keys  map[string]*rate.Limiter
}

func newLimiter(every time.Duration, burst int) *limiter {
	return &limiter{every: every, burst: burst, keys: map[string]*rate.Limiter{}}
}

// allow spends one turn of the key, or returns errTooMany.
func (l *limiter) allow(key string) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.keys) >= limiterKeys {
		l.forgetIdle()
	}
	r, ok := l.keys[key]
	if !ok {
		r = rate.NewLimiter(rate.Every(l.every), l.burst)
		l.keys[key] = r
	}
	if !r.Allow() {
		return errTooMany
	}
	return nil
}

func (l *limiter) forgetIdle() {
	for k, r := range l.keys {
		if r.Tokens() >= float64(l.burst) {
			delete(l.keys, k)
		}
	}
	if len(l.keys) >= limiterKeys { // a flood of keys: start again rather than grow
		clear(l.keys)
	}
}
