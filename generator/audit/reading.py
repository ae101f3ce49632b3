"""The rules that reading a file holds it to, before anything is judged: what each is called in messages, catches and looks like.

They stand where files are read; this table tells them to people, and to whoever writes an exception.
"""

from __future__ import annotations

from generator.audit.rule import ReadingRule

FILE_RULES: list[ReadingRule] = [
    ReadingRule("unreadable-file", "A file that the system does not give.", "a record that only its owner may read"),
    ReadingRule("file-name", "A file among the records that is not read, for its name.", "quennith-four.yml, where names end in .yaml"),
    ReadingRule("too-large", "A file of more than 1 MiB.", "a scan pasted into a record"),
    ReadingRule("encoding", "A file that is not UTF-8.", "a record saved as UTF-16"),
    ReadingRule(
        "hidden-character", "A character that no editor shows, or a space that is not the space bar's.",
        "a no-break space in 8.0 N.m, copied from a page of the web",
    ),
    ReadingRule("not-a-mapping", "A file that holds something else than keys with values.", "a file of comments only"),
    ReadingRule("several-documents", "More than one document in a file.", "a line of three dashes between two records"),
    ReadingRule("directive", "A line that speaks to the reader of YAML.", "%YAML 1.1 at the top"),
    ReadingRule("yaml-syntax", "Text that is no YAML: the line of the slip, and what should stand there.", "a bracket that is never closed"),
    ReadingRule("too-deep", "Blocks or brackets within one another, deeper than any record goes.", "forty opening brackets in a row"),
    ReadingRule("too-many", "More values in a file, or items in one list or block, than any record has.", "one line pasted a thousand times"),
    ReadingRule("yaml-trap", "A bare word that YAML reads as something else than it says.", "hand: NO, bore: 1:30, cylinders: 010"),
    ReadingRule("empty-value", "A key with nothing behind it.", "fuel: and the line ends"),
    ReadingRule("missing-space", "A colon or dash without its space.", "layout:in-line"),
    ReadingRule("key", "A key that is no plain word.", "[a, b]: 1"),
    ReadingRule("duplicate-key", "A key that stands twice in one block.", "two lines that begin with bore:"),
    ReadingRule("merge-key", "A key that copies another block to its place.", "<<: *head"),
    ReadingRule("alias", "A value that stands for one elsewhere.", "torque: *same"),
    ReadingRule("anchor", "A name that is given to a value.", "torque: &same 35 N.m"),
    ReadingRule("tag", "A word that tells YAML what a value is.", "bore: !!str 84"),
]

SHAPE_RULES: list[ReadingRule] = [
    ReadingRule("schema-additionalProperties", "A key that is not known in its block.", "strok: instead of stroke:"),
    ReadingRule("schema-required", "A key that must be there and is not.", "a record without sources"),
    ReadingRule("schema-dependentRequired", "A key without the one that goes with it.", "a rule of practice with beside and no limits"),
    ReadingRule("schema-type", "A value of another shape.", "bore: 84 mm, where a list of figures belongs"),
    ReadingRule("schema-enum", "A word that is not among those of its key.", "fuel: {says: petrol}"),
    ReadingRule("schema-const", "A value where only one other may stand.", "descriptive: false, where only true may stand"),
    ReadingRule("schema-pattern", "A text that has not the form of its key.", "cite: Orrin book, page 3"),
    ReadingRule("schema-minLength", "A text that is too short.", "name: \"\""),
    ReadingRule("schema-maxLength", "A text that is too long.", "a paragraph for a name"),
    ReadingRule("schema-minItems", "A list that is too short.", "printed: []"),
    ReadingRule("schema-maxItems", "A list that is too long.", "at: [0, 0, 0], where x and y belong"),
    ReadingRule("schema-minProperties", "A block with too few keys.", "faces: {}"),
    ReadingRule("schema-maxProperties", "A block with too many keys.", "more bores drawn than any engine here has cylinders"),
    ReadingRule("schema-minimum", "A number that is too small.", "cylinders: {says: 0}"),
    ReadingRule("schema-maximum", "A number that is too large.", "cylinders: {says: 96}"),
    ReadingRule("schema-exclusiveMinimum", "A number that must be above a bound and is not.", "a bore drawn with diameter: 0"),
    ReadingRule("schema-uniqueItems", "An item that stands twice in a list.", "the same source listed twice"),
]

RECORD_RULES: list[ReadingRule] = [
    ReadingRule("id-is-file-name", "An id that is not the name of its file.", "id: quennith-six in quennith-four.yaml"),
    ReadingRule("id-once", "An id that two files have.", "the same id under engines and demo"),
    ReadingRule("statement", "A printed figure that cannot be read as one.", "printed: [35], without a unit"),
    ReadingRule("canonical-form", "A statement that is understood, but spelt otherwise than here.", "35 Nm for 35 N.m", ("note",)),
    ReadingRule("unit-kind", "A figure in a unit of something else.", "a torque stage of 90 deg"),
    ReadingRule("cite-missing", "A figure without a source.", "a torque with no cite, in a block with none"),
    ReadingRule("group-known", "A group that a place or stage names and the set has not.", "groups: [lnog]"),
    ReadingRule("place-known", "A place that an order names and the set has not.", "an order that goes to A11, where there are ten"),
    ReadingRule("order-once", "A place that an order names twice.", "A3 copied for A8: that bolt would be turned twice"),
    ReadingRule("order-known", "An order that a stage uses and the set has not.", "order: hed"),
    ReadingRule("head-known", "A head that places or gaskets name and the geometry has not.", "by_head: {left: …}, where the drawing has l"),
]

CANONICAL_RULES: list[ReadingRule] = [
    ReadingRule("canonical-layout", "A file that fmt would write otherwise.", "keys in another order than the schema's"),
    ReadingRule("comment-place", "A comment that fmt has no place for.", "a comment inside a list in brackets"),
]

READING_RULES = [*FILE_RULES, *SHAPE_RULES, *RECORD_RULES, *CANONICAL_RULES]
