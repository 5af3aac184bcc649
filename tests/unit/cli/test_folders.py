"""Results are never written over, and a run that leaves none leaves no folder."""

import errno
from pathlib import Path

import pytest

from linesim.cli.folders import abandon, claim, claim_sweep, release, said
from linesim.line import LineError


def test_a_folder_with_results_gets_a_neighbour_with_a_number(tmp_path: Path) -> None:
    folders = [claim(tmp_path / "run", False, "name: x\n") for _ in range(3)]
    assert [folder.name for folder in folders] == ["run", "run_2", "run_3"]
    assert folders[2].joinpath("line.yaml").read_text(encoding="utf-8") == "name: x\n"


def test_a_folder_with_results_that_the_user_chose_is_refused_and_kept(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "summary.json").write_text("{}", encoding="utf-8")
    with pytest.raises(LineError, match="holds files already"):
        claim(tmp_path / "mine", True, "")
    assert [path.name for path in (tmp_path / "mine").iterdir()] == ["summary.json"]


@pytest.mark.parametrize("name", ["a_file", "a_file/inside/it"])
def test_a_file_where_the_folder_would_be_is_told_and_kept(tmp_path: Path, name: str) -> None:
    (tmp_path / "a_file").write_text("mine", encoding="utf-8")
    with pytest.raises(LineError, match=r"out = .*a_file.*is no folder that can be made"):
        claim(tmp_path / name, True, "")
    with pytest.raises(LineError, match=r"out = .*a_file.*is no folder that can be made"):
        claim_sweep(tmp_path / name, True)
    assert (tmp_path / "a_file").read_text(encoding="utf-8") == "mine"


def test_a_folder_that_the_system_refuses_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(path: Path, *_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(LineError, match=r"out = .*: is no folder that can be made: Permission denied"):
        claim(tmp_path / "mine", True, "")


def test_what_a_system_refused_is_said_with_its_file() -> None:
    assert said(PermissionError(errno.EACCES, "Permission denied", "a/b")) == "a/b: Permission denied"
    assert said(FileNotFoundError("a: holds nothing")) == "a: holds nothing"


def test_an_empty_folder_that_the_user_chose_is_taken(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    assert claim(tmp_path / "mine", True, "").is_dir()


def test_a_run_without_results_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    abandon(claim(Path("outputs") / "day" / "run", False, ""))
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_holds_anything_stays(tmp_path: Path) -> None:
    folder = claim(tmp_path / "run", False, "")
    release(folder)
    assert (folder / "line.yaml").is_file()


def test_the_working_folder_is_never_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    release(Path("."))
    assert tmp_path.is_dir()


def test_a_line_file_that_lay_in_a_refused_folder_stays(tmp_path: Path) -> None:
    (tmp_path / "line.yaml").write_text("name: mine\n", encoding="utf-8")
    with pytest.raises(LineError):
        claim(tmp_path, True, "name: other\n")
    release(tmp_path)
    assert (tmp_path / "line.yaml").read_text(encoding="utf-8") == "name: mine\n"
