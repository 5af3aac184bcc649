"""Where compiled code is kept: a folder for exactly these sources and versions.

The compiler's own check of a cached file looks at one source file only, so an edit in a rule would go unnoticed. Here
the folder's name is a digest of every source of the engine and of what compiles them. (The compiler itself keeps the
code of different processors apart, inside the folder.)
"""

from __future__ import annotations

import hashlib
import os
import platform
import shutil
import sys
import tempfile
import time
from contextlib import suppress
from importlib.metadata import version
from pathlib import Path

ENGINE = Path(__file__).resolve().parents[1]
LAST_USE = "last_use"  # the file in each folder whose date says when code was last taken from there
KEPT_DAYS = 30


def cache_folder() -> Path:
    """The folder for these sources, made if need be: in the user's cache, or a temporary one where that can't be.

    Folders of other sources that were not used for `KEPT_DAYS` are removed.
    """
    for above in _places():
        folder = above / digest()
        try:
            above.mkdir(mode=0o700, parents=True, exist_ok=True)
            folder.mkdir(exist_ok=True)
            (folder / LAST_USE).touch()
        except OSError:
            continue
        if _is_mine(above):
            remove_old(above, keep=folder)
            return folder
    return Path(tempfile.mkdtemp(prefix="linesim-"))


def digest(engine: Path = ENGINE) -> str:
    """A short name for these sources, compilers and kind of processor."""
    seen = hashlib.sha256()
    for source in sorted(engine.rglob("*.py")):
        seen.update(source.relative_to(engine).as_posix().encode())
        seen.update(hashlib.sha256(source.read_bytes()).digest())
    versions = (sys.version, version("numba"), version("llvmlite"), version("numpy"), platform.machine())
    seen.update("\n".join(versions).encode())
    return seen.hexdigest()[:20]


def remove_old(above: Path, keep: Path) -> None:
    """Remove the folders of other sources that nobody has used for `KEPT_DAYS`."""
    oldest = time.time() - KEPT_DAYS * 86400
    for used in above.glob(f"*/{LAST_USE}"):
        with suppress(OSError):  # somebody else removes them too
            if used.parent != keep and used.stat().st_mtime < oldest:
                shutil.rmtree(used.parent)


def _places() -> list[Path]:
    """Above which folders to look for one that can be written, in this order."""
    user = getattr(os, "getuid", lambda: "user")()  # a system without user numbers has temporary folders for each user
    temporary = Path(tempfile.gettempdir()) / f"linesim-{user}"
    try:
        return [_user_cache() / "linesim", temporary]
    except RuntimeError:  # a user without a home
        return [temporary]


def _is_mine(folder: Path) -> bool:
    """Whether nobody else made this folder: what lies in it will be run."""
    return not hasattr(os, "getuid") or folder.stat().st_uid == os.getuid()


def _user_cache() -> Path:
    if os.environ.get("XDG_CACHE_HOME"):
        return Path(os.environ["XDG_CACHE_HOME"])
    if sys.platform == "win32" and os.environ.get("LOCALAPPDATA"):
        return Path(os.environ["LOCALAPPDATA"])
    return Path.home() / (Path("Library") / "Caches" if sys.platform == "darwin" else Path(".cache"))
