"""Remedies chosen and priced, and the verdict put into words."""
