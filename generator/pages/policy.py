"""What a page may load and run: a Content-Security-Policy in its head.

Every text of a record is data. Should one ever come out as markup, the browser still refuses to run it:
only the site's own files and the scripts whose hashes stand here may run. Measured in Chromium, 'self'
names the neighbours of a page opened from disk as well.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable
from hashlib import sha256

from markupsafe import Markup

NOTHING = ["'none'"]


def policy(scripts: Iterable[str] = (), styles: Iterable[str] = (), *, files: bool = False) -> Markup:
    """The meta element. scripts, styles: texts of the inline ones that are ours. files: whether the site's own files may be loaded.

    Style attributes are allowed: drawings carry their width in one.
    """
    own = ["'self'"] if files else []
    rules = {
        "default-src": NOTHING,
        "script-src": own + _hashes(scripts),
        "style-src-elem": own + _hashes(styles),
        "style-src-attr": ["'unsafe-inline'"],
        "img-src": [*own, "data:", "blob:"],
        "font-src": own,
        "connect-src": own,
        "worker-src": own,
        "manifest-src": own,
        "base-uri": NOTHING,
        "form-action": NOTHING,
    }
    content = "; ".join(f"{rule} {' '.join(allowed or NOTHING)}" for rule, allowed in rules.items())
    return Markup('<meta http-equiv="Content-Security-Policy" content="{}">').format(Markup(content))


def _hashes(texts: Iterable[str]) -> list[str]:
    found = (b64encode(sha256(text.encode()).digest()).decode() for text in texts)
    return list(dict.fromkeys(f"'sha256-{each}'" for each in found))
