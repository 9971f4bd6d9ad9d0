package rules

import (
	"testing"

	"buzzout/verify/ruletest"
)

func TestNotebooks(t *testing.T) { ruletest.Notebooks(t, "testdata", check) }

func TestEveryRuleHasItsNotebooks(t *testing.T) { ruletest.Pairs(t, "testdata", All()) }
