package legend

import (
	"testing"
)

// What would follow is told before anything is wired, each way round, and a
// winding that is turned over turns the feedback of the drawing round.
func TestProspectsBeforeAnythingIsWired(t *testing.T) {
	book := build(t, `part T2 output-pp { load anode-a anode-b 8k }
part LS1 loudspeaker 8
part S1, S2 post
net hot T2.8ohm LS1.+
net cold T2.common LS1.-
net a T2.anode-a S1
net b T2.anode-b S2
colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm }
colours T2 stickers { blue anode-b, red ht, brown anode-a, black common, orange 8ohm, white 4ohm }
`)
	list := Prospects(book, book.Part("T2"), Negative)
	if len(list) != 2 || list[0].By != "sheet" || list[0].Source != "stickers" || list[1].By != "stickers" || list[1].Source != "sheet" {
		t.Fatalf("%+v", list)
	}
	for _, p := range list {
		// 8000 × 8 / 4, as in G4-32; nothing hangs on the 4 Ω tap.
		load := effectOf(p.Under, LoadChanged)
		if load == nil || !near(load.Is, 16000) {
			t.Errorf("by %s: %+v", p.By, p.Effects)
		}
		if p.Loop != Positive || effectOf(p.Under, FeedbackTurned) == nil {
			t.Errorf("by %s: feedback %d, %+v", p.By, p.Loop, p.Effects)
		}
	}
}
