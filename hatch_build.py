"""What goes into wheel and sdist: only files that git knows, where this is a checkout; from an sdist, all of it."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

DEMO = ("holes", "players")  # go into the package, so that they are found wherever it is installed


class KnownFiles(BuildHookInterface):  # type: ignore[type-arg]
    """Leaves out what git doesn't know, and puts the demo files into the wheel."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Extend what the build leaves out and takes in."""
        root = Path(self.root)
        there = {
            (Path(folder) / name).relative_to(root).as_posix()
            for top in self.build_config.target_config.get("include", ("simcaddie", *DEMO))
            for folder, _, names in os.walk(root / top)
            for name in names
        }
        known = _known(root, there)
        out = self.build_config.target_config.setdefault("exclude", [])
        out += ["/" + re.sub(r"([*?!#\\\[ ])", r"\\\1", name) for name in sorted(there - known)]
        if self.target_name == "wheel" and version != "editable":
            demo = [name for name in there & known if name.startswith(tuple(f"{top}/" for top in DEMO))]
            build_data["force_include"] |= {str(root / name): f"simcaddie/demo/{name}" for name in sorted(demo)}


def _known(root: Path, there: set[str]) -> set[str]:
    """Return the files that git knows; ``there``, all, where this is no checkout."""
    if not (root / ".git").exists():
        return there
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=root, capture_output=True, check=True)
    return {os.fsdecode(name) for name in listed.stdout.split(b"\0")}
