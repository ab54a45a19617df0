"""Batchmend: what went wrong with a batch of pastry, what saves it, and why."""

__version__ = "0.1.0"
