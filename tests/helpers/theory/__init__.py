"""Exact solutions, written apart from the engines, that simulated lines are held against. One model a file."""
