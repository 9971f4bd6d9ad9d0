package shell

import "testing"

// Where sources differ and none is trusted, no answer takes one of them for
// right without a word.
func TestLeadsInDisputeAreNotTakenForSettled(t *testing.T) {
	text := "use \"lantern-half.buzzout\"\nsolder S3.a J3.tip\n"
	holdsAll(t, text, "todo S3", "S3.a1 to T2.4ohm (orange by circuit or white by stickers) net tap-4", "S3.a3 to T2.grey (16ohm)")
	holdsAll(t, text, "about T2", "orange open - -", "grey 16ohm tap-16", "Sources differ about its leads")
	holdsAll(t, text, "at T2.orange", "Which end it is, sources differ about")
	holdsAll(t, text, "try solder S3.a1 T2.orange", "Fault: T2.orange sits at S3.a1, on net tap-4, and belongs on net tap-8. That is so if stickers is right about T2.")
	text += "trust T2 stickers\n"
	holdsAll(t, text, "todo S3", "S3.a1 to T2.white (4ohm)")
	holdsAll(t, text, "about T2", "orange 8ohm tap-8", "!Sources differ")
}
