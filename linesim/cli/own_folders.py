"""A user's own folders of lines, changes and settings, in front of the shipped one on Hydra's search path."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hydra._internal.core_plugins.file_config_source import FileConfigSource
from hydra.core.config_search_path import ConfigSearchPath, SearchPathQuery
from hydra.plugins.config_source import ConfigResult
from hydra.plugins.search_path_plugin import SearchPathPlugin
from omegaconf import DictConfig, OmegaConf

from linesim.cli.settings import SETTINGS
from linesim.line.file_names import GROUPS
from linesim.line.sources import conf_dir

SCHEME = "own"


class OwnFolders(SearchPathPlugin):
    """Puts the user's own folders in front of the shipped one, so that a file there wins over its namesake."""

    folders: list[Path] = []  # noqa: RUF012 - set anew for each start; Hydra makes the instances

    def manipulate_search_path(self, search_path: ConfigSearchPath) -> None:
        for folder in self.folders:  # each goes right before the shipped one, so behind those before it
            if folder.is_dir():
                path = f"{SCHEME}://{folder.resolve()}"
                search_path.prepend("linesim-user", path, SearchPathQuery(provider="main"))


class OwnFolder(FileConfigSource):
    """One of these folders. Its settings files may hold only what differs: they are laid over the shipped ones.

    One with a defaults list of its own stands for itself, as everywhere in Hydra.
    """

    @staticmethod
    def scheme() -> str:
        return SCHEME

    def load_config(self, config_path: str) -> ConfigResult:
        found = super().load_config(config_path)
        command = config_path.removesuffix(".yaml")
        if command in SETTINGS and isinstance(found.config, DictConfig) and "defaults" not in found.config:
            found.config = _over_shipped(command, found.config)
        return found


def _over_shipped(command: str, own: DictConfig) -> Any:
    """The shipped settings of a command with the user's over them; a name for a group chooses that file."""
    shipped: Any = OmegaConf.load(conf_dir() / f"{command}.yaml")
    content: Any = OmegaConf.to_container(own)
    for entry in shipped.defaults:
        for group in (*GROUPS, "study"):
            if isinstance(entry, DictConfig) and group in entry and not isinstance(content.get(group, {}), dict):
                chosen = content.pop(group)
                entry[group] = None if chosen == "none" else chosen
    return OmegaConf.merge(shipped, content)
