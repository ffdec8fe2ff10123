package trend

import (
	"cmp"
	"slices"
)

// Weighted is a value observed at a level, with the weight it carries.
type Weighted struct {
	Level  float64
	Value  float64
	Weight float64 // above 0
}

// block is a run of levels that share one fitted value.
type block struct {
	sum, weight float64 // of weight*value, and of weight
	rows        int
}

func (b block) mean() float64 { return b.sum / b.weight }

// Isotonic returns, for each point, the weighted least-squares fit that never falls as the level rises, by pooling adjacent
// violators. Points of one level share one value: they are pooled first.
func Isotonic(points []Weighted) []float64 {
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(points[i].Level, points[j].Level) })

	var blocks []block
	for start := 0; start < len(order); {
		b := block{}
		level := points[order[start]].Level
		for start < len(order) && points[order[start]].Level == level {
			p := points[order[start]]
			b.sum += float64(p.Weight * p.Value)
			b.weight += p.Weight
			b.rows++
			start++
		}
		for len(blocks) > 0 && blocks[len(blocks)-1].mean() >= b.mean() {
			last := blocks[len(blocks)-1]
			b = block{b.sum + last.sum, b.weight + last.weight, b.rows + last.rows}
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}

	fit := make([]float64, len(points))
	row := 0
	for _, b := range blocks {
		for range b.rows {
			fit[order[row]] = b.mean()
			row++
		}
	}
	return fit
}
