"""Club names: what people write, and the one name each club has here.

Case, hyphens and spaces don't matter; number words and the usual short forms are understood ("7-iron",
"seven iron", "7i", "PW"). Any other name stays as written and needs its loft.
"""

from __future__ import annotations

import re
from typing import Final

from simcaddie.golfer.defaults import CLUBS

__all__ = ["club_name", "swing_name"]

_NUMBERS: Final = {
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8",
    "nine": "9",
}
_SHORT: Final = {
    "d": "driver", "1w": "driver", "1 wood": "driver", "pw": "pitching wedge",
    "gw": "gap wedge", "sw": "sand wedge", "lw": "lob wedge",
}
_FAMILIES: Final = {
    "i": "iron", "w": "wood", "h": "hybrid", "iron": "iron", "wood": "wood", "hybrid": "hybrid",
}


def club_name(name: str) -> str:
    """Return the name that a club goes by.

    >>> club_name("7-Iron"), club_name("seven iron"), club_name("3w"), club_name("Old  Cleek")
    ('7 iron', '7 iron', '3 wood', 'Old Cleek')
    """
    written = " ".join(name.split())
    plain = " ".join(re.sub(r"[-_]", " ", written.lower()).split())
    plain = " ".join(_NUMBERS.get(word, word) for word in plain.split())
    if match := re.fullmatch(r"(\d) ?([a-z]+)|([a-z]+) ?(\d)", plain, re.ASCII):
        number, family = (match[1], match[2]) if match[1] else (match[4], match[3])
        plain = f"{number} {_FAMILIES[family]}" if family in _FAMILIES else plain
    plain = _SHORT.get(plain, plain)
    return plain if plain in CLUBS else written


def swing_name(name: str) -> str:
    """Return the name that a swing goes by: lower case, single spaces.

    >>> swing_name(" Half ")
    'half'
    """
    return " ".join(name.lower().split())
