"""The tables of the book in its newest form; how they came to be is in ``migrations``.

``cases`` is narrow, so that lists and sums read little; what only one case's page shows stands in ``details``.  Each
distinct answer to a sign is one row of ``words``: ``said`` is the answer's id, ``=`` and the number, or nothing for
"can't tell"; the complaint is a word of the sign ``""``.  ``shapes`` holds all words of a case in one short text for
finding near cases.  ``pictures`` names those of a case; they lie in ``picture_files``, or still on the machine that
attached them.  Times are whole microseconds since 1970 in UTC, the same number in every database.
"""

from __future__ import annotations

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

METADATA = MetaData()

#: Where Alembic notes the form of the book.
VERSION_TABLE = "case_book_form"

_NO = BigInteger().with_variant(Integer(), "sqlite")
# The server's own order of letters would sort ids otherwise than the file does.
_PLAIN = String().with_variant(String(collation="C"), "postgresql")

CASES = Table(
    "cases",
    METADATA,
    Column("no", _NO, primary_key=True, autoincrement=True),
    Column("id", _PLAIN, nullable=False, unique=True),
    Column("family", String(), nullable=False),
    Column("begun_us", BigInteger(), nullable=False),
    Column("finished_us", BigInteger(), nullable=False),
    Column("fault", String()),
    Column("stage", String()),
    Column("cause", String()),
    Column("probability", Float()),
    Column("settled", Boolean(), nullable=False),
    Column("rules_version", String(), nullable=False),
    Column("kitchen", String(), nullable=False),
    Column("role", String(), nullable=False),
    Column("outcome", String(), nullable=False),
    Column("true_cause", String()),
    Column("pieces", Integer()),
    Column("pieces_saved", Integer()),
    Column("pieces_lost", Integer()),
    Column("minutes", Float()),
    Column("invented", Boolean(), nullable=False),
    Column("blamed", String()),
    # A list is a walk along the first, a sum one along the second; neither touches the table before rows are chosen.
    Index("ix_cases_listed", "finished_us", "id", "family", "blamed", "cause", "kitchen", "outcome", "invented"),
    Index(
        "ix_cases_summed",
        "blamed",
        "family",
        "cause",
        "outcome",
        "kitchen",
        "invented",
        "finished_us",
        "pieces",
        "pieces_saved",
        "pieces_lost",
        "minutes",
        "probability",
        "id",
    ),
)

DETAILS = Table(
    "details",
    METADATA,
    Column("case_no", _NO, ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False),
    Column("suspects", JSON(), nullable=False),
    Column("batch", JSON(), nullable=False),
    Column("note", Text(), nullable=False),
)

WORDS = Table(
    "words",
    METADATA,
    Column("no", _NO, primary_key=True, autoincrement=True),
    Column("sign", _PLAIN, nullable=False),
    Column("said", _PLAIN, nullable=False),
    Index("ux_words", "sign", "said", unique=True),
)

ANSWERS = Table(
    "answers",
    METADATA,
    Column("case_no", _NO, ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False),
    Column("position", Integer(), primary_key=True, autoincrement=False),
    Column("word_no", _NO, ForeignKey("words.no"), nullable=False),
    Column("at_us", BigInteger(), nullable=False),
    Index("ix_answers_word", "word_no", "case_no"),
)

DONE = Table(
    "done",
    METADATA,
    Column("case_no", _NO, ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False),
    Column("position", Integer(), primary_key=True, autoincrement=False),
    Column("remedy", String(), nullable=False),
    Index("ix_done_remedy", "remedy", "case_no"),
)

PICTURES = Table(
    "pictures",
    METADATA,
    Column("case_no", _NO, ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False),
    Column("position", Integer(), primary_key=True, autoincrement=False),
    Column("name", String(), nullable=False),
)

PICTURE_FILES = Table(
    "picture_files",
    METADATA,
    Column("name", _PLAIN, primary_key=True),
    Column("jpeg", LargeBinary(), nullable=False),
)

SHAPES = Table(
    "shapes",
    METADATA,
    Column("family", String(), primary_key=True),
    Column("case_no", _NO, ForeignKey("cases.no", ondelete="CASCADE"), primary_key=True, autoincrement=False),
    Column("words", String(), nullable=False),
    Index("ix_shapes_case", "case_no"),
    sqlite_with_rowid=False,
)

#: Tables that hold parts of a case, each with ``case_no``.
PARTS = (DETAILS, ANSWERS, DONE, PICTURES, SHAPES)
