package sheet

// style is how the sheet looks. Lengths are of paper, and nothing is set smaller than 8 pt: it is
// read on a wall. What does not fit a page goes on to the next, which has the heads of the table
// again, and as every page the name of the book and its number. A telephone shows the same page,
// a chore in two lines.
const style = `@page { margin: 12mm 10mm 11mm; }
* { box-sizing: border-box; }
body { font: 9pt/1.2 "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; color: #000; background: #fff; max-width: 196mm; margin: 0 auto; padding: 0 0.4mm; }
h1 { font-size: 15pt; margin: 0; display: inline; }
.span { display: inline; font-size: 12pt; margin: 0 0 0 3mm; }
.basis { margin: 1mm 0 1.5mm; }
.broken { margin: 0 0 1.5mm; font-weight: bold; border: 0.5mm solid #000; padding: 0.5mm 1.5mm; }
table { border-collapse: collapse; width: 100%; }
th { text-align: left; font-size: 8pt; font-weight: bold; border-bottom: 0.35mm solid #000; padding: 0 1mm 0.4mm; vertical-align: bottom; }
td { border-bottom: 0.15mm solid #888; padding: 0 1mm; }
.due { table-layout: fixed; }
.due td { height: 7.6mm; }
.due .number { width: 7mm; text-align: right; }
.due tr { break-inside: avoid; }
.due .when { width: 21mm; white-space: nowrap; }
.due .where { width: 26mm; font-size: 8pt; line-height: 1.05; }
.due .min { width: 11mm; text-align: right; }
.late .when, .late .what { font-weight: bold; }
.what { line-height: 1.05; overflow-wrap: anywhere; }
th.week { white-space: nowrap; border-left: 0.15mm solid #888; }
td.boxes { border-left: 0.15mm solid #888; padding: 0.3mm; }
.boxes div { height: 7mm; }
.box { display: inline-block; vertical-align: top; width: 100%; position: relative; height: 7mm; border: 0.25mm solid #000; border-radius: 0.6mm; }
.of2 .box { width: 50%; } .of3 .box { width: 33.3%; } .of4 .box { width: 25%; } .of5 .box { width: 20%; } .of6 .box { width: 16.6%; }
.box i { font-style: normal; font-size: 8pt; line-height: 1; position: absolute; top: 0; left: 0.5mm; white-space: nowrap; }
.box b { font-weight: normal; font-size: 8pt; line-height: 1; position: absolute; bottom: 0; right: 0.5mm; white-space: nowrap; }
.legend { font-size: 8pt; margin: 1mm 0 2mm; }
.orders { margin: 0 0 2mm; }
.written > * { float: left; table-layout: fixed; width: 48.5%; }
.written > * + * { float: right; }
.written::after { content: ""; display: block; clear: both; }
.written td { height: 7mm; border: 0.15mm solid #888; }
.written th { padding-left: 1mm; }
.readings th:first-child { width: 13mm; }
.litres th:nth-child(odd) { width: 13mm; }
.written, .wall > .cautions { break-inside: avoid; }
.cautions { margin: 2mm 0 0; padding: 0; list-style: none; }
.cautions li { padding-left: 3.5mm; text-indent: -3.5mm; }
.cautions li::before { content: "!"; font-weight: bold; display: inline-block; width: 3.5mm; text-indent: 0; }
.wall > .cautions { font-size: 8.5pt; columns: 2; column-gap: 6mm; }
.jobs { margin-top: 5mm; font-size: 11pt; line-height: 1.22; columns: 2; column-gap: 8mm; }
.jobs article { margin: 0 0 5mm; }
.jobs li, .jobs .cautions { break-inside: avoid; }
.jobs h2, .jobs p, .jobs .cautions { break-after: avoid; break-inside: avoid; }
.jobs h2 { font-size: 13pt; margin: 0 0 1mm; border-bottom: 0.35mm solid #000; }
.jobs h2 small { white-space: nowrap; font-size: 8pt; font-weight: normal; color: #444; }
.jobs p { margin: 0 0 1mm; font-size: 10pt; }
.jobs .cautions { margin: 0 0 1mm; font-weight: bold; font-size: 11pt; }
.jobs ol { margin: 0; padding-left: 7mm; }
.jobs ol li { margin: 0 0 1mm; }
@media screen and (max-width: 180mm) {
  body { font-size: 15px; padding: 0 3mm; }
  .due, .due tbody { display: block; }
  .due thead { display: none; }
  .due tr { display: flex; flex-wrap: wrap; gap: 0 3mm; padding: 2mm 0; border-bottom: 0.15mm solid #888; }
  .due td, .due .when, .due .where, .due .min { border: 0; padding: 0; width: auto; height: auto; font-size: inherit; }
  .due .number { width: 7mm; }
  .due .what { flex: 1 0 60%; order: -1; }
  .due .number { order: -2; }
  .due .min::after { content: " min"; }
  td.boxes:empty { display: none; }
  .boxes div { height: auto; }
  .boxes .box { width: 19mm; margin-right: 1mm; }
  .written > *, .written > * + * { float: none; width: 100%; margin: 0 0 3mm; }
  .jobs, .wall > .cautions { columns: 1; }
}
`

// boxesWidth is how wide the boxes of all weeks are together, in mm.
const boxesWidth = 68

// weekStyle is what depends on the number of weeks: how wide one of them is.
const weekStyle = "th.week { width: %.1fmm; }\n"
