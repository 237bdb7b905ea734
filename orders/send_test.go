package orders

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNothingIsKeptWithoutConsent(t *testing.T) {
	s, _ := newStore(t)
	_, err := s.Begin(ctx, DoorWeb, Answer{Value: "no"})
	problem(t, err, "privacy")
	var drafts int64
	require.NoError(t, s.reads(ctx).Model(&draftRow{}).Count(&drafts).Error)
	require.Zero(t, drafts, "a draft was stored without consent")
}

func TestAnswersAreKeptOneByOne(t *testing.T) {
	s, _ := newStore(t)
	d, err := s.Begin(ctx, DoorChat, Answer{Value: "yes"})
	require.NoError(t, err)
	_, err = s.Answer(ctx, d.ID, "girth", Answer{Value: "570.0 571.0", Said: "57; 57,1", Confirmed: true})
	require.NoError(t, err)
	_, err = s.Answer(ctx, d.ID, "day", Answer{})
	require.NoError(t, err)
	_, err = s.Answer(ctx, d.ID, "day", Answer{Value: "2027-06-12"})
	require.NoError(t, err)

	kept, err := s.Draft(ctx, d.ID)
	require.NoError(t, err)
	want := Draft{ID: d.ID, Door: DoorChat, Begun: wednesday, Changed: wednesday, Answers: Answers{
		"privacy": {Value: "yes"},
		"girth":   {Value: "570.0 571.0", Said: "57; 57,1", Confirmed: true},
		"day":     {Value: "2027-06-12"},
	}}
	require.Equal(t, want, kept, "the draft reads back as it was answered")

	_, err = s.Answer(ctx, d.ID, "no such question", Answer{})
	require.ErrorIs(t, err, ErrNotFound, "a question that is not asked")
	_, err = s.Answer(ctx, newID(), "day", Answer{})
	require.ErrorIs(t, err, ErrNotFound, "a draft that is not there")
}

func TestSendMakesAllThatBelongsToACommission(t *testing.T) {
	s, _ := newStore(t)
	d := begun(t, s, nil)
	c, err := s.Send(ctx, d.ID)
	require.NoError(t, err)
	assert.Equal(t, Commission{
		ID: c.ID, Number: "27-001", ClientID: c.ClientID, ClientName: "Nella Quill", DraftID: d.ID, Kind: "made",
		Stage: Measured, Door: DoorWeb, Occasion: "races", Day: "2027-06-12", Version: 2, Made: wednesday,
	}, c, "the commission")

	client, err := s.Client(ctx, c.ClientID)
	require.NoError(t, err)
	assert.Equal(t, Client{ID: c.ClientID, Name: "Nella Quill", Reach: "nella@post.example", Version: 1}, client, "the client")

	cards, err := s.Cards(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, cards, 1, "one measure card")
	assert.Equal(t, MeasureCard{
		ID: cards[0].ID, CommissionID: c.ID, TakenBy: ByClient, Taken: wednesday,
		Girth: []float64{570, 572, 571}, NapeToCrown: []float64{230, 231, 229},
	}, cards[0], "the card has each reading")

	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, []Move{
		{From: "", To: Enquiry, By: ByClient, At: wednesday},
		{From: Enquiry, To: Measured, By: ByClient, At: wednesday},
	}, history, "both stages are in the history")

	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	assert.Empty(t, letters, "a client of the web page has no chat to write to")

	d, err = s.Draft(ctx, d.ID)
	require.NoError(t, err)
	assert.Equal(t, c.ID, d.CommissionID, "the draft knows its commission")
}

func TestSentTwiceIsOneCommission(t *testing.T) {
	s, _ := newStore(t)
	d := begun(t, s, nil)
	var wait sync.WaitGroup
	ids := make([]string, 16)
	for i := range ids {
		wait.Go(func() {
			c, err := s.Send(ctx, d.ID)
			assert.NoError(t, err, "send %d", i)
			ids[i] = c.ID
		})
	}
	wait.Wait()
	for _, id := range ids {
		require.Equal(t, ids[0], id, "every sending returns the same commission")
	}
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	require.Len(t, all, 1, "one commission")
	cards, err := s.Cards(ctx, ids[0])
	require.NoError(t, err)
	require.Len(t, cards, 1, "one measure card")
	history, err := s.History(ctx, ids[0])
	require.NoError(t, err)
	require.Len(t, history, 2, "one history")
}

func TestSendNamesTheAnswerThatIsMissing(t *testing.T) {
	s, _ := newStore(t)
	d, err := s.Begin(ctx, DoorWeb, Answer{Value: "yes"})
	require.NoError(t, err)
	_, err = s.Answer(ctx, d.ID, "wearer", Answer{Value: "me"})
	require.NoError(t, err)
	_, err = s.Send(ctx, d.ID)
	problem(t, err, "name")
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	require.Empty(t, all, "nothing was made of an unfinished draft")
}

