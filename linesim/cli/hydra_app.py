"""Starts Hydra for a sub-command: where it looks for files, what it is given, and what becomes of its complaints."""

from __future__ import annotations

import os
import re
import sys
import traceback
from collections.abc import Callable
from dataclasses import fields
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import hydra
from hydra.core.config_store import ConfigStore
from hydra.core.hydra_config import HydraConfig
from hydra.core.plugins import Plugins
from omegaconf import DictConfig, OmegaConf
from omegaconf.errors import OmegaConfBaseException

from linesim.cli.arguments import Arguments, read_arguments
from linesim.cli.folders import release, unusable
from linesim.cli.job import Job, read_job
from linesim.cli.messages import CAUGHT, explain
from linesim.cli.own_folders import OwnFolder, OwnFolders
from linesim.cli.settings import SETTINGS, setting_kinds
from linesim.cli.study_files import study_settings
from linesim.line import LineError
from linesim.line.sources import conf_dir, find, read_change, read_line_file, user_dirs

HYDRA_1_3 = hydra.__version__.startswith("1.3.")  # 1.4 has other names for a few things
BAD_INPUT, FAILURE, STOPPED = 2, 1, 130
ASKS_ONLY = {"--help", "-h", "--cfg", "-c", "--info", "-i", "--hydra-help", "--shell-completion", "-sc"}


def start(
    command: str,
    words: list[str],
    task: Callable[..., int],
    together: bool = False,
    for_hydra: Callable[[list[str]], list[str]] = list,
) -> int:
    """Runs the task of a sub-command on what the user typed; returns the exit status. Errors go to stderr.

    task: gets a job, one after another where the words make several; together: it gets the list of all of them at once.
    for_hydra: turns the words into those that Hydra understands.
    """
    if not together:
        return _start(command, words, task, together, for_hydra)
    with TemporaryDirectory(prefix="linesim") as aside:  # for what Hydra writes of jobs that share a results folder
        _resolver("linesim.aside", lambda: aside)
        return _start(command, words, task, together)


def _start(
    command: str,
    words: list[str],
    task: Callable[..., int],
    together: bool,
    for_hydra: Callable[[list[str]], list[str]] = list,
) -> int:
    os.environ["HYDRA_FULL_ERROR"] = "1"  # Hydra then raises what it would print, and we say it in our words
    statuses: list[int] = []
    jobs: list[Job] = []
    wrong: list[LineError] | None = [] if together else None
    if together and not ASKS_ONLY & set(words):
        words = [*words, "--multirun"]  # Hydra then makes a job of every choice
    try:
        arguments = read_arguments(for_hydra(words))
        _prepare(command, arguments)
        sys.argv = [f"linesim {command}", *arguments.words]

        def job(config: DictConfig) -> None:
            statuses.append(_run(config, _kept_in(jobs) if together else task, command, arguments, wrong))

        version = {"version_base": None} if HYDRA_1_3 else {}
        hydra.main(config_path=str(conf_dir()), config_name=command, **version)(job)()
        if wrong:
            raise _all_of(wrong)
        if jobs and not any(statuses):
            statuses.append(task(jobs))
    except LineError as error:
        return _say(error, BAD_INPUT)
    except CAUGHT as error:
        return _say(_explained(error, command, arguments), BAD_INPUT)
    except OSError as error:
        if statuses or error.filename is None:
            raise
        return _say(unusable(error.filename, str(error.strerror)), BAD_INPUT)  # Hydra makes it before the first job
    except KeyboardInterrupt as stop:
        return _say(stop if stop.args else "stopped", STOPPED)
    return max(statuses, default=0)


def _kept_in(jobs: list[Job]) -> Callable[[Job], int]:
    def keep(job: Job) -> int:
        jobs.append(job)
        return 0

    return keep


