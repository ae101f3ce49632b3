"""The procedure on the page: nothing lost for want of a fact, every caution before its step, gaps named with their manual."""

import re
from html import unescape
from pathlib import Path

import pytest
import yaml

from generator.pages.at_hand import gathered
from generator.pages.procedure import Procedure, procedure_page
from generator.record.procedure import NO, applies
from tests.conftest import SMALL, plain

FORK_LIFT = "fork-lift-truck-tm-10-3930-653-14-and-p"
CAUTION = re.compile(r'<div class="caution[^>]*>\s*<p>(?:<span.*?</span> )?<strong.*?</strong> (.*?) ((?:<a|<small).*?)?</p>')
PAIRS = yaml.safe_load((Path(__file__).parent / "procedure_pairs.yaml").read_text(encoding="utf-8"))


def text_of(html):
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def body_of(engine, library):
    return procedure_page(engine, library).body


def steps_of(body):
    """HTML of each step by its id."""
    parts = re.split(r'<div class="step" id="step-', body)[1:]
    return {part.partition('"')[0]: part for part in parts}


def before_the_box(html):
    return plain(unescape(html.partition("<label")[0]))


def all_steps(library):
    return [step for phase in library.phases for step in phase.steps]


def shown(read, library, identity=""):
    """Ids of the steps that a small record shows. identity: lines of its identity, in one."""
    engine, problems = read(SMALL.replace("  fuel: {says: gasoline}\n", identity))
    assert [each for each in problems if each.level == "error"] == []
    return set(steps_of(body_of(engine, library)))


@pytest.fixture(scope="module")
def bodies(library):
    """Every page of the procedure, that for any engine too."""
    procedure = Procedure(library)
    return [(engine, procedure.page(engine).body) for engine in [None, *library.engines.values()]]


def test_a_page_is_the_same_whichever_was_made_before_it(library, bodies):
    for engine, body in bodies:
        assert body == body_of(engine, library)


def test_a_record_that_lacks_a_fact_loses_no_step_and_no_caution(library):
    engine = library.engines[FORK_LIFT]
    steps = steps_of(body_of(engine, library))
    said = {fact.at[1] for fact in engine.facts if fact.at[0] == "identity"}
    lost = [step for step in all_steps(library) if step.id not in steps]
    for step in lost:
        assert any(key in said and engine.says(f"identity.{key}") not in words for key, words in step.when), step.id
    for step in all_steps(library):
        for name in step.cautions if step.id in steps else ():
            caution = library.cautions[name]
            if not any(key in said for key, _ in caution.when):
                assert caution.text in before_the_box(steps[step.id]), (step.id, name)
    assert "If the engine is cooled by liquid:" in body_of(engine, library)


def test_no_required_step_is_lost_where_a_record_says_nothing(library, read):
    everything = shown(read, library, "  application: {says: any}\n")
    for ids in library.required.steps.values():
        assert set(ids) <= everything


def test_every_hazard_stands_before_its_step_on_every_engine_it_concerns(library, bodies):
    for engine, body in bodies:
        steps = steps_of(body)
        for hazard in library.required.hazards:
            caution = library.cautions[hazard.caution]
            for name in hazard.before if applies(caution.when, engine) != NO else ():
                if name in steps:
                    before = before_the_box(steps[name])
                    assert f'<strong class="signal">{caution.signal.upper()}</strong> {caution.text}' in before, (engine, hazard.name, name)


def test_a_caution_has_its_sources_where_it_stands_first(library, bodies):
    for _, body in bodies:
        seen = set()
        for html in steps_of(body).values():
            for text, sources in CAUTION.findall(html):
                assert bool(sources) == (text not in seen), text
                seen.add(text)
        assert len(seen) > 15


def test_every_step_stands_once_and_in_the_order_of_the_job(library, bodies):
    order = [step.id for step in all_steps(library)]
    for _, body in bodies:
        ids = re.findall(r'id="step-([^"]+)"', body)
        assert ids == [each for each in order if each in ids]
        anchors = re.findall(r'\bid="([^"]+)"', body)
        assert len(anchors) == len(set(anchors))
        assert set(re.findall(r'href="#([^"]+)"', body)) <= set(anchors)


