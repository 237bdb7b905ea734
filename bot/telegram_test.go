package bot

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf16"
)

const testToken = "123456:invented-token"

// A standIn answers as Telegram does, over HTTP, by its documentation from memory: the methods that
// we use and no others. It fails the test on whatever it does not know.
type standIn struct {
	t      testing.TB
	server *httptest.Server

	mu       sync.Mutex
	changed  chan struct{} // closed and made anew at every change
	updates  []sentUpdate  // not confirmed yet
	nextID   int
	polls    int // so that an older one is ended by a newer
	offsets  []int
	sent     []sentMessage
	hook     url.Values      // as setWebhook gave it; nil: nobody is called
	pressed  map[string]bool // callback ids: answered yet
	blocked  map[string]bool // chats that answer 403
	faults   map[string][]fault
	arrived  func(method string) bool // asked before a request is carried out whether it is
	accepted func(method string)      // called once it was, before it is answered
}

type sentUpdate struct {
	id  int
	raw string
}

type sentMessage struct {
	chat, text string
	buttons    map[string]string // data by label
	at         time.Time
}

// A fault answers instead; done says whether the request is carried out all the same.
type fault struct {
	answer func(http.ResponseWriter)
	done   bool
}

func newStandIn(t testing.TB) *standIn {
	s := &standIn{t: t, nextID: 1001, changed: make(chan struct{}), pressed: map[string]bool{},
		blocked: map[string]bool{}, faults: map[string][]fault{}}
	s.server = httptest.NewServer(s)
	t.Cleanup(func() { s.server.CloseClientConnections(); s.server.Close() })
	return s
}

func (s *standIn) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	method, ok := strings.CutPrefix(r.URL.Path, "/bot"+testToken+"/")
	if !ok {
		refuse(w, 404, "Not Found", 0)
		return
	}
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return
	}
	form, err := url.ParseQuery(string(body))
	if err != nil || r.Method != http.MethodPost {
		s.t.Errorf("%s came as no form: %v", method, err)
	}
	answer, ok := map[string]func(*http.Request, url.Values) (string, func(http.ResponseWriter)){
		"getUpdates": s.getUpdates, "sendMessage": s.sendMessage, "answerCallbackQuery": s.answerCallbackQuery,
		"setWebhook": s.setWebhook, "deleteWebhook": s.deleteWebhook,
	}[method]
	if !ok {
		s.t.Errorf("the bot called %s, which the stand-in does not know", method)
		refuse(w, 404, "Not Found: method not found", 0)
		return
	}
	f, faulty := s.fault(method)
	if faulty && !f.done {
		f.answer(w)
		return
	}
	if s.arrived != nil && !s.arrived(method) {
		hangUp(w)
	}
	result, refusal := answer(r, form)
	if s.accepted != nil {
		s.accepted(method)
	}
	switch {
	case faulty:
		f.answer(w)
	case refusal != nil:
		refusal(w)
	default:
		w.Header().Set("Content-Type", "application/json")
		fmt.Fprintf(w, `{"ok":true,"result":%s}`, result)
	}
}

func refuse(w http.ResponseWriter, code int, why string, retryAfter int) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(code)
	more := ""
	if retryAfter > 0 {
		more = fmt.Sprintf(`,"parameters":{"retry_after":%d}`, retryAfter)
	}
	fmt.Fprintf(w, `{"ok":false,"error_code":%d,"description":%q%s}`, code, why, more)
}

func refusing(code int, why string, retryAfter int) func(http.ResponseWriter) {
	return func(w http.ResponseWriter) { refuse(w, code, why, retryAfter) }
}

// badGateway is a proxy's answer.
func badGateway(w http.ResponseWriter) {
	w.Header().Set("Content-Type", "text/html")
	w.WriteHeader(http.StatusBadGateway)
	fmt.Fprint(w, "<html>502</html>")
}

// hangUp drops the connection.
func hangUp(http.ResponseWriter) { panic(http.ErrAbortHandler) }

// inject has the next calls of a method answered by the faults, one each.
func (s *standIn) inject(method string, fs ...fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults[method] = append(s.faults[method], fs...)
}

func (s *standIn) fault(method string) (fault, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	waiting := s.faults[method]
	if len(waiting) == 0 {
		return fault{}, false
	}
	s.faults[method] = waiting[1:]
	return waiting[0], true
}

