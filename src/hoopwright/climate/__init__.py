"""The weather of the place: files read, years generated, sun and sky."""
