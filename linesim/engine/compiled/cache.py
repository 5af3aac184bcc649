"""Where compiled code is kept: a folder for exactly these sources and versions.

The compiler's own check of a cached file looks at one source file only, so an edit in a rule would go unnoticed. Here
the folder's name is a digest of every source of the engine and of what compiles them.
"""

from __future__ import annotations

import hashlib
import os
import platform
import sys
import tempfile
from importlib.metadata import version
from pathlib import Path

ENGINE = Path(__file__).resolve().parents[1]


def use_cache_folder() -> Path:
    """Point the compiler to its folder, a temporary one where the user's cache cannot be written. Returns it."""
    folder = _user_cache() / "linesim" / digest()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "writable").touch()
    except OSError:
        folder = Path(tempfile.mkdtemp(prefix="linesim-"))
    os.environ["NUMBA_CACHE_DIR"] = str(folder)
    return folder


def digest(engine: Path = ENGINE) -> str:
    """A short name for these sources, compilers and this processor."""
    seen = hashlib.sha256()
    for source in sorted(engine.rglob("*.py")):
        seen.update(source.relative_to(engine).as_posix().encode())
        seen.update(source.read_bytes())
    versions = (sys.version, version("numba"), version("numpy"), platform.machine(), platform.processor())
    seen.update("\n".join(versions).encode())
    return seen.hexdigest()[:20]


def _user_cache() -> Path:
    if os.environ.get("XDG_CACHE_HOME"):
        return Path(os.environ["XDG_CACHE_HOME"])
    if sys.platform == "win32" and os.environ.get("LOCALAPPDATA"):
        return Path(os.environ["LOCALAPPDATA"])
    return Path.home() / (Path("Library") / "Caches" if sys.platform == "darwin" else Path(".cache"))