// only fails the test on a parameter that the method does not have here.
func (s *standIn) only(method string, form url.Values, known ...string) {
	for name := range form {
		if !slices.Contains(known, name) {
			s.t.Errorf("%s came with %s, which the stand-in does not know", method, name)
		}
	}
}

// getUpdates forgets what lies before offset, and waits for something that does not.
func (s *standIn) getUpdates(r *http.Request, form url.Values) (string, func(http.ResponseWriter)) {
	s.only("getUpdates", form, "offset", "timeout", "allowed_updates")
	if form.Get("allowed_updates") != wanted {
		s.t.Errorf("getUpdates asks for %q", form.Get("allowed_updates"))
	}
	offset, err := strconv.Atoi(form.Get("offset"))
	seconds, err2 := strconv.Atoi(form.Get("timeout"))
	if err != nil || err2 != nil {
		s.t.Errorf("getUpdates: offset %q, timeout %q", form.Get("offset"), form.Get("timeout"))
	}
	late := time.After(time.Duration(seconds) * time.Second)
	s.mu.Lock()
	s.polls++
	mine := s.polls
	s.offsets = append(s.offsets, offset)
	s.updates = slices.DeleteFunc(s.updates, func(u sentUpdate) bool { return u.id < offset })
	s.change()
	for {
		if s.hook != nil {
			s.mu.Unlock()
			return "", refusing(409, "Conflict: can't use getUpdates method while webhook is active; use deleteWebhook to delete the webhook first", 0)
		}
		if s.polls != mine {
			s.mu.Unlock()
			return "", refusing(409, "Conflict: terminated by other getUpdates request; make sure that only one bot instance is running", 0)
		}
		if len(s.updates) > 0 {
			raws := []string{}
			for _, u := range s.updates[:min(100, len(s.updates))] {
				raws = append(raws, u.raw)
			}
			s.mu.Unlock()
			return "[" + strings.Join(raws, ",") + "]", nil
		}
		changed := s.changed
		s.mu.Unlock()
		select {
		case <-changed:
		case <-late:
			return "[]", nil
		case <-r.Context().Done():
			return "[]", nil
		}
		s.mu.Lock()
	}
}

func (s *standIn) setWebhook(_ *http.Request, form url.Values) (string, func(http.ResponseWriter)) {
	s.only("setWebhook", form, "url", "secret_token", "allowed_updates", "max_connections")
	if form.Get("allowed_updates") != wanted || form.Get("max_connections") != "1" {
		s.t.Errorf("setWebhook asks for %q over %q connections", form.Get("allowed_updates"), form.Get("max_connections"))
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hook = form
	s.change()
	return "true", nil
}

func (s *standIn) deleteWebhook(_ *http.Request, form url.Values) (string, func(http.ResponseWriter)) {
	s.only("deleteWebhook", form)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hook = nil
	return "true", nil
}

// callOut calls the webhook with each update in turn, and with the same again until it is taken.
func (s *standIn) callOut(ctx context.Context) {
	for ctx.Err() == nil {
		s.mu.Lock()
		changed, hook := s.changed, s.hook
		var next *sentUpdate
		if hook != nil && len(s.updates) > 0 {
			next = &s.updates[0]
		}
		s.mu.Unlock()
		if next == nil {
			select {
			case <-changed:
			case <-ctx.Done():
			}
			continue
		}
		if callHook(ctx, hook.Get("url"), hook.Get("secret_token"), next.raw) == http.StatusOK {
			s.mu.Lock()
			s.updates, s.offsets = s.updates[1:], append(s.offsets, next.id+1)
			s.change()
			s.mu.Unlock()
		} else {
			rest(ctx, 5*time.Millisecond)
		}
	}
}

// callHook is the code that a webhook answers an update with; 0 when it does not answer.
func callHook(ctx context.Context, address, secret, raw string) int {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, address, strings.NewReader(raw))
	if err != nil {
		return 0
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set(secretHeader, secret)
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return 0
	}
	_ = resp.Body.Close()
	return resp.StatusCode
}

// change wakes whoever waits; mu must be held.
func (s *standIn) change() {
	close(s.changed)
	s.changed = make(chan struct{})
}

