"""The board box: lengths, boards, soil, and who can reach across it."""
