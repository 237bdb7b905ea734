package orders

import (
	"encoding/json"
	"time"

	"perchbook/fitting"
)

// aboutCopies stands at the head of every copy and says how to read it.
const aboutCopies = "Everything that this workroom keeps about one client. Moments are in UTC, lengths in millimetres " +
	"unless the name says otherwise; an answer has what was said and what was understood by it, and an empty one was left out; " +
	"\"kept\" is the form in which the workroom stores it; {link} in a letter stood for the client's private link; input, proposal and result of a fit sheet " +
	"are what the fitting engine was told and what it answered; a photograph is a JPEG and a PDF file is itself, in base64."

// A Copy is everything kept about one client, for handing over. Its JSON names are its contract.
type Copy struct {
	About       string             `json:"about"`
	Copied      time.Time          `json:"copied"`
	Name        string             `json:"name"`
	Reach       string             `json:"reach"`
	Zone        string             `json:"zone,omitempty"`
	Prefers     string             `json:"prefers_to_be_written_to,omitempty"`
	Owed        time.Time          `json:"owed_an_answer_since,omitzero"`
	Commissions []CopiedCommission `json:"commissions"`
	Letters     []CopiedLetter     `json:"letters"`
	Chats       []CopiedChat       `json:"chats"`
}

// A CopiedCommission is one hat with all that hangs on it.
type CopiedCommission struct {
	Number       string              `json:"number"`
	Kind         string              `json:"kind"`
	Stage        Stage               `json:"stage"`
	Occasion     string              `json:"occasion"`
	Day          string              `json:"day"`
	CameBy       string              `json:"came_by"`
	Begun        time.Time           `json:"begun"` // when she agreed to the privacy notice
	Sent         time.Time           `json:"sent"`
	Answers      []CopiedAnswer      `json:"answers"`
	Changes      []CopiedChange      `json:"changes_after_sending"`
	Cards        []CopiedCard        `json:"measure_cards"`
	Figures      map[string]float64  `json:"figures_set_by_the_workroom"` // named and measured as in the engine's contract
	Note         string              `json:"note_beside_the_figures"`
	Sheets       []CopiedSheet       `json:"fit_sheets"`
	Cloth        []CopiedLength      `json:"cloth_and_elastic"`
	Appointments []CopiedAppointment `json:"appointments"`
	WaitsFor     []CopiedWait        `json:"waits_for"`
	HeldHours    []CopiedHold        `json:"held_hours"`
	FittingNotes []CopiedFittingNote `json:"fitting_notes"`
	Quotations   []CopiedQuotation   `json:"quotations"`
	Payments     []CopiedPayment     `json:"payments"`
	BeingQuoted  map[string]string   `json:"quotation_being_written,omitempty"` // its form by field, as typed
	History      []CopiedMove        `json:"history"`
	Finishing    []CopiedTick        `json:"finishing_check"`
	Notes        []CopiedNote        `json:"notes_beside_the_letters"`
	Photographs  []CopiedPhotograph  `json:"photographs"`
	KeptOn       []CopiedDecision    `json:"decisions_to_keep_measurements_longer"`

	MeasuresErased time.Time `json:"measurements_erased,omitzero"`

	Consents []CopiedConsent `json:"agreed_to"`
}

// A CopiedConsent is a wording that she agreed to.
type CopiedConsent struct {
	At       time.Time `json:"at"`
	To       string    `json:"to"` // the question's key
	Version  int       `json:"version"`
	Language string    `json:"language"`
	Wording  string    `json:"wording"`
}

// A CopiedDecision is a decision to keep measurements after their period.
type CopiedDecision struct {
	At    time.Time `json:"at"`
	Until time.Time `json:"until"`
	Why   string    `json:"why"`
	By    string    `json:"by"`
}

// A CopiedAnswer is an answer as said and as understood.
type CopiedAnswer struct {
	Key        string `json:"key"`
	Question   string `json:"question"`
	Said       string `json:"said"`
	Understood string `json:"understood"`
	Kept       string `json:"kept"`
	Confirmed  bool   `json:"unlikely_but_confirmed"`
	Source     Source `json:"where_readings_come_from,omitzero"`
}

// A CopiedChange is an answer given otherwise after the enquiry was sent in.
type CopiedChange struct {
	At  time.Time    `json:"at"`
	Was CopiedAnswer `json:"was"`
	Now CopiedAnswer `json:"now"`
}

// A CopiedCard is a measure card; what was not taken is left out.
type CopiedCard struct {
	Taken       time.Time `json:"taken"`
	TakenBy     string    `json:"taken_by"`
	Girth       []float64 `json:"round_the_head_mm,omitempty"`
	NapeToCrown []float64 `json:"nape_to_crown_mm,omitempty"`
	EarToEar    []float64 `json:"ear_to_ear_mm,omitempty"`
	BrowToNape  []float64 `json:"brow_to_nape_mm,omitempty"`
	HeadLength  float64   `json:"head_length_mm,omitempty"`
	HeadBreadth float64   `json:"head_breadth_mm,omitempty"`
	Note        string    `json:"note"`

	Sources map[string]Source `json:"where_readings_come_from,omitempty"` // by the answer's key; what is not named was taped for this hat
}

