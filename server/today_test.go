package server

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// group is what stands under a heading of a page, up to the end of its section.
func group(t *testing.T, page, id string) string {
	t.Helper()
	_, after, found := strings.Cut(page, `<h2 id="`+id+`">`)
	require.True(t, found, "the heading %s stands on the page:\n%s", id, inside(page))
	part, _, _ := strings.Cut(after, "</section>")
	return part
}

func TestTodayIsOneStepFromEverythingThatWaits(t *testing.T) {
	b := signedInBench(t)
	settle := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby", "day": "2026-09-12"})
	moved := b.enquiry(orders.DoorWeb, map[string]string{"name": "Isolde Tanner", "day": "2026-10-10"})
	b.signed(moved)
	soon, err := b.store.Book(t.Context(), moved.ID, orders.Fitting, orders.InPerson, tuesday.Add(48*time.Hour).Truncate(time.Hour))
	require.NoError(t, err)
	_, err = b.store.AskToMove(t.Context(), soon.ID, "Could it be Friday?")
	require.NoError(t, err)
	today, err := b.store.Book(t.Context(), settle.ID, orders.Consultation, orders.InPerson, tuesday.Add(4*time.Hour).Truncate(time.Hour))
	require.NoError(t, err)
	fresh := b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed", "girth": orders.Later, "day": "2026-06-06"})
	_, err = b.store.Receive(t.Context(), settle.ID, "A sister comes too, if she may; "+strings.Repeat("and so on ", 40))
	require.NoError(t, err)

	page := b.see("/workroom")
	shows(t, page, "Tuesday, 28 April 2026")
	for id, holds := range map[string]string{
		"hours":     "/workroom/diary/appointments/" + today.ID,
		"to-answer": room(settle) + "#letters",
		"asked":     "/workroom/diary/appointments/" + soon.ID,
		"to-settle": room(settle) + "/settle",
		"to-copy":   room(moved) + "#letters",
		"new":       room(fresh) + "/measure",
		"due":       room(fresh) + "/measure",
	} {
		assert.Contains(t, group(t, page, id), `href="`+holds+`"`, "under %s", id)
		shows(t, page, `href="#`+id+`"`)
	}
	shows(t, group(t, page, "due"), "Late. It should have been agreed by") // 6 June is less than seven weeks off
	hides(t, group(t, page, "due"), "Odile")
	shows(t, group(t, page, "to-answer"), "A sister comes too")
	hours, next, _ := strings.Cut(group(t, page, "hours"), "<h3>Next</h3>")
	hides(t, hours, soon.ID)
	shows(t, next, soon.ID)

	_, err = b.store.Write(t.Context(), settle.ID, "She is welcome.")
	require.NoError(t, err)
	hides(t, b.see("/workroom"), `id="to-answer"`)
}

func TestTodayWithNothingToDoSaysSo(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"day": orders.NotFixed})
	_, err := b.store.Move(t.Context(), c.ID, b.commission(c.ID).Version, orders.Lapsed, benchMaker, "never answered")
	require.NoError(t, err)
	shows(t, b.see("/workroom"), "Nothing waits for you")
}

// However many commissions there are, Today and the weeks take as many statements and show as much.
func TestTodayAndTheWeeksStayAsSmallAsTheyAre(t *testing.T) {
	b := signedInBench(t)
	add := func(n int) {
		for i := range n {
			c := b.enquiry(orders.DoorWeb, map[string]string{"name": fmt.Sprintf("Client %d", i), "day": "2026-06-13"})
			_, err := b.store.Receive(t.Context(), c.ID, fmt.Sprintf("Letter %d", i))
			require.NoError(t, err)
			b.enquiry(orders.DoorWeb, map[string]string{"girth": orders.Later, "day": "2026-06-13"})
		}
	}
	look := func(path string) (statements int64, size int) {
		before := b.ran.Load()
		page := b.see(path)
		return b.ran.Load() - before, len(page)
	}
	add(15)
	paths := []string{"/workroom", "/workroom/weeks"}
	statements, sizes := map[string]int64{}, map[string]int{}
	for _, path := range paths {
		statements[path], sizes[path] = look(path)
		assert.Less(t, statements[path], int64(25), "%s asks little", path)
	}
	add(45)
	for _, path := range paths {
		n, size := look(path)
		assert.Equal(t, statements[path], n, "statements of %s", path)
		assert.InEpsilon(t, sizes[path], size, 0.1, "size of %s", path)
	}
	shows(t, b.see("/workroom"), "114 more")
}

func TestTheWeeksShowHoursAndDates(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby", "day": "2026-07-11"})
	page := b.see("/workroom/weeks")
	shows(t, page, "usual lead times")
	shows(t, page, `<svg class="week-drawn"`)
	words := group(t, page, "told")
	shows(t, words, `href="`+room(c)+`"`)
	shows(t, words, "asked for <b>2.4 h</b>") // asked for: three of ten worked days lie in the week of 22 June
	shows(t, words, "Sat 11: the day it is worn")
	shows(t, b.see("/workroom/weeks?page=1"), "From 20 July 2026")
	assert.Equal(t, inside(page), inside(b.see("/workroom/weeks?page=-4")), "no such page: the first")
	assert.Equal(t, inside(page), inside(b.see("/workroom/weeks?page=9999999999999999999")), "no such page: the first")
}
