"""Broken files made from sound ones: bytes, lines and values, seeded, so that a failure can be had again."""

from __future__ import annotations

import re
from random import Random

NASTY = [
    "<script>document.title='harmed'</script>", "<img src=x onerror=alert(1)>", "\"><svg onload=alert(1)>", "javascript:alert(1)",
    "</script><script>alert(1)</script>", "{{ 7 * 7 }}", "{% raw %}", "{# note #}", "${7*7}", "[link](javascript:alert(1))",
    "![x](https://example.invalid/x.png)", "https://example.invalid/", "../../../etc/passwd", "..\\..\\x", "/etc/passwd", "con",
    "a" * 10_000, "\u202eesrever", "\u2066x\u2069", "\u0000", "\u0007", "\ufeff", "\u0000", "é" * 300, "𝟙𝟚 mm", "1e999 mm", "-0 mm",
    "0.0000000000000000001 mm", "9" * 400 + " mm", "nan mm", "inf N.m", "1/0 in", "2 7/0 in", "max max 1 mm", "1 to 2 to 3 mm",
    "!!python/object/apply:os.system [ls]", "&a *a", "*a", "<<: *a", "? : ?", "- - - - -",
    "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
    "{a: " * 40 + "1" + "}" * 40, "[" * 3000, "{a: " * 3000, "- " * 3000, "9" * 5000, "-" + "9" * 5000, "0." + "3" * 5000, "1e400", "../" * 60 + "x",
    "a/b/../../c", "engines/../../x", "aux.yaml", "%2e%2e%2f", "</title><script>alert(1)</script>", "{{ engine.file }}{% for x in y %}{% endfor %}",
    "<!--", "]]>", "&lt;script&gt;", "&#60;script&#62;", "\u200b\u200d", "\u0301" * 200, "A\u030a\u0000", "\ufffe", "\U000e0041",
    "null", "~", "NO", "1:30", "010", "2020-01-01", "1_000", "0x1F", "'", "\"", "`", "|", ">", "%", "@", "#",
    ": ", " :", "\t", "\r", "--- ", "...", "\u2028", "\u0085",
]
_VALUE = re.compile(r"(?<=[:,\[] )[^\s,\]}{\[][^,\]}{\[\n]*")

_FREE = re.compile(r"\b(?:says|label|name|when|until|method): (\"[^\"\n]*\"|[^\s\",\]}{\[][^,\]}{\[\n]*)")


def _bytes(raw: bytes, random: Random) -> bytes:
    changed = bytearray(raw)
    for _ in range(random.randint(1, 4)):
        at = random.randrange(len(changed))
        act = random.randrange(4)
        if act == 0:
            changed[at] = random.randrange(256)
        elif act == 1:
            del changed[at:at + random.randint(1, 40)]
        elif act == 2:
            changed[at:at] = bytes(random.randrange(256) for _ in range(random.randint(1, 6)))
        else:
            changed[at:at] = changed[at:at + random.randint(1, 60)]
    return bytes(changed)


def _lines(raw: bytes, random: Random) -> bytes:
    lines = raw.split(b"\n")
    for _ in range(random.randint(1, 3)):
        one, two = random.randrange(len(lines)), random.randrange(len(lines))
        act = random.randrange(4)
        if act == 0:
            lines[one], lines[two] = lines[two], lines[one]
        elif act == 1:
            lines.insert(one, lines[two])
        elif act == 2 and len(lines) > 2:
            del lines[one]
        else:
            lines[one] = b"  " + lines[one] if random.random() < 0.5 else lines[one].lstrip()
    return b"\n".join(lines)


def _values(raw: bytes, random: Random) -> bytes:
    """One to three values replaced by nasty text, quoted as a careful person would, or not."""
    text = raw.decode()
    for _ in range(random.randint(1, 3)):
        places = list(_VALUE.finditer(text))
        if not places:
            break
        place, nasty = random.choice(places), random.choice(NASTY)
        if random.random() < 0.7:
            nasty = '"' + nasty.replace("\\", "\\\\").replace('"', '\\"') + '"'
        text = text[:place.start()] + nasty + text[place.end():]
    return text.encode("utf-8", "surrogatepass")


def in_free_text(raw: bytes, random: Random) -> bytes:
    """Free text replaced by nasty text, quoted: most of these are accepted, and must come out as text."""
    text = raw.decode()
    for _ in range(random.randint(1, 3)):
        places = list(_FREE.finditer(text))
        if not places:
            break
        place = random.choice(places)
        nasty = random.choice(NASTY).replace("\\", "\\\\").replace('"', '\\"')
        text = text[:place.start(1)] + f'"{nasty}"' + text[place.end(1):]
    return text.encode("utf-8", "surrogatepass")


_KINDS = (_bytes, _lines, _values, in_free_text)


def mutated(raw: bytes, random: Random) -> bytes:
    """The bytes of a broken file."""
    return random.choice(_KINDS)(raw, random)