func TestSendDropsAnswersThatNoLongerApply(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"wearer": "child"})
	d, err := s.Draft(ctx, c.DraftID)
	require.NoError(t, err)
	require.NotContains(t, d.Answers, "girth", "a child's tapes are not asked for")
	require.Equal(t, Enquiry, c.Stage, "a child is not measured by the client")
	cards, err := s.Cards(ctx, c.ID)
	require.NoError(t, err)
	require.Empty(t, cards, "no card is made of dropped answers")
}

func TestWithoutBothTapesItStaysAnEnquiry(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"nape": Later})
	require.Equal(t, Enquiry, c.Stage, "one tape alone")
	cards, err := s.Cards(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, cards, 1, "the tape she has given is kept")
	c = sent(t, s, map[string]string{"nape": Later, "girth": Later})
	cards, err = s.Cards(ctx, c.ID)
	require.NoError(t, err)
	require.Empty(t, cards, "an empty card is no card")
}

func TestNumbersRunWithinTheStudiosYear(t *testing.T) {
	s, clock := newStore(t)
	saved := firstStudio()
	saved.Zone = "America/New_York"
	_, err := s.SaveStudio(ctx, saved)
	require.NoError(t, err)
	clock.set(time.Date(2028, 1, 1, 3, 0, 0, 0, time.UTC)) // still New Year's Eve in New York
	require.Equal(t, "27-001", sent(t, s, nil).Number)
	require.Equal(t, "27-002", sent(t, s, nil).Number)
	clock.set(time.Date(2028, 1, 1, 6, 0, 0, 0, time.UTC))
	require.Equal(t, "28-001", sent(t, s, nil).Number)
}

func TestASecondThoughtBringsTheCommissionUpToDate(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	f, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	clock.add(time.Hour)
	for key, value := range map[string]string{"name": "Nella Quill-Marsh", "occasion": "wedding", "girth": "580.0 581.0 582.0", "health_consent": "yes"} {
		_, err := s.Answer(ctx, c.DraftID, key, Answer{Value: value, Said: value})
		require.NoError(t, err, key)
	}
	again, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, "Nella Quill-Marsh", again.ClientName, "her new name")
	assert.Equal(t, "wedding", again.Occasion, "her new occasion")
	cards, err := s.Cards(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, cards, 2, "a changed tape is a new card")
	assert.Equal(t, []float64{570, 572, 571}, cards[0].Girth, "the old card is as it was")
	assert.Equal(t, []float64{580, 581, 582}, cards[1].Girth, "the new card has the new readings")

	amendments, err := s.Amendments(ctx, c.DraftID)
	require.NoError(t, err)
	byKey := map[string]Amendment{}
	for _, a := range amendments {
		byKey[a.Key] = a
	}
	require.Len(t, byKey, 4, "every change is kept")
	assert.Equal(t, Amendment{
		Key: "girth", Was: Answer{Value: "570.0 572.0 571.0", Said: "570.0 572.0 571.0"},
		Now: Answer{Value: "580.0 581.0 582.0", Said: "580.0 581.0 582.0"}, At: clock.now().UTC(),
	}, byKey["girth"], "what was and what is")

	_, err = s.SaveWorking(ctx, Working{CommissionID: c.ID, Version: f.Working.Version})
	require.ErrorIs(t, err, ErrConflict, "the milliner looks again before she goes on")
}

func TestAnAnswerThatDoesNotBearOnTheFitLeavesTheWorkingAlone(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for _, key := range []string{"outfit", "outfit_colours", "budget"} {
		_, err := s.Answer(ctx, c.DraftID, key, Answer{Value: "black", Said: "black"})
		require.NoError(t, err)
	}
	_, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Version: 0})
	require.NoError(t, err, "the working is still of the version that was read")
	_, err = s.Answer(ctx, c.DraftID, "glasses", Answer{Value: "yes"})
	require.NoError(t, err)
	_, err = s.SaveWorking(ctx, Working{CommissionID: c.ID, Version: 1})
	require.ErrorIs(t, err, ErrConflict, "glasses bear on the fit")
}

func TestTheSameAnswerAgainIsNoAmendment(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	_, err := s.Answer(ctx, c.DraftID, "girth", Answer{Value: given["girth"], Said: given["girth"]})
	require.NoError(t, err)
	amendments, err := s.Amendments(ctx, c.DraftID)
	require.NoError(t, err)
	require.Empty(t, amendments)
}
