package runs

// Kind is a kind of set-up: what a run's works have in common, beside their tool.
type Kind string

// The kinds.
const (
	Drill Kind = "drill" // holes through the pair
	Posts Kind = "posts" // holes for posts in a half, before it is trimmed
	Trim  Kind = "trim"  // a half
)

// Kinds are all kinds, in the order of the work.
func Kinds() []Kind { return []Kind{Drill, Posts, Trim} }
