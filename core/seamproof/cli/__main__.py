"""`python -m seamproof.cli`: the same as the command."""

from __future__ import annotations

from seamproof.cli.main import main

if __name__ == "__main__":
    main(prog_name="seamproof")
