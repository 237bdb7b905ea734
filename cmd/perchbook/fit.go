package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"perchbook/fitting"
)

// fitCommand reads one case from in and writes its result, or why it is refused,
// to out. It returns the exit status: 0, or 1 for a refusal.
func fitCommand(in io.Reader, out io.Writer) int {
	write := json.NewEncoder(out)
	write.SetEscapeHTML(false)
	write.SetIndent("", "  ")
	result, err := fit(in)
	var refused fitting.Refusal
	switch {
	case errors.As(err, &refused):
		err = write.Encode(map[string]fitting.Refusal{"refused": refused})
	case err == nil:
		if err = write.Encode(result); err == nil {
			return 0
		}
	}
	if err != nil {
		fmt.Fprintln(out, err)
	}
	return 1
}

func fit(in io.Reader) (fitting.Result, error) {
	input, err := readCase(in)
	if err != nil {
		return fitting.Result{}, err
	}
	return fitting.Fit(input)
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
	places := map[string]any{
		"measures": &input.Measures, "face": &input.Face, "hair": &input.Hair, "wearer": &input.Wearer,
		"occasion": &input.Occasion, "wish": &input.Wish, "hat": &input.Hat, "elastic": &input.Elastic, "cloth": &input.Cloth,
	}
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
