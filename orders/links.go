package orders

import (
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strconv"
	"strings"
)

// Paths under which the private links stand; DraftLink or CommissionLink follows.
const (
	DraftPath      = "/enquiry/" // the questions, until she has sent them in
	CommissionPath = "/hat/"     // her own page, afterwards
)

// What a private link may open. Part of what is hashed, so that one never opens the other.
const (
	draftKind      = "draft"
	commissionKind = "commission"
)

// newID is a random name of 128 bits or more.
func newID() string { return strings.ToLower(rand.Text()) }

// linkKey is the key of private links, made when the database is first opened.
func (s *Store) linkKey(ctx context.Context) ([]byte, error) {
	key := make([]byte, sha256.Size)
	_, _ = rand.Read(key) // never fails
	row := secretRow{Name: "links", Value: key}
	if err := addIfNew(s.writes(ctx), &row); err != nil {
		return nil, fmt.Errorf("make link key: %w", err)
	}
	row, err := one[secretRow](s.reads(ctx).Where("name = ?", "links"))
	if err != nil {
		return nil, fmt.Errorf("read link key: %w", err)
	}
	return row.Value, nil
}

// Origin is the public address that every link begins with.
func (s *Store) Origin() string { return s.origin }

// DraftLink is the secret part of a draft's private link, to stand after DraftPath.
func (s *Store) DraftLink(d Draft) string { return s.link(draftKind, d.ID, d.Generation) }

// CommissionLink is the secret part of the client's private link, to stand after CommissionPath.
func (s *Store) CommissionLink(c Commission) string {
	return s.link(commissionKind, c.ID, c.Generation)
}

// link is the id and the first 128 bits of a keyed hash of kind, id and generation.
func (s *Store) link(kind, id string, generation int) string {
	h := hmac.New(sha256.New, s.key)
	h.Write([]byte(kind + "\x00" + id + "\x00" + strconv.Itoa(generation)))
	return id + "." + base64.RawURLEncoding.EncodeToString(h.Sum(nil)[:16])
}

// opens says whether a link is the one of that record, in a time that tells nothing about it.
func (s *Store) opens(link, kind, id string, generation int) bool {
	return hmac.Equal([]byte(link), []byte(s.link(kind, id, generation)))
}

// DraftByLink opens a draft; ErrNotFound when the link was revoked or never was one.
func (s *Store) DraftByLink(ctx context.Context, link string) (Draft, error) {
	id, _, _ := strings.Cut(link, ".")
	d, err := s.Draft(ctx, id)
	if err == nil && !s.opens(link, draftKind, d.ID, d.Generation) {
		return Draft{}, ErrNotFound
	}
	return d, err
}

// CommissionByLink opens a commission for its client; ErrNotFound when the link was revoked or never
// was one.
func (s *Store) CommissionByLink(ctx context.Context, link string) (Commission, error) {
	id, _, _ := strings.Cut(link, ".")
	c, err := s.Commission(ctx, id)
	if err == nil && !s.opens(link, commissionKind, c.ID, c.Generation) {
		return Commission{}, ErrNotFound
	}
	return c, err
}
