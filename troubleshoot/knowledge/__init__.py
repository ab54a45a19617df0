"""The rule base read strictly into frozen dataclasses."""
