// Small things every part of the bench needs: making elements, times, messages.
(function (Firedeck) {
  "use strict";

  // A number and its unit stay on one line, in the record's spelling of the unit or the page's.
  let parted = null;
  const spelt = (symbol) => symbol.replace(/[/()23]|^u/g, ".").replace(/^deg(?=.)/, "(deg|°)");
  const unbroken = (text) => {
    parted = parted || new RegExp(`(\\d) (?=(${Object.keys(Firedeck.quantities.UNITS).map(spelt).join("|")})(?![\\w/(·]))`, "g");
    return text.replace(parted, "$1\u00a0");
  };

  // An element with properties, attributes (names with a hyphen, role, for) and children; text is always text.
  function el(tag, properties, ...children) {
    const node = document.createElement(tag);
    for (const [key, value] of Object.entries(properties || {})) {
      if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
      else if (key.includes("-") || key === "role" || key === "for" || key === "list") node.setAttribute(key, value);
      else node[key] = value;
    }
    const shown = (child) => typeof child === "string" && tag !== "option" ? unbroken(child) : child; // the words of an option may be its value
    node.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== "").map(shown));
    return node;
  }

  const button = (words, act, properties) => el("button", { type: "button", className: "button", onclick: act, ...properties }, words);

  let count = 0;

  // A labelled input. kind: text, number…; the label is the whole line.
  function field(label, value, changed, properties) {
    const id = "field-" + ++count;
    const input = el(properties && properties.rows ? "textarea" : "input", { id, value: value || "", autocomplete: "off", ...properties });
    input.addEventListener("input", () => changed(input.value, input));
    return el("p", { className: "field" }, el("label", { for: id }, label), " ", input);
  }

  // A labelled choice of [value, words].
  function choice(label, options, value, changed) {
    const id = "field-" + ++count;
    const select = el("select", { id, onchange: () => changed(select.value) },
      options.map(([key, words]) => el("option", { value: key, selected: key === value }, words)));
    return el("p", { className: "field" }, el("label", { for: id }, label), " ", select);
  }

  const all = (selector, within = document) => [...within.querySelectorAll(selector)];

  // A moment as the reader's own clock shows it.
  function clock(iso) {
    const moment = new Date(iso);
    if (!iso || Number.isNaN(moment.getTime())) return "";
    const two = (number) => String(number).padStart(2, "0");
    const day = [moment.getFullYear(), two(moment.getMonth() + 1), two(moment.getDate())].join("-");
    return `${day} ${two(moment.getHours())}:${two(moment.getMinutes())}`;
  }

  Firedeck.elements = { el, button, field, choice, all, clock };
  Firedeck.parts = []; // functions (bench, place) that put themselves on the page
})((window.Firedeck = window.Firedeck || {}));