def _all_of(wrong: list[LineError]) -> LineError:
    """The problems of all jobs, each told once."""
    problems = {str(problem): problem for error in wrong for problem in error.problems}
    return LineError(list(problems.values()), "what was asked for")


def _run(
    config: DictConfig,
    task: Callable[[Job], int],
    command: str,
    arguments: Arguments,
    wrong: list[LineError] | None,
) -> int:
    """Runs one job. What goes wrong is told here, so that the other jobs of a multirun still have their turn.

    wrong: where bad input is kept instead of being told, if all jobs are to be judged together.
    """
    try:
        return task(read_job(config, setting_kinds(command), arguments.files))
    except (LineError, OmegaConfBaseException) as error:  # such as ${name} in a line file that leads nowhere
        told = error if isinstance(error, LineError) else _explained(error, command, arguments)
        if wrong is not None:
            wrong.append(told)
            return BAD_INPUT
        release(Path(HydraConfig.get().runtime.output_dir))
        return _say(told, BAD_INPUT)
    except BrokenPipeError:  # who reads the output, such as `head`, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception:
        traceback.print_exc()
        return FAILURE


def _explained(error: Exception, command: str, arguments: Arguments) -> LineError:
    return LineError([explain(error, setting_kinds(command), arguments.words)], f"linesim {command}")


def _say(what: object, status: int) -> int:
    print(f"linesim: {what}", file=sys.stderr)
    return status


def _prepare(command: str, arguments: Arguments) -> None:
    """Tells Hydra about the settings' types, the user's folders and the files named on the command line."""
    store = ConfigStore.instance()
    store.store(name=f"settings_{command}", node=SETTINGS[command])
    for name, path in arguments.files.items():
        group, _, option = name.partition("/")
        folder, _, stem = option.rpartition("/")
        package = "_global_" if group == "study" else "line"
        store.store(group=f"{group}/{folder}", name=stem, package=package, node=_content(group, path))
    OwnFolders.folders = [*arguments.folders, *user_dirs()]
    Plugins.instance().register(OwnFolders)
    Plugins.instance().register(OwnFolder)
    _resolver("linesim.settings", lambda _root_: _settings_text(command, _root_))
    _resolver("linesim.line_name", lambda _root_: _folder_name(_root_, arguments.words))


def _content(group: str, path: Path) -> dict[str, Any]:
    """What a file says that was named on the command line."""
    if group == "study":
        return study_settings(path)
    return dict((read_line_file(find(group, path)) if group == "line" else read_change(path)).content)


def _resolver(name: str, function: Callable[..., Any]) -> None:
    register: Any = OmegaConf.register_new_resolver if HYDRA_1_3 else OmegaConf.register_resolver
    register(name, function, replace=True)


def _settings_text(command: str, root: DictConfig) -> str:
    """The settings of a command for --help, a line each: key, value, what it means."""
    rows = []
    for each in fields(SETTINGS[command]):
        if each.name == "out":
            rows.append((f"out=outputs/DATE/TIME_{'LINE' if command == 'run' else command}", each.metadata["text"]))
        elif each.name != "line":
            rows.append((f"{each.name}={_as_typed(root.get(each.name))}", each.metadata["text"]))
    width = max(len(left) for left, _ in rows) if rows else 0
    return "\n".join(f"  {left:<{width}}  {text}" for left, text in rows) or "  none beside line and change"


def _as_typed(value: Any) -> str:
    """A setting's value as a user would write it."""
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    return f"{value:g}" if isinstance(value, float) else str(getattr(value, "name", value))


def _folder_name(root: DictConfig, words: list[str]) -> str:
    """The last part of a results folder's name: the line's name in letters, digits and _."""
    if "--multirun" in words or "-m" in words:
        return "multirun"
    line = root.get("line")
    name = line.get("name") if isinstance(line, DictConfig) else None
    return re.sub(r"\W+", "_", str(name or HydraConfig.get().runtime.choices.get("line", "line"))).strip("_")
