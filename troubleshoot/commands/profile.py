"""``batchmend profile [key=value …]``: what is known of this kitchen, shown or changed."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from troubleshoot import profile, settings
from troubleshoot.commands.output import print_json, print_text
from troubleshoot.errors import AmountError


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("profile", help="show or change what is known of your kitchen")
    command.add_argument(
        "changes", nargs="*", metavar="key=value", help="such as altitude='4500 ft'; key= takes it back"
    )
    command.add_argument("--json", action="store_true", help="print as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Change what is asked for, all or nothing, and show the profile."""
    loaded = settings.load()
    if loaded.message:
        print_text(loaded.message)
    changed = loaded.settings
    for word in arguments.changes:
        key, separator, text = word.partition("=")
        if not separator:
            raise AmountError(f"profile: '{word}' is not key=value; write altitude=1500")
        changed = profile.change(changed, key.strip(), text)
    if changed != loaded.settings:
        try:
            settings.save(changed)
        except OSError as error:
            raise AmountError(f"profile: it could not be saved ({error.strerror or error}); nothing changed") from None
    if arguments.json:
        print_json({field.key: field.shown(changed) or None for field in profile.FIELDS})
        return 0
    for field in profile.FIELDS:
        print_text(f"{field.words}: {field.shown(changed) or 'not said'}", first=f"{field.key}: ")
    print()
    print_text(str(settings.path()), first="Kept in ")
    return 0
