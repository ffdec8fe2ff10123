package life

// What is believed of a shape before anything is seen: parts that wear out have shapes near 6, within a factor
// of about e^0.5 either way; a stated life is right within a factor of about e^0.4. Both are our own choice.
const (
	priorShape      = 6.0
	priorShapeSpan  = 0.5
	priorMedianSpan = 0.4
)

// Bounds of the shape searched, 0.05 and 400, as logarithms.
const (
	lnMinShape = -2.995732273553991
	lnMaxShape = 5.991464547107982
)

// Prior is what is believed of a life before the log says anything: ln shape ~ N(ln Shape, ShapeSpan^2) and
// ln median ~ N(ln Median, MedianSpan^2). An infinite span means no opinion; with both infinite, Mode returns the
// maximum-likelihood fit, and Shape and Median are only where its search begins.
type Prior struct {
	Shape, Median         float64 // above 0 and finite; the search begins here
	ShapeSpan, MedianSpan float64 // standard deviations of the natural logarithms, above 0
}

// Around returns the prior for a part whose life is stated as usually about the given median, in any unit.
func Around(median float64) Prior {
	return Prior{Shape: priorShape, Median: median, ShapeSpan: priorShapeSpan, MedianSpan: priorMedianSpan}
}

// RuleMedian returns the prior median that a rule "at least every rule" stands for when the fraction q of failures is
// accepted before the planned age: the median whose q-quantile, at the prior's shape, is the rule itself.
func RuleMedian(rule, q float64) float64 {
	return rule / Weibull{Shape: priorShape, Median: 1}.Quantile(q)
}
