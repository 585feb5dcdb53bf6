package history

import (
	"axleend.example/inspect/record/condition"
	"axleend.example/internal/judge"
	"axleend.example/rules"
)

// staysBehind reports whether a rule on a tire is about its wheel, its valve,
// its load or its place, which stay when the tire goes.
func staysBehind(rule *rules.Rule) bool {
	r, m := judge.MeasuresOf(), rule.Measure()
	if m == r.Load || m == r.WheelCapacity || m == r.TorqueDue || m == r.TorqueAhead {
		return true
	}
	for _, c := range [...]condition.Condition{condition.WheelCracked, condition.WheelHolesElongated, condition.WheelWelded, condition.LockRingDamaged, condition.WheelBent, condition.WheelClampWorn,
		condition.LugNutLoose, condition.FastenerDamaged, condition.FlapAtStem, condition.StemNotRadial, condition.ValveLeaking, condition.StemCracked, condition.ExtensionLoose, condition.CapMissing,
		condition.DualsTouching, condition.TouchingVehicle, condition.ObjectBetweenDuals, condition.NarrowBlock} {
		if m == r.Conditions[c] {
			return true
		}
	}
	return false
}

// ofNuts reports whether a rule is about what holds a wheel, which stays where it is when
// the wheel goes.
func ofNuts(rule *rules.Rule) bool {
	r, m := judge.MeasuresOf(), rule.Measure()
	return m == r.TorqueDue || m == r.Conditions[condition.LugNutLoose] || m == r.Conditions[condition.FastenerDamaged]
}

// pastEvent reports whether a rule is about what a tire went through: having
// been driven low or overloaded stays true, whatever a later visit finds or
// leaves out.
func pastEvent(rule *rules.Rule) bool {
	r := judge.MeasuresOf()
	if rule.Involves(judge.RanLow) || rule.Uses(r.RunLow) && rule.Action().Stops {
		return true
	}
	switch rule.Measure() {
	case r.Lowest, r.RunLow, r.MateRunLow, r.LoadAlone, r.Conditions[condition.AloneOnBlock]:
		return rule.Action().Stops
	}
	return false
}

// lasting reports whether what a rule found does not go away by itself, so
// that not finding it again settles nothing.
func lasting(rule *rules.Rule) bool {
	r, m := judge.MeasuresOf(), rule.Measure()
	if pastEvent(rule) || m == r.CrackDepth || m == r.CutDepth || m == r.CutInTread || m == r.InjuryWidth || m == r.Tread {
		return true
	}
	for _, c := range condition.All() {
		if m == r.Conditions[c] {
			return !mendable(c)
		}
	}
	return false
}

// mendable conditions can be put right, or wear off, with the tire staying on.
func mendable(c condition.Condition) bool {
	switch c {
	case condition.AudibleLeak, condition.LugNutLoose, condition.FastenerDamaged, condition.FlapAtStem, condition.StemNotRadial, condition.DualsTouching, condition.TouchingVehicle, condition.ObjectBetweenDuals, condition.ValveLeaking, condition.StemCracked,
		condition.ExtensionLoose, condition.NarrowBlock, condition.CapMissing, condition.FlatSpot, condition.Cupping, condition.Feathering, condition.FeatheringInward, condition.FeatheringOutward,
		condition.OneShoulderWear, condition.BothShouldersWear, condition.CenterWear, condition.DiagonalWear, condition.OilyDressing:
		return true
	}
	return false
}
