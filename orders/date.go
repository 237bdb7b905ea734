package orders

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// yearsAhead is how far off a day may be before it is questioned.
const yearsAhead = 3

const dayLayout = "2006-01-02"

var openWords = []string{
	NotFixed, "pas encore fixe", "pas fixe", "pas encore", "je ne sais pas", "je ne sais pas encore", "inconnu", "aun sin fijar", "sin fijar", "aun no", "todavia no", "no lo se", "no lo se todavia", "aun no lo se",
	"not fixed yet", "not fixed", "not yet", "not known yet", "not decided", "not decided yet", "unknown", "don't know",
	"i don't know", "i don't know yet", "don't know yet", "no date yet", "tbc", "to be confirmed", "unsure",
}

func (q Question) parseDate(said []string, s Said, today time.Time) (Answer, *Problem) {
	typed := strings.Join(said, " ")
	if slices.Contains(openWords, withoutAccents(folded(typed))) {
		return Answer{Value: NotFixed, Said: typed}, nil
	}
	day, p := q.dayIn(typed)
	if p != nil {
		return Answer{}, p
	}
	start := time.Date(today.Year(), today.Month(), today.Day(), 0, 0, 0, 0, time.UTC)
	if day.Before(start) {
		return Answer{}, q.problem("%s is past. Please give a day to come, or say that it is not fixed yet.", SayDay(day))
	}
	far := day.After(start.AddDate(yearsAhead, 0, 0))
	if far && !s.Sure {
		return Answer{}, q.doubted(Say("I understood %s, which is more than %d years away. If that is right, keep it.", SayDay(day), yearsAhead))
	}
	return Answer{Value: day.Format(dayLayout), Said: typed, Confirmed: far}, nil
}

// calendarNames are months and weekdays in the other languages that the form speaks, without accents.
var calendarNames = namesOf(
	"january february march april may june july august september october november december monday tuesday wednesday thursday friday saturday sunday",
	"janvier fevrier mars avril mai juin juillet aout septembre octobre novembre decembre lundi mardi mercredi jeudi vendredi samedi dimanche",
	"enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre lunes martes miercoles jueves viernes sabado domingo",
)

func namesOf(english string, others ...string) map[string]string {
	all := map[string]string{}
	for _, names := range others {
		for i, name := range strings.Fields(names) {
			all[name] = strings.Fields(english)[i]
		}
	}
	return all
}

// calendarWords are the words of a day as typed, the names in English.
func calendarWords(typed string) []string {
	words := strings.Fields(strings.ReplaceAll(withoutAccents(spelled(typed)), ",", " "))
	for i, word := range words {
		if english, other := calendarNames[word]; other {
			words[i] = english
		}
	}
	return words
}

var (
	yearFirst = regexp.MustCompile(`^(\d{4})[-./ ](\d{1,2})[-./ ](\d{1,2})$`)
	runOn     = regexp.MustCompile(`^(\d{4})(\d{2})(\d{2})$`)
	dotted    = regexp.MustCompile(`^(\d{1,2})\. ?(\d{1,2})\. ?(\d{4}|\d{2})$`)
	stroked   = regexp.MustCompile(`^(\d{1,2})[-/ ](\d{1,2})[-/ ](\d{4}|\d{2})$`)
	dayMonth  = regexp.MustCompile(`^(\d{1,2})(?:st|nd|rd|th|er|\.)?[ -]?(?:of |de )?([a-z]+)\.?[ -]?(?:del? )?(\d{4}|\d{2})?$`)
	monthDay  = regexp.MustCompile(`^([a-z]+)\.? ?(?:the )?(\d{1,2})(?:st|nd|rd|th)?(?: (\d{4}))?$`)
	weekday   = regexp.MustCompile(`^(?:on |le |el )?(?:(mon|tue|wed|thu|fri|sat|sun)[a-z]*\.? )?(?:the )?(.*)$`)
)

// dayIn reads one day. Where day and month could be either way round it asks.
func (q Question) dayIn(typed string) (time.Time, *Problem) {
	text := strings.Join(calendarWords(typed), " ")
	named := weekday.FindStringSubmatch(text)
	weekdayName, text := named[1], named[2]
	var year, month, date string
	if m := firstMatch(text, yearFirst, runOn); m != nil {
		year, month, date = m[1], m[2], m[3]
	} else if m := dotted.FindStringSubmatch(text); m != nil {
		date, month, year = m[1], m[2], m[3]
	} else if m := stroked.FindStringSubmatch(text); m != nil {
		first, second := atoi(m[1]), atoi(m[2])
		if first <= 12 && second <= 12 && first != second && first > 0 && second > 0 {
			return q.eitherWay(typed, first, second, fullYear(m[3]))
		}
		date, month, year = m[1], m[2], m[3]
		if second > 12 {
			date, month = month, date
		}
	} else if m := dayMonth.FindStringSubmatch(text); m != nil && monthNamed(m[2]) > 0 {
		date, month, year = m[1], strconv.Itoa(monthNamed(m[2])), m[3]
	} else if m := monthDay.FindStringSubmatch(text); m != nil && monthNamed(m[1]) > 0 {
		date, month, year = m[2], strconv.Itoa(monthNamed(m[1])), m[3]
	} else {
		return time.Time{}, q.problem("I can't read %s as a day. Please write it like 12 June 2027, or say that it is not fixed yet.", quoted(typed))
	}
	if year == "" {
		return time.Time{}, q.problem("I read %s, but not the year. Please write day, month and year, like 12 June 2027.", quoted(typed))
	}
	return q.calendarDay(typed, fullYear(year), atoi(month), atoi(date), weekdayName)
}

// calendarDay checks that there is such a day and that it falls on the weekday she named, if any.
func (q Question) calendarDay(typed string, year, month, date int, weekdayName string) (time.Time, *Problem) {
	day := time.Date(year, time.Month(month), date, 0, 0, 0, 0, time.UTC)
	if day.Year() != year || int(day.Month()) != month || day.Day() != date {
		return day, q.problem("I read %s, and the calendar has no such day. Please look again.", quoted(typed))
	}
	if !strings.HasPrefix(strings.ToLower(day.Weekday().String()), weekdayName) {
		return day, q.problem("%s is a %s, not the weekday you wrote. Please look again and write the right day.", SayDay(day), Phrase{English: day.Weekday().String()})
	}
	return day, nil
}

func (q Question) eitherWay(typed string, first, second, year int) (time.Time, *Problem) {
	dayFirst, err1 := q.calendarDay(typed, year, second, first, "")
	monthFirst, err2 := q.calendarDay(typed, year, first, second, "")
	if err1 != nil || err2 != nil {
		return time.Time{}, err1
	}
	return time.Time{}, q.problem("%s could be %s or %s. Please write the month as a word.", quoted(typed), SayDay(dayFirst), SayDay(monthFirst))
}

func firstMatch(text string, patterns ...*regexp.Regexp) []string {
	for _, p := range patterns {
		if m := p.FindStringSubmatch(text); m != nil {
			return m
		}
	}
	return nil
}

// monthNamed is 1 to 12 for a month's name or its first three letters or more, else 0.
func monthNamed(word string) int {
	for m := time.January; m <= time.December; m++ {
		if len(word) >= 3 && strings.HasPrefix(strings.ToLower(m.String()), word) {
			return int(m)
		}
	}
	return 0
}

// fullYear takes 27 for 2027.
func fullYear(figures string) int {
	if len(figures) == 2 {
		return 2000 + atoi(figures)
	}
	return atoi(figures)
}

// atoi reads a few digits that a pattern has found, which can't fail.
func atoi(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}
