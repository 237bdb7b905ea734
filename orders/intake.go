package orders

// A Kind says how a question is asked and how its answer is kept.
type Kind string

// The kinds, with the form in which Answer.Value keeps what was said.
const (
	Choice     Kind = "choice"     // the value of one option
	Choices    Kind = "choices"    // values of options in the list's order, joined by a space
	Readings   Kind = "readings"   // millimetres with one decimal, joined by a space: "570.0 572.5 571.0"; or Later
	Length     Kind = "length"     // millimetres with one decimal
	Number     Kind = "number"     // a whole number
	Date       Kind = "date"       // 2027-06-12, or NotFixed
	Text       Kind = "text"       // as written, trimmed
	Reach      Kind = "reach"      // an e-mail address or a telephone number
	Consent    Kind = "consent"    // "yes"
	Photograph Kind = "photograph" // ids of stored photographs, joined by a space
	Points     Kind = "points"     // height, forehead and jaw of a face over its cheekbones: "1.380 0.770 0.820"
)

// Values that stand for themselves in several kinds.
const (
	Later    = "later" // readings: measure me at the consultation
	NotFixed = "open"  // date: not fixed yet
	Yes      = "yes"   // consent, and choices that have it
	None     = "none"  // choices: nothing of these, so nothing else beside it
	Given    = "*"     // only in an If: any answer that is not empty
	Taken    = "+"     // only in an If: readings that she took herself, so any answer but Later
)

// OneLine is the most letters a Text may have and still be kept on one line.
const OneLine = 100

// If limits a question to clients whose earlier answer to Key was one of Is, any with Given,
// or any but Later with Taken. The zero If always holds.
type If struct {
	Key string
	Is  []string
}

// An Option is one answer to a Choice or Choices.
type Option struct{ Value, Label string }

// A Question is one thing asked of the client, on the web page and in the chat alike.
type Question struct {
	Key      string // names the form field, the button and the stored answer; never reused
	Page     string // the screen of the web form it stands on; a chat asks one at a time
	Label    string
	Short    string // its name in a summary: "Round your head"
	Hint     string
	Why      string // why it is asked, shown on demand
	Part     string // heading under which the things she may add are listed; "" for the needed ones
	Picture  string // name of the drawing shown with it, "" for none
	Kind     Kind
	Options  []Option
	Min, Max float64 // Readings, Length: millimetres that can be at all; Number: its bounds; Text: Max letters, over several lines when more than OneLine
	HatSizes bool    // Readings: a hat size in place of a tape is understood
	Needed   bool    // must be answered before she may send; the rest can be added then or later
	Advised  bool    // may be left out, but helps most: the summary leads straight to it
	Offered  bool    // may be left out, but is asked on the way to sending
	Only     If      // asked only while this holds
	Also     []If    // and all of these
}

// An Intake is a list of questions in the order in which they are asked.
type Intake []Question

// An Answer is one answered question. An empty Value is a question that was skipped.
type Answer struct {
	Value     string // canonical, see Kind
	Said      string // as typed or pressed, shown back to her; several readings joined by "; "
	Confirmed bool   // she was asked about an unlikely value and kept it
	Source    Source // of readings
}

// Answers are what one client has said so far, by question key. No entry: not asked yet.
type Answers map[string]Answer

// Said is what was typed or pressed for one question, before anyone understood it.
type Said struct {
	Text   []string // one entry a field or press; several for Readings and Choices
	Sure   bool     // keep the unlikely value
	Enough bool     // Readings: this is all that can be had
}
