"""A page as a browser's parser splits it up."""

from __future__ import annotations

import base64
import hashlib
from html.parser import HTMLParser


class Reader(HTMLParser):
    """Collects text by element, and the policy, as a browser's parser splits the file up."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.inside, self.texts, self.metas, self.tags = [], {}, [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag == "meta":
            self.metas.append(dict(attrs))
        else:
            self.inside.append((tag, dict(attrs).get("id")))

    def handle_endtag(self, tag):
        while self.inside and self.inside.pop()[0] != tag:
            pass

    def handle_data(self, text):
        if self.inside:
            self.texts[self.inside[-1]] = self.texts.get(self.inside[-1], "") + text


def read(html):
    reader = Reader()
    reader.feed(html)
    return reader


def nothing_but_itself(html):
    """Hold a page to run and load nothing but what is in the file.

    Content Security Policy Level 3, W3C, section 6.7.2.12: the base64 of the SHA-256 of an element's text.
    """
    reader = read(html)
    policy = next(m["content"] for m in reader.metas if m.get("http-equiv") == "Content-Security-Policy")
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    for element, rule in ((("script", None), "script-src"), (("style", None), "style-src")):
        digest = base64.b64encode(hashlib.sha256(reader.texts[element].encode()).digest()).decode()
        assert rules[rule] == f"'sha256-{digest}'"
    for tag, attrs in reader.tags:
        assert "style" not in attrs, tag
        assert not any(name.startswith("on") for name in attrs), tag
        for name in ("src", "href", "action"):
            assert attrs.get(name, "data:").startswith(("data:", "#")), (tag, attrs)
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
