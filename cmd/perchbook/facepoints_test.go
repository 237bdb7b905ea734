package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The six points of a drawn face, each a spot of its own colour on grey: hairline, chin, cheekbones,
// forehead, jaw. It is 480 long and 350 wide at the cheekbones, a little turned: its forehead is 140
// of a half of 170, and its jaw 150 of a half of 180.
var (
	faceSpots  = []image.Point{{300, 160}, {300, 640}, {120, 400}, {470, 400}, {440, 285}, {150, 540}}
	faceColour = []color.RGBA{{255, 0, 0, 255}, {0, 255, 0, 255}, {0, 0, 255, 255}, {255, 255, 0, 255}, {255, 0, 255, 255}, {0, 255, 255, 255}}
	faceRatios = [3]float64{480. / 350, 140. / 170, 150. / 180}
)

// facePicture writes the drawn face as a telephone held upright would: as it stands, or lying with an
// orientation of 6, so that it must be turned to be seen. It is large for what it shows.
func facePicture(t *testing.T, lying bool) (path string, bytesOfIt []byte) {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 600, 800))
	for i := range m.Pix { // noise cannot be packed small
		m.Pix[i] = byte(100 + (i*2654435761>>13)%50)
	}
	for i, p := range faceSpots {
		draw.Draw(m, image.Rect(p.X-6, p.Y-6, p.X+7, p.Y+7), image.NewUniform(faceColour[i]), image.Point{}, draw.Src)
	}
	stored, head := image.Image(m), []byte(nil)
	if lying {
		side := image.NewRGBA(image.Rect(0, 0, 800, 600))
		for y := range 800 {
			for x := range 600 {
				side.Set(y, 599-x, m.At(x, y)) // a quarter turn to the right shows it upright
			}
		}
		stored, head = side, orientation(6)
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, stored, &jpeg.Options{Quality: 92}))
	file := append(append([]byte{0xff, 0xd8}, head...), b.Bytes()[2:]...)
	path = filepath.Join(t.TempDir(), "me.jpg")
	require.NoError(t, os.WriteFile(path, file, 0o600))
	require.Greater(t, len(file), 50_000)
	return path, file
}

// orientation is the segment of a JPEG in which a camera says how it was held.
func orientation(n uint16) []byte {
	body := []byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01")
	body = append(binary.BigEndian.AppendUint16(body, n), 0, 0, 0, 0, 0, 0)
	return append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2)), body...)
}

// recorded is everything that a browser sent: bodies as they arrived, and every address it asked for.
type recorded struct {
	sync.Mutex
	bodies    [][]byte
	addresses []string
}

// record stands between a browser and the portal.
func record(t *testing.T, origin string) (*recorded, string) {
	t.Helper()
	to, err := url.Parse(origin)
	require.NoError(t, err)
	r := &recorded{}
	onward := &httputil.ReverseProxy{Rewrite: func(p *httputil.ProxyRequest) { p.SetURL(to); p.Out.Host = p.In.Host }}
	between := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, req *http.Request) {
		body, err := io.ReadAll(req.Body)
		if err == nil {
			r.Lock()
			r.bodies = append(r.bodies, body)
			r.Unlock()
		}
		req.Body = io.NopCloser(bytes.NewReader(body))
		onward.ServeHTTP(w, req)
	}))
	t.Cleanup(between.Close)
	return r, between.URL
}

// watch also notes what the browser asks of anywhere else.
func (r *recorded) watch(b *browser) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Listen(b.ctx, func(ev any) {
		if sent, ok := ev.(*network.EventRequestWillBeSent); ok {
			r.Lock()
			r.addresses = append(r.addresses, sent.Request.URL)
			r.Unlock()
		}
	}))
	_, err := chromedp.Call(b.ctx, network.Enable, network.EnableParams{})
	require.NoError(b.t, err)
}

