"""Practice: cases drawn from the rule base, marked, explored, scheduled and put together by a trainer."""
