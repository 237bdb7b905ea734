package orders

import (
	"fmt"
	"os"
	"testing"
)

// children are parts of tests that run in a process of their own: this same binary with the part's
// name in the environment.
var children = map[string]func() error{
	"book":   bookInChild,
	"cloth":  clothInChild,
	"die":    dieInChild,
	"erase":  eraseInChild,
	"hold":   holdInChild,
	"letter": lettersInChild,
	"money":  moneyInChild,
	"offers": offersInChild,
	"stages": stagesInChild,
}

const childKey = "PERCHBOOK_TEST_CHILD"

func TestMain(m *testing.M) {
	if part, ok := children[os.Getenv(childKey)]; ok {
		if err := part(); err != nil {
			fmt.Println("FAILED", err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}
