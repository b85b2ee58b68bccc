"""What everything stands on: errors, units, random streams, threads, compiling, memos, and the table of surfaces."""

__version__ = "0.1.0"
