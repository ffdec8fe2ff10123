// Package checklist is the page of a chore: what to be careful about, the steps as a
// checklist with countdowns, what its log says and how it went before. Several chores
// make one checklist, in the order in which the water flows, with each caution once.
//
// Checks and countdowns survive leaving the page: checks are kept on a Checks, which
// all pages of a window share, countdowns on the session.
package checklist
