"""Conditions read as English, whatever fact they hang on."""

import pytest

from generator.pages.conditions import condition_words, words_of


@pytest.mark.parametrize(("when", "words"), [
    ((), ""),
    ((("head_material", ("aluminium",)),), "If the head is aluminium:"),
    ((("cooling", ("liquid",)),), "If the engine is cooled by liquid:"),
    ((("cam_drive", ("chain", "belt")),), "If the camshaft is driven by a chain or a belt:"),
    ((("fuel", ("gasoline", "diesel", "gas")),), "If the engine burns gasoline, diesel or gas:"),
    ((("head_material", ("aluminium",)), ("block_material", ("iron",))), "If the head is aluminium and the block is iron:"),
    ((("valve_train", ("double overhead camshaft", "single overhead camshaft")),), "If the engine has an overhead camshaft:"),
    ((("liners", ("none",)),), "If the block has no liners:"),
    ((("cylinders", ("4", "6")),), "If the engine has 4 or 6 cylinders:"),
])
def test_conditions_in_words(when, words):
    assert condition_words(when) == words


def test_every_word_of_every_fact_of_the_schema_has_a_sentence(schemas):
    for key, shape in schemas.shape("engine").children["identity"].children.items():
        says = shape.children["says"].node if shape.leaf == "statement" else {}
        for word in says.get("enum", []):
            sentence = words_of(key, [word])
            assert not sentence.startswith(key.replace("_", " ") + " is "), f"{key} has no sentence in _SENTENCES"
            assert "present" not in sentence and "absent" not in sentence and "{" not in sentence, f"{key}: {word} reads badly: {sentence}"
            assert len({words_of(key, [each]) for each in says["enum"]}) == len(says["enum"])
