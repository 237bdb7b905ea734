package server

import (
	"math"
	"strings"

	"perchbook/orders"
)

// readPoints reads a percentage as hundredths of a per cent: "17.5 %" is 1750.
func readPoints(typed string, most float64) (int, string) {
	x, ok := plainNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(typed), "%")))
	points := math.Round(100 * x)
	if !ok || !(x >= 0 && x <= most) || math.Abs(points-100*x) > 1e-6 {
		return 0, "Write a percentage from 0 to " + shortest(most, 0) + ", with two decimals at most."
	}
	return int(points), ""
}

// percent writes hundredths of a per cent: "17.5".
func percent(points int) string { return shortest(float64(points)/100, 2) }

// A moneyForm reads the fields of a form about money, and keeps by field what it could not read.
type moneyForm struct {
	typed    map[string]string
	currency orders.Currency
	problems map[string]string
}

func (f *moneyForm) amount(key string) orders.Amount {
	if f.typed[key] == "" {
		return 0
	}
	a, problem := f.currency.Read(f.typed[key])
	f.note(key, problem)
	return a
}

func (f *moneyForm) points(key string, most float64) int {
	if f.typed[key] == "" {
		return 0
	}
	n, problem := readPoints(f.typed[key], most)
	f.note(key, problem)
	return n
}

func (f *moneyForm) day(key string) string {
	if f.typed[key] == "" {
		return ""
	}
	day, ok := readDay(f.typed[key])
	if !ok {
		f.note(key, "Write the day like 3 March 2027.")
	}
	return day
}

func (f *moneyForm) note(key, problem string) {
	if problem != "" && f.problems[key] == "" {
		f.problems[key] = problem
	}
}
