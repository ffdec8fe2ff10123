// Package trend reads series of numbers: which way a gauge is going and how surely, whether it has begun to drift, and
// what lateness rises with.
//
// It knows numbers only. Days are float64 or a count of days; which readings belong to a cycle, which limit matters and
// what a date is, are questions for package schedule.
//
// # Sources
//
// Slope: the median of pairwise slopes, Sen (1968), with Sen's confidence slopes by rank and the intercept through the
// medians, named after Conover. Trend test: Mann (1945) and Kendall (1975), both from memory, as given by Gilbert,
// Statistical Methods for Environmental Pollution Monitoring (1987), pages 209 to 213, for S, the variance with ties and z;
// the terms for ties in both axes are Kendall's, from memory. Drift: the exponentially weighted
// moving average chart of the NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.4. Isotonic fit: pool adjacent
// violators, Ayer and others (1955), from memory.
package trend
