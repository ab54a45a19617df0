"""Form 4: the pictures themselves, each once, under the name that cases give it."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "4"
down_revision: str | None = "3"


def upgrade() -> None:
    """Add the table.  Pictures of cases before this form still lie on the machine that attached them."""
    name = sa.String().with_variant(sa.String(collation="C"), "postgresql")
    op.create_table(
        "picture_files",
        sa.Column("name", name, primary_key=True),
        sa.Column("jpeg", sa.LargeBinary(), nullable=False),
    )
