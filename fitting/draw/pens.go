package draw

// pen is a way to draw a line.
type pen int

const (
	none    pen = iota
	warp        // the brim's threads, seen from inside
	weft        // and from outside
	faint       // face and neck
	taped       // where the tape lay
	inked       // what is seen
	unseen      // the same, hidden
	corded      // the elastic
	under       // the elastic, hidden
	held        // the place of the trimming
	sighted     // the line of sight
	gauged      // sizes and their leaders
	pens
)

// weight is of every line that stands for a thing that is seen.
const weight = "1.3"

// strokes of a pen: the class of its group, colour by variable with a fallback
// for those who do not know variables, width in mm, dashes.
var penStrokes = [pens]struct{ class, variable, colour, width, dashes string }{
	warp:    {"weave inside", "", "", "0.25", ""},
	weft:    {"weave", "", "", "0.5", ""},
	faint:   {"scheme", "--soft", "#5c534b", weight, ""},
	taped:   {"tape-line", "--soft", "#5c534b", "0.7", "9 3.5"},
	inked:   {"seen", "", "", weight, ""},
	unseen:  {"hidden", "", "", "0.9", "2.6 3"},
	corded:  {"elastic", "--thread", "#94301f", weight, ""},
	under:   {"elastic hidden", "--thread", "#94301f", "0.9", "2.6 3"},
	held:    {"trimming", "--soft", "#5c534b", weight, "0.1 3.4"},
	sighted: {"sight", "--ink", "#000", weight, "0 3.2"},
	gauged:  {"size", "--soft", "#5c534b", "0.6", ""},
}
