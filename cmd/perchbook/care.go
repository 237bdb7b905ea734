package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net/http"
	"time"

	"perchbook/orders"
)

// keyCommand prints a new one-time link, for a forgotten password. The portal may be running.
func keyCommand(ctx context.Context, args []string, out, errs io.Writer) error {
	f := flag.NewFlagSet("key", flag.ContinueOnError)
	data := f.String("data", plainData, "data folder")
	origin := f.String("public-url", "http://localhost:8017", "origin of the link")
	if err := parse(f, args, errs, 0); err != nil {
		return err
	}
	store, err := orders.Open(ctx, *data, orders.Settings{Origin: *origin, Existing: true})
	if err != nil {
		return err
	}
	defer store.Close()
	return printKey(ctx, store, out)
}

// backupCommand writes a checked copy of the database. The portal may be running.
func backupCommand(ctx context.Context, args []string, out, errs io.Writer) error {
	f := flag.NewFlagSet("backup", flag.ContinueOnError)
	data := f.String("data", plainData, "data folder")
	if err := parse(f, args, errs, 1); err != nil {
		return err
	}
	store, err := orders.Open(ctx, *data, orders.Settings{Existing: true})
	if err != nil {
		return err
	}
	defer store.Close()
	if err := store.Backup(ctx, f.Arg(0)); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "Written and checked: %s\n", f.Arg(0))
	return err
}

// restoreCommand puts a backup in place and opens it once, so that it fails here and not at the next start.
func restoreCommand(ctx context.Context, args []string, out, errs io.Writer) error {
	f := flag.NewFlagSet("restore", flag.ContinueOnError)
	data := f.String("data", plainData, "data folder")
	if err := parse(f, args, errs, 1); err != nil {
		return err
	}
	if err := orders.Restore(ctx, f.Arg(0), *data); err != nil {
		return err
	}
	store, err := orders.Open(ctx, *data, orders.Settings{Existing: true})
	if err != nil {
		return err
	}
	defer store.Close()
	_, err = fmt.Fprintf(out, "Put into %s, without what is on the list of erasures.\n", *data)
	return err
}

// healthyCommand asks a running portal whether it is well, for a container's health check.
func healthyCommand(ctx context.Context, args []string, out, errs io.Writer) error {
	f := flag.NewFlagSet("healthy", flag.ContinueOnError)
	at := f.String("at", "http://localhost:8017", "address of the portal")
	if err := parse(f, args, errs, 0); err != nil {
		return err
	}
	ctx, stop := context.WithTimeout(ctx, 5*time.Second)
	defer stop()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, *at+"/healthz", nil)
	if err != nil {
		return err
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		return fmt.Errorf("the portal answered %s", res.Status)
	}
	_, err = fmt.Fprintln(out, "ok")
	return err
}
