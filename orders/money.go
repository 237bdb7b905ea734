package orders

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
	"golang.org/x/text/width"
)

// An Amount is money in the currency's smallest unit: 12850 is 128.50 where there are two decimals.
type Amount int64

// A Currency is its code in ISO 4217, such as EUR.
type Currency string

// mostAmount keeps every sum of amounts far inside an int64. No small hat costs as much.
const mostAmount Amount = 1_000_000_000

// Known says whether ISO 4217 has the currency, as golang.org/x/text knows it.
func (c Currency) Known() bool {
	if c == "XXX" || c == "XTS" { // no currency, and one for tests
		return false
	}
	unit, err := currency.ParseISO(string(c))
	return err == nil && unit.String() == string(c)
}

// Decimals is how many digits stand after the point; 2 for a currency that is not known.
func (c Currency) Decimals() int {
	unit, err := currency.ParseISO(string(c))
	if err != nil {
		return 2
	}
	scale, _ := currency.Standard.Rounding(unit)
	return scale
}

// Say writes an amount with the code in front: "EUR 1,280.50".
func (c Currency) Say(a Amount) string { return string(c) + " " + c.Plain(a) }

// Phrase says an amount in the client's way: "EUR 1,280.50", "1 280,50 EUR".
func (c Currency) Phrase(a Amount) Phrase {
	if a < 0 {
		return Say("−%s", c.Phrase(-a))
	}
	x := float64(a) / float64(pow10(c.Decimals()))
	switch c.Decimals() {
	case 0:
		return Say("%s %.0f", string(c), x)
	case 2:
		return Say("%s %.2f", string(c), x)
	}
	return asTyped(c.Say(a))
}

// Plain writes an amount without its currency: "1,280.50", "−3.00".
func (c Currency) Plain(a Amount) string {
	sign := ""
	if a < 0 {
		sign, a = "−", -a
	}
	digits, places := strconv.FormatInt(int64(a), 10), c.Decimals()
	for len(digits) <= places {
		digits = "0" + digits
	}
	whole, part := digits[:len(digits)-places], digits[len(digits)-places:]
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if places > 0 {
		part = "." + part
	}
	return sign + whole + part
}

// possible says whether it is nothing or more, and no more than anything here costs.
func (a Amount) possible() bool { return a >= 0 && a <= mostAmount }

var (
	moneyShape = regexp.MustCompile(`^(-?)([\d.,' ]*\d[\d.,' ]*)$`)
	signs      = regexp.MustCompile(`[\p{Sc}\p{Zs}]+`)
)

// Read reads an amount as people type it: "128", "128.50", "128,50 €", "1 280", "EUR 1,280.50". The
// second result says, in a sentence, why it can't be read. Where a comma or a point could part
// thousands or decimals it asks.
func (c Currency) Read(typed string) (Amount, string) {
	example := c.Plain(12850 * Amount(pow10(c.Decimals())) / 100)
	help := fmt.Sprintf("Write an amount such as %s.", example)
	text := strings.TrimSpace(strings.ReplaceAll(width.Narrow.String(typed), "−", "-"))
	if strings.HasPrefix(strings.ToUpper(text), string(c)) {
		text = text[len(c):]
	} else if strings.HasSuffix(strings.ToUpper(text), string(c)) {
		text = text[:len(text)-len(c)]
	}
	text = strings.TrimSpace(signs.ReplaceAllString(text, " "))
	m := moneyShape.FindStringSubmatch(text)
	if m == nil {
		return 0, help
	}
	whole, part, ok := c.parted(strings.NewReplacer(" ", "", "'", "").Replace(m[2]))
	if !ok {
		return 0, "It is not clear whether that mark parts thousands or decimals. " + help
	}
	if len(part) > c.Decimals() {
		return 0, fmt.Sprintf("%s has %d decimals at most. %s", c, c.Decimals(), help)
	}
	n, err := strconv.ParseInt(whole+part+strings.Repeat("0", c.Decimals()-len(part)), 10, 64)
	if err != nil || Amount(n) > mostAmount {
		return 0, fmt.Sprintf("That is more than %s. %s", c.Plain(mostAmount), help)
	}
	if m[1] != "" {
		n = -n
	}
	return Amount(n), ""
}

// parted takes digits with points and commas apart into what stands before and after the decimal mark.
func (c Currency) parted(text string) (whole, part string, clear bool) {
	last := strings.LastIndexAny(text, ".,")
	if last < 0 {
		return text, "", true
	}
	mark, tail := text[last:last+1], text[last+1:]
	several := strings.Count(text, mark) > 1
	mixed := strings.ContainsAny(text[:last], ".,") && !several
	switch {
	case several: // they part thousands, all of them
		return strings.ReplaceAll(text, mark, ""), "", grouped(text, mark)
	case mixed:
		other := strings.Trim(".,", mark)
		return strings.ReplaceAll(text[:last], other, ""), tail, grouped(text[:last], other)
	case len(tail) == 3 && (c.Decimals() != 3 || mark == ","): // 1,280 may be either
		return text[:last] + tail, "", c.Decimals() == 0
	}
	return text[:last], tail, true
}

// grouped says whether the mark parts groups of three digits.
func grouped(text, mark string) bool {
	groups := strings.Split(text, mark)
	for _, g := range groups[1:] {
		if len(g) != 3 || strings.ContainsAny(g, ".,") {
			return false
		}
	}
	return len(groups[0]) >= 1 && len(groups[0]) <= 3
}

// part is a times parts over whole, halves away from zero.
func (a Amount) part(parts, whole int64) Amount {
	product := new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(2*parts))
	if product.Sign() < 0 {
		product.Sub(product, big.NewInt(whole))
	} else {
		product.Add(product, big.NewInt(whole))
	}
	return Amount(product.Quo(product, big.NewInt(2*whole)).Int64())
}

func pow10(n int) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}
