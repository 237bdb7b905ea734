package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestTheRunningPortalErasesDraftsThatWereLeft(t *testing.T) {
	dir := t.TempDir()
	store, err := orders.Open(t.Context(), dir, orders.Settings{})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	yes := orders.Answer{Value: orders.Yes, Said: "yes"}
	old, err := store.At(time.Now().Add(-orders.LeftAfter-time.Hour)).Begin(t.Context(), orders.DoorWeb, yes)
	require.NoError(t, err)
	fresh, err := store.Begin(t.Context(), orders.DoorWeb, yes)
	require.NoError(t, err)

	startPortal(t, options{data: dir})
	require.Eventually(t, func() bool {
		_, err := store.Draft(t.Context(), old.ID)
		return err != nil
	}, 10*time.Second, 20*time.Millisecond, "a draft that was left stays")
	_, err = store.Draft(t.Context(), old.ID)
	require.ErrorIs(t, err, orders.ErrNotFound)
	_, err = store.Draft(t.Context(), fresh.ID)
	require.NoError(t, err, "a fresh draft is gone")
}