// without holds that nothing of the picture was sent, and nothing so large that it could hold one.
func (r *recorded) without(t *testing.T, origin string, picture []byte) {
	t.Helper()
	r.Lock()
	defer r.Unlock()
	require.NotEmpty(t, r.bodies)
	require.NotEmpty(t, r.addresses)
	for _, body := range r.bodies {
		assert.Less(t, len(body), 1000, "a body in which a picture could hide")
		assert.False(t, bytes.Contains(body, []byte("me.jpg")), "the picture's name was sent")
		for from := 0; from+32 < len(picture); from += 997 {
			require.False(t, bytes.Contains(body, picture[from:from+32]), "bytes of the picture were sent")
		}
	}
	blobs := 0
	for _, address := range r.addresses {
		assert.True(t, strings.HasPrefix(address, origin) || strings.HasPrefix(address, "blob:"+origin), "asked of elsewhere: %.100s", address)
		assert.Less(t, len(address), 500, "an address in which a picture could hide")
		if strings.HasPrefix(address, "blob:") {
			blobs++
		}
	}
	assert.NotZero(t, blobs, "the picture was shown from where it lies")
}

// atPoints begins an enquiry and goes to the page where points are marked.
func (b *browser) atPoints() {
	b.t.Helper()
	b.visit("/begin")
	b.press("[name=privacy][value=yes]")
	base, _, _ := strings.Cut(b.path(), "/ask/")
	b.visit(base + "/ask/face")
	b.click("[name=face][value=points]")
	b.press("form > .actions button")
	require.Equal(b.t, base+"/ask/face_points", b.path())
	require.True(b.t, eval[bool](b, "document.querySelector('[data-part=easel]').hidden"), "no picture yet")
}

// takePicture chooses a picture, without pressing anything.
func (b *browser) takePicture(path string) {
	b.t.Helper()
	b.do("choose the picture", chromedp.SetUploadFiles(chromedp.CSS(".marking input[type=file]"), []string{path}))
	require.Eventually(b.t, func() bool { return !eval[bool](b, "document.querySelector('[data-part=easel]').hidden") }, patience, patience/400)
}

// spots finds the coloured spots in the picture as it is shown, in the window's pixels.
func (b *browser) spots() [][2]float64 {
	b.t.Helper()
	var wanted []string
	for _, c := range faceColour {
		wanted = append(wanted, fmt.Sprintf("[%d,%d,%d]", c.R, c.G, c.B))
	}
	found := eval[[][]float64](b, `(() => {
		document.querySelector(".picture").scrollIntoView({block: "center"});
		const img = document.querySelector(".picture img"), w = img.naturalWidth, h = img.naturalHeight, c = document.createElement("canvas");
		c.width = w; c.height = h;
		const g = c.getContext("2d"); g.drawImage(img, 0, 0);
		const d = g.getImageData(0, 0, w, h).data, box = img.getBoundingClientRect();
		return [`+strings.Join(wanted, ",")+`].map(([r, gr, bl]) => {
			let n = 0, sx = 0, sy = 0;
			for (let y = 0; y < h; y++) for (let x = 0; x < w; x++) {
				const i = 4 * (y * w + x);
				if (Math.abs(d[i] - r) < 60 && Math.abs(d[i+1] - gr) < 60 && Math.abs(d[i+2] - bl) < 60) { n++; sx += x + .5; sy += y + .5; }
			}
			return [box.left + sx / n * box.width / w, box.top + sy / n * box.height / h, w, h];
		});
	})()`)
	require.Len(b.t, found, 6)
	var at [][2]float64
	for _, f := range found {
		require.Equal(b.t, []float64{600, 800}, f[2:], "the picture is shown upright")
		at = append(at, [2]float64{f[0], f[1]})
	}
	return at
}

