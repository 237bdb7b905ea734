package draw

import (
	"math"

	"perchbook/fitting"
)

// A scene is one drawing of how to measure while it is put together.
type scene struct {
	pad
	words MeasuringWords
	head  fitting.Head
	frame box
}

// measuring are the drawings by name. A name that ends in -not shows what goes wrong.
var measuring = map[string]func(*scene){
	"round-level":     func(m *scene) { m.side(); m.band(FromRight(), right, m.around(0, 0)) },
	"round-level-not": func(m *scene) { m.side(); m.band(FromRight(), wrong, m.around(-20, 6)); m.crossed() },
	"round-snug":      func(m *scene) { m.above(); m.band(Above(), right, m.around(0, 0)); m.fingerUnder() },
	"round-snug-not":  func(m *scene) { m.above(); m.band(Above(), wrong, m.loose(13)); m.crossed() },
	"crown": func(m *scene) {
		m.side()
		m.ruler(0, m.head.Crown())
		m.spot(FromRight(), m.head.Crown(), m.words.Crown, 1)
	},
	"crown-not": func(m *scene) {
		m.side()
		m.ruler(18, m.tangent(18))
		m.spot(FromRight(), m.tangent(18), "", 1)
		m.crossed()
	},
	"nape":          func(m *scene) { m.side(); m.spot(FromRight(), m.head.Nape(), m.words.Nape, -1); m.fingerAtNape() },
	"nape-to-crown": func(m *scene) { m.side(); m.midline(right, 180+napeDown, 90, true) },
	"nape-not":      func(m *scene) { m.side(); m.midline(wrong, 180+napeDown, 90, false); m.downTheNeck(); m.crossed() },
	"ears-notch":    func(m *scene) { m.nearEar(); m.spot(FromRight(), m.tragion(-1), "", 1) },
	"ears-over": func(m *scene) {
		m.front()
		m.band(Front(), right, m.overTheEars(0))
		m.ends(Front(), m.tragion(1), m.tragion(-1))
	},
	"ears-side": func(m *scene) {
		m.side()
		m.band(FromRight(), right, m.overTheEars(0))
		m.ends(FromRight(), m.tragion(-1))
	},
	"ears-side-not": func(m *scene) {
		m.side()
		m.band(FromRight(), wrong, m.overTheEars(52))
		m.ends(FromRight(), m.tragion(-1))
		m.crossed()
	},
	"brow-to-nape":     func(m *scene) { m.side(); m.midline(right, 180+napeDown, 0, true) },
	"brow-to-nape-not": func(m *scene) { m.side(); m.midline(wrong, 180+napeDown, -14, false); m.downTheNeck(); m.crossed() },
	"string":           (*scene).string,
	"sheet":            (*scene).sheet,
}

// The two ways of laying a tape.
const (
	right = true
	wrong = false
)

// napeDown is how far below the tape line the nape lies, as an angle of the ellipse.
var napeDown = math.Asin(-measured.Nape().Z/measured.C.Millimetres()) * 180 / math.Pi

func (m *scene) headOf(from Camera, room box) {
	m.frame = room
	m.raw(`<use href="#m-`, from.name, `"/>`, "\n")
}

func (m *scene) side()    { m.headOf(FromRight(), box{-134, -124, 146, 146}) }
func (m *scene) front()   { m.headOf(Front(), box{-140, -124, 140, 146}) }
func (m *scene) above()   { m.headOf(Above(), box{-140, -146, 140, 124}) }
func (m *scene) nearEar() { m.headOf(FromRight(), box{-62, -38, 42, 70}) }

// around is the tape round the head, tipped by degrees about the axis from ear to ear: the front goes up
// when positive. It starts at so many millimetres above the tape line.
func (m *scene) around(tipped, up float64) []fitting.Vec {
	sin, cos := math.Sincos(tipped * math.Pi / 180)
	points := make([]fitting.Vec, 0, turns+1)
	for i := range turns + 1 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / turns)
		points = append(points, m.head.OnSurface(fitting.Vec{X: c * cos * m.head.A.Millimetres(), Y: s * m.head.B.Millimetres(), Z: c*sin*m.head.A.Millimetres() + up}))
	}
	return points
}

// loose is a tape that hangs off the head by so much.
func (m *scene) loose(off float64) []fitting.Vec {
	points := m.around(0, 0)
	for i, p := range points {
		points[i] = p.Times(1 + off/p.Norm())
	}
	return points
}

// overTheEars runs from one tragion over the head to the other, leaning forward by degrees at its top.
func (m *scene) overTheEars(lean float64) []fitting.Vec {
	end := m.tragion(1)
	low := math.Asin(end.Z / m.head.C.Millimetres())
	points := make([]fitting.Vec, 0, turns+1)
	for i := range turns + 1 {
		t := low + (math.Pi-2*low)*float64(i)/turns
		sin, cos := math.Sincos(t)
		forward := lean * math.Pi / 180 * max(0, sin-math.Sin(low)) / (1 - math.Sin(low))
		points = append(points, m.head.OnSurface(fitting.Vec{X: math.Sin(forward) * m.head.A.Millimetres(), Y: cos * m.head.B.Millimetres(), Z: sin * math.Cos(forward) * m.head.C.Millimetres()}))
	}
	return points
}

// tragion is where ear to ear begins: as far below the crown as it lies on average, in the plane of the ears.
func (m *scene) tragion(side float64) fitting.Vec {
	ear := m.head.EarToEar(fitting.SexUnknown).Millimetres() / 2
	b, c := m.head.B.Millimetres(), m.head.C.Millimetres()
	at := fitting.Vec{Z: c}
	for t, long := 0.0, 0.0; long < ear; t += 0.002 {
		sin, cos := math.Sincos(t)
		at = fitting.Vec{Y: side * b * sin, Z: c * cos}
		long += 0.002 * math.Hypot(b*cos, c*sin)
	}
	return at
}

// tangent is where a ruler tipped forward by degrees touches the head in its middle plane.
func (m *scene) tangent(degrees float64) fitting.Vec {
	a, c := m.head.A.Millimetres(), m.head.C.Millimetres()
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	long := math.Hypot(a*sin, c*cos)
	return fitting.Vec{X: a * a * sin / long, Z: c * c * cos / long}
}

// midline is a tape in the middle plane, between two angles of the ellipse from the front.
func (m *scene) midline(how bool, from, to float64, named bool) {
	points := make([]fitting.Vec, 0, 49)
	for i := range 49 {
		sin, cos := math.Sincos((from + (to-from)*float64(i)/48) * math.Pi / 180)
		points = append(points, fitting.Vec{X: m.head.A.Millimetres() * cos, Z: m.head.C.Millimetres() * sin})
	}
	m.band(FromRight(), how, points)
	m.ends(FromRight(), points[0], points[len(points)-1])
	if named {
		m.label(FromRight().onPaper(m.head.Nape()).plus(point{10, 24}), "start", m.words.Nape)
	}
	if named && to == 90 {
		m.label(FromRight().onPaper(m.head.Crown()).plus(point{0, -12}), "middle", m.words.Crown)
	}
}
