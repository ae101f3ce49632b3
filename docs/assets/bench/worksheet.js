// A worksheet: fields in, verdicts out, at every key; refusals beside the field with the value kept.
(function (Firedeck) {
  "use strict";
  const { el, field, choice, all } = Firedeck.elements;
  const SHEETS = {}; // kind -> {title, form(ctx): fields, judge(ctx): answers, more(ctx, changed), follows: name of the worksheet it shows beside}

  // What one worksheet knows: the bench, its own readings, and how to read them.
  class Context {
    constructor(bench, key, head) {
      Object.assign(this, { bench, key, head, model: bench.model, refusals: {}, several: new Set() });
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

    // Several, one a line or between semicolons, each with a name; none while one of them cannot be read.
    readAll(name, unit) {
      const texts = this.text(name).split(/[;\n]/).map((text) => text.trim()).filter(Boolean);
      const found = texts.map((text, index) => this.attempt(name, () => ({ name: String(index + 1), value: Firedeck.calculations.entry.readEntry(text, unit, name) }), `${text}: `));
      return this.refusals[name] ? [] : found;
    }

    attempt(name, act, which = "") {
      try {
        return act();
      } catch (error) {
        if (!error.code) throw error;
        this.refusals[name] = which + error.expected;
        return null;
      }
    }

    // The live figures of a place of the record, or of any place below it.
    facts(place) {
      return this.model.facts.filter((fact) => fact.kind === "figure" && !fact.superseded_by && fact.printed.length && fact.printed[0].in_unit
        && (fact.at.startsWith(place + ".") || fact.at === place));
    }

    // The figure of a place. Where several are live, the one that the reader picked, else none yet.
    fact(place) {
      const facts = this.facts(place);
      if (facts.length < 2) return facts[0];
      this.several.add(place);
      return facts.find((fact) => fact.at === this.picked(place));
    }

    picked(place) { return this.bench.job.choices[`${this.key}: ${place}`] || ""; }

    limit(place, label, low = true, high = true) {
      const fact = this.fact(place);
      return fact ? limitOf(fact, label, low, high) : null;
    }

    // The values of a figure that is to be trusted, in each unit it is printed in; none of a doubtful one.
    values(place) {
      const fact = this.fact(place);
      return fact && trusted(fact) ? fact.printed.filter((each) => each.in_unit).map(({ in_unit: [low, high], unit }) => ({ value: low ?? high, unit })) : [];
    }

    // The value in the unit that leads, else null.
    value(place) { return this.values(place)[0] || null; }
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

  const placeWords = (place) => place.split(".").slice(-2).join(" ").replaceAll("_", " ");
  const factWords = (fact) => [fact.printed.map((each) => each.text).join(" / "), fact.when, `(${basisOf(fact)})`].filter(Boolean).join(" ");

  // Several live figures of one place: the reader picks one, and the choice is kept in the job.
  function picks(ctx, changed) {
    return [...ctx.several].map((place) => choice(`Which figure for ${placeWords(place)}`, [["", "choose"], ...ctx.facts(place).map((fact) => [fact.at, factWords(fact)])],
      ctx.picked(place), (value) => {
        ctx.bench.change((job) => { job.choices[`${ctx.key}: ${place}`] = value; });
        changed();
      }));
  }

  const unpicked = (ctx) => [...ctx.several].filter((place) => !ctx.picked(place)).map((place) => ({ what: placeWords(place), found: {
    verdict: "choose first", reason: "The record has several figures for this, and none stands above the others.", next_step: "Choose above the one that is for this engine.",
  } }));

  function verdictLine({ what, found }) {
    return el("div", { className: `verdict ${found.verdict.replaceAll(" ", "-")}` },
      el("p", {}, what ? `${what}: ` : "", el("strong", {}, found.verdict), `. ${found.reason}`),
      found.next_step ? el("p", {}, found.next_step) : null, found.basis ? el("p", { className: "basis" }, found.basis) : null);
  }

  const kept = ({ what, found }) => ({ what, verdict: found.verdict, reason: found.reason, next: found.next_step || "", basis: found.basis || "" });

  // A calculation that refuses its input says so in the answers.
  function answersOf(spec, ctx) {
    try {
      const answers = spec.judge(ctx);
      return Object.assign([...unpicked(ctx), ...answers.filter((answer) => answer.found)], { face: answers.face });
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
      this.picks = el("div");
      this.inputs = el("div");
      this.form();
      this.own = this.spec.more ? this.spec.more(this.ctx, () => this.show(true)) : null;
      this.details = el("details", { open: this.details ? this.details.open : Object.keys(this.ctx.readings).length > 0, ontoggle: () => this.show(false) },
        el("summary", {}, `Worksheet: ${this.spec.title}${head ? `, head ${head}` : ""}`), this.picks, this.own ? this.own.node : null, this.inputs, this.out);
      this.replaceChildren(this.details);
      this.show(false);
    }

    form() {
      this.errors = {};
      this.fields = this.spec.form(this.ctx);
      this.inputs.replaceChildren(...this.fields.map((each) => this.input(each)));
    }

    // remake: the fields that are asked depend on this one.
    input({ name, label, rows, options, hint, remake }) {
      const changed = (value) => { this.ctx.set(name, value); this.show(true); };
      if (options) return choice(label, options, this.ctx.text(name), changed);
      const line = field(label, this.ctx.readings[name], changed, { inputMode: rows ? "text" : "decimal", maxLength: 2000, ...(rows ? { rows } : {}) });
      this.errors[name] = el("span", { className: "refusal", role: "alert" });
      if (remake) line.querySelector("input").addEventListener("change", () => this.form());
      line.append(hint ? el("span", { className: "hint" }, ` ${hint}`) : "", this.errors[name]);
      return line;
    }

    // What stands beside this worksheet has changed in another.
    follow() {
      const there = this.spec && this.spec.follows && this.details.open && JSON.stringify(this.ctx.bench.job.verdicts[this.spec.follows]);
      if (!there || there === this.followed) return;
      this.followed = there;
      this.show(false);
    }

    show(keep) {
      this.ctx.refusals = {};
      const answers = answersOf(this.spec, this.ctx);
      if (this.picks.childElementCount !== this.ctx.several.size) this.picks.replaceChildren(...picks(this.ctx, () => this.show(true)));
      for (const { name } of this.fields) if (this.errors[name]) this.errors[name].textContent = this.ctx.refusals[name] ? ` Not understood: ${this.ctx.refusals[name]}.` : "";
      this.out.replaceChildren(...answers.map(verdictLine));
      if (this.own) this.own.show(answers);
      if (keep) this.ctx.bench.change((job) => { job.verdicts[this.ctx.key] = answers.map(kept); });
    }
  }

  customElements.define("firedeck-worksheet", Worksheet);
  Firedeck.worksheets = { SHEETS, Context, placeWords, factWords };
  Firedeck.parts.push((bench) => {
    const sheets = all("firedeck-worksheet");
    bench.on("switch", () => sheets.forEach((each) => each.begin(bench)));
    bench.on("change", () => sheets.forEach((each) => each.follow()));
  });
})((window.Firedeck = window.Firedeck || {}));
