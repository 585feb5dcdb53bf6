package cold_test

import (
	"fmt"
	"os"
	"time"

	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/weight"
)

func ExampleWillRead() {
	afternoon := cold.Air{Temperature: inflation.MustParseTemperature("95 F")}
	morning := cold.Air{Temperature: inflation.MustParseTemperature("60 F")}
	p, err := cold.WillRead(102*inflation.PSI, afternoon, morning, weight.US)
	fmt.Println(p, err)
	p, err = cold.SetTo(95*inflation.PSI, afternoon, morning, weight.US)
	fmt.Println(p, err)
	// Output:
	// 94.63 psi <nil>
	// 102.39 psi <nil>
}

func ExampleMornings() {
	now := cold.Air{Temperature: inflation.MustParseTemperature("60 F")}
	frosty := cold.Air{Temperature: inflation.MustParseTemperature("20 F")}
	warm := cold.Air{Temperature: inflation.MustParseTemperature("90 F")}
	mornings, err := cold.Mornings(95*inflation.PSI, 90*inflation.PSI, now, weight.US, frosty, warm)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(cold.MorningLine(95*inflation.PSI, now, weight.US, mornings))
	// Output: 95 psi set at 60 F will read 86 psi at 20 F (add air), 101 psi at 90 F (leave it)
}

func ExampleAtMost() {
	bound, err := cold.AtMost(cold.HotReading{Pressure: 88 * inflation.PSI, MaxLoad: 3640 * weight.Pound, Speed: 50 * inflation.MilePerHour})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("at most", bound.AtMost, "cold;", "below 85 psi:", bound.Condemns(85*inflation.PSI))
	fmt.Println(bound.Source)
	// Output:
	// at most 83 psi cold; below 85 psi: true
	// 49 CFR 393.75, table 1 (as quoted)
}

func ExampleLeakRate() {
	air := cold.Air{Temperature: inflation.MustParseTemperature("60 F")}
	gauge := inflation.PSI // plus/minus
	leak, err := cold.LeakRate(
		cold.Reading{Pressure: 95 * inflation.PSI, PlusMinus: gauge, Air: air},
		cold.Reading{Pressure: 83 * inflation.PSI, PlusMinus: gauge, Air: air},
		60*24*time.Hour, weight.US)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(leak.PerMonth, "a month, plus/minus", leak.PlusMinus, "- more than 2 psi:", leak.Exceeds(2*inflation.PSI))
	// Output: 6 psi a month, plus/minus 1 psi - more than 2 psi: true
}

func ExampleAlarmFor() {
	alarm, err := cold.AlarmFor(95*inflation.PSI, 85*inflation.PSI, inflation.PSI, 0)
	fmt.Println(alarm.At, "flat at", alarm.FlatAt, err)
	// Output: 86 psi flat at 76 psi <nil>
}

func ExampleStandardAtmosphere() {
	p, err := cold.StandardAtmosphere(5000 * weight.Foot)
	fmt.Println(p.In(inflation.PSI, 2, weight.Nearest), "psi", err)
	fmt.Fprintln(os.Stdout, cold.AtmosphereSource())
	// Output:
	// 12.23 psi <nil>
	// US Standard Atmosphere 1976, formula of the lowest layer, -1,000 to 15,000 ft (computed)
}
