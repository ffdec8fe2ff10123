// Package sheet makes the sheet of paper that hangs at the water station, for those
// who have no screen at hand: what is due in the coming weeks with boxes to fill in,
// room for readings and litres, cautions, and the steps of the wet jobs in large type.
//
// Start at Make, then Sheet.Text or Sheet.HTML. The HTML is one file without a script
// and without anything to fetch; its first page fits A4 and Letter paper. The package
// is pure: a sheet shows the round it was made of, and says of which day that is.
package sheet
