// A worksheet: fields in, verdicts out, at every key; refusals beside the field with the value kept.
(function (Firedeck) {
  "use strict";
  const { el, field, choice } = Firedeck.elements;
  const SHEETS = {}; // kind -> {title, fields(ctx), judge(ctx), more(ctx)}

  // What one worksheet knows: the bench, its own readings, and how to read them.
  class Context {
    constructor(bench, key, head) {
      Object.assign(this, { bench, key, head, model: bench.model, refusals: {} });
    }

    get readings() { return this.bench.job.readings[this.key] || {}; }
    text(name) { return (this.readings[name] || "").trim(); }
    says(place) { return (this.model.facts.find((fact) => fact.at === place) || {}).text || ""; }

    set(name, value) {
      this.bench.change((job) => { (job.readings[this.key] = job.readings[this.key] || {})[name] = value; });
    }

    // A typed quantity; null where nothing is typed or where it cannot be read, with the refusal kept for its field.
    read(name, unit) {
      return this.text(name) ? this.attempt(name, () => Firedeck.calculations.entry.readEntry(this.text(name), unit, name)) : null;
    }

    // Several, one a line or between semicolons, each with a name.
    readAll(name, unit) {
      const texts = this.text(name).split(/[;\n]/).map((text) => text.trim()).filter(Boolean);
      const found = texts.map((text, index) => this.attempt(name, () => ({ name: String(index + 1), value: Firedeck.calculations.entry.readEntry(text, unit, name) })));
      return found.filter(Boolean);
    }

    attempt(name, act) {
      try {
        return act();
      } catch (error) {
        if (!error.code) throw error;
        this.refusals[name] = error.expected;
        return null;
      }
    }

    // The live figures of a place of the record, or of any place below it.
    facts(place) {
      return this.model.facts.filter((fact) => fact.kind === "figure" && !fact.superseded_by && fact.printed.length && fact.printed[0].in_unit
        && (fact.at.startsWith(place + ".") || fact.at === place));
    }

    // One limit of the record. Where several sources are live, the one the reader picked, else none yet.
    limit(place, label, low = true, high = true) {
      const facts = this.facts(place);
      const picked = facts.find((fact) => fact.at === this.bench.job.choices[`${this.key}: ${place}`]);
      const fact = facts.length > 1 ? picked : facts[0];
      return fact ? limitOf(fact, label, low, high) : null;
    }
  }

  const trusted = (fact) => !fact.doubt && fact.status !== "contested" && fact.agreement.verdict === "agree";
  const basisOf = (fact) => (fact.cite ? `${fact.cite.source} ${fact.cite.place}` : "");

  // A figure as a limit. A doubtful one has no number: the reader looks it up.
  function limitOf(fact, label, low = true, high = true) {
    const { in_unit: [least, most], unit, strict } = fact.printed[0];
    const bound = (value, wanted) => (wanted && trusted(fact) && value !== null ? { value, unit } : null);
    const words = trusted(fact) ? label : `${label}, which is doubtful in this record (look it up in the manual)`;
    return { label: words, low: bound(least, low), high: bound(most, high), strict, basis: basisOf(fact), own: true };
  }

  // Several live figures of one place: the reader picks one, and the choice is kept in the job.
  function picks(ctx, places) {
    return places.filter((place) => ctx.facts(place).length > 1).map((place) => {
      const key = `${ctx.key}: ${place}`;
      const options = ctx.facts(place).map((fact) => [fact.at, `${fact.printed.map((each) => each.text).join(" / ")} ${fact.when} (${basisOf(fact)})`]);
      return choice(`Which figure for ${place.split(".").slice(-2).join(" ").replaceAll("_", " ")}`, [["", "choose"], ...options], ctx.bench.job.choices[key] || "",
        (value) => ctx.bench.change((job) => { job.choices[key] = value; }));
    });
  }

  function verdictLine({ what, found }) {
    return el("div", { className: `verdict ${found.verdict.replaceAll(" ", "-")}` },
      el("p", {}, what ? `${what}: ` : "", el("strong", {}, found.verdict), `. ${found.reason}`),
      found.next_step ? el("p", {}, found.next_step) : null, found.basis ? el("p", { className: "basis" }, found.basis) : null);
  }

  const kept = ({ what, found }) => ({ what, verdict: found.verdict, reason: found.reason, next: found.next_step || "", basis: found.basis || "" });

  // A calculation that refuses its input says so in the answers.
  function answersOf(spec, ctx) {
    try {
      return spec.judge(ctx).filter((answer) => answer.found);
    } catch (error) {
      if (!error.code) throw error;
      return [{ what: "", found: { verdict: "cannot be computed", reason: `${error.field}: ${error.expected}.`, next_step: "" } }];
    }
  }

  class Worksheet extends HTMLElement {
    // Called once the bench knows its job; afterwards at every switch of job.
    begin(bench) {
      const { kind, head = "" } = this.dataset;
      this.spec = SHEETS[kind];
      this.ctx = new Context(bench, [kind, head].filter(Boolean).join(", "), head);
      this.out = el("output", { className: "answers" });
      this.errors = {};
      const { fields = [], places = [] } = this.spec.form(this.ctx);
      this.fields = fields;
      const inputs = fields.map((each) => this.input(each));
      this.own = this.spec.more ? this.spec.more(this.ctx, () => this.show(true)) : null;
      this.replaceChildren(el("details", { open: Object.keys(this.ctx.readings).length > 0 }, el("summary", {}, `Worksheet: ${this.spec.title}${head ? `, head ${head}` : ""}`),
        picks(this.ctx, places), this.own ? this.own.node : null, inputs, this.out));
      this.show(false);
    }

    input({ name, label, rows, options, hint }) {
      const changed = (value) => { this.ctx.set(name, value); this.show(true); };
      if (options) return choice(label, options, this.ctx.text(name), changed);
      const line = field(label, this.ctx.readings[name], changed, { inputMode: rows ? "text" : "decimal", maxLength: 2000, ...(rows ? { rows } : {}) });
      this.errors[name] = el("span", { className: "refusal", role: "alert" });
      line.append(hint ? el("span", { className: "hint" }, ` ${hint}`) : "", this.errors[name]);
      return line;
    }

    show(keep) {
      this.ctx.refusals = {};
      const answers = answersOf(this.spec, this.ctx);
      for (const { name } of this.fields) if (this.errors[name]) this.errors[name].textContent = this.ctx.refusals[name] ? ` Not understood: ${this.ctx.refusals[name]}.` : "";
      this.out.replaceChildren(...answers.map(verdictLine));
      if (this.own) this.own.show(answers);
      if (keep) this.ctx.bench.change((job) => { job.verdicts[this.ctx.key] = answers.map(kept); });
    }
  }

  customElements.define("firedeck-worksheet", Worksheet);
  Firedeck.worksheets = { SHEETS, Context, limitOf, trusted };
  (Firedeck.parts = Firedeck.parts || []).push((bench) => bench.addEventListener("switch", () =>
    document.querySelectorAll("firedeck-worksheet").forEach((each) => each.begin(bench))));
})((window.Firedeck = window.Firedeck || {}));
