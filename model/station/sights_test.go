package station

import (
	"testing"

	"brine/wrasse/model"
)

// What is seen leads to its cause while it is fresh and until it is said to be gone.
func TestSightings(t *testing.T) {
	sure := func(l *log, n int, cause string) bool {
		for _, c := range Of(l.book(), day(n)).Diagnosis.Causes {
			if c.ID == cause {
				return true
			}
		}
		return false
	}
	for role, cause := range map[string]string{
		RoleWasteWhenFull: "D20", RoleSilica: "D27", RoleDiatoms: "D27", RolePressureSwings: "D31", RolePressureSags: "D32",
	} {
		l := newLog(t)
		l.add(0, model.Gauge{ID: "sight", Name: "Seen", Unit: "seen", Role: role})
		l.read(20, model.RoleTDSTap, 250)
		l.read(20, model.RoleTDSMembrane, 5)
		l.read(20, model.RoleTDSProduct, 0)
		if sure(l, 20, cause) {
			t.Errorf("%s: %s before anything was seen", role, cause)
		}
		l.read(20, "sight", 1)
		if !sure(l, 25, cause) {
			t.Errorf("%s: no %s, but %+v", role, cause, Of(l.book(), day(25)).Diagnosis.Causes)
		}
		if sure(l, 51, cause) {
			t.Errorf("%s: still %s after a month", role, cause)
		}
		l.read(26, "sight", 0)
		if sure(l, 27, cause) {
			t.Errorf("%s: still %s once it is gone", role, cause)
		}
	}
}

func TestSightsAreAskedAboutAsYesOrNo(t *testing.T) {
	l := newLog(t)
	l.add(0, model.Gauge{ID: "sight", Name: "Seen", Unit: "seen", Role: RoleSilica})
	all := Sights(l.book())
	if len(all) != 1 || all[0].ID != "sight" || Hint(all[0]) != "1 when seen, 0 when not" {
		t.Errorf("%+v", all)
	}
}
