"""Bringing a book to the newest form: forward only, all in one transaction, by one program at a time."""

from __future__ import annotations

from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext, MigrationStep
from alembic.script import Script
from alembic.script.revision import RevisionMap
from sqlalchemy import Connection

from troubleshoot.casebook.migrations import FORMS
from troubleshoot.casebook.tables import VERSION_TABLE


def upgrade(connection: Connection, form: str = "heads") -> None:
    """Bring the book to a later form, the newest unless named.  The caller's transaction holds all of it or nothing."""
    scripts = [Script(module, module.revision, str(module.__file__)) for module in FORMS]
    by_form = {script.revision: script for script in scripts}
    forms = RevisionMap(lambda: scripts)

    def steps(heads: tuple[str, ...], _: MigrationContext) -> list[MigrationStep]:
        ahead = forms.iterate_revisions(form, heads or None, implicit_base=True)
        return [MigrationStep.upgrade_from_script(forms, by_form[found.revision]) for found in reversed(list(ahead))]

    context = MigrationContext.configure(connection, opts={"fn": steps, "version_table": VERSION_TABLE})
    with Operations.context(context):
        context.run_migrations()