def test_steps_that_are_not_for_an_engine_are_left_out(library):
    body = body_of(library.engines["quennith-four"], library)
    assert "step-compression-wet" in body
    assert "step-fins-and-shrouds" not in body
    assert "step-compression-diesel" not in body


def reason(step, engine):
    """What the record of an engine says that leaves the step out."""
    said = [(key, engine.says(f"identity.{key}"), words) for key, words in step.when]
    return ", ".join(f"{key}: {found}" for key, found, words in said if found and found not in words)


def difference(one, other, library):
    """Steps on one engine's page that are not on the other's, by the reason."""
    found = {}
    mine, theirs = (set(steps_of(body_of(engine, library))) for engine in (one, other))
    for step in all_steps(library):
        if step.id in mine - theirs:
            found.setdefault(reason(step, other), []).append(step.id)
    return found


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"{pair['first'][:12]} and {pair['second'][:14]}")
def test_what_one_engine_has_and_another_has_not_and_why(library, pair):
    first, second = library.engines[pair["first"]], library.engines[pair["second"]]
    assert difference(first, second, library) == pair["only_first"]
    assert difference(second, first, library) == pair["only_second"]


def lines_of(library, read, identity):
    """What a small record's steps say to do, and its cautions."""
    engine, _ = read(SMALL.replace("  fuel: {says: gasoline}\n", identity))
    body = body_of(engine, library)
    return [unescape(each) for each in re.findall(r"<label.*?<b>(.*?)</b></label>", body)], body


def test_an_air_cooled_engine_has_no_coolant_step(library, read):
    lines, body = lines_of(library, read, "  cooling: {says: air}\n")
    assert len(lines) > 90
    assert [line for line in lines if re.search("coolant|radiator|thermostat|antifreeze", line, re.IGNORECASE)] == []
    assert "Hot coolant under pressure" not in body
    assert "Antifreeze is poison" not in body
    assert "Look at fins, shrouds and blower." in lines


def test_an_engine_without_valves_has_no_step_about_them(library, read):
    lines, body = lines_of(library, read, "  cycle: {says: two-stroke}\n  valve_train: {says: none}\n")
    assert len(lines) > 90
    assert [line for line in lines if re.search("valve|camshaft|rocker|push rod|lifter", line, re.IGNORECASE)] == []
    assert "valve spring flies" not in body


def test_a_caution_stands_with_the_gravest_first(library, bodies):
    order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    for _, body in bodies:
        for html in steps_of(body).values():
            signals = [order.index(each) for each in re.findall(r'<strong class="signal">(\w+)</strong>', html)]
            assert signals == sorted(signals)


def test_hold_points_stand_on_every_page_with_who_looks_and_what_follows(library, bodies):
    for _, body in bodies:
        text = text_of(body)
        assert re.findall(r"Hold point: ([^.]+)\.", text) == [step.hold.name for step in all_steps(library) if step.hold]
        assert text.count("Who looks:") == text.count("If not:") == len(library.required.holds)


def test_causes_and_signs_stand_in_their_tables(library, bodies):
    causes = [cause for phase in library.phases for cause in phase.causes]
    for engine, body in bodies:
        ticks = re.findall(r'data-tick="cause:([^"]+)"', body)
        assert sorted(ticks) == sorted(cause.id for cause in causes if applies(cause.when, engine) != NO)
        for phase in library.phases:
            for sign in phase.signs:
                assert f'id="sign-{sign.id}"' in body
    assert {cause.of for cause in causes} == {"overheating", "gasket failure"}


def test_where_not_to_stop_is_said_at_the_top_and_at_the_step(library, bodies):
    begins = [step for step in all_steps(library) if step.no_pause]
    assert len(begins) >= 2
    for _, body in bodies:
        top, steps = text_of(body.partition('<section class="phase"')[0]), steps_of(body)
        for step in begins:
            assert step.do in top and step.no_pause.why in top
            assert "Do not stop from here" in steps[step.id]


