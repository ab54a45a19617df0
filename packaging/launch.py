"""Where the bundle begins: the same command as ``batchmend``."""

from troubleshoot.cli import main

raise SystemExit(main())
