"""The readable engine: SimPy processes tell the stories, the rules of the contract decide."""

from linesim.engine.simpy.engine import run

__all__ = ["run"]
