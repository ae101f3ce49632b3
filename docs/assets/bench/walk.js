// The walk-through: one pull at a time, full screen. A pull is one bolt in one stage.
(function (Firedeck) {
  "use strict";
  const { el, button, field, clock } = Firedeck.elements;

  const ALL = "all"; // the place of a pull whose order is not known
  const PAUSE = 700; // ms in which a second tap on the same button is a slip of the finger
  const DO = {
    torque: "Tighten to", angle: "Turn further by", loosen: "Loosen by", recheck: "Check again at", steps: "Tighten to",
    wait: "Wait", retorque: "Tighten again after running, to",
  };
  const UNSURE_ANGLE = "Stop. A bolt that may have been turned twice cannot be checked with a wrench. Do not turn it further and do not guess: loosen the "
    + "whole head in the loosening order, look at every bolt, take new ones where the record or the manual says so, and begin again at the first stage. "
    + "(Common practice, no source; the maker's manual comes first.)";
  const UNSURE_TORQUE = "Set the wrench to the value of this pull and pull again, slowly and without a jerk. If it clicks at once the bolt was there already. "
    + "(Common practice, no source.)";

  // The pulls of a set. Where the record has no order, the reader's own stands in, marked as such.
  function pullsOf(bench, key, kind) {
    const set = bench.model.fasteners[key];
    const own = bench.job.orders[key];
    if (!set) return [];
    if (kind === "loosening") return loosening(set, own);
    const picked = chosen(bench, key);
    const stages = set.tightening.stages.map((stage, index) => ({ ...stage, ...(own && !stage.order.length && { order: own.order }), ...settled(stage, picked, index) }));
    return Firedeck.calculations.tightening.expand(stages, own ? own.groups : set.tightening.groups, set.tightening.walk, picked);
  }

  // A figure that cannot be trusted gives way to the value that the reader took from the manual; a range stays, for its re-checks.
  function settled(stage, picked, index) {
    if (!picked[index] || (!stage.doubtful && stage.low)) return {};
    const value = picked[index];
    delete picked[index];
    return { low: value, high: value, nominal: null, doubtful: false };
  }

  // One part of a turn a bolt, in the record's order; else the reader's order backwards.
  function loosening(set, own) {
    const order = set.loosening.order.length ? set.loosening.order : own ? [...own.order].reverse() : [ALL];
    return order.map((place) => ({ stage: 0, action: "loosen", place, target: null, state: "nothing to set", round: 1, covers: [] }));
  }

  // Targets the reader chose, by stage: {value, unit}.
  function chosen(bench, key) {
    const found = {};
    for (const [name, text] of Object.entries(bench.job.choices)) {
      const match = /^(.+), stage (\d+), target$/.exec(name);
      const { quantity } = match && match[1] === key ? Firedeck.values.readTarget(text, "N.m", null) : {};
      if (quantity) found[Number(match[2]) - 1] = quantity;
    }
    return found;
  }

  const walkName = (key, kind, head) => [key, kind, head].filter(Boolean).join(", ");

  function walkOf(job, name) {
    return job.walks[name] || { done: 0, times: [], troubles: [], finished: "" };
  }

  const same = (a, b) => a && b && a.stage === b.stage && (a.round || 1) === (b.round || 1);

  class Walk {
    constructor(bench, { set: key, kind, head }) {
      Object.assign(this, { bench, key, kind, head });
      this.name = walkName(key, kind, head);
      this.stages = bench.model.fasteners[key].tightening.stages;
      this.at = walkOf(bench.job, this.name).done; // the pull on the page; back moves this and nothing else
      this.tapped = 0;
    }

    get pulls() { return pullsOf(this.bench, this.key, this.kind); }
    get state() { return walkOf(this.bench.job, this.name); }

    keep(act) {
      return this.bench.change((job) => {
        const walk = structuredClone(walkOf(job, this.name));
        act(walk);
        job.walks[this.name] = walk;
      });
    }

    // Ignore a second tap that follows too fast to be meant.
    once(act) {
      const now = performance.now();
      if (now - this.tapped < PAUSE) return;
      this.tapped = now;
      act();
    }

    open() {
      this.dialog = el("dialog", { className: "firedeck walk", "aria-label": this.title() });
      this.dialog.addEventListener("close", () => this.close());
      document.body.append(this.dialog);
      this.dialog.showModal();
      this.awake();
      if (this.state.done > 0 && !this.state.finished) this.interrupted();
      else this.show();
    }

    async awake() {
      try {
        this.lock = await navigator.wakeLock.request("screen");
      } catch (error) {
        this.lock = null; // the browser does not let a page keep the screen on
      }
    }

    close() {
      if (this.lock) this.lock.release();
      clearInterval(this.timer);
      this.dialog.remove();
      this.bench.dispatchEvent(new Event("change"));
    }

    title() {
      return this.kind === "loosening" ? "Loosening, bolt by bolt" : "Tightening, pull by pull";
    }

    draw(...content) {
      clearInterval(this.timer);
      this.dialog.replaceChildren(
        el("header", {}, el("strong", {}, this.title()), button("Close", () => this.dialog.close(), { className: "button close" })),
        this.bench.model.invented ? el("p", { className: "invented" }, "Invented for demonstration. Not for work on any engine.") : null,
        ...content.flat().filter(Boolean));
      const first = this.dialog.querySelector("[data-first]") || this.dialog.querySelector("h2");
      if (first) first.focus();
    }

    heading(words) {
      return el("h2", { tabIndex: -1, "aria-live": "polite" }, words);
    }

    // The page of one pull.
    show() {
      const pulls = this.pulls;
      if (this.at >= pulls.length) return this.finish();
      const pull = pulls[this.at];
      if (pull.action === "wait") return this.wait(pull);
      if (pull.state !== "set" && pull.state !== "nothing to set") return this.ask(pull);
      if (pull.place === ALL) return this.unordered(pull);
      return this.draw(this.heading(this.where(pull)), this.drawing(pull), this.value(pull), this.buttons(pull));
    }

    where(pull) {
      const row = this.pulls.filter((other) => same(other, pull));
      const round = pull.round > 1 || row.length !== this.pulls.filter((other) => other.stage === pull.stage).length ? `, round ${pull.round}` : "";
      const stage = this.kind === "loosening" ? "" : `Stage ${pull.stage + 1} of ${this.stages.length}${round}. `;
      return `${stage}Bolt ${pull.place}, ${row.findIndex((other) => other.place === pull.place) + 1} of ${row.length}`;
    }

    value(pull) {
      if (this.kind === "loosening") return el("p", {}, this.bench.model.fasteners[this.key].loosening.text);
      const words = [DO[pull.action], " ", el("b", { className: "qty" }, pull.target ? Firedeck.values.both(pull.target) : "")];
      const set = pull.target && pull.action !== "angle" ? Firedeck.values.wrenchSetting(this.bench, pull.target) : "";
      return [el("p", { className: "target" }, words), set ? el("p", { className: "setting" }, set) : null];
    }

    // Numbers on the drawing are turns of the row in hand.
    drawing(pull) {
      const set = this.bench.model.fasteners[this.key];
      const places = Firedeck.drawing.placesOf(set, this.head, this.bench.job.orders[this.key]);
      if (!(pull.place in places)) return null;
      const row = this.pulls.filter((other) => same(other, pull)).map((other) => other.place);
      const done = row.slice(0, row.indexOf(pull.place));
      const head = this.bench.model.heads.find((each) => each.name === this.head) || (this.bench.model.heads.length === 1 ? this.bench.model.heads[0] : null);
      return el("div", { className: "drawing" }, Firedeck.drawing.bolts(places, row, head, pull.place, done));
    }

    buttons(pull) {
      const behind = this.at < this.state.done;
      const note = behind ? el("p", { className: "doubt" },
        `This pull was marked done${clock(this.state.times[this.at]) ? ` at ${clock(this.state.times[this.at])}` : ""}. Going back moves this page; it does not move the bolt.`) : null;
      const forward = behind ? button("Forward", () => this.move(1), { className: "button done", "data-first": "" })
        : button("Done", () => this.once(() => this.done()), { className: "button done", "data-first": "" });
      return [note, el("div", { className: "walk-buttons" }, forward,
        this.at > 0 ? button("Back", () => this.once(() => this.move(-1))) : null,
        behind ? button("It was not pulled", () => this.undone(), {}) : null,
        button("Something is wrong with this bolt", () => this.trouble(pull)))];
    }

    move(step) {
      this.at += step;
      this.show();
    }

    done() {
      this.keep((walk) => {
        walk.done = this.at + 1;
        walk.times[this.at] = Firedeck.job.now();
        if (walk.done === this.pulls.length) walk.finished = Firedeck.job.now();
      });
      this.move(1);
    }

    undone() {
      this.keep((walk) => {
        walk.done = this.at;
        walk.times.length = this.at;
        walk.finished = "";
      });
      this.show();
    }

    // After a break: was the bolt on the page pulled or not?
    interrupted() {
      this.at = this.state.done;
      const pulls = this.pulls;
      if (this.at >= pulls.length) return this.finish();
      const pull = pulls[this.at];
      return this.draw(this.heading(`You were interrupted. ${this.where(pull)}: was it pulled?`), this.drawing(pull), this.value(pull),
        el("div", { className: "walk-buttons" },
          button("No, not yet", () => this.show(), { className: "button done", "data-first": "" }),
          button("Yes, it was", () => this.once(() => this.done())),
          button("Not sure", () => this.unsure(pull))));
    }

    unsure(pull) {
      const stop = pull.action === "angle";
      if (stop) this.keep((walk) => { walk.troubles.push({ pull: this.at, sign: "not sure whether the angle was turned", at: Firedeck.job.now() }); });
      return this.draw(this.heading(stop ? "Not sure, on an angle" : "Not sure"), el("p", {}, stop ? UNSURE_ANGLE : UNSURE_TORQUE),
        el("div", { className: "walk-buttons" },
          stop ? button("Begin again at the first stage", () => this.again(), { "data-first": "" }) : button("On to this pull", () => this.show(), { "data-first": "" })));
    }

    again() {
      this.keep((walk) => {
        walk.done = 0;
        walk.times = [];
        walk.finished = "";
      });
      this.at = 0;
      this.show();
    }

    // A sign that something is wrong: what it means, and where to begin again.
    trouble(pull) {
      return this.draw(this.heading(`Bolt ${pull.place}: what is wrong?`),
        el("div", { className: "walk-buttons" }, this.bench.signs.map((sign) => button(sign.sign, () => this.sign(pull, sign))),
          button("Nothing is wrong", () => this.show(), { "data-first": "" })));
    }

    sign(pull, sign) {
      this.keep((walk) => { walk.troubles.push({ pull: this.at, sign: `bolt ${pull.place}: ${sign.sign}`, at: Firedeck.job.now() }); });
      return this.draw(this.heading(sign.sign), el("p", {}, sign.means), el("p", {}, el("strong", {}, "Begin again: "), sign.again),
        el("div", { className: "walk-buttons" }, button("Back to this bolt", () => this.show(), { "data-first": "" }),
          button("Begin again at the first stage", () => this.again())));
    }

    // One target for the whole row: proposed from a range, or taken from the manual where the record's figure cannot be trusted.
    ask(pull) {
      const range = pull.state.startsWith("choose");
      const proposed = range ? Firedeck.values.middle(pull.low, pull.high) : "";
      const places = this.stages[pull.stage].figures.map((figure) => figure.at);
      const facts = this.bench.model.facts.filter((fact) => places.includes(fact.at));
      let given = proposed;
      const message = el("p", { className: "refusal", role: "alert" });
      const take = () => {
        const { quantity, refusal } = Firedeck.values.readTarget(given, pull.low ? pull.low.unit : "N.m", range ? pull : null);
        if (refusal) message.textContent = refusal;
        else this.choose(pull, quantity);
      };
      return this.draw(
        this.heading(`Stage ${pull.stage + 1} of ${this.stages.length}: ${range ? "one value for the whole row" : "no target until you choose one"}`),
        el("p", {}, range ? "Any value of the range will do, but the same for every bolt of the row." : `${pull.state}. The record cannot decide; take the value from the manual for this engine.`),
        facts.map((fact) => el("p", { className: "doubt" }, fact.printed.map((each) => each.text).join(" / "), fact.cite ? ` (${fact.cite.source}, ${fact.cite.place})` : "", fact.doubt ? `. ${fact.doubt.says}` : "")),
        field("Target for every bolt of this stage", proposed, (value) => { given = value; }), message,
        el("div", { className: "walk-buttons" }, button("Use this for the row", take, { className: "button done" })));
    }

    choose(pull, { value, unit }) {
      this.bench.change((job) => { job.choices[`${this.key}, stage ${pull.stage + 1}, target`] = `${value} ${unit}`; });
      this.show();
    }

    // No order in the record: the reader takes it from the manual's figure, or goes without a drawing.
    unordered(pull) {
      return this.draw(this.heading("The order is not in this record"),
        el("p", {}, "Lay the bolts out as in the figure of the manual and tap them in its order. It stays in this job, marked as entered by you."),
        el("div", { className: "walk-buttons" }, button("Enter the order", () => new Firedeck.Layout(this.bench, this.key, this).show(), { "data-first": "" })));
    }

    wait(pull) {
      const stage = this.stages[pull.stage];
      const start = Date.now();
      const shown = el("p", { className: "target", role: "timer" }, "0:00");
      this.draw(this.heading(`Stage ${pull.stage + 1} of ${this.stages.length}: wait${stage.until ? ` until ${stage.until}` : ""}`), shown,
        el("div", { className: "walk-buttons" }, button("Done waiting", () => this.once(() => this.done()), { className: "button done", "data-first": "" }),
          this.at > 0 ? button("Back", () => this.once(() => this.move(-1))) : null));
      this.timer = setInterval(() => {
        const seconds = Math.floor((Date.now() - start) / 1000);
        shown.textContent = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
      }, 1000);
    }

    finish() {
      return this.draw(this.heading(this.kind === "loosening" ? "Every bolt is loose. Go round again until all turn freely, then take them out." : "Every pull is done."),
        el("p", {}, `${this.state.done} pulls. Finished ${clock(this.state.finished)}.`),
        this.state.troubles.length ? el("ul", {}, this.state.troubles.map((each) => el("li", {}, `${each.sign} (${clock(each.at)})`))) : null,
        el("div", { className: "walk-buttons" }, button("Close", () => this.dialog.close(), { className: "button done", "data-first": "" }),
          button("Back", () => this.once(() => this.move(-1))), button("Begin again at the first stage", () => this.again())));
    }
  }

  // On the page: how far the walk is, what stands before it, the button that opens it.
  function place(bench, host) {
    const of = { set: host.dataset.set, kind: host.dataset.kind, head: host.dataset.head || "" };
    const words = (pulls, open) => {
      if (!pulls.length) return "This record has no stages and no torque to walk through.";
      if (open.length) return `First sign the hold points above, or go on without them with a reason: ${open.map((hold) => hold.dataset.name).join(", ")}.`;
      return `${walkOf(bench.job, walkName(of.set, of.kind, of.head)).done} of ${pulls.length} pulls done.`;
    };
    const show = () => {
      const pulls = pullsOf(bench, of.set, of.kind);
      const open = Firedeck.marks.openBefore(bench, host);
      const begin = button(of.kind === "loosening" ? "Loosen, bolt by bolt" : "Tighten, pull by pull", () => new Walk(bench, of).open(), { disabled: open.length > 0 });
      host.replaceChildren(el("p", {}, of.head ? `Head ${of.head}: ` : "", words(pulls, open)), ...(pulls.length ? [begin] : []));
    };
    bench.addEventListener("switch", show);
    bench.addEventListener("change", show);
  }

  Firedeck.Walk = Walk;
  Firedeck.pullsOf = pullsOf;
  (Firedeck.parts = Firedeck.parts || []).push((bench) => document.querySelectorAll("firedeck-walk").forEach((host) => place(bench, host)));
})((window.Firedeck = window.Firedeck || {}));
