package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"perchbook/bot"
	"perchbook/orders"
	"perchbook/server"
)

// keyLasts is how long the one-time link for a password opens.
const keyLasts = 24 * time.Hour

// A portal is the whole program while it runs.
type portal struct {
	options
	log   *slog.Logger
	out   io.Writer
	ready func(origin string) // a test is told where the portal listens
}

// run opens the store, starts site and bot, and stops both when ctx ends.
func (p portal) run(ctx context.Context) (err error) {
	socket, err := net.Listen("tcp", p.listen)
	if err != nil {
		return fmt.Errorf("listen: %w", err)
	}
	defer socket.Close()
	origin := p.origin(socket)
	store, err := orders.Open(ctx, p.data, orders.Settings{Origin: origin, Log: p.log, Mail: p.mail != nil})
	if err != nil {
		return fmt.Errorf("open data folder %s: %w", p.data, err)
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	if p.demo {
		if err := fillDemo(ctx, store); err != nil {
			return fmt.Errorf("fill the demonstration: %w", err)
		}
	}
	if err := p.greet(ctx, store, origin); err != nil {
		return err
	}
	return p.serve(ctx, socket, store, origin)
}

// origin is what every link begins with.
func (p portal) origin(socket net.Listener) string {
	if p.publicURL != "" {
		return p.publicURL
	}
	host, _, err := net.SplitHostPort(p.listen)
	if err != nil || host == "" || net.ParseIP(host).IsUnspecified() {
		host = "localhost"
	}
	return "http://" + net.JoinHostPort(host, fmt.Sprint(socket.Addr().(*net.TCPAddr).Port))
}

// greet says where the portal is and, while nobody can enter the workroom, how to begin.
func (p portal) greet(ctx context.Context, store *orders.Store, origin string) error {
	fmt.Fprintf(p.out, "For clients:   %s/\nThe workroom:  %s/workroom\n", origin, origin)
	if p.publicURL == "" {
		fmt.Fprintln(p.out, "Only this computer can open these addresses; --public-url changes that (see README.md).")
	}
	if p.demo {
		fmt.Fprintf(p.out, "Demonstration: sign in as %q with the password %q.\n", demoMaker, demoPassword)
		return nil
	}
	makers, err := store.Makers(ctx)
	if err != nil || len(makers) > 0 {
		return err
	}
	return printKey(ctx, store, p.out)
}

// printKey prints a one-time link with which a password is set.
func printKey(ctx context.Context, store *orders.Store, out io.Writer) error {
	code, err := store.NewCode(ctx, server.SetUp, "maker", keyLasts)
	if err != nil {
		return fmt.Errorf("make a one-time link: %w", err)
	}
	_, err = fmt.Fprintf(out, "Set the milliner's password here, once, within a day:\n  %s/enter/first/%s\n", store.Origin(), code)
	return err
}

// serve answers requests and chats until ctx ends, then lets what is under way finish.
func (p portal) serve(ctx context.Context, socket net.Listener, store *orders.Store, origin string) error {
	chat, calls := p.chat(store)
	site, err := server.New(server.Config{
		Store: store, Log: p.log, PublicURL: p.publicURL, Proxies: p.proxies, Demo: p.demo, ChatLink: p.chatLink(), ChatCalls: calls,
	})
	if err != nil {
		return err
	}
	handler, err := site.Handler()
	if err != nil {
		return err
	}
	web := &http.Server{Handler: handler, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 2 * time.Minute,
		WriteTimeout: 2 * time.Minute, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10,
		ErrorLog: slog.NewLogLogger(p.log.Handler(), slog.LevelWarn)}
	var both sync.WaitGroup
	defer both.Wait()
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	both.Go(func() { chat(ctx) })
	both.Go(func() { p.post(ctx, store) })
	both.Go(func() { p.sweep(ctx, store) })
	both.Go(func() { p.offers(ctx, store) })
	both.Go(func() { closeAfter(ctx, web, p.log) })
	if p.ready != nil {
		p.ready(origin)
	}
	if err := web.Serve(socket); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// chat is the chat door, and what answers Telegram's calls; nil when it does not call.
func (p portal) chat(store *orders.Store) (run func(context.Context), calls http.Handler) {
	if p.telegramToken == "" {
		return func(context.Context) {}, nil
	}
	b := bot.New(store, p.telegramToken, p.telegramAPI, p.log)
	if p.telegramCalls {
		calls = b.CalledAt(p.publicURL + server.ChatPath)
	}
	return func(ctx context.Context) {
		if err := b.Run(ctx); err != nil && ctx.Err() == nil {
			p.log.Error("the chat door has closed; the site goes on", "err", err)
		}
	}, calls
}

// post delivers what goes by mail. Without a mail server, what still waits for one is the milliner's to send.
func (p portal) post(ctx context.Context, store *orders.Store) {
	if p.mail != nil {
		_ = bot.Mail(ctx, store, *p.mail, p.log) // ends with ctx only
		return
	}
	if n, err := store.GiveUp(ctx, orders.ChannelMail, time.Now(), "no mail server is set up any more"); err != nil || n > 0 {
		p.log.Warn("letters by mail were given up", "letters", n, "err", err)
	}
}

// offers lets expired offers of a freed hour pass to the next who waits, once a minute.
func (p portal) offers(ctx context.Context, store *orders.Store) {
	for ctx.Err() == nil {
		if err := store.PassOffers(ctx); err != nil && ctx.Err() == nil {
			p.log.Error("offers of freed hours were not passed on; trying again", "err", err)
		}
		select {
		case <-ctx.Done():
		case <-time.After(time.Minute):
		}
	}
}

// sweep erases the drafts that were never sent in, at the start and once a day.
func (p portal) sweep(ctx context.Context, store *orders.Store) {
	for ctx.Err() == nil {
		switch n, err := store.Sweep(ctx); {
		case err != nil && ctx.Err() == nil:
			p.log.Error("old drafts were not erased; trying again tomorrow", "err", err)
		case n > 0:
			p.log.Info("old drafts were erased", "drafts", n)
		}
		select {
		case <-ctx.Done():
		case <-time.After(24 * time.Hour):
		}
	}
}

func (p portal) chatLink() string {
	if p.telegramToken == "" || p.botName == "" {
		return ""
	}
	return "https://t.me/" + p.botName
}

func closeAfter(ctx context.Context, web *http.Server, log *slog.Logger) {
	<-ctx.Done()
	patience, stop := context.WithTimeout(context.WithoutCancel(ctx), 20*time.Second)
	defer stop()
	if err := web.Shutdown(patience); err != nil {
		log.Warn("stopped before all requests were answered", "err", err)
	}
}
