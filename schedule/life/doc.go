// Package life estimates how long a thing lasts and the age at which it pays to renew it.
//
// A life is a [Weibull] distribution in whatever unit its clock counts: days, litres or grams. [Mode] finds the
// most probable one given a [Prior] (what was declared) and the [Observation]s a log holds, most of which are
// censored: the part was still good when it was changed, or had already failed at some unknown earlier age.
// [Weibull.ReplacementAge] turns a life and two costs into the age that costs least in the long run.
//
// The package knows numbers only: no dates, no components, no entries. Which cycle becomes which observation, what
// quantile a consequence deserves, and what a date is, are questions for package schedule.
//
// # Formulas
//
// Cumulative hazard H(t) = ln 2 (t/median)^shape, so that R(t) = exp(-H(t)) and R(median) = 1/2. The usual scale
// is median / (ln 2)^(1/shape).
//
// Log-likelihood of an observation: right-censored at t, -H(t); exact at t, the log density; left-censored at t,
// ln(1 - exp(-H(t))); interval-censored in (l, h], ln(R(l) - R(h)). These are the standard terms for censored life
// data; the NIST/SEMATECH e-Handbook of Statistical Methods, section 8.4.1.3, works the right-censored case, and the
// tests hold this package to its figures.
//
// Prior: ln shape and ln median independently normal. The widths (0.5 and 0.4) are this project's own choice.
//
// Age replacement: the age T that minimises (Cp R(T) + Cf F(T)) / integral of R from 0 to T, Barlow and Proschan,
// Mathematical Theory of Reliability (1965). A finite optimum exists when the hazard rises (shape > 1) and a failure
// costs more than a planned renewal.
package life
