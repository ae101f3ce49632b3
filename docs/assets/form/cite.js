// Where a figure stands: the source and the place in it, carried on from the figure before and changeable beside every one.
(function (Firedeck) {
  "use strict";
  const { el } = Firedeck.elements;
  const { field, choice } = Firedeck.form.parts;

  const split = (cite) => [cite.split(" ")[0], cite.split(" ").slice(1).join(" ")];
  const numberOf = (form, id) => (form.sources[id] || {}).number || "the manual";

  function wordsOf(form, cite) {
    if (!form.draft.books.length) return "Name the manual in your hand first, at the top";
    const [source, place] = split(cite);
    return place ? `${place} · ${numberOf(form, source)}` : `Where in ${numberOf(form, source || form.draft.books[0])}? Give the page, figure or table`;
  }

  // The choice of the source, where there are several, and the place in it. get, set: of the text "source place".
  function inputs(form, get, set, label, path) {
    const [source, place] = split(get() || "");
    const given = { source: source || form.draft.books[0] || "", place };
    const write = () => set(given.source ? `${given.source} ${given.place}`.trim() : "");
    const books = form.draft.books.map((id) => [id, numberOf(form, id)]);
    return [
      books.length > 1 ? choice({ label: "Manual", words: books, value: given.source, none: null, changed: (id) => { given.source = id; write(); } }).node : null,
      field({ label, value: place, path, changed: (text) => { given.place = text.trim(); write(); },
        properties: { maxLength: 150, placeholder: "page 12, Fig. 4" } }).node,
    ];
  }

  // One line that says where, with what is to be changed behind it. more: what else stands behind it. unasked: the line's words while no
  // place is given and none is needed.
  function cite(form, path, more = [], unasked = "") {
    const words = el("span"), body = el("div");
    const node = el("details", { className: "where", "data-live": "" }, el("summary", {}, words), body, more);
    const fill = () => body.replaceChildren(...inputs(form, () => form.get(path) || "", (text) => form.change((draft) => {
      form.put(path, text);
      if (split(text)[1]) draft.place = text;
    }), "Page, paragraph, table or figure", path).filter(Boolean));
    let shown = "";
    node.refresh = () => {
      const given = form.get(path) || "", said = given || !unasked ? wordsOf(form, given) : unasked, state = `${said} ${form.draft.books}`;
      if (state === shown) return;
      shown = state;
      words.textContent = said;
      words.className = split(given)[1] || said === unasked ? "" : "refusal";
      if (!node.open) fill();
    };
    node.refresh();
    // The place of the figure before, unless this one has one already. Within a change.
    const touch = () => {
      if (!form.get(path)) form.put(path, form.draft.place || form.draft.books[0] || "");
    };
    return { node, touch };
  }

  // A later bulletin that replaces a figure: source and place like any other.
  function replaced(form, path) {
    return el("div", { role: "group", "aria-label": "Replaced by a later bulletin" }, inputs(form, () => form.get(path) || "", (text) =>
      form.set(path, split(text)[1] ? text : ""), "Replaced by a later bulletin: its place there", path));
  }

  Firedeck.form.cite = { cite, replaced, split };
})((window.Firedeck = window.Firedeck || {}));
