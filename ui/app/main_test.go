package app

import (
	"testing"

	"brine/wrasse/ui/termtest"
)

func TestMain(m *testing.M) { termtest.Main(m) }
