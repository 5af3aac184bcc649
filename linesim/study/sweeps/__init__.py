"""Sweeps: many points of a line's design, run overnight, kept safely, and asked again."""