// marked holds the ratios that stand in the field to those of the drawn face.
func (b *browser) marked(off float64) {
	b.t.Helper()
	require.Equal(b.t, "All six points are marked.", last(b.text("[data-part=says]"), "All"))
	var got [3]float64
	_, err := fmt.Sscan(eval[string](b, "document.querySelector('[name=face_points]').value"), &got[0], &got[1], &got[2])
	require.NoError(b.t, err, "three ratios stand in the field")
	for i, want := range faceRatios {
		assert.InDelta(b.t, want, got[i], off, "ratio %d", i)
	}
	assert.True(b.t, b.seen("[data-part=result]"), "they are said")
	assert.False(b.t, b.seen("[data-part=turned]") || b.seen("[data-part=noface]"), "nothing is wrong with them")
	b.good()
}

// seen says whether something of the page is shown.
func (b *browser) seen(css string) bool {
	b.t.Helper()
	return eval[int](b, fmt.Sprintf("document.querySelector(%q).getClientRects().length", css)) > 0
}

func last(text, from string) string { return text[max(0, strings.LastIndex(text, from)):] }

func byMouse(b *browser, at [2]float64) {
	x, y := at[0], at[1]
	b.do("draw a point to its place", chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x+25, y-20, chromedp.ButtonType(input.MouseButtonLeft)),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y, chromedp.ButtonType(input.MouseButtonLeft)),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x, y, chromedp.ButtonType(input.MouseButtonLeft)))
}

func byTouch(b *browser, at [2]float64) {
	touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
		b.do("touch", func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
			_, err := chromedp.Call(ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: append([]*input.TouchPoint{}, points...)})
			return chromedp.Void{}, err
		})
	}
	touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: at[0] + 25, Y: at[1] - 20})
	touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: at[0], Y: at[1]})
	touch(input.DispatchTouchEventTypeTouchEnd)
}

// By mouse and by touch, upright and lying: the same ratios arrive at the studio, and nothing of the picture.
func TestPointsOnAPictureThatStaysHome(t *testing.T) {
	for name, c := range map[string]struct {
		width int64
		lying bool
		point func(*browser, [2]float64)
	}{
		"mouse, upright": {1280, false, byMouse}, "touch, lying": {390, true, byTouch},
	} {
		t.Run(name, func(t *testing.T) {
			sent, origin := record(t, startPortal(t, options{demo: true}))
			b := openBrowser(t, origin)
			sent.watch(b)
			b.wide(c.width)
			if c.width < 600 {
				b.do("a telephone", chromedp.EmulateViewport(c.width, 844, chromedp.EmulateTouch, chromedp.EmulateMobile))
			}
			b.atPoints()
			b.good()
			b.shot(fmt.Sprintf("face-points-%d-before", c.width))
			path, picture := facePicture(t, c.lying)
			b.takePicture(path)
			spots := b.spots()
			for i, at := range spots {
				assert.Contains(t, b.text("[data-part=says]"), fmt.Sprintf("%d of 6", i+1))
				c.point(b, at)
				assert.Equal(t, i == 5, eval[string](b, "document.querySelector('[name=face_points]').value") != "", "nothing stands to be sent before all six are there")
			}
			b.shot(fmt.Sprintf("face-points-%d", c.width))
			b.marked(0.01)
			b.press("form > .actions button")
			assert.Contains(t, b.text(".heard"), "1.37 times as long", "and it is said back")
			sent.without(t, origin, picture)
		})
	}
}

