package weight

// A Solution is what a set of readings says. It is immutable and safe for
// concurrent use; the zero Solution knows nothing.
type Solution struct{}

func Solve(rig Rig, readings []Reading, scale Scale) (Solution, error) { return Solution{}, nil }
func (s Solution) Rig() Rig                                            { return Rig{} }
func (s Solution) Scale() Scale                                        { return Scale{} }
func (s Solution) Readings() []Reading                                 { return nil }
func (s Solution) Of(set Set) Estimate                                 { return Estimate{} }
func (s Solution) Difference(a, b Set) Estimate                        { return Estimate{} }
func (s Solution) Rejected() []*ReadingError                           { return nil }
func (s Solution) Conflicts() []*Conflict                              { return nil }
func (s Solution) Err() error                                          { return nil }
func (s Solution) Residuals() []Residual                               { return nil }
func (s Solution) Open() []OpenSet                                     { return nil }
func (s Solution) Settle(set Set) OpenSet                              { return OpenSet{} }
func (s Solution) SettleAll() []Placement                              { return nil }
func (s Solution) Small() []string                                     { return nil }
func (s Solution) HeavyDiagonal() (Diagonal, bool)                     { return Diagonal{}, false }
func (s Solution) Cautions() []Caution                                 { return nil }
func (s Solution) Assume(heavier Share) (Solution, error)              { return s, nil }

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
