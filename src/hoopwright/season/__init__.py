"""The season: what to sow when, at what risk, when to open, and what tomorrow will bring."""
