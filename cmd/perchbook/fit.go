package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"

	"perchbook/fitting"
	"perchbook/server"
)

// fitCommand reads one case from in and writes its result, or why it is refused,
// to out: as JSON, or in words. It returns the exit status: 0, 1 for a refusal or
// a failure, 2 for options that were not understood.
func fitCommand(args []string, in io.Reader, out, errs io.Writer) int {
	f := flag.NewFlagSet("perchbook fit", flag.ContinueOnError)
	words := f.Bool("words", false, "say the proposal in words instead of JSON")
	folder := f.String("draw", "", "write drawings and patterns into this `folder`")
	if err := parse(f, args, errs, 0); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		fmt.Fprintf(errs, "%v\n\n%s", err, usage)
		return 2
	}
	input, err := readCase(in)
	var result fitting.Result
	if err == nil {
		result, err = fitting.Fit(input)
	}
	if err == nil && *folder != "" {
		err = drawFit(*folder, input, result)
	}
	say := sayJSON
	if *words {
		say = sayWords
	}
	return say(out, errs, result, err)
}

// sayJSON writes the contract's output.
func sayJSON(out, errs io.Writer, result fitting.Result, err error) int {
	write := json.NewEncoder(out)
	write.SetEscapeHTML(false)
	write.SetIndent("", "  ")
	var refused fitting.Refusal
	if errors.As(err, &refused) {
		return status(errs, write.Encode(map[string]fitting.Refusal{"refused": refused}), 1)
	}
	if err == nil {
		err = write.Encode(result)
	}
	return status(errs, err, 0)
}

// sayWords writes the same for a person to read.
func sayWords(out, errs io.Writer, result fitting.Result, err error) int {
	var refused fitting.Refusal
	if errors.As(err, &refused) {
		about := "the case"
		if refused.Field != "" {
			about = refused.Field
		}
		_, err = fmt.Fprintf(out, "This cannot be worked out, because of %s.\n%s\n", about, refused.Why)
		return status(errs, err, 1)
	}
	if err == nil {
		err = server.SayFit(out, result)
	}
	return status(errs, err, 0)
}

// status is that of a command that ended so, or 1 if it failed.
func status(errs io.Writer, err error, so int) int {
	if err != nil {
		fmt.Fprintf(errs, "perchbook fit: %v\n", err)
		return 1
	}
	return so
}

// mostCase is far more than any case needs, in bytes.
const mostCase = 1 << 20

// readCase decodes the contract's input. It refuses what the contract does not
// know, by its place in the contract: a figure that is misspelt must not be
// taken for one that was left out.
func readCase(in io.Reader) (fitting.Input, error) {
	var input fitting.Input
	body, err := io.ReadAll(io.LimitReader(in, mostCase+1))
	if err != nil {
		return input, fmt.Errorf("read the case: %w", err)
	}
	if len(body) > mostCase {
		return input, fitting.Refusal{Why: "The case is longer than any case can be."}
	}
	var parts map[string]json.RawMessage
	if err := json.Unmarshal(body, &parts); err != nil || parts == nil {
		return input, fitting.Refusal{Why: "The case is not one JSON object with the parts measures, hat and so on."}
	}
	places := partsOf(&input)
	for _, name := range sortedKeys(parts) {
		place, known := places[name]
		if !known {
			return input, fitting.Refusal{Field: name, Why: "There is no such part in a case. Its parts are " + strings.Join(sortedKeys(places), ", ") + "."}
		}
		if err := readPart(name, parts[name], place); err != nil {
			return input, err
		}
	}
	return input, nil
}

// partsOf are the parts of a case by their names in the contract.
func partsOf(input *fitting.Input) map[string]any {
	places := map[string]any{}
	parts := reflect.ValueOf(input).Elem()
	for i := range parts.NumField() {
		name, _, _ := strings.Cut(parts.Type().Field(i).Tag.Get("json"), ",")
		places[name] = parts.Field(i).Addr().Interface()
	}
	return places
}

func readPart(name string, body []byte, place any) error {
	read := json.NewDecoder(strings.NewReader(string(body)))
	read.DisallowUnknownFields()
	err := read.Decode(place)
	var wrong *json.UnmarshalTypeError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &wrong):
		return fitting.Refusal{Field: strings.TrimSuffix(name+"."+wrong.Field, "."), Why: "This is a " + wrong.Value + ", which is not what belongs here."}
	}
	if _, field, ok := strings.Cut(err.Error(), "unknown field "); ok {
		return fitting.Refusal{Field: name + "." + strings.Trim(field, `"`), Why: "There is no such figure in a case. Check how it is spelt; units are part of the name."}
	}
	return fitting.Refusal{Field: name, Why: "This part cannot be read."}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
