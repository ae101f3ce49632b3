// The bolts on the screen: a button each, never smaller than a finger, where they stand; the head behind them.
(function (Firedeck) {
  "use strict";
  const { el } = Firedeck.elements;
  const { shape: drawn } = Firedeck.drawing;

  const MARGIN = 34, NEAREST = 58, ROOMY = 104, WIDE = 216; // px: half a bolt and some; between two bolts at least, at most; of the whole

  // From millimetres, y upwards, to px, y downwards.
  function scaleOf(points) {
    const xs = points.map(([x]) => x), ys = points.map(([, y]) => y);
    const left = Math.min(...xs), top = Math.max(...ys), width = Math.max(...xs) - left, height = top - Math.min(...ys);
    let nearest = Infinity;
    points.forEach((a, i) => points.slice(i + 1).forEach((b) => { nearest = Math.min(nearest, Math.hypot(a[0] - b[0], a[1] - b[1]) || Infinity); }));
    const least = nearest < Infinity ? NEAREST / nearest : 1, most = nearest < Infinity ? ROOMY / nearest : 1;
    const factor = Math.max(least, Math.min(most, WIDE / (width || 1)));
    return { factor, width: Math.round(width * factor + 2 * MARGIN), height: Math.round(height * factor + 2 * MARGIN),
      x: (x) => Math.round((x - left) * factor + MARGIN), y: (y) => Math.round((top - y) * factor + MARGIN) };
  }

  // spots: {name: [x, y]}. faceOf: (name) -> {text, name, className}. act: what a tap does. head: drawn behind them, from the model.
  function board(spots, faceOf, act, head, words) {
    const names = Object.keys(spots), scale = scaleOf(Object.values(spots));
    const behind = drawn("svg", { width: scale.width, height: scale.height, "aria-hidden": "true" }, ...Firedeck.drawing.ghost(head, scale), ...Firedeck.drawing.edges(head, scale));
    const buttons = names.map((name) => {
      const face = faceOf(name), [x, y] = spots[name];
      return el("button", { type: "button", className: `bolt ${face.className || ""}`, "aria-label": face.name, "data-bolt": name, ...(face.pressed !== undefined ? { "aria-pressed": String(face.pressed) } : {}),
        style: `left: ${scale.x(x)}px; top: ${scale.y(y)}px`, onclick: () => act(name) }, face.text);
    });
    const ground = el("div", { className: "pad-ground", style: `width: ${scale.width}px; height: ${scale.height}px` }, behind, buttons);
    ground.addEventListener("keydown", (event) => step(event, ground, spots));
    return el("div", { className: "pad", role: "group", "aria-label": words }, ground);
  }

  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

  // The arrow keys go to the nearest bolt in their direction.
  function step(event, ground, spots) {
    const way = ARROWS[event.key], from = event.target.dataset.bolt;
    if (!way || !from) return;
    event.preventDefault();
    const [x, y] = spots[from];
    const ahead = Object.entries(spots).map(([name, [px, py]]) => {
      const along = (px - x) * way[0] + (py - y) * way[1], aside = Math.abs((px - x) * way[1]) + Math.abs((py - y) * way[0]);
      return { name, along, cost: along + 2 * aside };
    }).filter((each) => each.along > 1e-9).sort((a, b) => a.cost - b.cost);
    if (ahead.length) ground.querySelector(`[data-bolt="${ahead[0].name}"]`).focus();
  }

  // Keep what is in sight and what has the focus where they are when a board is drawn anew.
  function exchange(holder, made) {
    const old = holder.querySelector(".pad"), focused = holder.contains(document.activeElement) ? document.activeElement.dataset.bolt : null;
    const [left, top] = old ? [old.scrollLeft, old.scrollTop] : [0, 0];
    holder.replaceChildren(made);
    Object.assign(made, { scrollLeft: left, scrollTop: top });
    const bolt = focused && made.querySelector(`[data-bolt="${focused}"]`);
    if (bolt) bolt.focus({ preventScroll: true });
  }

  // The places of a set that can be drawn: {name: [x, y]}.
  function spotsOf(form, path) {
    const places = Object.entries(form.get([...path, "places"]) || {});
    return Object.fromEntries(places.filter(([, place]) => place && Array.isArray(place.at) && place.at.length === 2 && place.at.every(Number.isFinite)).map(([name, place]) => [name, place.at]));
  }

  // The head behind the bolts: the only one, as the model draws it.
  function headOf(form) {
    const heads = Object.values(form.get(["geometry", "heads"]) || {}).filter(Boolean);
    if (heads.length !== 1) return null;
    const round = ({ at, diameter } = {}) => (Array.isArray(at) && at.every(Number.isFinite) && Number.isFinite(diameter) ? { x: at[0], y: at[1], diameter } : null);
    const points = (list) => (Array.isArray(list) ? list.filter((point) => Array.isArray(point) && point.every(Number.isFinite)) : []);
    return { outline: points(heads[0].outline), round: round(heads[0].round || {}), bores: Object.values(heads[0].bores || {}).filter(Boolean).map(round).filter(Boolean), front: heads[0].front, exhaust: heads[0].exhaust };
  }

  Firedeck.form.board = { board, exchange, spotsOf, headOf };
})((window.Firedeck = window.Firedeck || {}));
