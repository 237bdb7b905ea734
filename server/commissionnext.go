package server

import (
	"slices"

	"perchbook/orders"
)

// A nextStep is what the milliner does next with a commission.
type nextStep struct{ Href, Label, Words string }

// nextOf says what the milliner does next with a commission.
func nextOf(f file) nextStep {
	base := "/workroom/commissions/" + f.ID
	booking := "/workroom/diary?for=" + f.ID
	if a, ok := f.coming(); ok && a.State == orders.MoveAsked {
		return nextStep{"/workroom/diary/appointments/" + a.ID, "Find another hour", "Asked to move: " + a.Kind + " on " + f.when(a.Start) + "."}
	} else if ok && a.Kind != orders.Consultation {
		return nextStep{"/workroom/diary/appointments/" + a.ID, "Look at the appointment", title(a.Kind) + " on " + f.when(a.Start) + ", " + stateOfHour[a.State] + "."}
	}
	switch f.Stage {
	case orders.Enquiry:
		if f.Fitted.Child {
			return nextStep{booking + "&kind=consultation", "Book a consultation", "A child’s head is measured and fitted by hand."}
		}
		if len(f.Fitted.Missing) > 0 {
			return nextStep{base + "/measure", "Write a measure card", "Tapes are wanting. Ask for them, or take them at the consultation."}
		}
		return nextStep{base + "/settle", "Look at the proposal", "The tapes are here."}
	case orders.Measured:
		return nextStep{base + "/settle", "Settle the hat", "Measured: look at the proposal, make it yours, sign it off."}
	case orders.Proposed:
		return nextStep{base + "/money", "Quotation and payments", "The fit sheet is signed. Send the client what it costs; she agrees to it on her page."}
	case orders.Agreed:
		if f.Account.DepositDue > 0 {
			return nextStep{base + "/money", "Write the deposit down", "Agreed; the deposit has not come in yet."}
		}
		return nextStep{booking + "&kind=fitting", "Book the fitting", "Agreed: set a day for the fitting, and move on when you begin to cut."}
	case orders.InHand:
		return nextStep{booking + "&kind=fitting", "Book the fitting", "In hand: cut and make by the fit sheet, and set a day for the fitting."}
	case orders.InFitting:
		if entered := f.History[len(f.History)-1].At; len(f.Sheets) > 0 && (len(f.Fittings) == 0 || f.Fittings[0].Noted.Before(entered)) {
			return nextStep{base + "/fitting", "Write a fitting note", "At the fitting: write down what was really cut and worn, then finish or step back for another."}
		}
		return nextStep{"#move", "Move on", "Fitted: finish it, or step back for another fitting."}
	case orders.Finishing:
		if len(f.Finishing) < len(orders.FinishingItems) {
			return nextStep{"#finishing", "Tick off the finishing check", "Finish the hat, then look it over before it is ready."}
		}
		return nextStep{"#move", "Move on", "The finishing check is done."}
	case orders.Ready:
		return nextStep{booking + "&kind=collection", "Book the collection", "Ready: set a day for the collection, or send it by post."}
	case orders.Withdrawn, orders.Lapsed:
		return nextStep{"#move", "Take it up again", "It is " + string(f.Stage) + ", and its appointments are cancelled."}
	}
	return nextStep{}
}

// coming is the next appointment, and false when there is none.
func (f file) coming() (orders.Appointment, bool) {
	i := slices.IndexFunc(f.Booked, func(a orders.Appointment) bool { return a.State != orders.Cancelled && a.End.After(f.now) })
	if i < 0 {
		return orders.Appointment{}, false
	}
	return f.Booked[i], true
}
