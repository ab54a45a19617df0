"""Shared by the tests of security: the shipped rules are parsed once in a run."""

from surroundings import _read_once, kept_rules

__all__ = ["_read_once", "kept_rules"]
