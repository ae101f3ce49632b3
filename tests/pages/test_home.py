"""The home page's body: what the list says of each engine, and what the finder may choose by."""

import re

from generator.pages.home import Entry, finder_page, home_page


def entry(number: int, **changes: object) -> Entry:
    values = {
        "name": f"Engine {number}", "path": f"engines/e{number}.html", "procedure": f"procedure/e{number}.html", "invented": False,
        "facts": (), "says": {},
    }
    return Entry(**values | changes)


def test_every_engine_of_the_library_has_its_three_ways(library):
    body = home_page(library).body
    for engine in library.engines.values():
        page = f"engines/{engine.id}.html"
        for href in (page, f"{page}#tightening", f"{page}#flatness", f"procedure/{engine.id}.html"):
            assert f'href="{href}"' in body


def test_real_engines_stand_before_invented_ones_and_only_those_are_marked(library):
    body = finder_page([entry(1, name="Aaa", invented=True), entry(2, name="Zzz")], library).body
    real, invented = body.index("Zzz"), body.index("Aaa")
    assert real < invented
    assert [match.start() > real for match in re.finditer(">Invented<", body)] == [True]
    assert "Not for work on any engine" in body


def test_the_page_counts_its_engines_one_or_more(library):
    assert "figures of 1 engine," in finder_page([entry(1)], library).body
    assert "figures of 2 engines," in finder_page([entry(1), entry(2)], library).body
    assert "and 1 invented engine to" in finder_page([entry(1), entry(2, invented=True)], library).body
    assert "invented engine" not in finder_page([entry(1)], library).body


def test_an_entry_says_only_what_its_record_says(library):
    body = home_page(library).body
    items = {name: attributes for attributes, name in re.findall(r'<li([^>]*)>\n<a class="engine"[^>]*>([^<]*)<', body)}
    crane = next(attributes for name, attributes in items.items() if name.startswith("Crane"))
    assert 'data-fuel="diesel"' in crane
    assert "data-layout" not in crane
    assert "data-cylinders" not in crane


def test_choices_hold_every_word_of_the_schema_and_every_number_of_a_record(library):
    body = finder_page([entry(1, says={"cylinders": "24", "application": "b"}), entry(2, says={"application": "A"})], library).body
    options = {key: re.findall("<option>([^<]*)<", found) for key, found in re.findall(r'<select id="find-(\w+)"(.*?)</select>', body)}
    assert options["layout"] == ["in-line", "vee", "opposed", "single"]
    assert options["fuel"] == ["gasoline", "diesel", "gas"]
    assert options["cylinders"][:4] == ["1", "2", "3", "4"]
    assert options["cylinders"][-2:] == ["16", "24"]
    assert options["application"] == ["A", "b"]


def test_hostile_text_stays_text(library):
    body = finder_page([entry(1, name='"><script>x</script>', facts=("<b>",), says={"application": '" onclick="x'})], library).body
    assert "<script>x" not in body
    assert 'onclick="x' not in body
    assert "<b>" not in body


def test_a_thousand_engines_stay_under_a_megabyte(library):
    name = "Generator set, two-cylinder diesel, TM 9-6115-{:04d}-24-and-P"
    says = {"layout": "in-line", "cylinders": "2", "fuel": "diesel", "application": "generator set"}
    entries = [
        entry(number, name=name.format(number), path=f"engines/generator-set-two-cylinder-tm-9-6115-{number:04d}-24-and-p.html",
              procedure=f"procedure/generator-set-two-cylinder-tm-9-6115-{number:04d}-24-and-p.html",
              facts=("in-line", "2 cylinders", "diesel", "liquid cooled", "push rod", "TM 9-6115-1234-34"), says=says)
        for number in range(1000)
    ]
    assert len(finder_page(entries, library).body.encode()) < 1_000_000
