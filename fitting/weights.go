package fitting

// term is one soft pull on the advice. pull is how far the hat is from what the
// term wants, 1 being a difference that is clearly seen; the advice makes the
// sum of weight·pull² small. Pulls are smooth in every figure of a brim that goes
// one way.
type term struct {
	key    string
	weight float64
	pull   func(p *person, t *trial) float64
	who    func(p *person) string // who pulls, to begin a sentence with
	source string
}

// terms are all soft pulls. Weights, and what counts as a clear difference, are
// modelling choices of ours, set so that a face's own proportions move the hat at
// least as much as the table of start tilts; a test measures it.
var terms = [...]term{
	{"silhouette", 0.6, silhouettePull, who("The balance of face and hat, seen from the front,"),
		"common practice: height for a short face, width for a long one; the balance of 1.15 is our choice"},
	{"height", 2, heightPull, whoseFace,
		"common practice: height for a short face, little of it for a long one; how much is our choice"},
	{"tilt", 0.5, tiltPull, whoseTilt, "our choice, after common practice by shapes of face"},
	{"place", 1, placePull, who("The usual place, a little forward,"), "common practice: slightly forward; 18 degrees is our choice"},
	{"base", 1, basePull, who("The usual base of 11.5 cm"), "our choice among the bases of 10 to 18 cm of common practice"},
	{"size", 1.2, sizePull, whoseSize, "our choice of sizes for quiet, balanced and bold"},
	{"width", 0.8, widthPull, whoseWidth, "our choice of sizes for quiet, balanced and bold"},
	{"saucer", 0.2, saucerPull, who("The usual slope of a saucer brim, 42 degrees,"), "common practice: a brim like a saucer, not a flowerpot; 42 degrees is our choice"},
	{"evening", 1, eveningPull, who("The late hour, which asks for a smaller hat,"), "common practice: the later in the day, the smaller the hat"},
	{"wind", 1, windPull, who("The wind outdoors"), "our choice: not much brim to the wind for so small a base"},
	{"stature", 1, staturePull, who("Her height"), "common practice: no very wide brim on a short wearer"},
	{"cloth", 0.5, clothPull, who("The cloth, to be stretched less,"), "our choice: a bias strip curves easily up to 20 degrees out of square"},
}

// objection speaks against a drooping brim, however far it droops, where no wish
// decides. It adds its weight to the sum; 0 where it is not raised.
type objection struct {
	weight func(p *person) float64
	who    string
}

// objections are all of them; weights again modelling choices.
var objections = [...]objection{
	{func(*person) float64 { return 6 }, "An open face"},
	{func(p *person) float64 { return when(p.glasses, 4) }, "Wearing glasses"},                          // common practice
	{func(p *person) float64 { return when(p.greeted, 4) }, "An occasion of greetings and photographs"}, // common practice
	// more than what a shorter face can ever add to the pulls on a brim that lifts
	{func(p *person) float64 { return 6.5 * max(0, -p.face.longer()) }, "A face that is short for its width"},
}

// What the terms pull to: modelling choices of ours.
const (
	usualSilhouette = 1.15 // face and hat from the front, height over width
	usualForward    = 18   // degrees
	usualBase       = 115  // mm
	usualSlope      = 42   // degrees, of a brim that lifts
	usualDroopRise  = 8    // mm that a hat with a drooping brim adds above the head
	eveningPart     = 0.8  // of the brim's diameter by day
	steadySail      = 0.45 // see sail
	widePart        = 0.14 // of the wearer's height: a wide brim's diameter
)

// presence is how much of a hat is proposed, in mm: the brim's outer diameter,
// its width along the slope, and the height that it adds above the head. wish is
// what was wished for, if anything.
type presence struct {
	across, width, height float64
	is, wish              Presence
}

// presences of the three proposals.
var presences = [3]Presence{Quiet, Balanced, Bold}

// presenceOf are our choices of sizes.
func presenceOf(is, wish Presence) presence {
	switch is {
	case Quiet:
		return presence{155, 30, 32, is, wish}
	case Bold:
		return presence{240, 82, 66, is, wish}
	default:
		return presence{195, 55, 47, is, wish}
	}
}
