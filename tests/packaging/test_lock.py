"""Every package that is installed is pinned by version and hash, and what the project asks for is among them."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.markers import default_environment
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
LOCKS = {
    "requirements.lock": PROJECT["dependencies"],
    "requirements-test.lock": [*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["test"]],
}


def pins(name: str) -> dict[Requirement, str]:
    """Each pinned requirement of a lock file with the lines that follow it."""
    text = (ROOT / name).read_text(encoding="utf-8")
    parts = re.split(r"(?m)^(?=[a-z0-9])", re.sub(r"(?m)^#.*\n", "", text))
    return {Requirement(part.splitlines()[0].rstrip(" \\")): part for part in parts if part.strip()}


@pytest.mark.parametrize("name", LOCKS)
def test_every_pin_has_one_version_and_a_hash(name: str):
    """No range and no package without a sha256, and nothing that is fetched from an address of its own."""
    found = pins(name)
    assert len(found) > 20
    for requirement, lines in found.items():
        assert [one.operator for one in requirement.specifier] == ["=="], requirement
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", lines), requirement
        assert requirement.url is None


@pytest.mark.parametrize("name", LOCKS)
@pytest.mark.parametrize("python", ["3.11", "3.12", "3.13"])
def test_what_the_project_asks_for_is_pinned(name: str, python: str):
    """On each Python every dependency has one pin, of a version that the project allows."""
    there = {**default_environment(), "python_version": python, "python_full_version": f"{python}.4"}
    held = [one for one in pins(name) if one.marker is None or one.marker.evaluate(there)]
    for text in LOCKS[name]:
        asked = Requirement(text)
        if asked.marker is not None and not asked.marker.evaluate(there):
            continue
        plain = asked.name.lower().replace("_", "-")
        (pin,) = [one for one in held if one.name == plain]
        version = next(iter(pin.specifier)).version
        assert asked.specifier.contains(version), f"{asked} but {pin}; run bash .ci/lock"


def test_both_lists_pin_the_same_versions():
    """What the tests run on is what is started."""
    tested = {(one.name, str(one.specifier), str(one.marker)) for one in pins("requirements-test.lock")}
    started = {(one.name, str(one.specifier)) for one in pins("requirements.lock")}
    assert started <= {(name, specifier) for name, specifier, _ in tested}


def test_the_scripts_demand_the_hashes():
    """The environment is made from the lists, with hashes demanded, and of the package itself nothing further."""
    script = (ROOT / ".ci" / "prepare").read_text(encoding="utf-8")
    assert "--require-hashes" in script
    assert "--no-deps" in script
