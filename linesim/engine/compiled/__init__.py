"""The compiled twin of the readable engine: the same rules, the same trace, far faster."""

from linesim.engine.compiled.engine import run
from linesim.engine.compiled.ready import make_ready

__all__ = ["make_ready", "run"]
