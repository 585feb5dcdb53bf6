package weight

func (s Solution) Open() []OpenSet        { return nil }
func (s Solution) Settle(set Set) OpenSet { return OpenSet{} }
func (s Solution) SettleAll() []Placement { return nil }

// A Trip is the weighed state and the stages planned from it.
type Trip struct{}

func PlanTrip(weighed Solution, stages ...Stage) (Trip, error) { return Trip{}, nil }
func (t Trip) Stages() []string                                { return nil }
func (t Trip) At(stage int, set Set) Estimate                  { return Estimate{} }
func (t Trip) Heaviest(set Set) (Estimate, int)                { return Estimate{}, 0 }
func (t Trip) Margins(stage int, limits []Limit) []Margin      { return nil }
func (t Trip) RoomAt(stage int, at Station, limits []Limit, leasts []Least) (Room, error) {
	return Room{}, nil
}
func (t Trip) Cautions() []Caution                               { return nil }
func PlanMoves(trip Trip, stage int, cargo Cargo) (Moves, error) { return Moves{}, nil }
