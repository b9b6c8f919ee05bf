"""What a person wants: the plan file, read with every error at once."""
