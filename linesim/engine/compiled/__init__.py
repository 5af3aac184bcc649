"""The compiled twin of the readable engine: the same rules, the same trace, far faster."""

from linesim.engine.compiled.engine import run

__all__ = ["run"]
