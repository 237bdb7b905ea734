package server

import (
	"github.com/gin-gonic/gin"

	"perchbook/fitting/draw"
)

// workroomRoutes are the milliner's rooms. The group stands behind sign-in.
func (s *Server) workroomRoutes(g gin.IRouter) {
	g.GET("", s.page(s.showToday))
	g.GET("/commissions", s.page(s.showCommissions))
	s.commissionRoutes(g.Group("/commissions/:id"))
	s.diaryRoutes(g.Group("/diary"))
	g.GET("/studio", s.page(s.showStudio))
	g.POST("/studio", s.page(s.saveStudio))
	g.GET("/studio/prices", s.page(s.showTerms))
	g.POST("/studio/prices", s.page(s.saveTerms))
	g.GET("/studio/wordings", s.page(s.showWordings))
	g.GET("/studio/wordings/:kind", s.page(s.showWording))
	g.POST("/studio/wordings/:kind", s.page(s.saveWording))
	g.GET("/learned", s.page(s.showLearned))
	g.POST("/learned", s.page(s.switchLearning))
	g.GET("/studio/pace", s.page(s.showPace))
	g.POST("/studio/pace", s.page(s.savePace))
	g.GET("/weeks", s.page(s.showWeeks))
	g.GET("/search", s.page(s.showSearch))
	g.POST("/search", s.page(s.search))
	g.GET("/rehearsal", s.page(s.showRehearsal))
	g.POST("/rehearsal", s.page(s.sayRehearsal))
	g.POST("/rehearsal/again", s.page(s.restartRehearsal))
}

func (s *Server) commissionRoutes(g gin.IRouter) {
	g.GET("", s.page(s.showCommission))
	g.GET("/photographs/:photo", s.page(s.showPhoto))
	g.POST("/move", s.page(s.moveCommission))
	g.POST("/finishing", s.page(s.tickOff))
	g.POST("/link", s.page(s.revokeLink))
	g.POST("/letters", s.page(s.writeLetter))
	g.GET("/letters/photographs/:photo", s.page(s.letterPhoto))
	g.GET("/letters/papers/:paper/enclosed.pdf", s.page(s.letterPaper))
	g.POST("/notes", s.page(s.writeNote))
	g.POST("/owed", s.page(s.setOwed))
	g.POST("/prefers", s.page(s.savePrefers))
	g.POST("/letters/:letter/copied", s.page(s.markCopied))
	g.GET("/measure", s.page(s.showMeasure))
	g.POST("/measure", s.page(s.saveMeasure))
	g.GET("/settle", s.page(s.showSettle))
	g.POST("/settle", s.page(s.saveSettle))
	g.GET("/sheets/:number", s.page(s.showSheet))
	g.GET("/sheets/:number/patterns-a4.pdf", s.page(s.showPatterns(draw.A4)))
	g.GET("/sheets/:number/patterns-letter.pdf", s.page(s.showPatterns(draw.Letter)))
	g.GET("/money", s.page(s.showMoney))
	g.POST("/payments", s.page(s.savePayment))
	g.GET("/quotation", s.page(s.showQuotation))
	g.POST("/quotation", s.page(s.saveQuotation))
	g.GET("/receipts/:receipt/receipt.pdf", s.page(s.showReceipt))
	g.GET("/fitting", s.page(s.showFittingNote))
	g.POST("/fitting", s.page(s.saveFittingNote))
	g.GET("/fittings/:photo", s.page(s.showFittingPhoto))
	g.GET("/care", s.page(s.showCareCard))
	g.GET("/copy", s.page(s.copyCommission))
	g.GET("/erase", s.page(s.showErase))
	g.POST("/erase", s.page(s.eraseCommission))
}

func (s *Server) diaryRoutes(g gin.IRouter) {
	g.GET("", s.page(s.showDiary))
	g.POST("/book", s.page(s.book))
	g.GET("/waiting", s.page(s.showWaitline))
	g.POST("/waiting", s.page(s.addToWaitline))
	g.POST("/waiting/:id/stop", s.page(s.takeOffWaitline))
	g.GET("/feed", s.page(s.showFeed))
	g.POST("/feed/open", s.page(s.openFeed))
	g.POST("/feed/shut", s.page(s.shutFeed))
	g.GET("/appointments/:id", s.page(s.showAppointment))
	g.POST("/appointments/:id/move", s.page(s.rebook))
	g.POST("/appointments/:id/cancel", s.page(s.cancelAppointment))
	g.POST("/appointments/:id/missed", s.page(s.markMissed))
}
