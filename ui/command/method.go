package command

// datesPage and verdictsPage are the rules that dates and verdicts follow, as the manual has them.
const datesPage = `A chore has one to four clocks. Each gives two dates: due, do it by, and limit, more
likely spent than not from here on. The earliest of each are the chore's; the pane shows
every clock and which one decides. A date doesn't move because days pass: only an entry
moves it.

Calendar: the time since it was last done.

Usage: what a counter counted since: litres, batches, pump hours. The date comes from
your rate of late, in which an amount of 60 days ago weighs half. The first amount ever
logged only opens the record. Where nothing was logged for more than four times as long
as usual, and for the time before the record, use is counted on at your rate and said to
be so; an amount of 0 says that nothing was used, days away use nothing, and a meter
tells by itself.

Load: litres weighed by what was in them, in grams; it needs the readings of the water
that comes in.

Reading: a gauge past a threshold, "change at 1 ppm". One reading beyond makes the chore
due and asks you to read again; a second in a row decides, and it is past its limit
since the first. Before that, readings of five days or more over two weeks that clearly
go one way give a forecast. Those of the first 5 minutes of a run count nowhere.

"every 4 months" is a rule: the log may make it shorter, never longer. "lasts 4 months"
is a usual life, which the log moves both ways, and the due date comes
before it. How far before is a trade: the more minutes and spares the job takes, the
later; the more a failure harms, the sooner. A spent day that endangers animals or
people weighs ten that only look bad, one that costs money or water weighs three. A book
may be careful or easy about it (Gear, the last row, which says what each does to your
year). On a stated life alone nothing is done before seven tenths of it. Where you state
what a job costs when planned and when too late, the age that is cheapest in the long
run is taken instead, but never one beyond the limit or beyond a rule.

What the log teaches. Each tick tells how the life before it ended. Found c or l: it
would have gone on. h: it was about at its end. f: it had gone before. A threshold
crossed twice tells the very day and counts before the letter, and a good reading of the
week before counts more than h or f. After an f nothing is planned beyond the age at
which that was found; a worse letter never plans later than a better one. A tick without
a finding, a life that begins or ends at a guess, and one cut short by swapping the
part teach nothing. Of carbon blocks and membranes, which no eye can judge, no letter is
asked; h or f against a good reading asks "changed early?". What you stated gives way as
evidence gathers, so a few ticks move a date a little. One clock of a chore learns: the
first that counts usage or load, else the first calendar. Chores that only test or read
do not learn.

Fixed keeps what is found from moving the life of a chore. Reach may still bring its
date forward.

Reach. What is hard to get at gets done late. How late the jobs of each grade are done
here, learnt from your ticks, is taken off the date of every clock: "15 days earlier
than 1 Dec". It is at most a quarter of the interval and 28 days, and nothing where a
threshold is crossed.

Put off (p) moves a chore out of the way until a date, with your reason, and changes
none of its dates. Away (a) names what to do before you go; the days away teach no
lateness. A fault (b) stands first until one of the component's chores is ticked off. So
does a value outside its safe range (a gauge's, set in Gear; a new book has ranges for
the tank's temperature, salinity and alkalinity, common practice), until one inside is
read. What is late or due today stands by risk, the chance of a failure within a
week weighed by what it would harm; what is to come stands by day.`

const verdictsPage = `Verdicts take their thresholds from the chores' own clocks, so that Water and the round
never differ: one reading beyond is watched and read again, two are acted on. What was
read before a part was renewed says nothing of the new one. Readings are held against
the unit's own first weeks, which begin anew with a new element, restrictor, booster or
regulator, or when you say so (N on Water). Some limits hold whatever was usual: a line
pressure of 5.5 bar (80 psi) wants a regulator, 6.9 bar (100 psi) a closed feed, and a
rejection under 95 % is poor from the first day on. With only one pressure gauge a
clogged prefilter and a tired membrane look the same, and are said to.

A gauge may name the instrument it is read with. A check of that which failed, with how
much it showed too much if that is known, marks what is read with it from then on until
a check passes or it is renewed; no figure is ever changed. The log as a table has it in
its last column, offset. A check that failed is wanted again on its usual date, no sooner:
the pane of that chore says so, and what to do.`
