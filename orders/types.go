package orders

import "time"

// A Draft is what a client has answered, before and after it is sent in.
type Draft struct {
	ID           string
	Generation   int    // raised to revoke its private link
	Door         string // DoorWeb, DoorChat or DoorRehearsal: where it was begun
	CommissionID string // "" until sent
	Answers      Answers
	Language     string // tag of the language she is spoken to in; "" when none is known
	Begun        time.Time
	Changed      time.Time // when an answer was last given
}

// Where an enquiry came in by.
const (
	DoorWeb       = "web"
	DoorChat      = "chat"
	DoorRehearsal = "rehearsal" // the chat inside the workroom, for trying things out
)

// A Client is who a hat is for.
type Client struct {
	ID, Name, Reach string
	Version         int
	Zone            string    // IANA name of the zone she reads hours in; "" for the studio's
	Prefers         string    // ByHand, ByMail, or ""
	Owed            time.Time // since when she is owed an answer; zero when she is not
	Language        string    // as in Draft
}

// A Commission is one hat asked for, from first word to hand-over.
type Commission struct {
	ID         string
	Number     string // "26-014": year and running number, the name said aloud
	ClientID   string
	ClientName string
	DraftID    string
	Kind       string // "made" (made to order)
	Stage      Stage
	Door       string
	Occasion   string // value of the occasion answer
	Day        string // 2027-06-12, or NotFixed
	Version    int
	Generation int // raised to revoke the client's link
	Made       time.Time
}

// A MeasureCard is one dated set of tapes, with each reading. It is never changed; a new one is added.
type MeasureCard struct {
	ID, CommissionID string
	TakenBy          string    // "client" or "maker"
	Girth            []float64 // readings in mm; empty: not taken
	NapeToCrown      []float64
	EarToEar         []float64
	BrowToNape       []float64
	HeadLength       float64 // callipers, mm; 0: not taken
	HeadBreadth      float64
	Note             string
	Taken            time.Time
	Sources          map[string]Source // of some tapes, by the question that asks for them
}

// A Move is one entry in a commission's history.
type Move struct {
	From, To   Stage
	By, Why    string
	PassedOver string // what should have been there first; "" nearly always
	At         time.Time
}

// A Working is what the milliner has changed of the proposal so far, before sign-off.
// Figures are keyed by the contract's name, "hat.base_mm", in the contract's units.
type Working struct {
	CommissionID string
	Version      int
	Figures      map[string]float64
	Note         string
}

// A FitSheet is what was settled, signed off; numbered from 1 within its commission and never changed.
type FitSheet struct {
	ID, CommissionID string
	Number           int
	Input            []byte // JSON of fitting.Input as settled
	Proposal         []byte // JSON of fitting.Result as proposed
	Result           []byte // JSON of fitting.Result as settled
	Figures          map[string]float64
	Note, SignedBy   string
	Why              string // it takes the former one's place; "" on the first
	Signed           time.Time
}

// Kinds, places and states of an appointment.
const (
	Consultation = "consultation"
	Fitting      = "fitting"
	Collection   = "collection"

	InPerson = "in person"
	ByVideo  = "by video"
	ByPost   = "by post"

	Booked    = "booked"    // the studio has written it down
	Confirmed = "confirmed" // the client has said yes
	MoveAsked = "move asked"
	Cancelled = "cancelled"
)

// An Appointment is an hour in the diary. Times are UTC; the studio's zone is for showing.
type Appointment struct {
	ID, CommissionID         string
	CommissionNumber         string
	ClientName               string
	Kind, Place, State, Wish string // Wish: the client's words when she asks to move
	Start, End               time.Time
	Sequence                 int // counts changes, for calendar files
	Changed                  time.Time
	Missed                   bool // she did not come
	Version                  int
}

// Hours are the opening hours of one weekday, minutes after midnight in the studio's zone.
type Hours struct {
	Day          time.Weekday
	Opens, Shuts int
}

// A DayHours is a stretch of opening on one dated day, which takes the place of its weekday's hours.
type DayHours struct {
	Day          string // 2027-01-01
	Opens, Shuts int    // minutes after midnight
}

// BookingRules are what the diary keeps to besides the weekday hours.
type BookingRules struct {
	Exceptions []DayHours     `json:",omitempty"`
	Buffers    map[string]int `json:",omitempty"` // minutes kept free after a kind; the studio's BufferMinutes for one not named
	MoveHours  int            // until how long before it begins a client may move or cancel herself
}

// A Studio is the one workroom this installation serves.
type Studio struct {
	Name, Place, Reach string // Place: town; Reach: how clients reach her, shown to them
	Zone               string // IANA name
	Hours              []Hours
	ClosedDays         []string       // 2027-01-01
	BufferMinutes      int            // kept free after each appointment
	NoticeHours        int            // least notice of a booking
	Minutes            map[string]int // length by kind of appointment
	Blocks             []float64      // diameters of the blocks she owns, mm; empty: freehand
	SideByTradition    string         // "right" or "left", used without a wish or parting
	Materials          Materials
	Rules              BookingRules
	Version            int
}

// A Letter is one message in either direction, the outbox and the letter book in one.
type Letter struct {
	ID, ClientID, CommissionID, ChatID string
	Out                                bool
	Kind                               string // LetterTalk or LetterIntake
	Body                               string // plain text; {link} is filled in when it is sent or shown
	Buttons                            []Option
	State                              string
	Tries                              int
	Reason                             string   // why it was refused or failed
	Photos, Papers                     []string // names of what is enclosed: photographs and PDF files
	At, Sent                           time.Time
}

// Kinds and states of a letter.
const (
	LetterTalk   = "talk"   // between client and milliner
	LetterIntake = "intake" // questions and answers of the intake chat

	Waiting  = "waiting"  // in the outbox
	Sent     = "sent"     // accepted by the channel
	ToCopy   = "to copy"  // the client has no chat: the milliner sends it her own way
	Copied   = "copied"   // she says she has
	Failed   = "failed"   // given up, see Reason
	Received = "received" // came in
)

// A Chat is one conversation in a messenger or in the rehearsal window, or one client's mail.
type Chat struct {
	ID       string
	Channel  string // ChannelTelegram, ChannelRehearsal or ChannelMail
	Address  string // the channel's own id of the conversation; of mail, the client's id
	DraftID  string // "" until privacy is agreed
	ClientID string
	Asking   string   // key of the question last asked when it is not the next one (going back)
	Pending  []string // readings given so far for the question being asked
	Language string   // as in Draft
	Version  int
}

// Channels.
const (
	ChannelTelegram  = "telegram"
	ChannelRehearsal = "rehearsal"
	ChannelMail      = "mail"
)

// A Maker is someone who may enter the workroom.
type Maker struct {
	ID, Name, PasswordHash string
}

// A Photo is a stored, re-encoded photograph.
type Photo struct {
	ID, DraftID string
	JPEG        []byte
	Added       time.Time
}
