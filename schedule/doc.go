// Package schedule makes the round: what is due on a date, when, why, how sure that is, and what it risks.
//
// Start at [Make], which turns a book and a date into a [Round]. A Round is a snapshot and is never
// changed; it also answers what fits into the minutes at hand ([Round.TimeBox]), what to do while one is
// there ([Round.WhileThere]), what the shelf and the calendar will see in a year ([Round.Shelf], [Round.Year]) and
// which component's placing costs most ([Round.Rethink]).
//
// The package infers and does no bookkeeping: which amount and which reading belongs to which cycle is answered by
// package model; the mathematics of lives and trends stands in schedule/life and schedule/trend. It is pure: no clock,
// no file, no environment. It gives facts and not words; the sentences on screen are made from them in package ui.
//
// # How a date is made
//
// A chore's clocks each give three dates: planned (do it by), limit (more likely spent than not) and due, the planned one
// less the lead. The earliest of each is the chore's; a confirmed crossing governs, else the earliest due date. A clock
// is one type in one file; the map of kinds in clock.go is the only place that lists them.
//
//   - calendar: planned = start + planned age, in days.
//   - usage: the day on which the amount counted since the start reaches the planned amount, at the present rate. What a
//     counter counted, with what is counted on in its silences, is a record (record.go); what of it is one cycle's,
//     and what is counted on before the record, is a cycle (cycle.go).
//   - load: the same in grams, each amount weighted by the concentration of the water it was.
//   - reading: a threshold crossed, or the day on which the trend of the readings crosses it (Theil-Sen line with
//     Sen's confidence slope; Mann-Kendall test).
//
// The planned age is a quantile of a Weibull life, the limit age its median; the life is the posterior mode of what was
// declared and what the ticks found (learn.go). The chance taken, and so the quantile, is what doing the job costs over
// what a failure would (plan.go). With costs, the planned age is that of least cost in the long run. How far jobs of a
// reach grade slip, learnt from the ticks, brings the due date of every clock forward.
//
// # Sources
//
// Censored Weibull lives and the age of least cost: see schedule/life (NIST/SEMATECH e-Handbook; Barlow and Proschan
// 1965). Theil-Sen, Mann-Kendall, the moving average chart that tells a drift, and the isotonic fit: see
// schedule/trend (Sen 1968; Gilbert 1987; NIST/SEMATECH e-Handbook 6.3.2.4). What the gauges of the station tell of each
// other (rejection, normalised flow): see model/water (ASTM D4516). The rate of use and
// what is counted on, the price of a chance, the weights 1, 3 and 10, the slip believed of each reach grade and the caps
// on a lead are this project's own choice; so is that of a rule's lives a fifth have failed when it is due, which at shape 6
// renews at 0.83 of the median. The time box is a knapsack by dynamic programming over whole minutes, common practice, no
// source.
//
// # Rounding
//
// Dates are civil. Every floor, ceiling and rounding of a computed number allows 1e-9 and every comparison of one with
// a threshold a relative 1e-9, so that two machines, or two orders of summation, give one date. Products that feed a
// rounding are written float64(a*b) + c, which keeps a compiler from fusing them.
package schedule
