// Package bot is the chat door: the same intake as the web page, asked one question at a time.
//
// Turn is the conversation and knows no messenger, network or store. take carries what Turn
// decided out on an orders.Store. Bot listens to Telegram and delivers to it; Say, Press and
// Transcript are the same conversation in the workroom's rehearsal window.
package bot
