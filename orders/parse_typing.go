package orders

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// entries cleans each entry and leaves out the empty ones.
func entries(typed []string) []string {
	var said []string
	for _, text := range typed {
		if text = clean(text); text != "" {
			said = append(said, text)
		}
	}
	return said
}

// clean trims and removes what can't be seen: control characters other than line ends, and marks
// that turn the direction of the text around them.
func clean(s string) string {
	s = strings.ToValidUTF8(s, "")
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\t", " ").Replace(s)
	s = strings.Map(func(r rune) rune {
		hidden := r != '\n' && unicode.IsControl(r)
		turning := r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' || r == '\u200e' || r == '\u200f'
		if hidden || turning || r == '\ufeff' || r == '\u200b' || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, s)
	return strings.TrimSpace(s)
}

// digitOf is a decimal digit of any writing, 7 for ７ and ٧ and ७; ok is false for every other rune.
func digitOf(r rune) (digit rune, ok bool) {
	for _, in := range unicode.Nd.R16 {
		if r >= rune(in.Lo) && r <= rune(in.Hi) {
			return (r - rune(in.Lo)) % 10, true // each range is whole rows from nought to nine
		}
	}
	for _, in := range unicode.Nd.R32 {
		if r >= rune(in.Lo) && r <= rune(in.Hi) {
			return (r - rune(in.Lo)) % 10, true
		}
	}
	return 0, false
}

var fractions = map[rune]string{
	'½': "1/2", '⅓': "1/3", '⅔': "2/3", '¼': "1/4", '¾': "3/4", '⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5",
	'⅙': "1/6", '⅚': "5/6", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅒': "1/10",
}

const small = "⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉"

// spelled writes small letters, European digits, straight quotes, and fractions as 1/2, so that each
// later step knows one spelling of each sign.
func spelled(s string) string {
	var out strings.Builder
	wasSmall := false
	for _, r := range strings.ToLower(s) {
		if r >= '！' && r <= '～' { // full width
			r = unicode.ToLower(r - '！' + '!')
		}
		if digit, is := digitOf(r); is {
			r = '0' + digit
		}
		at := strings.IndexRune(small, r)
		isSmall := at >= 0
		switch {
		case isSmall:
			if !wasSmall { // the 1 of 22¹/₂ is not a third figure of 22
				out.WriteByte(' ')
			}
			out.WriteByte(byte('0' + utf8.RuneCountInString(small[:at])%10))
		case fractions[r] != "":
			out.WriteString(" " + fractions[r] + " ")
		default:
			out.WriteString(straight(r))
		}
		wasSmall = isSmall || wasSmall && (r == '⁄' || r == '/')
	}
	return strings.TrimSpace(out.String())
}

func straight(r rune) string {
	switch r {
	case '″', '“', '”', '„', '‟', '〃', '«', '»', '˝', 'ʺ', '‶', '〝', '〞', '〟', '❞', '״':
		return `"`
	case '′', '’', '‘', '‚', '‛', '`', '´', 'ʹ', 'ʼ', '‵', '׳':
		return `'`
	case '⁄', '∕':
		return "/"
	case '‐', '‑', '‒', '–', '—', '―', '−', '﹣':
		return "-"
	case '٫', '·', '。':
		return "."
	case '٬', '،', '、':
		return ","
	case '㎝':
		return "cm"
	case '㎜':
		return "mm"
	case '㏌':
		return "in"
	}
	if unicode.IsSpace(r) {
		return " "
	}
	return string(r)
}

// folded is s as it is compared with the words of an answer.
func folded(s string) string {
	s = strings.ReplaceAll(spelled(s), "_", " ")
	return strings.Trim(strings.Join(strings.Fields(s), " "), " .!?\"'")
}

// quoted gives back a piece of what was typed, short enough for a sentence.
func quoted(s string) Phrase {
	r := []rune(strings.Join(strings.Fields(s), " "))
	if len(r) > 40 {
		r = append(r[:39], '…')
	}
	return Say("“%s”", string(r))
}

func letters(s string) int { return utf8.RuneCountInString(s) }

func hasLetter(s string) bool {
	return strings.ContainsFunc(s, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) })
}
