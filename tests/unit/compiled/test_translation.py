"""What is compiled: the functions of the engine themselves, and nothing that the folder's name does not cover."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numba

from linesim.engine.compiled import shop, translate
from linesim.engine.compiled.cache import ENGINE
from linesim.engine.contract import order, places


def compiled_below(function: Any, seen: set[Any]) -> Iterator[Any]:
    """The plain functions behind a compiled one and behind all that it calls."""
    if function not in seen:
        seen.add(function)
        yield function.py_func
        for name in function.py_func.__code__.co_names:
            called = function.py_func.__globals__.get(name)
            if hasattr(called, "py_func"):
                yield from compiled_below(called, seen)


def test_all_compiled_code_comes_from_the_sources_in_the_digest() -> None:
    seen: set[Any] = set()
    functions = [each for entry in (shop._advance, shop._begin) for each in compiled_below(entry, seen)]
    assert len(functions) > 100
    files = {Path(each.__code__.co_filename).resolve() for each in functions}
    assert [file for file in files if not file.is_relative_to(ENGINE)] == []


def test_a_rule_is_the_same_code_in_both_engines() -> None:
    copies = {each.__qualname__: each for each in compiled_below(shop._advance, set())}
    assert copies["may_run"].__code__ is order.may_run.__code__
    assert copies["ripe_at"].__code__ is places.ripe_at.__code__


def test_the_compilers_own_folder_is_left_as_it_was() -> None:
    settings: Any = numba.config
    before = settings.CACHE_DIR
    kept: Any = translate.compiled(order.may_run)
    after = settings.CACHE_DIR
    assert after == before
    assert Path(kept._cache.cache_path).is_relative_to(translate._cache_folder())