// With keys alone: from point to point, arrows and larger arrows, steps taken back.
func TestPointsByKeysAlone(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(1280)
	b.atPoints()
	path, _ := facePicture(t, true)
	b.takePicture(path)
	key := func(keys string, opts ...chromedp.KeyOption) { b.do("press a key", chromedp.KeyEvent(keys, opts...)) }
	eval[bool](b, "(document.querySelector('.marking [type=file]').focus(), true)")
	key("\t")
	for i, at := range b.spots() {
		require.Equal(t, i, eval[int](b, "[...document.querySelectorAll('.mark')].indexOf(document.activeElement)"), "the tab key leads to point %d", i+1)
		here := eval[[2]float64](b, "(() => { const r = document.activeElement.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()")
		for axis, keys := range [2][2]string{{kb.ArrowLeft, kb.ArrowRight}, {kb.ArrowUp, kb.ArrowDown}} {
			off := int(math.Round(at[axis] - here[axis]))
			name := map[bool]string{true: keys[1], false: keys[0]}[off > 0]
			for n := max(off, -off); n > 0; {
				if n >= 10 {
					key(name, chromedp.KeyModifiers(chromedp.ModifierShift))
					n -= 10
				} else {
					key(name)
					n--
				}
			}
		}
		if i == 2 {
			label := eval[string](b, "document.activeElement.getAttribute('aria-label')")
			key(kb.ArrowLeft)
			assert.NotEqual(t, label, "")
			key("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
			assert.Equal(t, label, eval[string](b, "document.activeElement.getAttribute('aria-label')"), "a step is taken back")
			b.shot("face-points-keys")
		}
		key("\r")
	}
	b.marked(0.02)
	eval[bool](b, "(document.querySelector('[data-do=undo]').focus(), true)")
	key("\r")
	b.do("look again", chromedp.KeyEvent("\t"))
	b.press("form > .actions button")
	assert.NotContains(t, b.path(), "face_points", "kept")
}

// A picture that turns out to be none, a face that is none, and a head that is turned are each said.
func TestPointsThatGoWrong(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(390)
	b.atPoints()
	none := filepath.Join(t.TempDir(), "me.heic")
	require.NoError(t, os.WriteFile(none, []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), 0o600))
	b.do("choose what is no picture", chromedp.SetUploadFiles(chromedp.CSS(".marking input[type=file]"), []string{none}))
	require.Eventually(t, func() bool { return strings.Contains(b.text("[data-part=unreadable]"), "HEIC") }, patience, patience/400)

	path, _ := facePicture(t, false)
	b.takePicture(path)
	spots := b.spots()
	byMouse(b, spots[0])
	b.click("form > .actions button")
	assert.Contains(t, b.text("[data-part=says]"), "Not all six points", "what is not whole is not sent")
	assert.Contains(t, b.path(), "face_points")
	spots = b.spots() // pressing has scrolled the page
	for _, i := range []int{1, 2} {
		byMouse(b, spots[i])
	}
	byMouse(b, [2]float64{spots[3][0] - 32, spots[3][1]}) // the far cheekbone, seen from the side
	byMouse(b, spots[4])
	byMouse(b, spots[5])
	assert.True(t, b.seen("[data-part=turned]"), "a turned head is said")
	assert.False(t, b.seen("[data-part=noface]"))
	b.good()
	b.shot("face-points-turned")
	b.click("[data-do=again]")
	spots = b.spots()
	assert.Contains(t, b.text("[data-part=says]"), "1 of 6")
	for _, i := range []int{0, 1, 2, 2, 4, 5} { // both cheekbones on one side
		byMouse(b, spots[i])
	}
	assert.Empty(t, eval[string](b, "document.querySelector('[name=face_points]').value"))
	assert.True(t, b.seen("[data-part=noface]"))
	b.press("button[name=skip]")
	assert.NotContains(t, b.path(), "face_points", "it may be left out all the same")
}

// Without script the page says which ways remain.
func TestPointsWithoutScript(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(320)
	b.atPoints()
	b.do("no script", func(ctx context.Context, _ *chromedp.Target) (chromedp.Void, error) {
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return chromedp.Void{}, err
	})
	b.visit(b.path())
	assert.Contains(t, b.text("noscript"), "drawn outlines and the four tapes")
	assert.False(t, b.seen(".marking"), "what needs the script is not there")
	assert.LessOrEqual(t, eval[int](b, "document.documentElement.scrollWidth"), 320)
	b.shot("face-points-no-script")
}
