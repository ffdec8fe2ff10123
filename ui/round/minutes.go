package round

import (
	"fmt"

	"brine/wrasse/schedule"
)

// sayings are the answer to "how long will it take", longest first.
func sayings(c schedule.Cost) []string {
	if c.Hands == 0 && c.Access == 0 {
		return []string{"nothing now", ""}
	}
	return []string{
		fmt.Sprintf("now %d min, and %d to get at it", c.Hands, c.Access),
		fmt.Sprintf("now %d min, %d to reach", c.Hands, c.Access),
		fmt.Sprintf("now %d+%d min", c.Hands, c.Access),
		fmt.Sprintf("%d+%d", c.Hands, c.Access),
	}
}
