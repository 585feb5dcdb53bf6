// Package dotcode reads the tire identification number on a sidewall and says when the tire was made.
//
//	number, err := dotcode.Parse("DOT 1M3 ABCDEF 2313")
//	candidates := number.Candidates(on) // week 23 of 2013: 2013-06-09 to 2013-06-15
//	age := number.AgeOn(on)             // 13 years 5 months on 2026-11-25
//
// # Which sidewall to look at
//
// The full number may stand on one side only. On light-vehicle tires the side not meant to face out may carry a partial
// number that ends before the date; heavy tires need the number on one side only, which may be the one facing the coach
// or its dual mate. (49 CFR 571.139 S5.5.1 and 574.5.) So when a number ends in letters, or is shorter than
// the others on the coach, go and read the other side. DOT is a certification mark and not part of the number;
// R or DOT-R marks a retread, whose date is the day of retreading: the casing is older, and its age is not known unless
// its own number is read.
//
// # What a date says
//
// The last four digits are week and year (49 CFR 574.5(b)(3)): week 01 is the first full calendar week of the year, a week
// runs Sunday to Saturday, and days before the first Sunday belong to the previous year's last week. Until July 2000 there
// were three digits, week and the last digit of the year, which do not say the decade. Such a code has several [Candidate]
// years, each with its reason; four digits have one, unless that week does not exist or lies after the day of reading.
// Two-digit years mean 2000 to 2098; 99 means 1999, on a tire marked early with four digits.
//
// # Age
//
// An [Age] is a range between two days of make. Whatever decides uses the OLDEST day ([Age.Oldest], [Age.AtMost],
// [Age.Reached]): a tire is never taken for younger than a candidate supports. Ages are compared by calendar dates and are
// never rounded up to a birthday.
//
// The package reads no clock: the caller passes the day of reading. It imports only the standard library, keeps no state,
// and its values may be used by any number of goroutines. See [Caution].
package dotcode

// Caution is the sentence to show beside any age: age is one limit of several and clears no tire.
const Caution = "Age alone never clears a tire: tread, damage, load and pressure have limits of their own. " +
	"Follow local codes and the tire maker's advice, and have a trained person inspect any tire in doubt."
