"""The forms the book has had, oldest first.  Each module is an Alembic revision; none of them ever changes.

The revisions are imported like any module, so they are found in a wheel, in a bundle and in a zip alike.
"""

from __future__ import annotations

from types import ModuleType

from troubleshoot.casebook.migrations import form_1, form_2, form_3, form_4

FORMS: tuple[ModuleType, ...] = (form_1, form_2, form_3, form_4)
