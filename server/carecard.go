package server

import (
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"perchbook/fitting"
	"perchbook/orders"
	"perchbook/templates"
)

// careView is the card that goes with a hat: how it is worn and kept. It is the client's to read and to
// print, and the milliner's to lay into the box.
type careView struct {
	Back, BackWords, Number, Studio string
	Views                           []view
	Sits, Elastic, Seeing           []string
	Keeping                         []heard
}

// keeping is how a hat of sinamay is kept: common practice.
var keeping = []heard{
	{"Wet", "Shake the drops off, let it dry slowly in a room, away from any heat. Rain and damp soften it, and it may lose its shape."},
	{"Heat and sun", "Never leave it in a hot car or on a radiator. The sun fades it."},
	{"Dust", "Go over it with a soft brush. It is neither washed nor dry-cleaned."},
	{"Make-up", "On the ribbon inside: wipe it with a cloth that is nearly dry."},
	{"Putting it by", "On a stand or on tissue, so that the brim carries no weight; in a box, out of sun, heat and damp."},
	{"Out of shape", "Bring it or post it to the studio. Do not steam it at home: steam burns, and it undoes the stiffening."},
}

// careOf writes the card for a settled hat.
func careOf(l templates.Language, in fitting.Input, r fitting.Result) careView {
	v := careView{Views: sheetViews(in, drawHers(l))}
	for _, k := range keeping {
		v.Keeping = append(v.Keeping, heard{l.Say(k.Name), l.Say(k.Words)})
	}
	v.Sits = []string{l.Say("%s.", whereItSits(r.Placement)), l.Say("“Your own right” is the side of your right hand; a mirror turns it round.")}
	if low := r.Placement.TapeLineToRim; low > 0 {
		v.Sits = append(v.Sits, l.Say("Its lowest edge lies %s above the line of the tape round your head.", orders.BothUnits(low.Millimetres())))
	}
	v.Elastic = []string{
		l.Say("It runs behind your ears and under your hair to the nape of your neck, never under the chin."),
		l.Say("Put the hat on from the front, hold it in its place, and draw the elastic down at the back with a finger; then comb your hair over it."),
		l.Say("If it presses or your head aches, take the hat off. The studio lets it out."),
	}
	switch r.Hold.Fastening {
	case fitting.ByComb, fitting.ByCombAndPins:
		v.Elastic = append(v.Elastic, l.Say("It needs its comb as well: slide it in against the way your hair lies. Mind the points."))
	case fitting.ByBand:
		v.Elastic = append(v.Elastic, l.Say("It sits on a band, since combs do not hold in short hair."))
	}
	v.Seeing = []string{l.Say("%s.", whatYouSee(r.View)), l.Say("It comes off to drive, to ride and to cycle; where the law or the rules of a place say more, they hold.")}
	if r.Hold.SlipsAt > 0 {
		v.Seeing = append(v.Seeing, l.Say("Outdoors, keep a hand on it from %s on. Gusts are stronger than the wind they come with.", l.Say(winds[min(r.Hold.Beaufort, len(winds)-1)])))
	}
	return v
}

// settledHat is the newest fit sheet read back; ErrNotFound before there is one.
func (s *Server) settledHat(c *gin.Context, commissionID string) (fitting.Input, fitting.Result, error) {
	sheets, err := s.Store.Sheets(c.Request.Context(), commissionID)
	if err != nil {
		return fitting.Input{}, fitting.Result{}, err
	}
	if len(sheets) == 0 {
		return fitting.Input{}, fitting.Result{}, orders.ErrNotFound
	}
	return slices.MaxFunc(sheets, func(a, b orders.FitSheet) int { return a.Number - b.Number }).Read()
}

// careCard shows the card of a hat, with the way back to where it was opened.
func (s *Server) careCard(c *gin.Context, com orders.Commission, back, words string) error {
	in, settled, err := s.settledHat(c, com.ID)
	if err != nil {
		return err
	}
	l := s.language(c)
	f := s.frame(c, l.Say("Wearing and keeping the hat %s", com.Number))
	v := careOf(l, in, settled)
	v.Back, v.BackWords, v.Number, v.Studio = back, words, com.Number, f.Studio
	s.render(c, http.StatusOK, "care", f, v)
	return nil
}

// showCareCard shows the card to the milliner as it goes with the hat: in the client's language.
func (s *Server) showCareCard(c *gin.Context) error {
	com, err := s.Store.Commission(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	client, err := s.Store.Client(c.Request.Context(), com.ClientID)
	if err != nil {
		return err
	}
	c.Set(speaks, templates.Matched(client.Language))
	return s.careCard(c, com, "/workroom/commissions/"+com.ID, com.Number+", "+com.ClientName)
}

// showHerCareCard shows it to the client.
func (s *Server) showHerCareCard(c *gin.Context, d door) error {
	return s.careCard(c, d.Commission, d.Base, d.say("Your hat %s", d.Commission.Number))
}

// cared says whether the card is the client's to see yet: when her hat is nearly hers.
func cared(st orders.Stage) bool {
	return slices.Contains([]orders.Stage{orders.Finishing, orders.Ready, orders.HandedOver}, st)
}
