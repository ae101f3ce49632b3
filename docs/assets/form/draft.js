// A draft: the record of one engine while it is being written, half done or not, with the sources that are new. Made, read from a file,
// checked, and turned into the record that comes out of it.
(function (Firedeck) {
  "use strict";

  const FORMAT = "firedeck draft";
  const VERSION = 1;
  const LARGEST = 2 * 1024 * 1024; // characters of a draft's file
  const DEEPEST = 16;

  const isText = (value) => typeof value === "string" && value.length <= 20000;
  const isBlock = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
  const isId = (value) => isText(value) && /^[a-z0-9-]{1,80}$/.test(value);
  const isPlain = (value) => value === null || isText(value) || typeof value === "boolean" || (typeof value === "number" && Number.isFinite(value));
  const isData = (value, depth = 0) => isPlain(value) || (depth < DEEPEST && typeof value === "object" && Object.values(value).every((each) => isData(each, depth + 1)));
  const blockOf = (check) => (value) => isBlock(value) && Object.values(value).every(check);

  // One row a key: what must stand there.
  const SHAPE = {
    format: (value) => value === FORMAT,
    version: (value) => value === VERSION,
    id: (value) => isText(value) && /^[a-z0-9-]{8,64}$/.test(value),
    created: isText, changed: isText,
    books: (value) => Array.isArray(value) && value.every(isId), // sources in hand, the first one first
    sources: blockOf(blockOf(isText)), // those that are not registered yet, by id
    place: isText, // source and place of the figure typed last
    named: blockOf((value) => value === true), // which of id and name the person gave by hand
    boards: blockOf(blockOf(isText)), // rows, bolts and distances of each set, as typed
    record: (value) => isBlock(value) && isData(value),
  };

  const now = () => new Date().toISOString();

  function newId() {
    const bytes = crypto.getRandomValues(new Uint8Array(9));
    return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  // Where the drafts of one copy of the site are kept: beside its jobs, in the same way.
  const shelf = (root) => `${root}drafts`;

  // A draft that goes on beside the one it was.
  const part = (draft) => Object.assign(draft, { id: newId() });

  const create = () => ({
    format: FORMAT, version: VERSION, id: newId(), created: now(), changed: now(), books: [], sources: {}, place: "", named: {}, boards: {}, record: {},
  });

  // Every reason why something is no draft of ours, in words; empty if it is one.
  function faults(draft) {
    if (!isBlock(draft)) return ["The file holds no draft."];
    if (draft.format !== FORMAT) return ["The file is no draft of this form."];
    if (draft.version !== VERSION) return [`The file is of version ${String(draft.version).slice(0, 20)}; this form reads version ${VERSION}.`];
    const missing = Object.keys(SHAPE).filter((key) => !(key in draft)).map((key) => `The file is damaged: ${key} is missing.`);
    const wrong = Object.keys(draft).filter((key) => !(key in SHAPE) || !SHAPE[key](draft[key]))
      .map((key) => `The file is damaged: ${key.slice(0, 40)} ${key in SHAPE ? "does not hold what it should" : "is not known"}.`);
    const misfit = missing.length || wrong.length ? "" : astray(draft.record, Firedeck.record.shape());
    return [...missing, ...wrong, ...(misfit ? [`The file is damaged: nothing of that kind can stand at ${misfit.slice(0, 80)}.`] : [])];
  }

  // The first place of some data where the schema knows no such key or no such container; empty where all of it has a place. Texts and numbers
  // are not judged here: what is typed wrong stays, and is refused at its field.
  function astray(data, shape, at = "record") {
    if (!shape || !holds(data, shape)) return at;
    const found = Object.entries(typeof data === "object" && data ? data : {}).map(([key, value]) =>
      astray(value, Array.isArray(data) ? itemOf(shape) : keyOf(shape, key), `${at}.${key}`));
    return found.find(Boolean) || "";
  }

  const PLAIN = { node: { type: "string" }, below: () => null, items: null };
  // Under a choice of shapes the block's own keys stand in its branch.
  const keyOf = (shape, key) => (shape.node.then && key in (shape.node.then.properties || {}) && !(key in shape.children) ? PLAIN : shape.below(key));
  const itemOf = (shape) => shape.items || PLAIN;

  function holds(data, shape) {
    if (data === null) return true;
    const either = Boolean(shape.node.if && shape.node.else); // a list of names, or a block
    if (Array.isArray(data)) return either || shape.node.type === "array";
    if (typeof data === "object") return either || shape.node.type === "object";
    return shape.node.type !== "object" && shape.node.type !== "array" && !either;
  }

  // Read the text of a draft's file: {draft, faults}. Nothing of a faulty file is taken.
  function read(text) {
    if (text.length > LARGEST) return { draft: null, faults: ["The file is too large for a draft."] };
    let draft;
    try {
      draft = JSON.parse(text);
    } catch (error) {
      return { draft: null, faults: ["The file is damaged or is no draft: it cannot be read as JSON."] };
    }
    const found = faults(draft);
    return { draft: found.length ? null : draft, faults: found };
  }

  const write = (draft) => JSON.stringify(draft, null, 1) + "\n";
  const fileName = (draft) => `draft-${draft.record.id || draft.id.slice(0, 8)}.json`;
  const title = (draft) => draft.record.name || "An engine without a name";

  // What is left of some data when empty fields are taken out. A block that holds nothing but its source says nothing.
  function cleaned(value) {
    if (Array.isArray(value)) {
      const list = value.map(cleaned).filter((each) => each !== undefined);
      return list.length ? list : undefined;
    }
    if (!isBlock(value)) return value === "" || value === null ? undefined : value;
    const left = Object.entries(value).map(([key, each]) => [key, cleaned(each)]).filter(([, each]) => each !== undefined);
    return left.every(([key]) => key === "cite") ? undefined : Object.fromEntries(left);
  }

  // A place of the record that came out as the place in the draft: empty items of a list are not counted there.
  function inDraft(draft, path) {
    let node = draft.record;
    return path.map((key) => {
      const live = Array.isArray(node) ? [...node.keys()].filter((index) => cleaned(node[index]) !== undefined) : null;
      const own = live && key in live ? live[key] : key;
      node = node ? node[own] : undefined;
      return own;
    });
  }

  function citedIn(value, found = new Set()) {
    for (const [key, each] of Object.entries(value)) {
      if ((key === "cite" || key === "superseded_by") && typeof each === "string") found.add(each.split(" ")[0]);
      else if (each && typeof each === "object") citedIn(each, found);
    }
    return found;
  }

  // The record as its file would hold it. Sources are those that something cites.
  function record(draft) {
    const found = cleaned(draft.record) || {};
    const cited = citedIn(found);
    const sources = draft.books.filter((id) => cited.has(id));
    return { ...found, ...(sources.length && { sources }) };
  }

  // The record as its file is written: the source that most of a block names stands once, at its top, as a person would write it.
  function settled(draft) {
    const found = structuredClone(record(draft)), shape = Firedeck.record.shape();
    for (const [key, block] of Object.entries(found)) if (isBlock(block)) gather(block, shape.children[key]);
    for (const [key, set] of Object.entries(found.fasteners || {})) gather(set, shape.children.fasteners.below(key));
    return found;
  }

  function gather(block, shape) {
    if (!shape.children.cite || block.cite) return;
    const [[most, times] = ["", 0]] = [...tally(block, new Map())].sort((one, other) => other[1] - one[1]);
    if (times < 2) return;
    block.cite = most;
    for (const each of Object.values(block)) lean(each, most);
  }

  function tally(value, found) {
    if (value === null || typeof value !== "object") return found;
    if (typeof value.cite === "string") found.set(value.cite, (found.get(value.cite) || 0) + 1);
    Object.values(value).forEach((each) => tally(each, found));
    return found;
  }

  // Take away what stands above already.
  function lean(value, above) {
    if (value === null || typeof value !== "object") return;
    if (value.cite === above) delete value.cite;
    Object.values(value).forEach((each) => lean(each, value.cite || above));
  }

  // Another id for a source, wherever it is cited.
  function renameSource(draft, old, id) {
    const moved = (text) => (text === old || text.startsWith(`${old} `) ? id + text.slice(old.length) : text);
    const walk = (value) => Object.entries(value).forEach(([key, each]) => {
      if ((key === "cite" || key === "superseded_by") && typeof each === "string") value[key] = moved(each);
      else if (each && typeof each === "object") walk(each);
    });
    walk(draft.record);
    draft.place = moved(draft.place);
    draft.books = draft.books.map((each) => (each === old ? id : each));
    draft.sources = Object.fromEntries(Object.entries(draft.sources).map(([key, source]) => (key === old ? [id, { ...source, id }] : [key, source])));
  }

  // An id out of words, as the command that begins a record makes it: lower case, & as -and-, single hyphens.
  function idFrom(...words) {
    const text = words.filter(Boolean).join(" ").replaceAll("&", "-and-").normalize("NFKD").replace(/[^\x00-\x7f]/g, "").toLowerCase();
    return text.replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 80).replace(/-$/, "");
  }

  // The nearest id that nobody has: the same with the next number behind it.
  function freeId(id, taken) {
    let number = 2;
    while (`${id.slice(0, 76)}-${number}` in taken) number++;
    return `${id.slice(0, 76)}-${number}`;
  }

  Firedeck.form = Firedeck.form || {};
  Firedeck.form.draft = { VERSION, shelf, part, create, faults, read, write, fileName, title, cleaned, inDraft, record, settled, renameSource, idFrom, freeId, now };
})((window.Firedeck = window.Firedeck || {}));
