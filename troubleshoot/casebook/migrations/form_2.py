"""Form 2: pictures of a case, by the names of their files."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "2"
down_revision: str | None = "1"


def upgrade() -> None:
    """Add the table of pictures."""
    no = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
    op.create_table(
        "pictures",
        sa.Column("case_no", no, sa.ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False),
        sa.Column("position", sa.Integer(), primary_key=True, autoincrement=False),
        sa.Column("name", sa.String(), nullable=False),
    )
