package orders

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"

	"perchbook/fitting"
)

type sheetRow struct {
	ID           string
	CommissionID string
	Number       int
	Input        string
	Proposal     string
	Result       string
	Figures      map[string]float64 `gorm:"serializer:json"`
	Note         string
	Why          string
	SignedBy     string
	Signed       int64
}

func (sheetRow) TableName() string { return "fit_sheets" }

func (r sheetRow) sheet() FitSheet {
	return FitSheet{
		ID: r.ID, CommissionID: r.CommissionID, Number: r.Number,
		Input: []byte(r.Input), Proposal: []byte(r.Proposal), Result: []byte(r.Result),
		Figures: r.Figures, Note: r.Note, Why: r.Why, SignedBy: r.SignedBy, Signed: moment(r.Signed),
	}
}

// Sheets lists a commission's fit sheets, oldest first.
func (s *Store) Sheets(ctx context.Context, commissionID string) ([]FitSheet, error) {
	list, err := many(s.reads(ctx).Where("commission_id = ?", commissionID).Order("number"), sheetRow.sheet)
	if err != nil {
		return nil, fmt.Errorf("fit sheets of commission %s: %w", commissionID, err)
	}
	return list, nil
}

// A Signing is a sign-off as somebody asks for it.
type Signing struct {
	Version  int // of the Working that she looked at
	By, Why  string
	BuysRest bool // she has been told that too little cloth or elastic is free
}

// SignOff signs as usual: where too little cloth or elastic is free it refuses.
func (s *Store) SignOff(ctx context.Context, commissionID string, version int, by, why string) (FitSheet, error) {
	return s.Sign(ctx, commissionID, Signing{Version: version, By: by, Why: why})
}

// Sign freezes what the milliner has settled into the next numbered fit sheet, reserves the cloth and the
// elastic that it takes, and writes to the client, in one transaction. The first sheet moves the commission
// to Proposed; a later one says why it takes the former's place and leaves the commission at its stage, since
// only she knows whether it must be agreed anew. ErrConflict when the Working's version is old. A *Problem
// says why there is nothing to sign; its key is "why" when the reason is wanted, RollFigure or ReelFigure
// when too little is free.
func (s *Store) Sign(ctx context.Context, commissionID string, as Signing) (FitSheet, error) {
	return together(ctx, s, func(s *Store) (FitSheet, error) {
		c, err := s.Commission(ctx, commissionID)
		if err != nil {
			return FitSheet{}, err
		}
		f, err := s.Fitted(ctx, commissionID)
		if err != nil {
			return FitSheet{}, err
		}
		if f.Working.Version != as.Version {
			return FitSheet{}, fmt.Errorf("sign off commission %s: %w", commissionID, ErrConflict)
		}
		if p := maySign(c, f); p != nil {
			return FitSheet{}, p
		}
		sheet, err := s.addSheet(ctx, f, as.By, strings.TrimSpace(as.Why))
		if err != nil {
			return sheet, err
		}
		if err := s.reserve(ctx, sheet, as.By, as.BuysRest); err != nil {
			return sheet, err
		}
		if err := s.bumpWorking(ctx, c.ID); err != nil { // so that it is signed once
			return sheet, err
		}
		return sheet, s.tellOfSheet(ctx, c, sheet)
	})
}

// tellOfSheet writes a new sheet into the history and to the client.
func (s *Store) tellOfSheet(ctx context.Context, c Commission, sheet FitSheet) error {
	to, why := c.Stage, fmt.Sprintf("fit sheet %d", sheet.Number)
	if c.Stage == Enquiry || c.Stage == Measured {
		to = Proposed
	}
	if sheet.Why != "" {
		why += ": " + sheet.Why
	}
	if _, err := s.enter(ctx, c, to, sheet.SignedBy, why); err != nil {
		return err
	}
	kind := DesignReady
	if sheet.Number > 1 {
		kind = DesignChanged
	}
	wording, err := s.Wording(ctx, kind)
	if err != nil {
		return err
	}
	words, err := s.Fill(ctx, c.ID, wording.Body)
	if err != nil {
		return err
	}
	_, err = s.inform(ctx, c.ID, words)
	return err
}

