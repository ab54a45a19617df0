"""Form 1: cases, their answers and what was done."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "1"
down_revision: str | None = None


def upgrade() -> None:
    """Make the first tables."""
    no = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
    plain = sa.String().with_variant(sa.String(collation="C"), "postgresql")

    def case_no() -> sa.Column[int]:
        return sa.Column(
            "case_no", no, sa.ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False
        )

    def position() -> sa.Column[int]:
        return sa.Column("position", sa.Integer(), primary_key=True, autoincrement=False)

    op.create_table(
        "cases",
        sa.Column("no", no, primary_key=True, autoincrement=True),
        sa.Column("id", plain, nullable=False, unique=True),
        sa.Column("family", sa.String(), nullable=False),
        sa.Column("begun_us", sa.BigInteger(), nullable=False),
        sa.Column("finished_us", sa.BigInteger(), nullable=False),
        sa.Column("fault", sa.String()),
        sa.Column("stage", sa.String()),
        sa.Column("cause", sa.String()),
        sa.Column("probability", sa.Float()),
        sa.Column("settled", sa.Boolean(), nullable=False),
        sa.Column("rules_version", sa.String(), nullable=False),
        sa.Column("kitchen", sa.String(), nullable=False),
        sa.Column("role", sa.String(), nullable=False),
        sa.Column("outcome", sa.String(), nullable=False),
        sa.Column("true_cause", sa.String()),
        sa.Column("pieces", sa.Integer()),
        sa.Column("pieces_saved", sa.Integer()),
        sa.Column("pieces_lost", sa.Integer()),
        sa.Column("minutes", sa.Float()),
        sa.Column("invented", sa.Boolean(), nullable=False),
    )
    op.create_index("ix_cases_finished", "cases", ["finished_us", "id"])
    op.create_index("ix_cases_family", "cases", ["family", "finished_us", "id"])
    op.create_table(
        "details",
        case_no(),
        sa.Column("suspects", sa.JSON(), nullable=False),
        sa.Column("batch", sa.JSON(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
    )
    op.create_table(
        "words",
        sa.Column("no", no, primary_key=True, autoincrement=True),
        sa.Column("sign", plain, nullable=False),
        sa.Column("said", plain, nullable=False),
    )
    op.create_index("ux_words", "words", ["sign", "said"], unique=True)
    op.create_table(
        "answers",
        case_no(),
        position(),
        sa.Column("word_no", no, sa.ForeignKey("words.no"), nullable=False),
        sa.Column("at_us", sa.BigInteger(), nullable=False),
    )
    op.create_index("ix_answers_word", "answers", ["word_no", "case_no"])
    op.create_table("done", case_no(), position(), sa.Column("remedy", sa.String(), nullable=False))
    op.create_index("ix_done_remedy", "done", ["remedy", "case_no"])
