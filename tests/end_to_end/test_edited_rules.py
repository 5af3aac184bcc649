"""An edit in any source of the engine shows at once in compiled code, and only then is anything compiled anew.

Two small rules stand for those of the engine, in a copy of its sources: they are compiled in a second.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from linesim.engine.compiled.cache import ENGINE

RULE = """
FACTOR = 2

def times(number):
    return FACTOR * number
"""
CALLER = """
from linesim.engine.contract.rule import times

def ask(number):
    return times(number) + 1
"""
ASK = """
from linesim.engine.compiled.translate import compiled
from linesim.engine.contract.caller import ask
asked = compiled(ask)
print(asked(5))
if hasattr(asked, "stats"):
    print(sum(asked.stats.cache_hits.values()), sum(asked.stats.cache_misses.values()))
"""


@pytest.fixture(name="copy")
def _copy(tmp_path: Path) -> Path:
    package = tmp_path / "sources" / "linesim"
    shutil.copytree(ENGINE.parent, package, ignore=shutil.ignore_patterns("__pycache__"))
    (package / "engine" / "contract" / "rule.py").write_text(RULE, encoding="utf-8")
    (package / "engine" / "contract" / "caller.py").write_text(CALLER, encoding="utf-8")
    (package / "engine" / "compiled" / "__init__.py").write_text("", encoding="utf-8")  # without the whole engine
    return package


def answers(package: Path, **environment: str) -> list[int]:
    """In a process of its own: the answer to 5, and how often code was taken from its folder, and was not."""
    clean = {key: value for key, value in os.environ.items() if not key.startswith(("NUMBA_", "PYTHON"))}
    clean |= {"PYTHONDONTWRITEBYTECODE": "1", **environment}
    command = [sys.executable, "-c", ASK]
    ran = subprocess.run(command, cwd=package.parent, env=clean, capture_output=True, encoding="utf-8", timeout=800)
    assert ran.stderr == ""
    return [int(word) for word in ran.stdout.split()]


def test_an_edited_rule_is_compiled_anew_and_an_old_one_is_not(copy: Path, tmp_path: Path) -> None:
    home = {"XDG_CACHE_HOME": str(tmp_path / "cache")}
    rule = copy / "engine" / "contract" / "rule.py"
    assert answers(copy, **home) == [2 * 5 + 1, 0, 1]
    assert answers(copy, **home) == [2 * 5 + 1, 1, 0]
    rule.write_text(RULE.replace("FACTOR = 2", "FACTOR = 3"), encoding="utf-8")
    assert answers(copy, **home) == [3 * 5 + 1, 0, 1]
    rule.write_text(RULE, encoding="utf-8")
    assert answers(copy, **home) == [2 * 5 + 1, 1, 0]


def test_a_home_that_can_not_be_written_and_a_read_only_install_are_enough(copy: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")  # below a file nobody can write, not even root
    (tmp_path / "tmp").mkdir()
    nowhere, temporary = str(tmp_path / "file"), str(tmp_path / "tmp")
    environment = {"HOME": nowhere, "XDG_CACHE_HOME": nowhere, "LOCALAPPDATA": nowhere}
    environment |= {"TMPDIR": temporary, "TEMP": temporary}
    before = sorted(copy.rglob("*"))
    assert answers(copy, **environment) == [11, 0, 1]
    assert answers(copy, **environment) == [11, 1, 0]
    assert sorted(copy.rglob("*")) == before


def test_with_the_compiler_switched_off_the_same_rules_run_as_plain_python(copy: Path) -> None:
    assert answers(copy, NUMBA_DISABLE_JIT="1") == [11]
