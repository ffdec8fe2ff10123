package keys

// Action is what a key asks for. Screens switch on it.
type Action int

// The actions.
const (
	None Action = iota

	// Moving and leaving.
	Up
	Down
	Left
	Right
	PageUp
	PageDown
	First
	Last
	Open
	Back
	Leave // back from a page, quit from a view
	Quit
	Suspend
	NextView
	PrevView
	View1
	View2
	View3
	View4
	View5
	View6
	ShowKeys
	Find

	// Acts on the book.
	Tick
	TickAsk // tick with date, minutes and note
	Flag
	Fault
	Use
	Read
	PutOff
	Undo
	Redo
	Mark
	TimeBox
	Year
	Group
	Away
	Level // count the water in a vessel
	Need  // water wanted by a date
	Mix
	See    // what is seen without a meter
	Normal // from today the readings are as they should be
	Advice
	Add
	Edit
	Retire
	Move
	Copy
	Reach
	More
	Fewer
	Strike
	Amend
	Advance // the next state of a rethink
	Timer
	Span // how far back charts go

	// Forms and questions.
	Page // write the page for a sitter
	NextField
	PrevField
	Submit
)

// table is every key of the program. Within a scope the order is that of the
// key line, most wanted first.
var table = []Bind{
	{Anywhere, Quit, []string{"ctrl+c"}, "ctrl+c", "quit at once, after pending saves", ""},
	{Anywhere, Suspend, []string{"ctrl+z"}, "ctrl+z", "to the shell; fg comes back", ""},
	{Anywhere, Back, []string{"esc"}, "esc", "go back; never quits", ""},

	{Browsing, ShowKeys, []string{"?", "f1"}, "?", "the keys that work here", "keys"},
	{Browsing, Leave, []string{"q"}, "q", "back from a page, quit from a view", "leave"},
	{Browsing, Undo, []string{"z"}, "z", "take back this window's last act", ""},
	{Browsing, Redo, []string{"Z"}, "Z", "do again what was taken back", ""},
	{Browsing, NextView, []string{"tab"}, "tab", "next view", ""},
	{Browsing, PrevView, []string{"shift+tab"}, "shift+tab", "previous view", ""},
	{Browsing, View1, []string{"1"}, "1", "the round", ""},
	{Browsing, View2, []string{"2"}, "2", "water", ""},
	{Browsing, View3, []string{"3"}, "3", "gear", ""},
	{Browsing, View4, []string{"4"}, "4", "shelf", ""},
	{Browsing, View5, []string{"5"}, "5", "rethink", ""},
	{Browsing, View6, []string{"6"}, "6", "log", ""},
	{Browsing, Up, []string{"up", "k"}, "up k", "a line up", ""},
	{Browsing, Down, []string{"down", "j"}, "down j", "a line down", ""},
	{Browsing, Left, []string{"left", "h"}, "left h", "left, or close a branch", ""},
	{Browsing, Right, []string{"right", "l"}, "right l", "right, or open a branch", ""},
	{Browsing, PageUp, []string{"pgup"}, "pgup", "a screen up", ""},
	{Browsing, PageDown, []string{"pgdown"}, "pgdn", "a screen down", ""},
	{Browsing, First, []string{"home"}, "home", "to the top", ""},
	{Browsing, Last, []string{"end"}, "end", "to the end", ""},

	{Lists, Open, []string{"enter"}, "enter", "open the row", ""},
	{Lists, Find, []string{"/"}, "/", "filter as you type", ""},

	{Round, Tick, []string{"d"}, "d", "tick off, then one letter for as found", "tick"},
	{Round, Flag, []string{"f"}, "f", "flag as hard to reach, with a cause", "flag"},
	{Round, Use, []string{"u"}, "u", "log usage: litres, batches, hours", "litres"},
	{Round, Read, []string{"r"}, "r", "log readings", "read"},
	{Round, TimeBox, []string{"t"}, "t", "what fits into the minutes at hand", "time"},
	{Round, PutOff, []string{"p"}, "p", "put off until a date", "put off"},
	{Round, Undo, []string{"z"}, "z", "take back this window's last act", "undo"},
	{Round, Open, []string{"enter"}, "enter", "steps of the chore, or of all marked", "steps"},
	{Round, TickAsk, []string{"D"}, "D", "tick with date or about, minutes, note", ""},
	{Round, Fault, []string{"b"}, "b", "report as broken now", ""},
	{Round, Mark, []string{" "}, "space", "mark the row, to do several as one", ""},
	{Round, Reach, []string{"G"}, "G", "grade the reach by five questions", ""},
	{Round, Year, []string{"y"}, "y", "the year ahead and the year behind", ""},
	{Round, Group, []string{"g"}, "g", "group by state or by place", ""},
	{Round, Away, []string{"a"}, "a", "away until a date", ""},
	{Round, Level, []string{"l"}, "l", "count the water in a vessel", ""},
	{Round, Need, []string{"n"}, "n", "water wanted by a date", ""},
	{Round, Right, []string{"right"}, "right", "open the section", ""},

	{Water, Mix, []string{"m"}, "m", "salt for a batch", "mix"},
	{Water, Use, []string{"u"}, "u", "log usage", "litres"},
	{Water, Read, []string{"r"}, "r", "log readings", "read"},
	{Water, Level, []string{"l"}, "l", "count the water in a vessel", ""},
	{Water, Need, []string{"n"}, "n", "water wanted by a date", ""},
	{Water, Advice, []string{"w"}, "w", "what the readings say", "why"},
	{Water, See, []string{"o"}, "o", "what did you see? waste running on, silica, film", "see"},
	{Water, Normal, []string{"N"}, "N", "from today is normal: first weeks anew", ""},
	{Water, Span, []string{"s"}, "s", "charts over 30 days, 90 days, a year, all", "span"},
	{Water, Left, []string{"left", "h"}, "left", "the chart before", ""},
	{Water, Right, []string{"right"}, "right", "the next chart", "chart"},
	{Water, Open, []string{"enter"}, "enter", "the chart in full, and back", ""},

	{Gear, Add, []string{"a"}, "a", "add a place, component or chore", "add"},
	{Gear, Edit, []string{"e"}, "e", "edit the row", "edit"},
	{Gear, Flag, []string{"f"}, "f", "flag as hard to reach", "flag"},
	{Gear, Reach, []string{"g"}, "g", "grade the reach by five questions", "grade"},
	{Gear, Move, []string{"v"}, "v", "move to another place", "move"},
	{Gear, Copy, []string{"c"}, "c", "copy a place with all in it", ""},
	{Gear, Fault, []string{"b"}, "b", "report as broken now", ""},
	{Gear, Retire, []string{"R"}, "R", "retire or replace; the log stays", ""},

	{Shelf, More, []string{"+", "="}, "+", "one more on hand", "more"},
	{Shelf, Fewer, []string{"-"}, "-", "one fewer on hand", "fewer"},
	{Shelf, Add, []string{"a"}, "a", "add a spare", "add"},
	{Shelf, Edit, []string{"e"}, "e", "count or edit the spare", "edit"},
	{Shelf, Retire, []string{"R"}, "R", "retire the spare; its log stays", ""},

	{Rethink, Edit, []string{"e"}, "e", "cause and idea", "idea"},
	{Rethink, Advance, []string{"s"}, "s", "next state: planned, rebuilt, dropped", "state"},
	{Rethink, Flag, []string{"f"}, "f", "flag as hard to reach", "flag"},

	{Log, Amend, []string{"e"}, "e", "amend; both stay in the log", "amend"},
	{Log, Strike, []string{"x"}, "x", "strike; it stays in the log, struck", "strike"},

	{Chore, Tick, []string{"d"}, "d", "tick off, then one letter for as found", "tick"},
	{Chore, Mark, []string{" "}, "space", "check the step", "check"},
	{Chore, Timer, []string{"s"}, "s", "start or stop the step's timer", "timer"},
	{Chore, TickAsk, []string{"D"}, "D", "tick with date or about, minutes, note", ""},
	{Chore, Use, []string{"u"}, "u", "log usage: litres, batches, hours", ""},
	{Chore, Read, []string{"r"}, "r", "log readings", ""},
	{Chore, PutOff, []string{"p"}, "p", "put off until a date", ""},
	{Chore, Flag, []string{"f"}, "f", "flag as hard to reach", ""},
	{Chore, Fault, []string{"b"}, "b", "report as broken now", ""},
	{Chore, Reach, []string{"G"}, "G", "grade the reach by five questions", ""},
	{Chore, Edit, []string{"e"}, "e", "edit the chore", ""},

	{Part, Edit, []string{"e"}, "e", "edit the component", "edit"},
	{Part, Add, []string{"a"}, "a", "add a chore", "add"},
	{Part, Flag, []string{"f"}, "f", "flag as hard to reach", "flag"},
	{Part, Fault, []string{"b"}, "b", "report as broken now", "broken"},
	{Part, Reach, []string{"g"}, "g", "grade the reach by five questions", "grade"},

	{Part, Retire, []string{"R"}, "R", "retire or replace; the log stays", ""},

	{Definition, Edit, []string{"e"}, "e", "edit the line", "edit"},
	{Definition, Add, []string{"a"}, "a", "add a clock, step, caution, spare or gauge", "add"},
	{Definition, Strike, []string{"x"}, "x", "take the line out", "take out"},
	{Definition, Retire, []string{"R"}, "R", "retire the chore; the log stays", ""},

	{HelpPage, Find, []string{"/"}, "/", "find a key by what it does", "find"},
	{HelpPage, Back, []string{"esc", "q", "?", "f1", "enter"}, "esc", "close", "close"},

	{Unread, Submit, []string{"enter"}, "enter", "try again to read the book", "try again"},

	{Form, Submit, []string{"enter"}, "enter", "save", "save"},
	{Form, NextField, []string{"tab", "down"}, "tab", "next field", "next"},
	{Form, PrevField, []string{"shift+tab", "up"}, "shift+tab", "field before", ""},
	{Form, Back, []string{"esc"}, "esc", "leave; asks if something changed", "back"},

	{Start, Submit, []string{"enter"}, "enter", "the next question; the last one takes them all", "next"},
	{Start, NextField, []string{"tab", "down"}, "tab", "next question", ""},
	{Start, PrevField, []string{"shift+tab", "up"}, "up", "question before", "before"},
	{Start, Back, []string{"esc"}, "esc", "leave; asks if something changed", "back"},

	{Leaving, Page, []string{"f2"}, "f2", "write the page for a sitter, as a file to print", "sitter's page"},

	{Filter, Submit, []string{"enter"}, "enter", "keep the filter and go to the list", "keep"},
	{Filter, Up, []string{"up"}, "up", "a line up", ""},
	{Filter, Down, []string{"down"}, "down", "a line down", ""},
	{Filter, Back, []string{"esc"}, "esc", "clear the filter", "clear"},

	{Box, Submit, []string{"enter"}, "enter", "the steps of all that fits, as one job", "steps"},
	{Box, Up, []string{"up"}, "up", "a line up", ""},
	{Box, Down, []string{"down"}, "down", "a line down", ""},
	{Box, PageUp, []string{"pgup"}, "pgup", "a screen up", ""},
	{Box, PageDown, []string{"pgdown"}, "pgdn", "a screen down", ""},
	{Box, Back, []string{"esc"}, "esc", "back to the round", "back"},

	{Choice, Submit, []string{"enter"}, "enter", "take the row", "take"},
	{Choice, Up, []string{"up", "shift+tab"}, "up", "a row up", ""},
	{Choice, Down, []string{"down", "tab"}, "down", "a row down", ""},
	{Choice, Back, []string{"esc"}, "esc", "leave without answering", "back"},
}
