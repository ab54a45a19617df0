"""Where everything in a rules folder stands, kept after reading so that a check can point at the very line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from troubleshoot.problems import Place

PathKey = tuple[str | int, ...]


@dataclass(slots=True)
class Places:
    """The places of keys and values by file and path."""

    files: dict[str, Mapping[PathKey, Place]] = field(default_factory=dict)

    def at(self, item: Place, *path: str | int) -> Place:
        """Return where ``path`` stands in the file of ``item``, or its nearest parent, or the item itself."""
        known = self.files.get(item.file, {})
        while path and path not in known:
            path = path[:-1]
        return known[path] if path else item

    def of_cause(self, item: Place, also: str, cause: str, *path: str | int) -> Place:
        """Return where ``path`` of a cause stands: in its own file, or in the file ``also`` that adds to it."""
        if path not in self.files.get(item.file, {}):
            added = self.files.get(also, {})
            extended: PathKey = ("causes", cause, *path)
            while len(extended) > 2:
                if extended in added:
                    return added[extended]
                extended = extended[:-1]
        return self.at(item, *path)
