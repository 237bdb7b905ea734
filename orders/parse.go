package orders

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// mostTyped is far more than any question takes; what is longer is not looked at.
const mostTyped = 5000

// Parse turns what was typed or pressed into the answer to keep, or a *Problem in the client's words.
// today is the day in the studio's zone. Nothing at all is a skip where the question is not needed.
func (q Question) Parse(s Said, today time.Time) (Answer, *Problem) {
	said := entries(s.Text)
	length := 0
	for _, text := range said {
		length += len(text)
	}
	switch {
	case length > mostTyped:
		return Answer{}, q.tooLong()
	case len(said) == 0 && !q.Needed:
		return q.Skip(), nil
	case len(said) == 0:
		return Answer{}, q.missing().beside(q.Key)
	}
	return q.parsers()[q.Kind](said, s, today)
}

// Skip is the answer that stands for "not now".
func (q Question) Skip() Answer { return Answer{} }

// A parser reads entries that are not empty.
type parser func(said []string, s Said, today time.Time) (Answer, *Problem)

func (q Question) parsers() map[Kind]parser {
	return map[Kind]parser{
		Choice: q.parseChoice, Choices: q.parseChoices, Readings: q.parseReadings, Length: q.parseLength,
		Number: q.parseNumber, Date: q.parseDate, Text: q.parseText, Reach: q.parseReach,
		Consent: q.parseConsent, Photograph: q.parsePhotographs, Points: q.parsePoints,
	}
}

// problem is one with this question; english must be a constant.
func (q Question) problem(english string, with ...any) *Problem {
	return Say(english, with...).beside(q.Key)
}

// missing says what to do when a needed question was left empty.
func (q Question) missing() Phrase {
	switch q.Kind {
	case Consent:
		return Say("The studio can't keep anything before you agree. If you would rather not, nothing has been kept, and you may write to the studio instead.")
	case Readings:
		return Say("Please give what the tape shows, such as %s, or choose to be measured at the studio.", q.example())
	case Length:
		return Say("Please give a length, such as %s.", q.example())
	case Date:
		return Say("Please give the day, such as 12 June 2027, or say that it is not fixed yet.")
	case Reach:
		return Say("Please give an e-mail address or a telephone number, so that the studio can answer you.")
	case Choice, Choices:
		return Say("Please choose one of the answers.")
	case Photograph:
		return Say("Please choose a photograph.")
	case Points:
		return Say("Please mark the six points.")
	}
	return Say("Please write something here.")
}

func (q Question) parseText(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	text := strings.Join(said, "\n")
	if q.Max <= OneLine {
		text = strings.Join(strings.Fields(text), " ")
	}
	if q.Needed && !hasLetter(text) {
		return Answer{}, q.problem("Please write it with letters, so that the studio can use it.")
	}
	if n := letters(text); q.Max > 0 && n > int(q.Max) {
		return Answer{}, q.problem("That is %d letters long and there is room for %d. Please shorten it a little.", n, int(q.Max))
	}
	return Answer{Value: text, Said: text}, nil
}

func (q Question) parseNumber(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	typed := strings.Join(said, " ")
	n, err := strconv.Atoi(bareNumber(typed))
	if err != nil || !(float64(n) >= q.Min && float64(n) <= q.Max) {
		return Answer{}, q.problem("Please give one whole number from %d to %d, in figures. I read %s.", int(q.Min), int(q.Max), quoted(typed))
	}
	return Answer{Value: strconv.Itoa(n), Said: typed}, nil
}

func (q Question) tooLong() *Problem {
	if q.Kind == Text {
		return q.problem("That is longer than this question can take. Please shorten it to %d letters.", int(q.Max))
	}
	return q.problem("That is longer than this question can take. Please shorten it.")
}

var numberWords = []string{"nought", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// bareNumber takes what people write around a number off it: "about 6 hours" and "six" are 6.
func bareNumber(typed string) string {
	words := slices.DeleteFunc(strings.Fields(folded(typed)), func(w string) bool {
		return slices.Contains([]string{"about", "around", "roughly", "perhaps", "maybe", "hour", "hours", "h", "hrs"}, w)
	})
	bare := strings.Join(words, " ")
	if n := slices.Index(numberWords, bare); n >= 0 {
		return strconv.Itoa(n)
	}
	return bare
}

func (q Question) parseConsent(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	typed := strings.Join(said, " ")
	switch folded(typed) {
	case "yes", "y", "i agree", "agree", "agreed", "yes i agree", "yes, i agree", "ok", "okay", "on", "true",
		"oui", "oui je suis d'accord", "d'accord", "je suis d'accord", "sí", "si", "de acuerdo", "sí, de acuerdo", "acepto":
		return Answer{Value: Yes, Said: typed}, nil
	case "no", "n", "no thanks", "no, thanks", "no thank you", "i do not agree", "i don't agree", "off", "false",
		"non", "non merci", "non, merci", "no gracias", "no, gracias":
		if q.Needed {
			return Answer{}, q.missing().beside(q.Key)
		}
		return Answer{Said: typed}, nil
	}
	return Answer{}, q.problem("I read %s. Please answer yes or no.", quoted(typed))
}

// parsePhotographs takes the ids that storing the pictures gave.
func (q Question) parsePhotographs(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	var ids []string
	for _, text := range said {
		for _, id := range strings.Fields(text) {
			if !isID(id) {
				return Answer{}, q.problem("That is not a photograph. Please choose a picture, or send it as one.")
			}
			ids = append(ids, id)
		}
	}
	return Answer{Value: strings.Join(ids, " "), Said: photographCount(len(ids)).String()}, nil
}

func isID(s string) bool {
	for _, r := range s {
		if !(r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '-' || r == '_') {
			return false
		}
	}
	return s != "" && len(s) <= 64
}
