package orders

import (
	"fmt"
	"strings"
	"time"
)

// A Phrase is something said to a client that a door puts into her language: a sentence in English, which
// is its key in the catalogues, as for fmt.Sprintf, and what fills it. That may be phrases again; plain
// strings, such as names and what she typed, are never translated.
type Phrase struct {
	English string
	With    []any
}

// Say makes a phrase. The English must be a constant, so that the tests find it.
func Say(english string, with ...any) Phrase { return Phrase{english, with} }

// SayCount is one or many by a number, which many says with %d. Other languages decide by the
// forms that their catalogue has for many.
func SayCount(n int, one, many string) Phrase {
	if n == 1 {
		return Phrase{English: one}
	}
	return Phrase{many, []any{n}}
}

// String is the phrase in English.
func (p Phrase) String() string {
	if len(p.With) == 0 {
		return strings.ReplaceAll(p.English, "%%", "%")
	}
	return fmt.Sprintf(p.English, p.With...)
}

// Parts gives a phrase to whoever says it in another language.
func (p Phrase) Parts() (english string, with []any) { return p.English, p.With }

// Empty says whether there is nothing to say.
func (p Phrase) Empty() bool { return p.English == "" }

// Joined sets phrases side by side.
func Joined(between string, all []Phrase) Phrase {
	p := Phrase{}
	for i, one := range all {
		if i > 0 {
			p.English += between
		}
		p.English += "%s"
		p.With = append(p.With, one)
	}
	return p
}

// enumerated joins phrases as a person does: "a, b and c".
func enumerated(all []Phrase) Phrase {
	if len(all) < 2 {
		return Joined("", all)
	}
	return Say("%s and %s", Joined(", ", all[:len(all)-1]), all[len(all)-1])
}

// SayDay says a day: "12 June 2027".
func SayDay(t time.Time) Phrase {
	return Say("%d %s %s", t.Day(), Phrase{English: t.Month().String()}, t.Format("2006"))
}

// SayWeekday says a day with its weekday: "Saturday 12 June 2027".
func SayWeekday(t time.Time) Phrase {
	return Say("%s %d %s %s", Phrase{English: t.Weekday().String()}, t.Day(), Phrase{English: t.Month().String()}, t.Format("2006"))
}

// SayNear says a day that is near: "Saturday 12 June".
func SayNear(t time.Time) Phrase {
	return Say("%s %d %s", Phrase{English: t.Weekday().String()}, t.Day(), Phrase{English: t.Month().String()})
}

// SayDate says a day as it is kept, 2027-06-12; one that can't be read stays as it is.
func SayDate(day string) Phrase {
	t, err := time.Parse(dayLayout, day)
	if err != nil {
		return asTyped(day)
	}
	return SayDay(t)
}

// SayWorn is SayDate with the weekday.
func SayWorn(day string) Phrase {
	t, err := time.Parse(dayLayout, day)
	if err != nil {
		return asTyped(day)
	}
	return SayWeekday(t)
}

// SayKind says a kind, place or way that is kept by its English word.
func SayKind(word string) Phrase { return Phrase{English: word} }

// SayHour says a moment on the clock of its zone: "Saturday 12 June 2027, 15:04".
func SayHour(t time.Time) Phrase { return Say("%s, %s", SayWeekday(t), t.Format("15:04")) }

// A Sayer puts a sentence into a language.
type Sayer func(english string, with ...any) string

// In is the question with its words in another language.
func (q Question) In(say Sayer) Question {
	q.Label, q.Short, q.Hint, q.Why, q.Part = say(q.Label), say(q.Short), say(q.Hint), say(q.Why), say(q.Part)
	own := make([]Option, len(q.Options))
	for i, o := range q.Options {
		own[i] = Option{o.Value, say(o.Label)}
	}
	q.Options = own
	return q
}
