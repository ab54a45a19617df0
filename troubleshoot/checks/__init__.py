"""Checks of the rule base, one small class a file."""
