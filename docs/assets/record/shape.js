// The schema as whoever walks a record sees it: references resolved, what stands below. Twin of generator/reading/shape.py.
// Firedeck.recordTables is made from schema/ at the build.
//   shape(kind = "engine") -> Shape     kind: "engine" or "source"
//   shapeAt(path, kind = "engine") -> Shape or null     path: an array, or its parts joined by full stops
// Shape: {node, leaf, title, description, children, others, items, below(part)}
(function (Firedeck) {
  "use strict";
  const { documents } = Firedeck.recordTables;
  const LEAVES = ["figures", "designation", "statement"];
  const isBlock = (value) => value !== null && typeof value === "object" && !Array.isArray(value);

  // {node, document} that a reference leads to.
  function target(reference, document) {
    const [name, pointer] = reference.split("#/");
    const home = name || document;
    return { document: home, node: pointer.split("/").reduce((node, part) => node[part], documents[home]) };
  }

  // One place of a schema. leaf: "figures", "designation", "statement", or "" for anything else.
  class Shape {
    constructor(document, node) {
      this.document = document;
      this.leaf = "";
      this.node = { ...node };
      while (this.node.$ref) this.follow(this.node.$ref);
    }

    follow(reference) {
      const found = target(reference, this.document);
      const last = reference.split("/").pop();
      const { $ref, ...own } = this.node;
      this.document = found.document;
      this.leaf = this.leaf || (LEAVES.includes(last) ? last : "");
      this.node = { ...found.node, ...own };
      if (found.node.properties && own.properties) this.node.properties = { ...found.node.properties, ...own.properties };
    }

    get title() {
      return this.node.title || "";
    }

    get description() {
      return this.node.description || "";
    }

    // The keys the schema names, in its order.
    get children() {
      return this.once("children", () => {
        const named = Object.entries(this.node.properties || {}).filter(([, node]) => isBlock(node));
        return Object.fromEntries(named.map(([key, node]) => [key, new Shape(this.document, node)]));
      });
    }

    // The shape of keys that the writer of a record names; null if there are none.
    get others() {
      return this.once("others", () => this.of(Object.values(this.node.patternProperties || {})[0] || this.node.additionalProperties));
    }

    get items() {
      return this.once("items", () => this.of(this.node.items));
    }

    below(part) {
      if (typeof part === "number") return this.items;
      return Object.hasOwn(this.children, part) ? this.children[part] : this.others;
    }

    of(node) {
      return isBlock(node) ? new Shape(this.document, node) : null;
    }

    once(name, make) {
      this.made = this.made || {};
      if (!(name in this.made)) this.made[name] = make();
      return this.made[name];
    }
  }

  const roots = {};

  function shape(kind = "engine") {
    const name = `${kind}.schema.json`;
    roots[name] = roots[name] || new Shape(name, documents[name]);
    return roots[name];
  }

  function shapeAt(path, kind = "engine") {
    const parts = typeof path === "string" ? path.split(".").map((part) => (/^\d+$/.test(part) ? Number(part) : part)) : path;
    return parts.reduce((found, part) => found && found.below(part), shape(kind));
  }

  Firedeck.record = Object.assign(Firedeck.record || {}, { shape, shapeAt, target, isBlock });
})((window.Firedeck = window.Firedeck || {}));
