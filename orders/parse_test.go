package orders

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// answered is what a question makes of one entry.
func answered(t *testing.T, key, typed string) (Answer, *Problem) {
	t.Helper()
	return question(t, key).Parse(Said{Text: []string{typed}}, intakeDay)
}

func TestAnswersAreUnderstood(t *testing.T) {
	for _, c := range []struct{ key, typed, value string }{
		{"privacy", "yes", Yes}, {"privacy", "Yes, I agree.", Yes}, {"privacy", "OK", Yes}, {"privacy", "on", Yes},
		{"health_consent", "no", ""}, {"health_consent", "No, thanks", ""}, {"health_consent", "", ""},
		{"wearer", "me", "me"}, {"wearer", "ME", "me"}, {"wearer", "2", "adult"}, {"wearer", "3.", "child"}, {"wearer", "A child, and I am the parent or guardian", "child"},
		{"occasion", "garden_party", "garden_party"}, {"occasion", "Garden party", "garden_party"}, {"occasion", " a day at  the races ", "races"},
		{"hair_day", "I don’t know yet", "unsure"}, {"hair_day", "２", "down"}, {"hair_measured", "yes", "yes"},
		{"trimming", "flowers, a veil", "flowers veil"}, {"trimming", "veil and flowers", "flowers veil"}, {"trimming", "4 1", "flowers veil"}, {"trimming", "1,1", "flowers"},
		{"trimming", "Leaves or loops of the hat's own cloth", "leaves"}, {"trimming", "none", "none"}, {"trimming", "", ""},
		{"name", "  Odile   Fennimore ", "Odile Fennimore"}, {"name", "Ngũgĩ", "Ngũgĩ"}, {"name", "Ada\nLark", "Ada Lark"}, {"name", "A\u202eda\x00", "Ada"}, {"name", "\xffAda", "Ada"},
		{"post_address", "1 Quay\r\nSaltmere\n", "1 Quay\nSaltmere"}, {"budget", "£200–250", "£200–250"},
		{"hours", "6", "6"}, {"hours", " ٦ ", "6"}, {"hours", "about 6 hours", "6"}, {"hours", "Six.", "6"}, {"hours", "8 h", "8"}, {"hours", "", ""},
		{"reach", "odile@example.org", "odile@example.org"}, {"reach", "Odile <odile@example.org>", "odile@example.org"}, {"reach", "odile@example.org.", "odile@example.org"},
		{"reach", "+44 (0)1632 960-123", "+44 0 1632 960 123"}, {"reach", "01632960123", "01632960123"}, {"reach", "٠١٦٣٢ ٩٦٠١٢٣", "01632 960123"},
		{"height", "168", "1680.0"}, {"photographs", "a1 b-2_C", "a1 b-2_C"}, {"photographs", "", ""},
	} {
		a, p := answered(t, c.key, c.typed)
		if assert.Nil(t, p, "%s %q was not understood: %s", c.key, c.typed, said(p)) {
			assert.Equal(t, c.value, a.Value, "%s %q", c.key, c.typed)
			assert.False(t, a.Confirmed, "%s %q was never doubted", c.key, c.typed)
		}
	}
}

func TestAnswersThatAreAskedAbout(t *testing.T) {
	for _, c := range []struct{ key, typed, says string }{
		{"privacy", "no", "nothing has been kept"}, {"privacy", "", "before you agree"}, {"privacy", "maybe", "yes or no"}, {"health_consent", "perhaps", "yes or no"},
		{"wearer", "my aunt", "1. I will, and I am 18 or older; 2. Another adult"}, {"wearer", "4", "You can say"}, {"wearer", "0", "You can say"}, {"wearer", "", "Please choose"},
		{"wearer", "?", "You can say"}, {"trimming", "flowers, lace", "“lace”"}, {"trimming", "none and flowers", "one or the other"}, {"trimming", ",", "You can say"},
		{"name", "", "Please write"}, {"name", " \u200b\x07 ", "Please write"}, {"name", "...", "letters"}, {"name", strings.Repeat("ö", 81), "81 letters long and there is room for 80"},
		{"suited", strings.Repeat("x", 401), "room for 400"}, {"suited", strings.Repeat("x", 6000), "Please shorten it to 400 letters"}, {"girth", strings.Repeat("5", 200), "longer than a length"},
		{"hours", "0", "from 1 to 24"}, {"hours", "25", "from 1 to 24"}, {"hours", "2.5", "whole number"}, {"hours", "-3", "whole number"}, {"hours", "NaN", "whole number"}, {"hours", "5 or 6", "whole number"},
		{"hours", "99999999999999999999", "whole number"}, {"hours", "0x5", "whole number"},
		{"reach", "", "e-mail address or a telephone number"}, {"reach", "odile@", "name@example.org"}, {"reach", "odile@example", "name@example.org"}, {"reach", "@odile", "name@example.org"},
		{"reach", "a@example.org, b@example.org", "one e-mail"}, {"reach", "12345", "from 6 to 15"}, {"reach", "1234567890123456", "from 6 to 15"}, {"reach", "ring me", "neither"}, {"reach", "03/04/2027", "looks like a date"}, {"reach", "12.6.27", "looks like a date"},
		{"reach", "odile@example.con", "did you mean “odile@example.com”"}, {"reach", "odile@example.ORG.vom", "No address ends in “.vom”"}, {"reach", "12+34567", "neither"},
		{"reach", strings.Repeat("a", 60) + "@" + strings.Repeat("b.", 120) + "org", "name@example.org"},
		{"photographs", "../etc", "not a photograph"}, {"photographs", strings.Repeat("a", 65), "not a photograph"}, {"height", "5.6", "can't be right"},
	} {
		a, p := answered(t, c.key, c.typed)
		if assert.NotNil(t, p, "%s %q was taken as %q", c.key, c.typed, a.Value) {
			assert.Contains(t, p.Text, c.says, "%s %q", c.key, c.typed)
			assert.Equal(t, c.key, p.Key, "the problem stands beside its question")
			assert.False(t, p.Confirmable || p.NeedsMore, "%s %q can't be kept as it is", c.key, c.typed)
			assert.Equal(t, Answer{}, a, "%s %q: an answer beside a problem", c.key, c.typed)
		}
	}
}

func TestSeveralPressesAreOneAnswer(t *testing.T) {
	a, p := question(t, "trimming").Parse(Said{Text: []string{"veil", "flowers", ""}}, intakeDay)
	assert.Nil(t, p, said(p))
	assert.Equal(t, Answer{Value: "flowers veil", Said: "veil, flowers"}, a, "in the list's order")
}

func TestProblemsDoNotRepeatAWholeLetter(t *testing.T) {
	for _, q := range Questions {
		_, p := q.Parse(Said{Text: []string{strings.Repeat("hm ", 400)}}, intakeDay)
		if p != nil {
			assert.Less(t, letters(p.Text), 400, "%s answers a long entry at length: %s", q.Key, p.Text)
		}
	}
}

func TestSkipIsNotAnAnswer(t *testing.T) {
	for _, q := range Questions {
		assert.Empty(t, q.Show(q.Skip()), "%s shows something for a skip", q.Key)
	}
}
