"""Pictures of the steps of building: what is new in black, what stands already in grey."""
