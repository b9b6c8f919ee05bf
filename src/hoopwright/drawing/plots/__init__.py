"""Plots: one idea each, the finding as its title, words beside the lines they name."""
