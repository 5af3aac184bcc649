"""The shipped settings: they fit their schema, and shell and Python start from the same ones."""

import inspect
from dataclasses import fields

import pytest
import yaml

from linesim.cli import COMMANDS, WITHOUT_LINE
from linesim.cli.settings import SETTINGS
from linesim.line import conf_dir
from linesim.study import simulate


def shipped(command: str) -> dict[str, object]:
    content = yaml.safe_load((conf_dir() / f"{command}.yaml").read_text(encoding="utf-8"))
    return {key: value for key, value in content.items() if key not in ("defaults", "hydra")}


@pytest.mark.parametrize("command", SETTINGS)
def test_every_setting_has_a_value_in_conf_and_no_other_stands_there(command: str) -> None:
    assert {*shipped(command), "line"} == {each.name for each in fields(SETTINGS[command])}


def test_every_command_has_its_settings() -> None:
    assert set(COMMANDS) - set(WITHOUT_LINE) == set(SETTINGS)


def test_shell_and_python_start_from_the_same_values() -> None:
    python = {name: each.default for name, each in inspect.signature(simulate).parameters.items()}
    shell = shipped("run")
    both = set(python) & set(shell)
    assert {"hours", "warmup_hours", "replications", "seed", "engine", "window_h", "trace"} <= both
    assert {name: python[name] for name in both} == {name: shell[name] for name in both}
