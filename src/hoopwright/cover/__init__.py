"""Film, fabric or mesh over the hoops: pieces, sizes, rails and clips."""
