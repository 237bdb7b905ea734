package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/url"
	"os"
	"strings"

	"perchbook/bot"
)

// plainData and demoData are the data folders when none is named: the demonstration never touches
// a real workroom's.
const (
	plainData = "perchbook-data"
	demoData  = "perchbook-demo"
)

// options are what serve was asked for.
type options struct {
	listen, data, publicURL string
	proxies                 list
	demo                    bool
	telegramToken           string // from the environment, never a flag
	telegramAPI             string // another address of the bot interface, for tests
	botName                 string
	telegramCalls           bool            // it calls us, in place of being asked
	mail                    *bot.MailServer // nil: nothing goes by mail
	errs                    io.Writer
}

// A list collects a flag that may be given several times.
type list []string

func (l *list) String() string { return strings.Join(*l, ",") }
func (l *list) Set(v string) error {
	if net.ParseIP(v) == nil {
		if _, _, err := net.ParseCIDR(v); err != nil {
			return fmt.Errorf("%q is neither an address nor a network", v)
		}
	}
	*l = append(*l, v)
	return nil
}

func serveCommand(ctx context.Context, args []string, out, errs io.Writer) error {
	o := options{errs: errs}
	f := flag.NewFlagSet("serve", flag.ContinueOnError)
	f.BoolVar(&o.demo, "demo", false, "fill an invented studio, in a data folder of its own")
	f.StringVar(&o.listen, "listen", "localhost:8017", "address and port to listen on")
	f.StringVar(&o.data, "data", "", "data folder (default "+plainData+", or "+demoData+" with --demo)")
	f.StringVar(&o.publicURL, "public-url", "", "origin used in every link, such as https://hats.example")
	f.Var(&o.proxies, "proxy", "address of the TLS proxy whose forwarding headers are believed; may be repeated")
	if err := parse(f, args, errs, 0); err != nil {
		return err
	}
	if err := o.complete(); err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(errs, nil))
	return portal{options: o, log: log, out: out}.run(ctx)
}

// complete fills in what was left out and checks what was given.
func (o *options) complete() error {
	if o.data == "" {
		o.data = plainData
		if o.demo {
			o.data = demoData
		}
	}
	o.telegramToken = os.Getenv("PERCHBOOK_TELEGRAM_TOKEN")
	o.telegramAPI = os.Getenv("PERCHBOOK_TELEGRAM_API")
	o.botName = os.Getenv("PERCHBOOK_TELEGRAM_NAME")
	o.telegramCalls = os.Getenv("PERCHBOOK_TELEGRAM_CALLS") != ""
	if o.telegramCalls && (o.telegramToken == "" || !strings.HasPrefix(o.publicURL, "https://")) {
		return misuse("PERCHBOOK_TELEGRAM_CALLS needs PERCHBOOK_TELEGRAM_TOKEN and a --public-url that begins with https://, since Telegram calls that.")
	}
	if address := os.Getenv("PERCHBOOK_MAIL"); address != "" {
		m, err := bot.ReadMailServer(address, os.Getenv("PERCHBOOK_MAIL_FROM"))
		if err != nil {
			return misuse("PERCHBOOK_MAIL or PERCHBOOK_MAIL_FROM: " + err.Error() + ".")
		}
		o.mail = &m
	}
	if o.publicURL == "" {
		return nil
	}
	u, err := url.Parse(strings.TrimSuffix(o.publicURL, "/"))
	if err != nil || u.Host == "" || (u.Scheme != "https" && u.Scheme != "http") || u.Path != "" || u.RawQuery != "" || u.User != nil {
		return misuse(fmt.Sprintf("--public-url %q should be only a scheme and a host, such as https://hats.example.", o.publicURL))
	}
	o.publicURL = u.String()
	return nil
}
