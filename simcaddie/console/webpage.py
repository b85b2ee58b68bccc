"""One HTML file that needs nothing else: a feature's own body, style and scripts, what all pages share, and its data.

The file's own policy forbids every request: only its style and its script, known by their SHA-256 hashes, run (Content
Security Policy Level 3, W3C).
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping, Sequence
from importlib.resources import files
from typing import Any

__all__ = ["packed_text", "webpage"]


def packed_text(data: bytes) -> str:
    """Return bytes in base64."""
    return base64.b64encode(data).decode("ascii")


def _json(data: Mapping[str, Any]) -> str:
    """Return data as JSON that may stand in HTML: no sign in it ends or begins an element."""
    text = json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.translate({ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"})


def _hash(text: str) -> str:
    return f"'sha256-{packed_text(hashlib.sha256(text.encode('utf-8')).digest())}'"


def webpage(
    package: str, name: str, data: Mapping[str, Any], *, title: str, scripts: Sequence[str] = (), **more: Any
) -> str:
    """Return a page as one HTML file. The same data give the same bytes.

    Parameters
    ----------
    package : where NAME.html (the body), NAME.css and NAME.js are
    name : of the page
    data : what its script reads, as JSON
    title : of the document
    scripts : names of scripts of the package that stand before its own
    more : what the body's template asks for

    """
    from jinja2 import DictLoader, Environment, StrictUndefined

    def read(folder: str, file: str) -> str:
        return files(folder).joinpath(file).read_text(encoding="utf-8")

    style = read("simcaddie.console", "webpage.css") + read(package, f"{name}.css")
    ours = [read(package, f"{each}.js") for each in (*scripts, name)]
    script = "\n".join([read("simcaddie.console", "webpage.js"), *ours])
    policy = f"default-src 'none'; style-src {_hash(style)}; script-src {_hash(script)}; img-src data:; font-src data:"
    policy += "; base-uri 'none'; form-action 'none'"
    templates = {"webpage": read("simcaddie.console", "webpage.html"), "body": read(package, f"{name}.html")}
    environment = Environment(autoescape=True, undefined=StrictUndefined, loader=DictLoader(templates))
    return environment.get_template("webpage").render(
        title=title, style=style, script=script, data=_json(data), policy=policy, **more
    )
