// The cylinders on the drawing of the head: a row of bores with one pitch, or midway between the bolts; each by itself below.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { field, refusal } = Firedeck.form.parts;
  const { spotsOf } = Firedeck.form.board;
  const { rounded } = Firedeck.form.places;

  const BORES = [["count", "Cylinders under this head", ""], ["diameter", "Bore, mm", ""], ["first", "Middle of the first, mm from bolt A1: to the right, upwards", ""], ["pitch", "From cylinder to cylinder, mm", ""]];

  function bores(form) {
    const shape = Firedeck.record.shapeAt(["geometry"]), cite = Firedeck.form.cite.cite(form, ["geometry", "cite"], [], "Where the drawing stands");
    const given = Object.fromEntries(BORES.map(([key]) => [key, ""]));
    const said = el("p", { className: "refusal", role: "alert" });
    const inputs = BORES.map(([key, label]) => field({ label, changed: (text) => { given[key] = text; }, properties: { inputMode: "text", maxLength: 40 } }).node);
    const editor = el("div");
    const heads = () => editor.replaceChildren(Firedeck.form.block.named(form, ["geometry", "heads"], shape.children.heads, {
      first: ["front", "exhaust", "bores"], proposed: (names) => (names.length ? "" : "head"), touch: cite.touch }));
    const put = (found) => {
      said.textContent = typeof found === "string" ? found : "";
      if (typeof found === "string") return;
      form.change(() => {
        const [head = "head"] = Object.keys(form.get(["geometry", "heads"]) || {});
        form.put(["geometry", "heads", head, "bores"], found);
        cite.touch();
      });
      heads();
    };
    heads();
    return el("div", { className: "bores" }, el("h3", {}, "Cylinders on the drawing"), el("p", { className: "hint" }, "They are drawn behind the bolts, so that the drawing is told apart from that of another head."), el("div", { className: "pattern" }, inputs),
      el("div", { className: "ways" }, button("Draw them midway between the bolts", () => put(midway(form, given))), button("Draw them where I say", () => put(placed(given)))), said,
      el("details", { className: "more" }, el("summary", {}, "Front, exhaust side, outline, each cylinder"), editor), cite.node, refusal(["geometry"]));
  }

  const positive = (text) => (/^\d{1,4}(\.\d{1,4})?$/.test(text.trim()) && Number(text) > 0 ? Number(text) : null);
  const rowOf = (xs, y, diameter) => Object.fromEntries(xs.map((x, index) => [String(index + 1), { at: [rounded(x), rounded(y)], diameter }]));

  function midway(form, { count, diameter }) {
    const xs = [...new Set(Object.values(spotsOf(form, ["fasteners", "head"])).map(([x]) => x))].sort((a, b) => a - b);
    const ys = Object.values(spotsOf(form, ["fasteners", "head"])).map(([, y]) => y);
    const size = positive(diameter), wanted = positive(count);
    if (!size || !wanted) return "Say how many cylinders there are, and the bore in mm.";
    if (xs.length !== wanted + 1) return `Between ${xs.length} columns of bolts there is room for ${Math.max(0, xs.length - 1)} cylinders, not ${wanted}: say where they are.`;
    return rowOf(xs.slice(1).map((x, index) => (x + xs[index]) / 2), (Math.min(...ys) + Math.max(...ys)) / 2, size);
  }

  function placed({ count, diameter, first, pitch }) {
    const [size, wanted] = [positive(diameter), positive(count)];
    const at = /^\s*(-?\d+(?:\.\d+)?)\s*[,; ]\s*(-?\d+(?:\.\d+)?)\s*$/.exec(first);
    if (!size || !Number.isInteger(wanted) || wanted > 24 || !at || (wanted > 1 && !positive(pitch))) return "Give the number, the bore, the middle of the first as 42, 35 and the distance between two, all in mm.";
    return rowOf([...Array(wanted).keys()].map((index) => Number(at[1]) + index * (positive(pitch) || 0)), Number(at[2]), size);
  }

  Firedeck.form.bores = { bores };
})((window.Firedeck = window.Firedeck || {}));
