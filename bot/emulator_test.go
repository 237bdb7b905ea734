package bot

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// The emulator is the npm package telegram-test-api: an independent reading of what Telegram takes
// and sends. It keeps no offsets and never makes one wait; the stand-in is for those.
const runEmulator = `
const TelegramServer = require('telegram-test-api');
const s = new TelegramServer({port: +process.argv[1], host: '127.0.0.1'});
s.start().then(() => console.log('READY'));
process.on('unhandledRejection', e => console.error('unhandled', e.code));
process.stdin.on('end', () => s.stop().then(() => process.exit(0))).resume();
`

// emulator starts it and returns its address. Without it the test is skipped, or fails when
// PERCHBOOK_NEED_ALL is 1.
func emulator(t *testing.T) string {
	t.Helper()
	modules, err := filepath.Abs(filepath.Join("..", "testdata", "npm", "node_modules"))
	require.NoError(t, err)
	node, err := exec.LookPath("node")
	if _, missing := os.Stat(filepath.Join(modules, "telegram-test-api")); err != nil || missing != nil {
		const why = "the emulator is not installed: needs node and `npm install --prefix testdata/npm --no-package-lock`"
		if os.Getenv("PERCHBOOK_NEED_ALL") == "1" {
			t.Fatal(why)
		}
		t.Skip(why)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0") // the emulator takes no port 0
	require.NoError(t, err)
	port := l.Addr().(*net.TCPAddr).Port
	require.NoError(t, l.Close())
	c := exec.CommandContext(t.Context(), node, "-e", runEmulator, fmt.Sprint(port))
	c.Env = append(os.Environ(), "NODE_PATH="+modules)
	c.Stderr = os.Stderr
	in, err := c.StdinPipe()
	require.NoError(t, err)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	t.Cleanup(func() { _ = in.Close(); _ = c.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	require.Equal(t, "READY\n", line)
	return fmt.Sprintf("http://127.0.0.1:%d", port)
}

// emulated is a partner over the emulator.
type emulated struct {
	run  *run
	base string
	seen buttonsSeen
}

// post asks the emulator's own side, which plays the person.
func (e *emulated) post(t *testing.T, path string, body map[string]any) []byte {
	t.Helper()
	body["botToken"], body["token"] = testToken, testToken
	raw, err := json.Marshal(body)
	require.NoError(t, err)
	resp, err := http.Post(e.base+path, "application/json", bytes.NewReader(raw))
	require.NoError(t, err)
	defer resp.Body.Close()
	var answer bytes.Buffer
	_, err = answer.ReadFrom(resp.Body)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, resp.StatusCode, "%s: %s", path, answer.String())
	return answer.Bytes()
}

func person() map[string]any {
	return map[string]any{"id": odile, "first_name": "Odile", "is_bot": false}
}

func room() map[string]any {
	return map[string]any{"id": odile, "first_name": "Odile", "type": "private"}
}

func (e *emulated) write(t *testing.T, text string) []Reply {
	body := map[string]any{"date": time.Now().Unix(), "from": person(), "chat": room(), "text": text}
	path := "/sendMessage"
	if text[0] == '/' {
		path = "/sendCommand"
		body["entities"] = []any{map[string]any{"offset": 0, "length": len(text), "type": "bot_command"}}
	}
	e.post(t, path, body)
	return e.replies(t)
}

func (e *emulated) press(t *testing.T, label string) []Reply {
	e.post(t, "/sendCallback", map[string]any{
		"date": time.Now().Unix(), "from": person(), "data": e.seen.data(t, label),
		"message": map[string]any{"message_id": 1, "date": time.Now().Unix(), "chat": room(), "text": "asked"},
	})
	return e.replies(t)
}

// replies waits for the first; the others of that turn stand in the outbox by then.
func (e *emulated) replies(t *testing.T) []Reply {
	var all []Reply
	require.Eventually(t, func() bool {
		all = e.news(t)
		return len(all) > 0
	}, 10*time.Second, 5*time.Millisecond, "no answer came")
	e.run.emptied(t)
	all = append(all, e.news(t)...)
	e.seen.see(all)
	return all
}

func (e *emulated) news(t *testing.T) []Reply {
	var got struct {
		Result []struct {
			Message struct {
				Text   string `json:"text"`
				Markup struct {
					Rows [][]struct {
						Text string `json:"text"`
						Data string `json:"callback_data"`
					} `json:"inline_keyboard"`
				} `json:"reply_markup"`
			} `json:"message"`
		} `json:"result"`
	}
	require.NoError(t, json.Unmarshal(e.post(t, "/getUpdates", map[string]any{"chatId": odile}), &got))
	var replies []Reply
	for _, r := range got.Result {
		reply := Reply{Text: r.Message.Text}
		for _, row := range r.Message.Markup.Rows {
			for _, b := range row {
				reply.Buttons = append(reply.Buttons, orders.Option{Value: b.Data, Label: b.Text})
			}
		}
		replies = append(replies, reply)
	}
	return replies
}

func TestTheWholeIntakeOverTheEmulator(t *testing.T) {
	base := emulator(t)
	s := newStandIn(t)
	s.server.Close() // not needed here
	s.server.URL = base
	r := start(t, s, open(t, t.TempDir()))
	play(t, &emulated{run: r, base: base, seen: buttonsSeen{}}, overTelegram+needed+sending)
	all, err := r.store.Commissions(t.Context())
	require.NoError(t, err)
	require.Len(t, all, 1, "the enquiry did not arrive; log:\n%s", r.log)
	d, err := r.store.Draft(t.Context(), all[0].DraftID)
	require.NoError(t, err)
	require.Equal(t, "570.0 575.0 571.5", d.Answers["girth"].Value)
}
