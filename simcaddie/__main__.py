"""``simcaddie`` and ``python -m simcaddie``."""

from __future__ import annotations


def main() -> None:
    """Run the command line."""
    from simcaddie.cli.app import run  # noqa: PLC0415 (keeps ``import simcaddie.__main__`` light)

    run()


if __name__ == "__main__":
    main()
