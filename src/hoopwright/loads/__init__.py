"""What pushes on a covered bed: wind, snow, hail, soil."""
