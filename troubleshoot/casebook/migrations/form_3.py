"""Form 3: the cause to blame as far as is known, and every case's answers in one short text."""

from __future__ import annotations

from itertools import groupby

import sqlalchemy as sa
from alembic import op

revision = "3"
down_revision: str | None = "2"

_LISTED = ["finished_us", "id", "family", "blamed", "cause", "kitchen", "outcome", "invented"]
_SUMMED = ["blamed", "family", "cause", "outcome", "kitchen", "invented", "finished_us"]
_SUMMED += ["pieces", "pieces_saved", "pieces_lost", "minutes", "probability", "id"]

#: Cases filled in at a time.
_STEP = 1000


def upgrade() -> None:
    """Add the column and the table, and fill them from what the book holds."""
    no = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
    op.add_column("cases", sa.Column("blamed", sa.String()))
    op.create_table(
        "shapes",
        sa.Column("family", sa.String(), primary_key=True),
        sa.Column("case_no", no, sa.ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False),
        sa.Column("words", sa.String(), nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_index("ix_shapes_case", "shapes", ["case_no"])
    op.drop_index("ix_cases_finished", "cases")
    op.drop_index("ix_cases_family", "cases")
    op.create_index("ix_cases_listed", "cases", _LISTED)
    op.create_index("ix_cases_summed", "cases", _SUMMED)
    op.execute("UPDATE cases SET blamed = CASE outcome WHEN 'wrong' THEN true_cause ELSE cause END")
    _fill_complaints()
    _fill_shapes(op.get_bind())


def _fill_complaints() -> None:
    """Make each complaint a word of its own, under the sign without a name."""
    op.execute("INSERT INTO words (sign, said) SELECT DISTINCT '', fault FROM cases WHERE fault IS NOT NULL")


def _fill_shapes(bind: sa.Connection) -> None:
    shapes = sa.table("shapes", sa.column("family"), sa.column("case_no"), sa.column("words"))
    following = sa.text(
        "SELECT c.no, c.family, w.no FROM cases c JOIN words w ON w.sign = '' AND w.said = c.fault "
        "WHERE c.no > :after AND c.no <= :until "
        "UNION ALL SELECT c.no, c.family, a.word_no FROM cases c JOIN answers a ON a.case_no = c.no "
        "WHERE c.no > :after AND c.no <= :until ORDER BY 1, 3"
    )
    last = bind.execute(sa.text("SELECT COALESCE(MAX(no), 0) FROM cases")).scalar_one()
    for after in range(0, last, _STEP):
        found = bind.execute(following, {"after": after, "until": after + _STEP}).all()
        rows = [
            {"family": family, "case_no": case_no, "words": "".join(_code(row[2]) for row in group)}
            for (case_no, family), group in groupby(found, key=lambda row: (row[0], row[1]))
        ]
        if rows:
            bind.execute(sa.insert(shapes), rows)


def _code(number: int) -> str:
    """Return four characters of six bits each, from ``0`` up."""
    return "".join(chr(48 + (number >> shift & 63)) for shift in (18, 12, 6, 0))
