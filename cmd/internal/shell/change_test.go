package shell

import (
	"strings"
	"testing"

	"buzzout/verify"
)

// What a fact brings is what was not there before, under whatever meaning of a
// part's colours; two of a kind are two.
func TestMissingFrom(t *testing.T) {
	of := func(keys string) (list []verify.Finding) {
		for _, k := range strings.Fields(keys) {
			message, under, _ := strings.Cut(k, "@")
			list = append(list, verify.Finding{Message: message, Under: under})
		}
		return list
	}
	for _, c := range []struct{ first, second, want string }{
		{"", "a b", "a b"},
		{"a", "a a b", "a b"},
		{"a", "a@sheet a@stickers", ""},
		{"a@sheet", "a", ""},
		{"a@sheet a@stickers", "a a", "a"},
		{"a a", "a@sheet a@sheet a@stickers", ""},
	} {
		var got []string
		for _, f := range missingFrom(of(c.first), of(c.second)) {
			got = append(got, f.Message)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q after %q: %q, want %q", c.second, c.first, got, c.want)
		}
	}
}

// A fact of several lines is quoted once, by its first.
func TestFactInBracesIsQuotedOnce(t *testing.T) {
	s, _ := onDisk(t, "part T1 transformer {\n  winding a 1 2\n  winding b 3 4\n}\npart P post\nnet a T1.1 P\n")
	if text, _ := say(t, s, "check"); strings.Count(text, "part T1 transformer { …") != 1 {
		t.Error(text)
	}
}

// The verdict that try foresees is the one that check would give.
func TestTryCountsAsCheckDoes(t *testing.T) {
	for _, c := range []struct{ book, try, check string }{
		{smallBook, "Nothing would be wrong", "Nothing wrong"},
		{smallBook + "part CH chassis\nbolt J1.sleeve CH.once\n", "would be 1 remark", "1 remark, and nothing wrong"},
	} {
		s, _ := onDisk(t, c.book)
		if text, _ := say(t, s, `try note "so"`); !strings.Contains(text, c.try) {
			t.Errorf("try: %s", text)
		}
		if text, _ := say(t, s, "check"); !strings.Contains(text, c.check) {
			t.Errorf("check: %s", text)
		}
	}
}
