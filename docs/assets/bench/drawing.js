// The head drawn from places: bolts in their order, the bolt in hand marked, lines of the straightedge. Seen from the wrench's side.
(function (Firedeck) {
  "use strict";

  const SPACE = "http://www.w3.org/2000/svg";
  const WIDTH = 320, MARGIN = 26, RADIUS = 19, GAP = 3, NUMBER = 24; // px on a phone

  function shape(tag, attributes, ...children) {
    const node = document.createElementNS(SPACE, tag);
    for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
    node.append(...children);
    return node;
  }

  const corners = (head) => !head ? [] : [...(head.outline || []), ...(head.round ? around(head.round) : []), ...(head.bores || []).flatMap(around)];
  const around = (circle) => [[-1, -1], [1, 1]].map(([x, y]) => [circle.x + x * circle.diameter / 2, circle.y + y * circle.diameter / 2]);

  // From millimetres, y upwards, to px, y downwards; never so small that two bolts touch.
  function scaleOf(points, bolts) {
    const xs = points.map(([x]) => x), ys = points.map(([, y]) => y);
    const left = Math.min(...xs), top = Math.max(...ys), width = Math.max(...xs) - left, height = top - Math.min(...ys);
    let nearest = Infinity;
    bolts.forEach((a, i) => bolts.slice(i + 1).forEach((b) => { nearest = Math.min(nearest, Math.hypot(a[0] - b[0], a[1] - b[1])); }));
    const factor = Math.max((WIDTH - 2 * MARGIN) / (width || 1), nearest < Infinity && nearest > 0 ? (2 * RADIUS + GAP) / nearest : 0);
    return {
      factor, width: Math.round(width * factor + 2 * MARGIN), height: Math.round(height * factor + 2 * MARGIN),
      x: (x) => Math.round((x - left) * factor + MARGIN), y: (y) => Math.round((top - y) * factor + MARGIN),
    };
  }

  // low: names of cylinders to hatch.
  function ghost(head, scale, low = []) {
    if (!head) return [];
    const circle = (each, name) => shape("circle", { class: name, cx: scale.x(each.x), cy: scale.y(each.y), r: Math.round(each.diameter / 2 * scale.factor) });
    const outline = (head.outline || []).map(([x, y]) => `${scale.x(x)},${scale.y(y)}`).join(" ");
    return [outline ? shape("polygon", { class: "outline", points: outline }) : null, head.round ? circle(head.round, "outline") : null,
      ...(head.bores || []).map((bore) => circle(bore, low.includes(bore.name) ? "bore low" : "bore"))].filter(Boolean);
  }

  const EDGES = { left: [12, 0.5, -90], right: [-12, 0.5, 90], top: [0.5, 13, 0], bottom: [0.5, -13, 0] };

  function edges(head, scale) {
    const at = (value, size) => (Math.abs(value) < 1 ? value * size : value < 0 ? size + value : value);
    return [["front", "front"], ["exhaust", "exhaust side"]].filter(([key]) => head && EDGES[head[key]]).map(([key, words]) => {
      const [x, y, turn] = EDGES[head[key]];
      const [px, py] = [at(x, scale.width), at(y, scale.height)];
      return shape("text", { class: "edge", "font-size": 15, dy: "0.35em", x: px, y: py, transform: `rotate(${turn} ${px} ${py})` }, words);
    });
  }

  function bolt(name, [x, y], scale, turn, state) {
    const at = { x: scale.x(x), y: scale.y(y) };
    return shape("g", { class: `bolt ${state}` }, shape("circle", { cx: at.x, cy: at.y, r: RADIUS }), shape("text", { class: "turn", "font-size": NUMBER, dy: "0.35em", ...at }, turn));
  }

  // places: {name: [x, y]}. order: names. now: the bolt in hand. done: names behind it.
  function bolts(places, order, head, now, done) {
    const names = Object.keys(places);
    const scale = scaleOf([...names.map((name) => places[name]), ...corners(head)], names.map((name) => places[name]));
    const state = (name) => (name === now ? "now" : done.includes(name) ? "behind" : "");
    return shape("svg", { class: "diagram by-hand", viewBox: `0 0 ${scale.width} ${scale.height}`, width: scale.width, height: scale.height, "aria-hidden": "true" },
      ...ghost(head, scale), ...edges(head, scale),
      ...names.map((name) => bolt(name, places[name], scale, order.includes(name) ? order.indexOf(name) + 1 : "", state(name))));
  }

  // The places of a set on one head, from the record or, where it has none, from the reader.
  function placesOf(set, head, own) {
    const found = Object.entries(set.places).filter(([, place]) => !head || !place.heads.length || place.heads.includes(head));
    return found.length ? Object.fromEntries(found.map(([name, place]) => [name, [place.x, place.y]])) : own ? own.places : {};
  }

  Firedeck.drawing = { bolts, placesOf, shape, ghost, edges, scaleOf, corners };
})((window.Firedeck = window.Firedeck || {}));
