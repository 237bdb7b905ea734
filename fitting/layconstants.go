package fitting

// The cloth and what is cut from it.
const (
	usualClothWidth  = 900 * Millimetre // common roll of sinamay, 90 to 91 cm; from memory: ask the supplier
	usualClothLength = 1000 * Millimetre
	leastCloth       = 100 * Millimetre
	mostCloth        = 100_000 * Millimetre

	bindingWidth = 50 * Millimetre  // folded in four; common practice
	joinSeam     = 0.25 * Inch      // of each edge; that two strips of velvet just do in Anslow, Practical Millinery, 1922, p. 88
	cuttingRoom  = 5 * Millimetre   // round each piece: its size said up to the next half centimetre, and the scissors; our choice
	trimWidth    = 4 * Inch         // strips for small trimmings; common practice
	trimLength   = 300 * Millimetre // our choice
	trimBlanks   = 2                // our choice
	wireLap      = 1 * Inch         // Martin, Make Your Own Hats, 1921
	combWidth    = 50 * Millimetre  // from memory
	holdingPins  = 2                // beside a comb; common practice

	leastPiece, mostPiece = 1 * Millimetre, 10_000 * Millimetre
	mostSeam              = 50 * Millimetre
	mostPieces            = 24
	blockHats             = 4 // laid into each other; our choice
	mostParts             = 4 // that a strip is joined of; our choice
)

// bedWidths are the widths that are tried, as multiples of the least that the
// widest part takes: our choice, so that at twice the width two lie side by side.
var bedWidths = [...]float64{1, 1.05, 1.1, 1.2, 1.35, 1.5, 1.75, 2}
