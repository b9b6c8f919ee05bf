"""The printed pages: what is on them, and the writers that set them."""
