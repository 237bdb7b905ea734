package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"net/url"
	"strings"
	"time"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"
)

// mostAnswer bounds what is read of one answer of the API.
const mostAnswer = 16 << 20

// call asks one method and returns its result. Errors never hold the token; see redact.
func (b *Bot) call(ctx context.Context, client *http.Client, method string, p tg.Params) (json.RawMessage, error) {
	api := tg.BotAPI{Token: b.token, Client: doer{ctx, client}}
	api.SetAPIEndpoint(strings.ReplaceAll(b.base, "%", "%%") + "/bot%s/%s")
	answer, err := api.MakeRequest(method, p)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", method, b.redact(err))
	}
	return answer.Result, nil
}

// doer gives the library, which knows no contexts, one; and it tells an answer of the API from that
// of something in between.
type doer struct {
	ctx    context.Context
	client *http.Client
}

func (d doer) Do(req *http.Request) (*http.Response, error) {
	resp, err := d.client.Do(req.WithContext(d.ctx))
	if err != nil {
		return nil, err
	}
	kind, _, _ := mime.ParseMediaType(resp.Header.Get("Content-Type"))
	if kind != "application/json" {
		_ = resp.Body.Close()
		return nil, &strange{resp.StatusCode}
	}
	resp.Body = struct {
		io.Reader
		io.Closer
	}{io.LimitReader(resp.Body, mostAnswer), resp.Body}
	return resp, nil
}

// strange is an answer that is not the API's: a proxy's page, or a wrong address.
type strange struct{ code int }

func (s *strange) Error() string {
	return fmt.Sprintf("answered %d %s, and not in JSON", s.code, http.StatusText(s.code))
}

// redact drops the address, which holds the token, from a transport error. Should the token still
// stand in the text, the text is all that is kept.
func (b *Bot) redact(err error) error {
	var addressed *url.Error
	if errors.As(err, &addressed) {
		err = addressed.Err
	}
	if b.token != "" && strings.Contains(err.Error(), b.token) {
		return errors.New(strings.ReplaceAll(err.Error(), b.token, "(token)"))
	}
	return err
}

// code is the API's error code, or that of an answer which is not the API's; 0 when there was none.
func code(err error) int {
	var refusal *tg.Error
	var odd *strange
	switch {
	case errors.As(err, &refusal):
		return refusal.Code
	case errors.As(err, &odd):
		return odd.code
	default:
		return 0
	}
}

// retryAfter is how long the API asks us to wait; 0 when it does not.
func retryAfter(err error) time.Duration {
	var refusal *tg.Error
	if errors.As(err, &refusal) {
		return time.Duration(refusal.RetryAfter) * time.Second
	}
	return 0
}

// wrongToken says whether the API does not know us: 401 for a token that was withdrawn, 404 for one
// that never was. An odd answer is no word about the token.
func wrongToken(err error) bool {
	var refusal *tg.Error
	return errors.As(err, &refusal) && (refusal.Code == http.StatusUnauthorized || refusal.Code == http.StatusNotFound)
}
