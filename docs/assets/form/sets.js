// A set of fasteners and its stages; sets elsewhere on the engine.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { choice, field, refusal, labelOf, helpOf, sentence, show } = Firedeck.form.parts;
  const { cleaned } = Firedeck.form.draft;

  // What a stage of each kind is asked for from the start, beside what the schema says it cannot do without.
  const USUAL = { torque: ["figure"], angle: ["figure"], loosen: ["by"], recheck: ["figure"], retorque: ["when", "figure"] };
  const PLACED = ["order", "groups", "do", "cite", "doubt"];

  // A group that stands only under its name has a source of its own. Within a change.
  function touch(form, path, group) {
    const at = [...path, "groups", group, "cite"];
    if (!form.get(at)) form.put(at, form.draft.place || form.draft.books[0] || "");
  }

  // Bolts of the head: what the manual says of them, kind by kind.
  function set(form, path, { first = ["torque"], leftTo = ["places", "tightening", "loosening"] } = {}) {
    const shape = Firedeck.record.shapeAt(path);
    const holder = el("div");
    const groups = () => Firedeck.form.block.named(form, [...path, "groups"], shape.children.groups,
      { first: ["kind", "count", "thread", "class", "reuse"], fresh: { kind: "bolt" }, proposed: (names) => (names.length ? "" : "all") });
    const draw = () => holder.replaceChildren(groups());
    form.addEventListener("groups", () => { if (holder.isConnected && !holder.contains(document.activeElement)) draw(); });
    draw();
    const rest = Firedeck.form.block.members(form, path, shape, { first: first.filter((key) => key !== "groups"), leftTo: [...leftTo, "groups"] });
    return el("div", { className: "set" }, first.includes("groups") ? [holder, rest] : [rest, holder]);
  }

  // What the schema asks of a stage that does this: keys, and what its figure measures.
  function asked(shape, does) {
    const found = { needs: [], dimension: "torque" };
    for (const { if: when, then } of shape.node.allOf || []) {
      const { enum: several = [], const: one } = when.properties.do;
      if (does !== one && !several.includes(does)) continue;
      found.needs.push(...(then.required || []));
      if (then.properties && then.properties.figure) found.dimension = then.properties.figure.dimension;
    }
    return found;
  }

  // The shape of figures, measuring something.
  const measuring = (shape, dimension) => Object.create(shape, { node: { value: { ...shape.node, dimension } } });

  class Stages {
    constructor(form, path) {
      Object.assign(this, { form, path, at: [...path, "tightening", "stages"] });
      this.shape = Firedeck.record.shapeAt([...path, "tightening", "stages"]).items;
    }

    get stages() { return this.form.get(this.at) || []; }
    get orders() { return Object.entries(this.form.get([...this.path, "tightening", "orders"]) || {}).filter(([, order]) => Array.isArray(order)).map(([name]) => name); }
    get groups() { return Object.keys(this.form.get([...this.path, "groups"]) || {}); }

    node() {
      const does = this.shape.children.do;
      const tightening = Firedeck.record.shapeAt([...this.path, "tightening"]);
      this.list = el("ol", { className: "stages" });
      this.rest = el("div");
      this.whole = () => this.rest.replaceChildren(Firedeck.form.block.members(this.form, [...this.path, "tightening"], tightening, { first: ["walk"], leftTo: ["orders", "stages"] }));
      this.whole();
      this.draw();
      const node = el("div", { className: "stages-part", "data-live": "" }, this.list,
        el("p", { className: "label" }, "Add a stage"), el("p", { className: "hint" }, helpOf(does)),
        el("div", { className: "ways", role: "group", "aria-label": "Add a stage" }, does.node.enum.map((word) => button(sentence(word), () => this.add(word), { "data-stage": word }))),
        refusal(this.at), this.rest);
      node.refresh = () => { if (JSON.stringify([this.orders, this.groups]) !== this.named) this.draw(); };
      return node;
    }

    draw(focus) {
      this.named = JSON.stringify([this.orders, this.groups]);
      this.list.replaceChildren(...this.stages.map((stage, index) => this.card(stage, index)));
      if (focus !== undefined && this.list.children[focus]) show(this.list.children[focus]);
    }

    card(stage, index) {
      const at = [...this.at, index], { needs, dimension } = asked(this.shape, stage.do);
      const figure = measuring(this.shape.children.figure, dimension);
      const cite = Firedeck.form.cite.cite(this.form, [...at, "cite"], [Firedeck.form.figure.doubt(this.form, [...at, "doubt"], this.shape.children.doubt)],
        "Place and doubt of the stage itself");
      const open = [...new Set([...needs, ...(USUAL[stage.do] || [])])];
      const rest = Object.keys(this.shape.children).filter((key) => !PLACED.includes(key));
      const made = (key) => (key === "figure" ? Firedeck.form.figure.figures(this.form, [...at, key], figure, { label: labelOf(figure), touch: () => {} })
        : Firedeck.form.block.make(this.form, [...at, key], this.shape.children[key], { touch: cite.touch }));
      const shown = rest.filter((key) => open.includes(key) || Firedeck.form.block.filled(this.form, [...at, key]));
      const fields = el("div", {}, shown.map(made));
      const more = rest.filter((key) => !shown.includes(key)).map((key) => {
        const add = button(labelOf(this.shape.children[key], key), () => { add.remove(); const node = made(key); fields.append(node); show(node); }, { "data-add": key });
        return add;
      });
      return el("li", { className: "stage-card" }, el("p", { className: "label" }, `${index + 1}. ${sentence(stage.do)}`), fields, this.order(stage, at), this.only(stage, at),
        el("details", { className: "more" }, el("summary", {}, "Also on the page?"), el("div", { className: "chips" }, more)), cite.node, refusal(at), this.moves(index));
    }

    // Which order the stage goes by. A wait has none.
    order(stage, at) {
      const { order } = this.shape.children;
      if (stage.do === "wait" || (!this.orders.length && !stage.order)) return null;
      return choice({ label: labelOf(order), help: helpOf(order), words: this.orders, value: stage.order || "", none: "no order known", path: [...at, "order"], changed: (name) => this.form.set([...at, "order"], name) }).node;
    }

    // Only some of the groups, where there are several.
    only(stage, at) {
      const { groups } = this.shape.children;
      if (this.groups.length < 2 && !stage.groups) return null;
      const tick = (name) => {
        const box = el("input", { type: "checkbox", checked: (stage.groups || []).includes(name), onchange: () => {
          const found = (this.form.get([...at, "groups"]) || []).filter((each) => each !== name);
          this.form.set([...at, "groups"], box.checked ? [...found, name] : found.length ? found : undefined);
        } });
        return el("label", { className: "tick-field" }, box, ` ${name}`);
      };
      return el("div", { role: "group", "aria-label": labelOf(groups), "data-for": JSON.stringify([...at, "groups"]) }, el("p", { className: "hint" }, `${labelOf(groups)}. ${helpOf(groups)}`), this.groups.map(tick), refusal([...at, "groups"]));
    }

    moves(index) {
      const move = (to, words) => button(words, () => {
        const list = [...this.stages];
        list.splice(to, 0, ...list.splice(index, 1));
        this.form.set(this.at, list);
        this.draw(to);
      }, { "aria-label": `${words}: stage ${index + 1}` });
      return el("div", { className: "ways" }, index ? move(index - 1, "Earlier") : null, index < this.stages.length - 1 ? move(index + 1, "Later") : null,
        button("Take away", () => this.remove(index), { "aria-label": `Take stage ${index + 1} away` }));
    }

    add(does) {
      const { length } = this.stages, last = this.stages[length - 1];
      const [order] = last && last.order ? [last.order] : this.orders;
      const way = [...this.path, "tightening", "walk"], unsaid = !this.form.get(way);
      this.form.change(() => {
        this.form.put([...this.at, length], { do: does, ...(order && does !== "wait" && { order }) });
        if (unsaid) this.form.put(way, this.walk);
      });
      if (unsaid) this.whole();
      this.draw(length);
    }

    // What nearly every manual means; it stands below the stages, to be changed.
    get walk() { return Firedeck.record.shapeAt([...this.path, "tightening", "walk"]).node.enum[0]; }

    remove(index) {
      const { do: does, order, ...rest } = this.stages[index];
      if (cleaned(rest) !== undefined && !confirm(`Take stage ${index + 1} away?`)) return;
      this.form.set(this.at, this.stages.filter((_, at) => at !== index));
      this.draw();
    }
  }

  // Every other set: the ones of the schema as buttons, and one under a name of the source's own.
  function sets(form) {
    const shape = Firedeck.record.shapeAt(["fasteners"]);
    const keys = Object.keys(shape.children).filter((key) => key !== "head" && key !== "cite");
    const list = el("div"), chips = el("div", { className: "chips" });
    const others = () => Object.keys(form.get(["fasteners"]) || {}).filter((key) => key !== "head" && key !== "cite");
    const shown = new Set(others());
    const draw = (focus) => {
      list.replaceChildren(...[...shown].map((key) => one(key)));
      chips.replaceChildren(...keys.filter((key) => !shown.has(key)).map((key) => button(labelOf(shape.children[key], key), () => add(key), { "data-add": key })), button("Something else", () => add(fresh()), { "data-add": "other" }));
      const row = focus && list.querySelector(`[data-name="${focus}"]`);
      if (row) show(row);
    };
    const add = (key) => { shown.add(key); draw(key); };
    const fresh = () => { let number = 1; while (shown.has(`other_${number}`)) number++; return `other_${number}`; };
    const one = (key) => {
      const label = labelOf(shape.below(key), key), path = ["fasteners", key], own = key.startsWith("other_");
      const order = el("details", { className: "more" }, el("summary", {}, "It has stages, or an order"));
      const open = () => order.replaceChildren(order.querySelector("summary"), ...whole(form, path));
      order.addEventListener("toggle", () => { if (order.open && order.children.length === 1) open(); });
      return el("fieldset", { className: "row", "data-name": key }, el("legend", {}, label), set(form, path, { first: [...(own ? ["label"] : []), "torque"] }), order, refusal(path),
        button(`Take “${label}” away`, () => {
          if (cleaned(form.get(path)) !== undefined && !confirm(`Take “${label}” away, with all that is entered for it?`)) return;
          shown.delete(key);
          form.set(path, undefined);
          draw();
        }));
    };
    draw();
    return el("div", { className: "sets" }, list, el("p", { className: "label" }, "Add"), chips);
  }

  const whole = (form, path) => [el("h4", {}, "Where they stand"), Firedeck.form.places.places(form, path), el("h4", {}, "The order"), Firedeck.form.orders.orders(form, path),
    el("h4", {}, "Stages"), stages(form, path)];
  const stages = (form, path) => new Stages(form, path).node();

  Firedeck.form.sets = { set, sets, stages, touch };
})((window.Firedeck = window.Firedeck || {}));
