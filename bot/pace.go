package bot

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"time"

	"golang.org/x/time/rate"
)

// How much Telegram takes, by its documentation: about 30 messages a second in all, and in one chat one a
// second, with short bursts.
const (
	perSecond = 28
	inARow    = 3
	mostPaced = 1000 // chats remembered before the idle ones are forgotten
)

// A pace keeps sending within those limits. A second is one beat.
type pace struct {
	beat  time.Duration
	all   *rate.Limiter
	chats map[string]*rate.Limiter
}

func newPace(beat time.Duration) *pace {
	return &pace{beat: beat, all: rate.NewLimiter(rate.Every(beat/perSecond), 1), chats: map[string]*rate.Limiter{}}
}

// turn waits until one more message may go out at all. A *tooSoon says that this chat has to wait.
func (p *pace) turn(ctx context.Context, chat string) error {
	if len(p.chats) > mostPaced {
		maps.DeleteFunc(p.chats, func(_ string, l *rate.Limiter) bool { return l.Tokens() >= inARow })
	}
	l, ok := p.chats[chat]
	if !ok {
		l = rate.NewLimiter(rate.Every(p.beat), inARow)
		p.chats[chat] = l
	}
	if r := l.Reserve(); r.Delay() > 0 {
		wait := r.Delay()
		r.Cancel()
		return &tooSoon{wait}
	}
	return p.all.Wait(ctx)
}

// tooSoon says for how long a chat has had enough.
type tooSoon struct{ wait time.Duration }

func (t *tooSoon) Error() string { return fmt.Sprintf("too soon for this chat by %v", t.wait) }

// slower is how long we keep a chat waiting of ourselves; 0 when err says nothing of it.
func slower(err error) time.Duration {
	var soon *tooSoon
	if errors.As(err, &soon) {
		return soon.wait
	}
	return 0
}
