package orders

import (
	"strconv"
	"strings"
)

// Rows are the tables as they are kept; nothing outside this package sees one.

type handledRow struct {
	Source string `gorm:"primaryKey"`
	At     int64
}

func (handledRow) TableName() string { return "handled" }

type secretRow struct {
	Name  string `gorm:"primaryKey"`
	Value []byte
}

func (secretRow) TableName() string { return "secrets" }

type codeRow struct {
	Hash    []byte `gorm:"primaryKey"`
	Subject string
	Expires int64
}

func (codeRow) TableName() string { return "codes" }

type sessionRow struct {
	Token   string `gorm:"primaryKey"`
	Data    []byte
	Expires int64
}

func (sessionRow) TableName() string { return "sessions" }

type makerRow struct {
	ID, Name, PasswordHash string
}

func (makerRow) TableName() string { return "makers" }

type clientRow struct {
	ID, Name, Reach string
	Version         int
	Zone            string
	Prefers         string
	Owed            int64
	Language        string
}

func (clientRow) TableName() string { return "clients" }

func (r clientRow) client() Client {
	return Client{r.ID, r.Name, r.Reach, r.Version, r.Zone, r.Prefers, moment(r.Owed), r.Language}
}

type photoRow struct {
	ID, DraftID string
	JPEG        []byte `gorm:"column:jpeg"`
	Added       int64
}

func (photoRow) TableName() string { return "photos" }

type cardRow struct {
	ID           string
	Running      int
	CommissionID string
	TakenBy      string
	Girth        string
	NapeToCrown  string
	EarToEar     string
	BrowToNape   string
	HeadLength   int // tenths of a millimetre
	HeadBreadth  int
	Note         string
	Taken        int64
	Sources      map[string]Source `gorm:"serializer:json"`
}

func (cardRow) TableName() string { return "measure_cards" }

func (r cardRow) card() MeasureCard {
	c := MeasureCard{
		ID: r.ID, CommissionID: r.CommissionID, TakenBy: r.TakenBy,
		Girth: readings(r.Girth), NapeToCrown: readings(r.NapeToCrown),
		EarToEar: readings(r.EarToEar), BrowToNape: readings(r.BrowToNape),
		HeadLength: float64(r.HeadLength) / 10, HeadBreadth: float64(r.HeadBreadth) / 10,
		Note: r.Note, Taken: moment(r.Taken),
	}
	if len(r.Sources) > 0 {
		c.Sources = r.Sources
	}
	return c
}

func rowOfCard(c MeasureCard) cardRow {
	if c.Sources == nil {
		c.Sources = map[string]Source{}
	}
	return cardRow{
		ID: c.ID, CommissionID: c.CommissionID, TakenBy: c.TakenBy,
		Girth: canonical(c.Girth), NapeToCrown: canonical(c.NapeToCrown),
		EarToEar: canonical(c.EarToEar), BrowToNape: canonical(c.BrowToNape),
		HeadLength: tenths(c.HeadLength), HeadBreadth: tenths(c.HeadBreadth),
		Note: c.Note, Taken: millis(c.Taken), Sources: c.Sources,
	}
}

// readings are the millimetres of an answer of kind Readings or Length; none for Later, a skipped
// answer or one that is not understood.
func readings(value string) []float64 {
	var list []float64
	for word := range strings.FieldsSeq(value) {
		mm, err := strconv.ParseFloat(word, 64)
		if !(err == nil && mm > 0) {
			return nil
		}
		list = append(list, mm)
	}
	return list
}

// canonical is the answer that readings come from, to a tenth of a millimetre.
func canonical(list []float64) string {
	words := make([]string, len(list))
	for i, mm := range list {
		words[i] = strconv.FormatFloat(mm, 'f', 1, 64)
	}
	return strings.Join(words, " ")
}

func tenths(mm float64) int { return int(mm*10 + 0.5) }