// PutBack makes the newest fit sheet's figures and note the milliner's again. ErrNotFound before there is
// one; ErrConflict when the Working's version is old.
func (s *Store) PutBack(ctx context.Context, commissionID string, version int) (Working, error) {
	return together(ctx, s, func(s *Store) (Working, error) {
		sheets, err := s.Sheets(ctx, commissionID)
		if err != nil {
			return Working{}, err
		}
		if len(sheets) == 0 {
			return Working{}, fmt.Errorf("fit sheet of commission %s: %w", commissionID, ErrNotFound)
		}
		newest := sheets[len(sheets)-1]
		return s.SaveWorking(ctx, Working{CommissionID: commissionID, Version: version, Figures: newest.Figures, Note: newest.Note})
	})
}

// maySign says what stands against signing, nil when nothing does.
func maySign(c Commission, f Fitted) error {
	switch {
	case f.Child:
		return &Problem{Key: "wearer", Text: "The engine knows adult heads only, so there is no fit to sign for a child."}
	case len(f.Missing) > 0:
		return &Problem{Key: f.Missing[0], Text: "Both tapes, round the head and nape to crown, are needed first."}
	case f.Broken != nil:
		return &Problem{Key: f.Broken.Field, Text: f.Broken.Why}
	case c.Stage.Closed() || c.Stage == HandedOver:
		return &Problem{Key: "stage", Text: fmt.Sprintf("The commission is %q; move it back to an earlier stage first.", c.Stage)}
	}
	return nil
}

func (s *Store) addSheet(ctx context.Context, f Fitted, by, why string) (FitSheet, error) {
	id := f.Working.CommissionID
	sheets, err := s.Sheets(ctx, id)
	if err != nil {
		return FitSheet{}, err
	}
	switch {
	case len(sheets) == 0:
		why = "" // there is no former one
	case why == "":
		return FitSheet{}, &Problem{Key: "why", Text: "Write a word on why the design changes; the next sheet keeps it."}
	case utf8.RuneCountInString(why) > longestNote:
		return FitSheet{}, &Problem{Key: "why", Text: fmt.Sprintf("Keep the reason under %d letters.", longestNote)}
	}
	row := sheetRow{
		ID: newID(), CommissionID: id, Number: len(sheets) + 1, Figures: f.Working.Figures, Note: f.Working.Note, Why: why,
		SignedBy: by, Signed: millis(s.now()), Proposal: "null",
	}
	if err := row.write(f); err != nil {
		return FitSheet{}, fmt.Errorf("write fit sheet for commission %s: %w", id, err)
	}
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return FitSheet{}, fmt.Errorf("add fit sheet to commission %s: %w", id, err)
	}
	return row.sheet(), nil
}

// write puts input, proposal and result into the row as the engine's documents.
func (r *sheetRow) write(f Fitted) error {
	document := func(into *string, v any) error {
		text, err := json.Marshal(v)
		*into = string(text)
		return err
	}
	in := f.settled // with what was learned, and not with other clients' fittings
	in.Learned.Fittings, in.Learned.Lessons = nil, f.Settled.Result.Lessons
	if err := document(&r.Input, in); err != nil {
		return err
	}
	if f.Refusal == nil {
		if err := document(&r.Proposal, f.Proposal.Result); err != nil {
			return err
		}
	}
	return document(&r.Result, f.Settled.Result)
}

// Read gives the sheet's input and result back as the engine's own.
func (f FitSheet) Read() (fitting.Input, fitting.Result, error) {
	var in fitting.Input
	var out fitting.Result
	if err := json.Unmarshal(f.Input, &in); err != nil {
		return in, out, fmt.Errorf("fit sheet %s: %w", f.ID, err)
	}
	if err := json.Unmarshal(f.Result, &out); err != nil {
		return in, out, fmt.Errorf("fit sheet %s: %w", f.ID, err)
	}
	return in, out, nil
}
