"""The folder of compiled code: named by the sources, somewhere that can be written, and not for ever."""

import os
import shutil
import tempfile
import time
from pathlib import Path

import pytest

from linesim.engine.compiled import cache
from linesim.engine.compiled.cache import ENGINE, KEPT_DAYS, LAST_USE, cache_folder, digest

DAY_S = 86400


@pytest.fixture(name="copy")
def _copy(tmp_path: Path) -> Path:
    return shutil.copytree(ENGINE, tmp_path / "engine", ignore=shutil.ignore_patterns("__pycache__"))


@pytest.fixture(name="home")
def _home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A user's cache, and beside it a folder for temporary files."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home" / ".cache"))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    return tmp_path / "home"


def put_file(path: Path) -> None:
    """A file where a folder is to be made: nobody, not even root, can write below it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("", encoding="utf-8")


def last_used(folder: Path, days: float) -> None:
    """Sets the date of a folder's last use so many days back."""
    then = time.time() - days * DAY_S
    os.utime(folder / LAST_USE, (then, then))


def test_equal_sources_have_the_same_name_wherever_they_lie(copy: Path) -> None:
    assert digest(copy) == digest(ENGINE)


@pytest.mark.parametrize("folder", ["contract", "contract/layout", "compiled"])
def test_an_edit_in_any_source_gives_another_name(copy: Path, folder: str) -> None:
    before = digest(copy)
    sources = sorted((copy / folder).glob("*.py"))
    for source in (sources[0], sources[-1]):
        content = source.read_bytes()
        source.write_bytes(content + b"#")
        assert digest(copy) != before
        source.write_bytes(content)
    assert digest(copy) == before


def test_a_new_a_renamed_and_a_missing_source_give_other_names(copy: Path) -> None:
    names = {digest(copy)}
    (copy / "contract" / "new.py").write_text("", encoding="utf-8")
    names.add(digest(copy))
    (copy / "contract" / "new.py").rename(copy / "contract" / "newer.py")
    names.add(digest(copy))
    (copy / "contract" / "order.py").unlink()
    names.add(digest(copy))
    assert len(names) == 4


@pytest.mark.parametrize("package", ["numba", "llvmlite", "numpy"])
def test_another_version_of_what_compiles_gives_another_name(package: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before, real = digest(), cache.version
    monkeypatch.setattr(cache, "version", lambda name: real(name) + ("1" if name == package else ""))
    assert digest() != before


def test_the_folder_lies_in_the_users_cache_and_stays_the_same(home: Path) -> None:
    assert cache_folder() == cache_folder() == home / ".cache" / "linesim" / digest()


def test_where_the_users_cache_can_not_be_written_a_temporary_folder_is_kept(home: Path) -> None:
    put_file(home / ".cache")
    folder = cache_folder()
    assert folder == cache_folder()
    assert folder.is_dir()
    assert folder.is_relative_to(home.parent)
    assert not folder.is_relative_to(home)


def test_a_user_without_a_home_gets_a_temporary_folder(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def homeless() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setattr(Path, "home", homeless)
    assert cache_folder().parent.parent == home.parent


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="this system has no user numbers")
def test_a_folder_that_somebody_else_made_is_not_trusted(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    theirs = cache_folder()
    monkeypatch.setattr(os, "getuid", lambda: theirs.stat().st_uid + 1)
    mine = cache_folder()
    assert mine != theirs
    assert mine.is_dir()


def test_nobody_else_may_write_into_the_folder(home: Path) -> None:
    if os.name == "posix":
        assert cache_folder().parent.stat().st_mode & 0o077 == 0


def test_folders_of_other_sources_go_when_nobody_has_used_them_for_a_month(home: Path) -> None:
    mine = cache_folder()
    for name, days in (("old", KEPT_DAYS + 1), ("young", KEPT_DAYS - 1)):
        folder = mine.parent / name
        (folder / "code").mkdir(parents=True)
        put_file(folder / LAST_USE)
        last_used(folder, days)
    (mine.parent / "not ours").mkdir()
    last_used(mine, 2 * KEPT_DAYS)
    assert cache_folder() == mine
    assert {folder.name for folder in mine.parent.iterdir()} == {mine.name, "young", "not ours"}


def test_use_makes_a_folder_young_again(home: Path) -> None:
    last_used(cache_folder(), 2 * KEPT_DAYS)
    assert time.time() - (cache_folder() / LAST_USE).stat().st_mtime < DAY_S
