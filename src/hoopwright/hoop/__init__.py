"""The bent pipe: its curve, its stations along the bed, its limits."""
