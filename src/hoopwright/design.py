"""The flow in one readable function: plan, geometry, checks, materials."""
