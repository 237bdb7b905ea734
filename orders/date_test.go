package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestDaysAreUnderstoodAsTyped(t *testing.T) {
	day := question(t, "day")
	for typed, want := range map[string]string{
		"2027-06-12": "2027-06-12", "2027/06/12": "2027-06-12", "2027.6.12": "2027-06-12", "20270612": "2027-06-12",
		"12 June 2027": "2027-06-12", "12 june 2027": "2027-06-12", "12th June 2027": "2027-06-12", "12th of June, 2027": "2027-06-12", "the 12th of June 2027": "2027-06-12",
		"12 Jun 2027": "2027-06-12", "12-Jun-2027": "2027-06-12", "12jun2027": "2027-06-12", "12. June 2027": "2027-06-12", "3 Sept 2027": "2027-09-03",
		"June 12 2027": "2027-06-12", "June 12, 2027": "2027-06-12", "June 12th, 2027": "2027-06-12", "June the 12th 2027": "2027-06-12",
		"Saturday 12 June 2027": "2027-06-12", "Sat, 12 June 2027": "2027-06-12", "on Saturday the 12th of June 2027": "2027-06-12", "Sat. June 12 2027": "2027-06-12",
		"12.6.2027": "2027-06-12", "12. 6. 2027": "2027-06-12", "12.06.27": "2027-06-12", "6.12.2027": "2027-12-06",
		"13/6/2027": "2027-06-13", "6/13/2027": "2027-06-13", "13-06-27": "2027-06-13", "6/6/2027": "2027-06-06", "１２．６．２０２７": "2027-06-12",
		"29 February 2028": "2028-02-29", "25 November 2026": "2026-11-25", " 1 May 2027 ": "2027-05-01",
		"open": NotFixed, "Not fixed yet.": NotFixed, "I don’t know yet": NotFixed, "TBC": NotFixed,
	} {
		a, p := day.Parse(Said{Text: []string{typed}}, intakeDay)
		if assert.Nil(t, p, "%q was not understood: %s", typed, said(p)) {
			assert.Equal(t, want, a.Value, "%q", typed)
			assert.Equal(t, clean(typed), a.Said, "what she typed is kept")
		}
	}
}

func TestDaysThatAreAskedAbout(t *testing.T) {
	day := question(t, "day")
	for typed, want := range map[string]string{
		"12/6/2027": "could be 12 June 2027 or 6 December 2027", "6-12-27": "could be 6 December 2027 or 12 June 2027", "1 2 2027": "could be 1 February 2027 or 2 January 2027",
		"24 November 2026": "24 November 2026 is past", "2020-01-01": "is past", "12 June 1027": "is past", "12.6.20": "is past",
		"31 June 2027": "no such day", "29 February 2027": "no such day", "2027-13-01": "no such day", "0.6.2027": "no such day", "32/6/2027": "no such day", "2027-00-10": "no such day",
		"12 June": "not the year", "June 12": "not the year",
		"Sunday 12 June 2027": "12 June 2027 is a Saturday",
		"next Saturday":       "can't read", "soon": "can't read", "12": "can't read", "12 Juno 2027": "can't read", "275760-09-13": "can't read", "-1": "can't read", "12 ju 2027": "can't read",
		"": "say that it is not fixed yet",
	} {
		a, p := day.Parse(Said{Text: []string{typed}, Sure: true}, intakeDay)
		if assert.NotNil(t, p, "%q was taken as %s", typed, a.Value) {
			assert.Contains(t, p.Text, want, "%q", typed)
			assert.False(t, p.Confirmable, "%q can't be confirmed", typed)
		}
	}
}

func TestAFarDayIsConfirmed(t *testing.T) {
	day := question(t, "day")
	_, p := day.Parse(Said{Text: []string{"26 November 2029"}}, intakeDay)
	if assert.NotNil(t, p, "more than three years away") {
		assert.True(t, p.Confirmable, "it can be right")
	}
	a, p := day.Parse(Said{Text: []string{"26 November 2029"}, Sure: true}, intakeDay)
	assert.Nil(t, p, said(p))
	assert.Equal(t, Answer{Value: "2029-11-26", Said: "26 November 2029", Confirmed: true}, a)
	a, p = day.Parse(Said{Text: []string{"25 November 2029"}, Sure: true}, intakeDay)
	assert.True(t, p == nil && !a.Confirmed, "three years to the day is not far")
}

func TestTodayIsTheStudiosDay(t *testing.T) {
	far := time.FixedZone("far east", 13*3600)
	late := time.Date(2026, 11, 25, 0, 30, 0, 0, far) // still the 24th in UTC
	_, p := question(t, "day").Parse(Said{Text: []string{"24 November 2026"}}, late)
	assert.NotNil(t, p, "the 24th is past in the studio")
}

func TestEveryDayShownCanBeTypedAgain(t *testing.T) {
	day := question(t, "day")
	rapid.Check(t, func(t *rapid.T) {
		d := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 1095).Draw(t, "days from today"))
		for _, layout := range []string{dayLayout, "2 January 2006", "Monday, 2 January 2006", "Jan 2, 2006", "2.1.2006", "02-Jan-06"} {
			a, p := day.Parse(Said{Text: []string{d.Format(layout)}}, intakeDay)
			if assert.Nil(t, p, "%q: %s", d.Format(layout), said(p)) {
				assert.Equal(t, d.Format(dayLayout), a.Value, "%q", d.Format(layout))
				assert.Equal(t, d.Format("2 January 2006"), day.Show(a))
			}
		}
	})
}

// A day may be written in each language that the form speaks.
func TestDaysAreReadInFrenchAndSpanish(t *testing.T) {
	day := question(t, "day")
	today := time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)
	for typed, want := range map[string]string{
		"12 juin 2027": "2027-06-12", "samedi 12 juin 2027": "2027-06-12", "le 1er août 2027": "2027-08-01", "1er aout 2027": "2027-08-01", "3 février 2028": "2028-02-03",
		"12 de junio de 2027": "2027-06-12", "el sábado 12 de junio de 2027": "2027-06-12", "12 junio 2027": "2027-06-12", "9 de septiembre del 2027": "2027-09-09",
		"pas encore fixé": NotFixed, "Aún sin fijar": NotFixed, "todavía no": NotFixed,
	} {
		a, p := day.Parse(Said{Text: []string{typed}}, today)
		if assert.Nil(t, p, "%q", typed) {
			assert.Equal(t, want, a.Value, typed)
		}
	}
	_, p := day.Parse(Said{Text: []string{"lundi 12 juin 2027"}}, today)
	assert.NotNil(t, p, "that day is a Saturday")
}
