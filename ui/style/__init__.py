"""Colours, sizes and spaces, and what Qt is told about them."""
