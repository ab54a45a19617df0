"""The case book: what went wrong in this kitchen, whether the verdict was right, and what keeps coming back."""
