package bot

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"
	"github.com/stretchr/testify/assert"
)

func TestPlainCommands(t *testing.T) {
	for typed, want := range map[string]string{
		"/start": "/start", "/start@TernLaneBot abc": "/start", "/where_is_my_hat": "/where is my hat",
		" 57 cm ": "57 cm", "1/2 in": "1/2 in", "": "", "/": "/", "/@x": "/",
	} {
		assert.Equal(t, want, plain(typed), typed)
	}
}

// FuzzReading holds that no update whatever makes reading or the conversation panic, and that each
// one that is something to us is answered, in a group at least once.
func FuzzReading(f *testing.F) {
	files, _ := filepath.Glob(filepath.Join("..", "testdata", "telegram", "*.json"))
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	f.Add([]byte(`{"update_id":1,"callback_query":{"id":"1","from":{"id":5},"data":"girth=57"}}`))
	f.Add([]byte(`{"update_id":1,"message":{"chat":{"id":5,"type":"private"},"text":"57 and 23"}}`))
	begun := newMemory()
	play(&testing.T{}, begun, opening+needed)
	f.Fuzz(func(t *testing.T, raw []byte) {
		var u tg.Update
		if json.Unmarshal(raw, &u) != nil {
			return
		}
		address, h, ok := reading(u)
		if !ok {
			return
		}
		if address == "" || address == "0" {
			t.Fatalf("no chat to answer in")
		}
		for _, st := range []State{newMemory().st, begun.st} {
			if _, replies := Turn(st, h); len(replies) == 0 {
				t.Fatalf("no answer to %+v", h)
			}
		}
	})
}
