// Small things every part of the form needs: a field with its help and its refusal, a summary, the words of a shape.
(function (Firedeck) {
  "use strict";
  const { el } = Firedeck.elements;

  let count = 0;
  const newId = () => `f${++count}`;
  const sentence = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);

  // What a place is called: its title, or where the schema leaves that to the block above, its description.
  const labelOf = (shape, key = "") => sentence(shape.title || (shape.description || "").replace(/\.$/, "") || String(key).replaceAll("_", " "));
  const helpOf = (shape) => (shape.title ? shape.description || "" : "");

  // Where the refusal of a place of the record is shown. It is filled by `showFaults`.
  const refusal = (path) => el("span", { className: "refusal", role: "alert", id: newId(), "data-at": JSON.stringify(path) });

  // An input with its label, help and refusal. path: of the value in the record, or null where it is none.
  function field({ label, help = "", value = "", path = null, changed, done, rows, properties = {} }) {
    const id = newId(), slot = path ? refusal(path) : null;
    const hint = help ? el("span", { className: "hint", id: newId() }, help) : null;
    const described = [hint, slot].filter(Boolean).map((each) => each.id).join(" ");
    const input = el(rows ? "textarea" : "input", { id, value: String(value), autocomplete: "off", maxLength: 2000, ...(rows ? { rows } : {}),
      ...(described ? { "aria-describedby": described } : {}), ...(path ? { "data-for": JSON.stringify(path) } : {}), ...properties });
    input.addEventListener("input", () => changed(input.value, input));
    if (done) input.addEventListener("change", () => done(input.value, input));
    return { node: el("p", { className: "field" }, el("label", { for: id }, label), hint, input, slot), input };
  }

  // A choice of words, none of them at first.
  function choice({ label, help = "", words, value = "", path = null, changed, none = "not on the page" }) {
    const id = newId(), slot = path ? refusal(path) : null;
    const hint = help ? el("span", { className: "hint", id: newId() }, help) : null;
    const described = [hint, slot].filter(Boolean).map((each) => each.id).join(" ");
    const pairs = words.map((word) => (Array.isArray(word) ? word : [word, word]));
    const known = value === "" || pairs.some(([key]) => String(key) === String(value));
    const select = el("select", { id, onchange: () => changed(select.value), ...(described ? { "aria-describedby": described } : {}), ...(path ? { "data-for": JSON.stringify(path) } : {}) },
      none === null ? null : el("option", { value: "" }, none), known ? null : el("option", { value }, String(value)), pairs.map(([key, said]) => el("option", { value: key }, said)));
    select.value = value;
    return { node: el("p", { className: "field" }, el("label", { for: id }, label), hint, select, slot), input: select };
  }

  // Put every fault at its field, the nearest above where it has none of its own.
  function showFaults(place, faults) {
    const slots = faults.length ? slotsIn(place) : null;
    const told = new Map([...place.querySelectorAll("[data-told]")].map((slot) => [slot, []]));
    for (const fault of faults) {
      const slot = slotOf(slots, fault.path);
      if (slot) told.set(slot, [...(told.get(slot) || []), fault]);
    }
    for (const [slot, found] of told) tell(slot, found);
  }

  const slotsIn = (place) => new Map([...place.querySelectorAll("[data-at]")].map((slot) => [slot.dataset.at, slot]));

  function slotOf(slots, path) {
    for (let length = path.length; length > 0; length--) {
      const slot = slots.get(JSON.stringify(path.slice(0, length)));
      if (slot) return slot;
    }
    return null;
  }

  function tell(slot, faults) {
    const words = faults.map(({ message, hint }) => [sentence(message), hint ? sentence(hint) : ""].filter(Boolean).join(". ") + ".").join(" ");
    if (slot.textContent === words) return;
    slot.textContent = words;
    slot.toggleAttribute("data-told", faults.length > 0);
    const input = slot.parentNode.querySelector(`[aria-describedby~="${slot.id}"]`);
    if (input) input.setAttribute("aria-invalid", String(faults.length > 0));
  }

  // The field of a place, or the nearest above, opened up, with the focus on it. What waits behind a button comes out.
  function goTo(place, path) {
    const slots = slotsIn(place);
    for (let length = path.length; length > 0; length--) {
      const slot = slots.get(JSON.stringify(path.slice(0, length))), node = slot ? slot.parentNode : place.querySelector(`[data-field="${path.slice(0, length).join(".")}"]`);
      const chip = node && path.length > length ? node.querySelector(`[data-add="${path[length]}"]`) : null;
      if (chip) return chip.click();
      if (node) return show(node);
    }
    const section = place.querySelector(`[data-section="${path[0]}"]`);
    return section ? show(section) : null;
  }

  // Whether a place has a field on the page already.
  const isThere = (place, path) => slotsIn(place).has(JSON.stringify(path)) || Boolean(place.querySelector(`[data-field="${path.join(".")}"]`));

  function show(node) {
    for (let each = node; each; each = each.parentElement) if (each.tagName === "DETAILS") each.open = true;
    const input = node.matches("input, select, textarea") ? node : node.querySelector("input, select, textarea, summary, button");
    (input || node).focus();
    node.scrollIntoView({ block: "center" });
  }

  Firedeck.form.parts = { field, choice, refusal, labelOf, helpOf, sentence, showFaults, goTo, isThere, show, newId };
})((window.Firedeck = window.Firedeck || {}));