def test_the_orders_of_the_head_stand_at_their_steps(library):
    steps = steps_of(body_of(library.engines["quennith-four"], library))
    assert "Order: A3, B3, A4, B2, B4, A2, A5, B1, B5, A1." in text_of(steps["stages-in-order"]).replace(" .", ".")
    assert "Loosening order: A1, B5, B1, A5, A2, B4, B2, A4, B3, A3." in text_of(steps["loosen-cold"]).replace(" .", ".")
    pointed = text_of(steps_of(body_of(library.engines["refrigeration-unit-tm-5-4110-217-14"], library))["stages-in-order"])
    assert "the tightening order of the head bolts, Fig. 5-15, not transcribed:" in pointed


def test_a_second_tightening_only_where_the_record_names_one(library):
    named = [
        engine.id for engine in library.engines.values()
        if any(stage.do == "retorque" for stage in (engine.sets["head"].stages if "head" in engine.sets else ()))
    ]
    assert named
    for engine in library.engines.values():
        step = text_of(steps_of(body_of(engine, library))["re-torque-if-asked"])
        assert ("tighten again after running" in step.lower()) == (engine.id in named)
        stages = engine.sets["head"].stages if "head" in engine.sets else ()
        assert ("This record names no tightening after running." in step) == bool(stages and engine.id not in named)


@pytest.mark.parametrize(("engine", "wait"), [("wrennockle-twin", "run 5 h and is cold again"), ("gruvhalt-v8", "run for 20 min")])
def test_what_comes_after_running_stands_at_its_own_step_with_its_wait(library, engine, wait):
    steps = steps_of(body_of(library.engines[engine], library))
    assert wait not in text_of(steps["stages-in-order"])
    assert "tighten again after running" not in text_of(steps["stages-in-order"])
    assert wait in text_of(steps["re-torque-if-asked"])


def test_a_gap_names_what_to_look_up_and_where(library, read):
    engine, _ = read(SMALL)
    assert "Not in this record. Look it up in the manual of your engine and write it here:" in text_of(body_of(engine, library))
    fork_lift = steps_of(body_of(library.engines[FORK_LIFT], library))
    assert "Not in this record. Look it up in TM 10-3930-653-14&P and write it here:" in text_of(fork_lift["lift-the-head"])
    assert "the weight of the head:" in text_of(fork_lift["lift-the-head"])


def test_a_whole_record_leaves_nothing_to_look_up(library):
    for step in steps_of(body_of(library.engines["quennith-four"], library)).values():
        if 'class="condition"' not in step:
            assert "Not in this record" not in text_of(step), step


def test_a_figure_is_missed_only_on_engines_that_have_it(library, read):
    several, one = (read(SMALL.replace("  fuel:", f"  layout: {{says: {layout}}}\n  fuel:"))[0] for layout in ("in-line", "single"))
    assert "how far the cylinders may differ" in text_of(body_of(several, library))
    assert "how far the cylinders may differ" not in text_of(body_of(one, library))


def test_every_figure_in_a_step_has_its_source_and_its_doubt(library, bodies):
    for _, body in bodies:
        for run in re.findall(r'<div class="brief">.*?</div>', body, re.DOTALL):
            assert run.count("<li>") >= 1 and re.search(r'</ul><a class="cite" href="[^"]+">[^<]+</a></div>', run), run
    torque = text_of(steps_of(body_of(library.engines[FORK_LIFT], library))["stages-in-order"])
    assert "8.0 to 9.5 kgf·m / 59 to 69 lbf·ft" in torque
    assert "trust neither until you have checked it in the manual" in torque


def test_what_is_needed_is_gathered_once_from_the_steps_of_this_engine(library, bodies):
    for engine, _ in bodies:
        found = [view.need.id for view in gathered(engine, library)]
        assert len(found) == len(set(found))
        wanted = {name for step in all_steps(library) if applies(step.when, engine) != NO for name in step.needs}
        assert set(found) == wanted


def test_text_of_a_record_is_data_and_never_markup(library, read):
    engine, _ = read(SMALL.replace("name: Small engine", "name: '<script>alert(1)</script>'"))
    assert "<script>" not in body_of(engine, library)
