// The page of the form: its parts in the order of the job, the draft in hand, what is lacking, what comes out.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { choice, showFaults, goTo, isThere, sentence } = Firedeck.form.parts;
  const { block, rows } = Firedeck.form.block;
  const Draft = Firedeck.form.draft;

  const words = (text) => (text || "").split(" ").filter(Boolean);
  const pathOf = (part) => (part.dataset.path || "").split(".").filter(Boolean);

  // What lays out each kind of part that the page names.
  const PARTS = {
    sources: (form) => Firedeck.form.books.books(form),
    names: (form) => Firedeck.form.books.names(form),
    block: (form, part) => block(form, pathOf(part), Firedeck.record.shapeAt(pathOf(part)), { first: words(part.dataset.first), leftTo: words(part.dataset.leftTo), legend: part.parentNode.querySelectorAll("[data-part][data-path]").length > 1 }),
    rows: (form, part) => rows(form, pathOf(part), Firedeck.record.shapeAt(pathOf(part))),
    set: (form, part) => Firedeck.form.sets.set(form, pathOf(part), { first: words(part.dataset.first), leftTo: words(part.dataset.leftTo) }),
    places: (form, part) => Firedeck.form.places.places(form, pathOf(part)),
    orders: (form, part) => Firedeck.form.orders.orders(form, pathOf(part)),
    stages: (form, part) => Firedeck.form.sets.stages(form, pathOf(part)),
    bores: (form) => Firedeck.form.bores.bores(form),
    sets: (form) => Firedeck.form.sets.sets(form),
  };

  const SAID = ["printed", "says", "as", "at"];

  // How many facts stand below a place of the record.
  function count(value) {
    if (!value || typeof value !== "object") return 0;
    if (!Array.isArray(value) && SAID.some((key) => key in value)) return 1;
    return Object.entries(value).reduce((sum, [key, each]) => sum + (key === "doubt" ? 0 : count(each)), 0);
  }

  function counted(record, section) {
    const found = [...section.querySelectorAll("[data-part][data-path]")].map((part) => JSON.stringify(pathOf(part)));
    const sum = [...new Set(found)].reduce((all, path) => all + countOf(record, JSON.parse(path), section.dataset.section), 0);
    return sum ? `${sum} given` : "";
  }

  // Of the head's fasteners each section counts its own.
  const OWN = { bolts: (set) => count(set.groups) + count(set.places), order: (set) => Object.values((set.tightening || {}).orders || {}).filter(Array.isArray).length, stages: (set) => ((set.tightening || {}).stages || []).length };
  function countOf(record, path, section) {
    const value = path.reduce((node, key) => (node || {})[key], record);
    return section in OWN ? OWN[section](value || {}) : count(value);
  }

  const NOT_KEPT = "This browser keeps nothing, or has no room left: save the draft to a file before you close the page.";

  function download(name, text, type) {
    const link = el("a", { href: URL.createObjectURL(new Blob([text], { type })), download: name });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }

  // Take a draft from a file, whole or not at all.
  async function load(form, file, say) {
    const { draft, faults } = Draft.read(await file.text());
    if (!draft) return say(`${faults.slice(0, 5).join(" ")} Nothing was taken from it.`);
    const here = (await form.drafts()).find((other) => other.id === draft.id);
    if (here && here.changed > draft.changed && !confirm("The draft on this device is newer than the file. Take the older one from the file?")) return say("");
    await form.take(draft);
    if (here) form.bases.set(draft.id, here.changed);
    await form.save();
    return say(`Loaded: ${Draft.title(draft)}.`);
  }

  // The draft in hand, the others, its file.
  function bar(form, place) {
    const state = el("p", { role: "status", className: "state-of-draft" }), message = el("p", { className: "refusal", role: "alert" }), others = el("div");
    const say = (text) => { message.textContent = text; };
    const input = el("input", { type: "file", accept: ".json,application/json", hidden: true, "aria-label": "File of a draft", onchange: () => {
      if (input.files[0]) load(form, input.files[0], say);
      input.value = "";
    } });
    place.replaceChildren(state, others, el("details", { className: "more" }, el("summary", {}, "Another engine, or a file"), el("div", { className: "ways" }, button("Begin another engine", () => form.begin()), button("Save the draft to a file", () => download(Draft.fileName(form.draft), Draft.write(form.draft), "application/json")),
      button("Load a draft from a file", () => input.click()), input, button("Delete this draft", () => !form.fresh && confirm("Delete this draft from this device?") && form.remove()))), message);
    form.addEventListener("switch", async () => {
      say("");
      const drafts = await form.drafts();
      const options = drafts.map((draft) => [draft.id, Draft.title(draft)]);
      others.replaceChildren(...(drafts.length > 1 || (drafts.length && form.fresh) ? [choice({ label: "Engine in hand", words: options, value: form.fresh ? "" : form.draft.id, none: form.fresh ? "a new one" : null,
        changed: (id) => id && form.take(drafts.find((draft) => draft.id === id)) }).node] : []));
    });
    form.addEventListener("parted", () => say("This draft was changed in another window as well. What stands here goes on as a second draft; choose between the two above."));
    form.addEventListener("kept", () => {
      state.textContent = form.kept ? "Kept on this device at every change; nothing leaves it." : NOT_KEPT;
      state.classList.toggle("doubt", !form.kept);
    });
  }

  // A text to save or to copy.
  function file(name, text, type) {
    const area = el("textarea", { readOnly: true, rows: 12, value: text, "aria-label": `Text of ${name}`, spellcheck: false });
    const said = el("span", { role: "status" });
    const copy = async () => {
      area.select();
      try {
        await navigator.clipboard.writeText(text);
        said.textContent = " Copied.";
      } catch (error) {
        said.textContent = document.execCommand("copy") ? " Copied." : " It is marked: copy it with the browser's own command.";
      }
    };
    return el("div", { className: "file" }, el("p", {}, el("strong", {}, name)), button(`Save ${name.split("/").pop()}`, () => download(name.split("/").pop(), text, type)), button("Copy the text", copy), said,
      el("details", { className: "more" }, el("summary", {}, "Look at the text"), area));
  }

  function folder(form) {
    const [first] = form.record.sources || [];
    return first && form.sources[first].kind === "invented" ? "demo" : "engines";
  }

  // The files of the record and of its new sources.
  function files(form) {
    const record = form.settled;
    const sources = (record.sources || []).filter((id) => id in form.draft.sources).map((id) => form.draft.sources[id]);
    return [file(`specs/${folder(form)}/${record.id}.yaml`, Firedeck.record.yaml(record), "application/yaml"),
      ...sources.map((source) => file(`specs/sources/${source.id}.yaml`, Firedeck.record.sourceYaml(source), "application/yaml"))];
  }

  function listed(items, root, none) {
    const go = (paths) => goTo(root, paths.find((path) => isThere(root, path)) || paths[0]);
    return items.length ? el("ul", {}, items.map(({ text, paths }) => el("li", {}, button(text, () => go(paths), { className: "jump" })))) : el("p", {}, none);
  }

  // What the job still lacks, what does not pass, and what comes out.
  function finish(form, root, place) {
    const lacks = el("div"), mend = el("div", { role: "status" }), out = el("div", { className: "out" });
    const use = el("a", { className: "button use", href: place.dataset.own }, "Use this engine now");
    place.replaceChildren(el("h3", {}, "The job still lacks"), lacks, el("h3", {}, "To be mended before the file passes"), mend,
      el("h3", {}, "Use it, at once"), el("p", {}, "Figures, drawing, worksheets and the walk-through of this engine, on this device, marked as from your own manual and compared by nobody."), use,
      el("h3", {}, "The file"), out);
    return (faults) => {
      const { record } = form;
      lacks.replaceChildren(listed(Firedeck.record.lacks(record).map(({ what, places }) => ({ text: sentence(what), paths: places.map((place) => place.split(".*")[0].split(".")) })), root, "Nothing: everything that the bench asks for first is here."));
      mend.replaceChildren(listed(faults.map((fault) => ({ text: `${labelled(fault.path)}: ${fault.message}`, paths: [fault.path] })), root, form.settled.id ? "Nothing that this form can see. The check of the whole project is the judge." : "Nothing yet: nothing is entered."));
      use.href = `${place.dataset.own}#${form.draft.id}`;
      const waits = faults.length ? `The file comes out when what stands above is mended: ${faults.length} ${faults.length === 1 ? "thing" : "things"}. Until then save the draft.`
        : !form.settled.id && "The file comes out when the manual and the engine are named above.";
      out.replaceChildren(...(waits ? [el("p", { className: "gap" }, waits)] : files(form)));
    };
  }

  // Where a fault is, in the words of the schema.
  function labelled(path) {
    const said = path.map((_, index) => Firedeck.record.shapeAt(path.slice(0, index + 1))).map((shape) => (shape && shape.title) || "").filter(Boolean);
    return sentence([...new Set(said)].join(", ") || path.join(", "));
  }

  const NAMED = ["id", "name", "sources", "identity"];
  // What a field need not say: that it is still empty stands at the end; that units disagree, right under them.
  const ELSEWHERE = ["schema-required", "units-agree"];

  // A new draft is told nothing before something is typed, and not what it still needs before a figure names a book.
  function shownFaults(form) {
    if (form.fresh) return [];
    const bare = Object.keys(form.record).every((key) => NAMED.includes(key)) && !form.record.sources;
    return form.faults().concat(bookFaults(form)).filter((fault) => !bare || fault.rule !== "schema-required");
  }

  const bookFaults = (form) => Object.values(form.draft.sources).flatMap((source) => Firedeck.record.sourceFaults(source).map((fault) => ({ ...fault, path: ["source", source.id, ...fault.path], message: `${source.number || "the new manual"}: ${fault.message}` })));

  function start() {
    const root = document.querySelector("[data-form]");
    if (!root) return;
    const form = new Firedeck.form.Form(new URL("./", location.href.split("#")[0]).href, Firedeck.registered);
    Firedeck.form.inHand = form;
    bar(form, root.querySelector("[data-bar]"));
    const show = finish(form, root, root.querySelector("[data-finish]"));
    let told = [];
    const refresh = () => {
      const faults = shownFaults(form), { record } = form;
      told = faults.filter((fault) => !ELSEWHERE.includes(fault.rule));
      root.querySelectorAll("[data-live]").forEach((node) => node.refresh());
      showFaults(root, told);
      root.querySelectorAll("[data-section]").forEach((section) => { section.querySelector("[data-count]").textContent = counted(record, section); });
      show(faults);
    };
    form.addEventListener("switch", () => {
      root.querySelectorAll("[data-part]").forEach((part) => part.replaceChildren(PARTS[part.dataset.part](form, part)));
      refresh();
      root.hidden = false;
    });
    form.addEventListener("change", () => { Firedeck.form.books.propose(form); refresh(); });
    root.addEventListener("rebuild", refresh);
    root.addEventListener("click", () => showFaults(root, told)); // what a press drew anew
    form.start();
  }

  document.addEventListener("DOMContentLoaded", start);
})((window.Firedeck = window.Firedeck || {}));
