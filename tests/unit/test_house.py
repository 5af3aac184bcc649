"""The house of the project: which way imports run, what may be imported where, how long files are."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
ROOMS = ["line", "engine", "results", "report", "study", "cli"]  # each may import those before it
ONLY_IN = {  # library -> the folders that may import it
    "simpy": ["linesim/engine/simpy"],
    "numba": ["linesim/engine/compiled"],
    "hydra": ["linesim/cli"],
    "omegaconf": ["linesim/cli"],
    "matplotlib": ["linesim/results"],
    "distributed": ["linesim/study/sweeps/cluster.py"],
    "dask": ["linesim/study/sweeps/cluster.py"],
    "jinja2": ["linesim/report"],
    "markupsafe": ["linesim/report"],
    "xlsxwriter": ["linesim/report"],
}
MOST_LINES = 350


def wrong_imports(file: str, source: str) -> list[str]:
    """What a file of the package imports against the rules; `file` is its path from the project's folder."""
    return [what for name in imported(file, source) if (what := fault(file, name))]


def imported(file: str, source: str) -> Iterator[str]:
    """Full names of all that a file imports, also inside functions; `from a import b` gives a and a.b."""
    package = list(Path(file).with_suffix("").parts)[:-1]
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) + 1 - node.level] if node.level else []
            module = ".".join([*above, *([node.module] if node.module else [])])
            yield module
            yield from (f"{module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Call) and getattr(node.func, "attr", getattr(node.func, "id", "")) == "import_module":
            yield from (str(each.value) for each in node.args if isinstance(each, ast.Constant))


def fault(file: str, name: str) -> str | None:
    """Why this file may not import this name, or None."""
    library = name.partition(".")[0]
    for folder in ONLY_IN.get(library, []):
        if not f"{file}/".startswith(f"{folder}/"):
            return f"{file}: imports {name}, allowed in {folder} only"
    parts, here = name.split("."), Path(file).parts
    if library != "linesim" or len(parts) < 2 or len(here) < 3 or parts[1] not in ROOMS:
        return None
    if ROOMS.index(parts[1]) > ROOMS.index(here[1]):
        return f"{file}: {here[1]} imports {name}, but imports run {' <- '.join(ROOMS)}"
    if here[1] == "engine" and here[2] != (other := ".".join(parts[2:3])) and other in ("simpy", "compiled"):
        return f"{file}: imports {name}; only studies choose an engine"
    return None


def python_files() -> list[str]:
    return sorted(str(path.relative_to(PROJECT)) for path in (PROJECT / "linesim").rglob("*.py"))


def test_every_import_of_the_package_runs_the_right_way() -> None:
    files = python_files()
    assert len(files) > 20
    wrong = [what for file in files for what in wrong_imports(file, (PROJECT / file).read_text(encoding="utf-8"))]
    assert wrong == []


@pytest.mark.parametrize(
    ("file", "source"),
    [
        ("linesim/line/model.py", "import linesim.engine.contract.ledger"),
        ("linesim/engine/contract/order.py", "from linesim.results import Results"),
        ("linesim/results/tables.py", "def late():\n    from linesim import study"),
        ("linesim/results/store.py", "from linesim.report.making import write_reports"),
        ("linesim/report/run_page.py", "from linesim.study import simulate"),
        ("linesim/results/text.py", "import jinja2"),
        ("linesim/study/replications.py", "from ..cli import settings"),
        ("linesim/engine/simpy/engine.py", "from linesim.engine.compiled import engine"),
        ("linesim/engine/compiled/engine.py", "import linesim.engine.simpy.clock"),
        ("linesim/engine/contract/order.py", "from linesim.engine import simpy"),
        ("linesim/engine/contract/order.py", "import simpy"),
        ("linesim/engine/simpy/engine.py", "from numba import njit"),
        ("linesim/study/sweep.py", "from hydra.core.plugins import Plugins"),
        ("linesim/line/loading.py", "import omegaconf"),
        ("linesim/cli/run.py", "import matplotlib.pyplot as plt"),
        ("linesim/study/sweep.py", "import_module('linesim.cli.run')"),
    ],
)
def test_a_wrong_import_is_found(file: str, source: str) -> None:
    assert len(set(wrong_imports(file, source))) >= 1


@pytest.mark.parametrize(
    ("file", "source"),
    [
        ("linesim/engine/contract/layout.py", "from linesim.line.model import Line"),
        ("linesim/engine/simpy/engine.py", "import simpy\nfrom linesim.engine.contract import Ledger"),
        ("linesim/engine/simpy/engine.py", "from linesim.engine.simpy.clock import Clock\nfrom .shop import Shop"),
        ("linesim/study/replications.py", "from linesim.engine import simpy"),
        ("linesim/cli/run.py", "from linesim.line import Line\nimport hydra"),
        ("linesim/__init__.py", "from linesim.study import simulate"),
    ],
)
def test_a_right_import_is_not_blamed(file: str, source: str) -> None:
    assert wrong_imports(file, source) == []


def test_no_file_is_longer_than_one_idea_needs() -> None:
    files = [*(PROJECT / "linesim").rglob("*.py"), *(PROJECT / "tests").rglob("*.py")]
    lengths = {str(path.relative_to(PROJECT)): len(path.read_text(encoding="utf-8").splitlines()) for path in files}
    assert {file: length for file, length in lengths.items() if length > MOST_LINES} == {}


def named_paths(text: str) -> set[str]:
    """Paths of the project that a text names in backquotes: a folder or file below one of its top folders."""
    top = r"(?:linesim|conf|tests|outputs|\.ci)"
    return set(re.findall(rf"`({top}(?:/[\w.\-]+)*/?)`", text)) - {"linesim"}


def test_paths_are_found_in_a_text() -> None:
    text = "See `linesim/line/model.py`, `.ci/run`, `conf/` and `linesim run conf/x.yaml`."
    assert named_paths(text) == {"linesim/line/model.py", ".ci/run", "conf/"}


@pytest.mark.parametrize("guide", ["DEVELOPERS.md", "README.md"])
def test_every_path_that_a_guide_names_is_there(guide: str) -> None:
    paths = named_paths((PROJECT / guide).read_text(encoding="utf-8"))
    assert {path for path in paths if not (PROJECT / path).exists()} == set()
    assert paths or guide == "README.md"