// A CopiedSheet is a signed fit sheet with the engine's documents as they were.
type CopiedSheet struct {
	Number   int                `json:"number"`
	Signed   time.Time          `json:"signed"`
	SignedBy string             `json:"signed_by"`
	Why      string             `json:"why_it_replaces_the_former,omitempty"`
	Figures  map[string]float64 `json:"figures"`
	Note     string             `json:"note"`
	Input    json.RawMessage    `json:"input"`
	Proposal json.RawMessage    `json:"proposal"`
	Result   json.RawMessage    `json:"result"`
}

// A CopiedLength is what was reserved for her hat of a roll or reel, cut from it or let go.
type CopiedLength struct {
	At     time.Time `json:"at"`
	Of     string    `json:"of"`
	Kind   EntryKind `json:"kind"`
	Sheet  int       `json:"fit_sheet"`
	Length int       `json:"length_mm"`
	By     string    `json:"by"`
}

// A CopiedAppointment is an hour in the diary, cancelled ones too.
type CopiedAppointment struct {
	Kind   string    `json:"kind"`
	Place  string    `json:"place"`
	State  string    `json:"state"`
	Wish   string    `json:"wish_for_another_time"`
	Start  time.Time `json:"start"`
	End    time.Time `json:"end"`
	Missed bool      `json:"missed,omitempty"`
}

// A CopiedWait is her place among those who wait for an hour.
type CopiedWait struct {
	Kind  string    `json:"kind"`
	Place string    `json:"place"`
	Since time.Time `json:"since"`
}

// A CopiedHold is an hour kept for her until it expires.
type CopiedHold struct {
	Kind    string    `json:"kind"`
	Place   string    `json:"place"`
	Start   time.Time `json:"start"`
	End     time.Time `json:"end"`
	Expires time.Time `json:"expires"`
	Offered bool      `json:"offered"`
}

// A CopiedFittingNote is what a fitting gave; figures are named as in the engine's contract.
type CopiedFittingNote struct {
	Noted       time.Time    `json:"noted"`
	Posted      bool         `json:"tried_on_at_home"`
	Proposed    fitting.Made `json:"proposed"`
	Real        fitting.Made `json:"made"`
	Changed     string       `json:"changed"`
	Comfort     string       `json:"comfort"`
	Hold        string       `json:"hold"`
	Said        string       `json:"said"`
	Photographs [][]byte     `json:"photographs"`
}

// A CopiedQuotation is what she was asked to pay, and her yes to it if she gave one. Sums are in the
// currency's smallest unit.
type CopiedQuotation struct {
	Number     int       `json:"number"`
	Made       time.Time `json:"made"`
	Says       string    `json:"says"`
	Currency   Currency  `json:"currency"`
	Total      Amount    `json:"total"`
	Deposit    Amount    `json:"deposit"`
	Valid      string    `json:"valid_until"`
	Wording    string    `json:"wording"`
	AcceptedBy string    `json:"accepted_by,omitempty"`
	AcceptedAt time.Time `json:"accepted_at,omitzero"`
}

// A CopiedPayment is money that came in, or below nothing was given back.
type CopiedPayment struct {
	Receipt  int      `json:"receipt"`
	Day      string   `json:"day"`
	Payer    string   `json:"payer"`
	Currency Currency `json:"currency"`
	Amount   Amount   `json:"amount"`
	Way      string   `json:"way"`
}

// A CopiedMove is one line of the commission's history.
type CopiedMove struct {
	At   time.Time `json:"at"`
	From Stage     `json:"from"`
	To   Stage     `json:"to"`
	By   string    `json:"by"`
	Why  string    `json:"why"`

	PassedOver string `json:"wanted_first_and_passed_over,omitempty"`
}

// A CopiedTick is one part of the finishing check, ticked off or taken back.
type CopiedTick struct {
	At     time.Time `json:"at"`
	Item   string    `json:"item"`
	Ticked bool      `json:"ticked"`
	By     string    `json:"by"`
}

// A CopiedLetter is one letter in either direction, and what was said in the chat.
type CopiedLetter struct {
	At    time.Time `json:"at"`
	From  string    `json:"from"` // "workroom" or "client"
	Kind  string    `json:"kind"` // "talk", or "intake" for questions and answers of the chat
	Text  string    `json:"text"`
	State string    `json:"state"`
	Sent  time.Time `json:"sent,omitzero"`

	Photographs [][]byte `json:"photographs,omitempty"`
	Papers      [][]byte `json:"pdf_files,omitempty"`
}

// A CopiedNote is what the workroom wrote for itself.
type CopiedNote struct {
	At   time.Time `json:"at"`
	By   string    `json:"by"`
	Text string    `json:"text"`
}

// A CopiedChat is a conversation in a messenger that is known to be hers.
type CopiedChat struct {
	Channel string `json:"channel"`
	Address string `json:"address"` // the messenger's own name of the conversation
}

// A CopiedPhotograph is a picture that she added.
type CopiedPhotograph struct {
	Added time.Time `json:"added"`
	JPEG  []byte    `json:"jpeg"`
}
