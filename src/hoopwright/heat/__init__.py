"""What warms and cools under the cover, one phenomenon a module."""
