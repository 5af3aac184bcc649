"""The compiled twin of the readable engine: the same rules, the same trace, far faster."""

from linesim.engine.compiled.cache import use_cache_folder

use_cache_folder()  # before numba is imported

from linesim.engine.compiled.engine import run  # noqa: E402

__all__ = ["run"]
