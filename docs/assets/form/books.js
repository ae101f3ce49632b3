// The books in hand: one that is registered already, or a new one; and the two names that the record gets from them.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { field, choice, refusal, labelOf, helpOf } = Firedeck.form.parts;
  const Draft = Firedeck.form.draft;

  const isNew = (form, id) => id in form.draft.sources;
  const at = (id, key) => ["source", id, key];

  // One text of a new book. Its id follows its number until somebody writes another.
  function text(form, holder, key, shape, rename) {
    const id = holder.id, source = form.draft.sources[id], about = { label: labelOf(shape, key), help: helpOf(shape), value: source[key] || "", path: at(id, key) };
    const put = (value) => form.change(() => {
      const held = form.draft.sources[holder.id];
      const followed = key === "number" && (held.id === Draft.idFrom(held.number || "") || held.id.startsWith("new-book"));
      if (value) held[key] = value;
      else delete held[key];
      if (followed) rename(Draft.idFrom(value));
    });
    if (shape.node.enum) return choice({ ...about, words: shape.node.enum, none: "choose", changed: put }).node;
    if (key === "id") return field({ ...about, value: holder.id, changed: (value) => form.change(() => rename(value.trim())), properties: { maxLength: 80, autocapitalize: "none", "data-own-id": "" } }).node;
    return field({ ...about, changed: put, properties: { maxLength: shape.node.maxLength } }).node;
  }

  // The fields of a new book; those it cannot do without first.
  function entered(form, id) {
    const shape = Firedeck.record.shape("source"), holder = { id };
    const said = el("p", { className: "refusal", role: "alert" });
    const rename = (wanted) => {
      const free = /^[a-z0-9]+(-[a-z0-9]+)*$/.test(wanted) && (wanted === holder.id || !(wanted in form.sources));
      said.textContent = free || !wanted ? "" : wanted in form.sources ? `${form.sources[wanted].number} is registered already: take this manual away and choose it from the list.` : "An id has lower case letters, digits and single hyphens.";
      if (!free || wanted === holder.id) return;
      Draft.renameSource(form.draft, holder.id, wanted);
      holder.id = wanted;
    };
    const keys = Object.keys(shape.children), needed = keys.filter((key) => shape.node.required.includes(key) && key !== "id");
    const rest = keys.filter((key) => !needed.includes(key) && key !== "id" && key !== "edition");
    const made = (key) => text(form, holder, key, shape.children[key], rename);
    const node = el("div", { "data-live": "" }, made("number"), made("edition"), needed.filter((key) => key !== "number").map(made),
      el("details", { className: "more" }, el("summary", {}, "Title, authors, id"), rest.map(made), made("id")), said);
    node.refresh = () => {
      const own = node.querySelector("[data-own-id]");
      if (document.activeElement !== own) own.value = holder.id;
      for (const slot of node.querySelectorAll("[data-at]")) slot.dataset.at = JSON.stringify(at(holder.id, JSON.parse(slot.dataset.at)[2]));
    };
    return node;
  }

  function chosen(form, id) {
    const { number, title = "", edition = "", about = "" } = form.sources[id] || { number: id };
    return el("p", {}, el("strong", {}, number), `. ${[title, edition, about].filter(Boolean).join(", ")}`);
  }

  function books(form) {
    const list = el("div"), asking = el("div"), said = el("p", { className: "refusal", role: "alert" });
    const draw = () => {
      list.replaceChildren(...form.draft.books.map((id, index) => el("fieldset", { className: "row" }, el("legend", {}, `Manual ${index + 1}`), isNew(form, id) ? entered(form, id) : chosen(form, id),
        button("Take this manual away", () => remove(index)))));
      ask();
    };
    const ask = () => {
      const free = Object.entries(form.registered.sources).filter(([id, source]) => !form.draft.books.includes(id) && source.kind !== "common practice").map(([id, source]) => [id, `${source.number}: ${source.about}`.slice(0, 90)]);
      const first = !form.draft.books.length;
      const picked = choice({ label: first ? "Is it registered here already?" : "Another manual, for figures that stand elsewhere", words: free, none: "no, it is a new one", changed: (id) => id && add(id) });
      asking.replaceChildren(picked.node, button(first ? "Enter a new manual" : "Enter one more new manual", () => add(""), { "data-add": "book" }));
    };
    const add = (id) => {
      form.change((draft) => {
        let own = id, number = 1;
        if (!id) while ((own = `new-book-${number}`) in form.sources) number++;
        if (!id) draft.sources[own] = { id: own };
        draft.books.push(own);
      });
      draw();
      const row = list.lastElementChild.querySelector("input, button");
      if (row) row.focus();
    };
    // A book that figures lean on stays.
    const remove = (index) => {
      const id = form.draft.books[index], used = (form.record.sources || []).includes(id);
      said.textContent = used ? "Figures below name this manual. Give them another one first." : "";
      if (used) return;
      form.change((draft) => {
        draft.books.splice(index, 1);
        delete draft.sources[id];
        if (draft.place.split(" ")[0] === id) draft.place = "";
      });
      draw();
    };
    draw();
    return el("div", { className: "books" }, list, said, asking, place(form));
  }

  // Where the person is reading now; the next figure begins with it.
  function place(form) {
    const node = el("div", { "data-live": "" });
    let shown = null;
    node.refresh = () => {
      const id = form.draft.books[0];
      if (String(Boolean(id)) === shown) return;
      shown = String(Boolean(id));
      const now = () => form.draft.place.split(" ")[0] || form.draft.books[0];
      node.replaceChildren(...(id ? [field({ label: "Where are you reading now?", help: "Page, paragraph, table or figure. Each figure takes it over; change it there when you turn the page.", value: form.draft.place.split(" ").slice(1).join(" "),
        changed: (text) => form.change((draft) => { draft.place = text.trim() ? `${now()} ${text.trim()}` : now(); }), properties: { maxLength: 150, placeholder: "page 12", "data-reading": "" } }).node] : []));
    };
    node.refresh();
    return node;
  }

  // Name and id of the record: proposed from what the engine drives and the book, until somebody writes others.
  function names(form) {
    const shape = Firedeck.record.shape();
    const own = (key) => field({ label: labelOf(shape.children[key]), help: helpOf(shape.children[key]), value: form.get([key]) || "", path: [key],
      changed: (text) => form.change((draft) => { draft.named[key] = true; form.put([key], text.trim()); }), properties: { maxLength: shape.children[key].node.maxLength, autocapitalize: key === "id" ? "none" : "sentences" } });
    const fields = { name: own("name"), id: own("id") };
    const free = el("div");
    const node = el("div", { className: "names", "data-live": "" }, fields.name.node, fields.id.node, free);
    let offered = "";
    node.refresh = () => {
      for (const [key, { input }] of Object.entries(fields)) if (document.activeElement !== input) input.value = form.get([key]) || "";
      const id = form.get(["id"]) || "", offer = id in form.taken ? Draft.freeId(id, form.taken) : "";
      if (offer === offered) return;
      offered = offer;
      free.replaceChildren(...(offer ? [button(`Use ${offer}`, () => form.change((draft) => { draft.named.id = true; form.put(["id"], offer); fields.id.input.value = offer; }))] : []));
    };
    node.refresh();
    return node;
  }

  // What the two are while nobody has written others. Within a change.
  function propose(form) {
    const book = form.sources[form.draft.books[0]] || {}, { named } = form.draft;
    const says = (key) => String(((form.get(["identity", key]) || {}).says) || "");
    const equipment = says("application"), number = book.number || "";
    const name = [Firedeck.form.parts.sentence(equipment), says("fuel"), number].filter(Boolean).join(", ");
    if (!named.name) form.put(["name"], name && book.kind === "invented" ? `${name} (invented)` : name);
    if (!named.id) form.put(["id"], Draft.idFrom(equipment, number));
  }

  Firedeck.form.books = { books, names, propose };
})((window.Firedeck = window.Firedeck || {}));
