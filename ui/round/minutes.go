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
		fmt.Sprintf("due now: %d min of work, %d of getting there", c.Hands, c.Access),
		fmt.Sprintf("due now: %d min, %d to get there", c.Hands, c.Access),
		fmt.Sprintf("now %d min, %d to reach", c.Hands, c.Access),
		fmt.Sprintf("now %d+%d min", c.Hands, c.Access),
		fmt.Sprintf("%d+%d", c.Hands, c.Access),
	}
}
