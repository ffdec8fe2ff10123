package sheet

// style is how the sheet looks. Lengths are of paper. The margins leave 259 mm of a
// Letter page and 277 mm of an A4 page; what is measured here keeps 25 chores, the
// lines to write on and six cautions within the shorter of them.
const style = `@page { margin: 9mm 10mm; }
* { box-sizing: border-box; }
body { font: 8.5pt/1.2 "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; color: #000; background: #fff; max-width: 196mm; margin: 0 auto; padding: 0 0.4mm; }
h1 { font-size: 15pt; margin: 0; display: inline; }
.span { display: inline; font-size: 12pt; margin: 0 0 0 3mm; }
.basis { margin: 1mm 0 1.5mm; }
.broken { margin: 0 0 1.5mm; font-weight: bold; border: 0.5mm solid #000; padding: 0.5mm 1.5mm; }
table { border-collapse: collapse; width: 100%; }
th { text-align: left; font-size: 7pt; font-weight: bold; border-bottom: 0.35mm solid #000; padding: 0 1mm 0.4mm; vertical-align: bottom; }
td { border-bottom: 0.15mm solid #888; padding: 0 1mm; }
.due { table-layout: fixed; }
.due td { height: 6mm; }
.due tr { break-inside: avoid; }
.due .when { width: 19mm; white-space: nowrap; }
.due .where { width: 26mm; font-size: 7.5pt; line-height: 1.05; }
.due .min { width: 11mm; text-align: right; }
.late .when, .late .what { font-weight: bold; }
.what { line-height: 1.05; overflow-wrap: anywhere; }
.what small { font-weight: normal; font-size: 5.5pt; color: #444; white-space: nowrap; }
th.week { white-space: nowrap; border-left: 0.15mm solid #888; }
td.boxes { border-left: 0.15mm solid #888; padding: 0.3mm; }
.boxes div { display: flex; gap: 0.4mm; }
.box { flex: 1; position: relative; height: 5.2mm; border: 0.25mm solid #000; border-radius: 0.6mm; }
.box i { font-style: normal; font-size: 5.5pt; position: absolute; top: 0; left: 0.5mm; white-space: nowrap; }
.box b { font-weight: normal; font-size: 6.5pt; position: absolute; bottom: 0; right: 0.5mm; white-space: nowrap; }
.dense .due { font-size: 7.5pt; }
.dense .due td { height: 4.9mm; line-height: 1; }
.dense .due .where { font-size: 7pt; }
.dense .box { height: 4.2mm; }
.dense .what small { font-size: 5pt; }
.dense .box b { font-size: 5.5pt; word-spacing: 0; }
.legend { font-size: 7pt; margin: 1mm 0 2mm; }
.written { display: flex; gap: 6mm; align-items: flex-start; }
.written table { table-layout: fixed; }
.written td { height: 5.4mm; border: 0.15mm solid #888; }
.written th { padding-left: 1mm; }
.readings th:first-child { width: 13mm; }
.litres th:nth-child(odd) { width: 13mm; }
.written, .wall > .cautions { break-inside: avoid; }
.cautions { margin: 2mm 0 0; padding: 0; list-style: none; }
.cautions li { padding-left: 3.5mm; text-indent: -3.5mm; }
.cautions li::before { content: "!"; font-weight: bold; display: inline-block; width: 3.5mm; text-indent: 0; }
.wall > .cautions { font-size: 7.5pt; columns: 2; column-gap: 6mm; }
.jobs { break-before: page; font-size: 12pt; line-height: 1.22; columns: 2; column-gap: 8mm; }
.jobs article { break-inside: avoid; margin: 0 0 5mm; }
.jobs h2 { font-size: 14pt; margin: 0 0 1mm; border-bottom: 0.35mm solid #000; }
.jobs h2 small { font-size: 8pt; font-weight: normal; color: #444; }
.jobs p { margin: 0 0 1mm; font-size: 10pt; }
.jobs .cautions { margin: 0 0 1mm; font-weight: bold; font-size: 11pt; }
.jobs ol { margin: 0; padding-left: 7mm; }
.jobs li { margin: 0 0 1mm; }
`

// boxesWidth is how wide the boxes of all weeks are together, in mm.
const boxesWidth = 68

// weekStyle is what depends on the number of weeks: how wide one of them is.
const weekStyle = "th.week { width: %.1fmm; }\n"
