package orders

import (
	"net/mail"
	"regexp"
	"strings"
	"time"
)

// A telephone number has at most 15 digits (ITU-T E.164) and hardly ever fewer than 6.
const fewestDigits, mostDigits = 6, 15

// mostMail is the longest address a mail server must take (RFC 5321, with erratum 1690).
const mostMail = 254

func (q Question) parseReach(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	typed := strings.Join(said, " ")
	read := q.parseTelephone
	if strings.ContainsAny(typed, "@＠") {
		read = q.parseMail
	}
	value, p := read(typed)
	if p != nil {
		return Answer{}, p
	}
	return Answer{Value: value, Said: typed}, nil
}

func (q Question) parseMail(typed string) (string, *Problem) {
	address, err := mail.ParseAddress(strings.ReplaceAll(strings.TrimRight(typed, "."), "＠", "@"))
	if err != nil || !strings.Contains(domain(address.Address), ".") || len(address.Address) > mostMail {
		return "", q.problem("I read %s, which does not look like one e-mail address. It should be like name@example.org.", quoted(typed))
	}
	return address.Address, q.slipIn(address.Address)
}

// slips are endings that no address has (none stands in the IANA root zone) and that fingers make.
var slips = map[string]string{"con": "com", "cmo": "com", "ocm": "com", "vom": "com", "comm": "com", "ogr": "org", "nte": "net"}

// slipIn says that an address ends as none can.
func (q Question) slipIn(address string) *Problem {
	dot := strings.LastIndexByte(address, '.') + 1
	meant, slip := slips[strings.ToLower(address[dot:])]
	if !slip {
		return nil
	}
	return q.problem("I read %s. No address ends in “.%s”; did you mean %s?", quoted(address), address[dot:], quoted(address[:dot]+meant))
}

// dateShape is a day in figures, which has as many of them as a short telephone number.
var dateShape = regexp.MustCompile(`^\s*\d{1,2}[./-]\d{1,2}[./-]\d{2}(\d\d)?\s*$`)

func domain(address string) string { return address[strings.LastIndexByte(address, '@')+1:] }

func (q Question) parseTelephone(typed string) (string, *Problem) {
	if dateShape.MatchString(typed) {
		return "", q.problem("I read %s, which looks like a date. Please give an e-mail address or a telephone number.", quoted(typed))
	}
	number, digits := strings.Builder{}, 0
	for _, r := range spelled(typed) {
		switch {
		case r >= '0' && r <= '9':
			digits++
			number.WriteRune(r)
		case r == '+' && number.Len() == 0:
			number.WriteRune(r)
		case strings.ContainsRune(" -./()", r):
			number.WriteByte(' ')
		default:
			return "", q.problem("I read %s, which is neither an e-mail address nor a telephone number. Please give one of them.", quoted(typed))
		}
	}
	if !(digits >= fewestDigits && digits <= mostDigits) {
		return "", q.problem("I read %s. A telephone number has from %d to %d digits. Please look it over.", quoted(typed), fewestDigits, mostDigits)
	}
	return strings.Join(strings.Fields(number.String()), " "), nil
}