func (s *standIn) sendMessage(_ *http.Request, form url.Values) (string, func(http.ResponseWriter)) {
	s.only("sendMessage", form, "chat_id", "text", "link_preview_options", "reply_markup")
	chat, text := form.Get("chat_id"), form.Get("text")
	id, err := strconv.Atoi(chat)
	if err != nil {
		s.t.Errorf("sendMessage to chat %q", chat)
	}
	if units := len(utf16.Encode([]rune(text))); units < 1 || units > 4096 || strings.Contains(text, "{link}") {
		return "", refusing(400, "Bad Request: message text is empty or too long", 0)
	}
	if form.Get("link_preview_options") != `{"is_disabled":true}` {
		s.t.Errorf("a preview would have Telegram open the private link")
	}
	m := sentMessage{chat: chat, text: text, buttons: s.keyboard(form.Get("reply_markup")), at: time.Now()}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.blocked[chat] {
		return "", refusing(403, "Forbidden: bot was blocked by the user", 0)
	}
	s.sent = append(s.sent, m)
	s.change()
	return fmt.Sprintf(`{"message_id":%d,"date":1800000000,"chat":{"id":%d,"type":"private"}}`, len(s.sent), id), nil
}

// keyboard reads the buttons as Telegram would and refuses what it would.
func (s *standIn) keyboard(markup string) map[string]string {
	if markup == "" {
		return nil
	}
	var k struct {
		Rows [][]struct {
			Text string `json:"text"`
			Data string `json:"callback_data"`
		} `json:"inline_keyboard"`
	}
	d := json.NewDecoder(strings.NewReader(markup))
	d.DisallowUnknownFields()
	if err := d.Decode(&k); err != nil {
		s.t.Errorf("reply_markup: %v", err)
	}
	buttons := map[string]string{}
	for _, row := range k.Rows {
		if len(row) < 1 || len(row) > 8 {
			s.t.Errorf("a row of %d buttons", len(row))
		}
		for _, b := range row {
			if b.Text == "" || len(b.Data) < 1 || len(b.Data) > 64 {
				s.t.Errorf("button %q carries %d bytes", b.Text, len(b.Data))
			}
			buttons[b.Text] = b.Data
		}
	}
	return buttons
}

func (s *standIn) answerCallbackQuery(_ *http.Request, form url.Values) (string, func(http.ResponseWriter)) {
	s.only("answerCallbackQuery", form, "callback_query_id")
	id := form.Get("callback_query_id")
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, ok := s.pressed[id]; !ok {
		s.t.Errorf("a press %q was answered that there never was", id)
	}
	s.pressed[id] = true
	s.change()
	return "true", nil
}

// push queues an update, given without its number.
func (s *standIn) push(body string) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	id := s.nextID
	s.nextID++
	s.updates = append(s.updates, sentUpdate{id, fmt.Sprintf(`{"update_id":%d,%s}`, id, body)})
	s.change()
	return id
}

func quote(s string) string { b, _ := json.Marshal(s); return string(b) }

// says is a private message of an invented person.
func says(chat int, text string) string {
	return fmt.Sprintf(`"message":{"message_id":1,"from":{"id":%d,"is_bot":false,"first_name":"Odile","last_name":"Quillfeather"},`+
		`"chat":{"id":%d,"first_name":"Odile","type":"private"},"date":1800000000,"text":%s}`, chat, chat, quote(text))
}

// presses is a press of a button; its id is noted, since each has to be answered.
func (s *standIn) presses(chat int, data string) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	id := fmt.Sprintf("press-%d", len(s.pressed)+1)
	s.pressed[id] = false
	return fmt.Sprintf(`"callback_query":{"id":%q,"from":{"id":%d,"is_bot":false,"first_name":"Odile"},"chat_instance":"1",`+
		`"message":{"message_id":7,"date":1800000000,"chat":{"id":%d,"type":"private"},"text":"asked"},"data":%s}`, id, chat, chat, quote(data))
}

// until waits for something to become true of the stand-in, checked under its lock.
func (s *standIn) until(what string, ok func() bool) {
	s.t.Helper()
	late := time.After(10 * time.Second)
	for {
		s.mu.Lock()
		done, changed := ok(), s.changed
		s.mu.Unlock()
		if done {
			return
		}
		select {
		case <-changed:
		case <-late:
			s.t.Fatalf("waited in vain for %s", what)
		}
	}
}

// to lists what was sent to a chat; mu must be held.
func (s *standIn) to(chat int) []sentMessage {
	var got []sentMessage
	for _, m := range s.sent {
		if m.chat == strconv.Itoa(chat) {
			got = append(got, m)
		}
	}
	return got
}

// confirmed is the offset last asked for; mu must be held.
func (s *standIn) confirmed() int {
	if len(s.offsets) == 0 {
		return 0
	}
	return s.offsets[len(s.offsets)-1]
}
