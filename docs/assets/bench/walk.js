// The walk-through: one pull at a time, full screen. A pull is one bolt in one stage.
(function (Firedeck) {
  "use strict";
  const { el, button, field, clock } = Firedeck.elements;
  const { attempt, both, readTarget, middle, wrenchSays } = Firedeck.values;

  const { now } = Firedeck.job;
  const ways = (...buttons) => el("div", { className: "walk-buttons" }, buttons);
  const FIRST = { "data-first": "" }, DONE = { className: "button done", ...FIRST }; // where the focus goes
  const ALL = "all"; // the place of a pull whose order is not known
  const PAUSE = 700; // ms after a page came up in which a tap was meant for the page before it
  const DO = {
    torque: "Tighten to", angle: "Turn further by", loosen: "Loosen by", recheck: "Check again at", steps: "Tighten to",
    wait: "Wait", retorque: "Tighten again after running, to",
  };
  const UNSURE_ANGLE = "Stop. A bolt that may have been turned twice cannot be checked with a wrench. Do not turn it further and do not guess: loosen the "
    + "whole head in the loosening order, look at every bolt, take new ones where the record or the manual says so, and begin again at the first stage. "
    + "(Common practice, no source; the maker's manual comes first.)";
  const UNSURE_TORQUE = "Set the wrench to the value of this pull and pull again, slowly and without a jerk. If it clicks at once the bolt was there already. "
    + "(Common practice, no source.)";
  const UNSURE_LOOSE = "Undo it by another part of a turn: a bolt that is loosened twice takes no harm. (Common practice, no source.)";

  // The pulls of a set. Where the record has no order, the reader's own stands in, marked as such.
  function pullsOf(bench, key, kind) {
    const set = bench.model.fasteners[key];
    const own = bench.job.orders[key];
    if (!set) return [];
    if (kind === "loosening") return loosening(set, own);
    return attempt(() => expanded(set, own, chosen(bench, key))).found || attempt(() => expanded(set, null, {})).found || [];
  }

  function expanded(set, own, picked) {
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
      const target = match && match[1] === key && (readTarget(text, "N.m").found || readTarget(text, "deg").found);
      if (target) found[Number(match[2]) - 1] = target;
    }
    return found;
  }

  const walkName = (key, kind, head) => [key, kind, head].filter(Boolean).join(", ");

  function walkOf(job, name) {
    return job.walks[name] || { done: 0, times: [], troubles: [], finished: "" };
  }

  const choiceOf = (key, stage) => `${key}, stage ${stage + 1}, target`;
  const isAngle = (pull) => pull.action === "angle" || Boolean(pull.target && pull.target.unit === "deg" && pull.action !== "loosen");
  const isReady = (pull) => pull.place !== ALL && (pull.state === "set" || pull.state === "nothing to set");
  const same = (a, b) => a && b && a.stage === b.stage && (a.round || 1) === (b.round || 1);

  class Walk {
    constructor(bench, { set: key, kind, head }) {
      Object.assign(this, { bench, key, kind, head });
      this.name = walkName(key, kind, head);
      this.stages = bench.model.fasteners[key].tightening.stages;
      this.at = this.state.done; // the pull on the page; back moves this and nothing else
    }

    get set() { return this.bench.model.fasteners[this.key]; }
    get pulls() { return pullsOf(this.bench, this.key, this.kind); }
    get state() { return walkOf(this.bench.job, this.name); }

    keep(act) {
      return this.bench.change((job) => {
        const walk = structuredClone(walkOf(job, this.name));
        act(walk);
        job.walks[this.name] = walk;
      });
    }

    open() {
      this.dialog = el("dialog", { className: "firedeck walk", "aria-label": this.title() });
      this.dialog.addEventListener("close", () => this.close());
      this.dialog.addEventListener("click", (event) => {
        if (performance.now() - this.drawn < PAUSE && !event.target.closest(".bar")) event.stopPropagation();
      }, true);
      document.body.append(this.dialog);
      this.dialog.showModal();
      this.seen = () => document.visibilityState === "visible" && (this.awake(), this.broken());
      this.changed = () => this.broken();
      document.addEventListener("visibilitychange", this.seen);
      this.bench.addEventListener("switch", this.changed);
      this.awake();
      const begun = this.name in this.bench.job.walks;
      if (!begun) this.keep(() => {});
      if (begun && !this.state.finished) this.interrupted();
      else this.show();
    }

    // The screen was off, or the job went on in another window, while a pull was in hand.
    broken() {
      if (this.inHand && this.at >= this.state.done) this.interrupted();
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
      document.removeEventListener("visibilitychange", this.seen);
      this.bench.removeEventListener("switch", this.changed);
      if (this.bench.bar) document.body.append(this.bench.bar);
      this.dialog.remove();
      this.bench.dispatchEvent(new Event("change"));
    }

    title() {
      return this.kind === "loosening" ? "Loosening, bolt by bolt" : "Tightening, pull by pull";
    }

    draw(...content) {
      clearInterval(this.timer);
      this.inHand = false;
      this.drawn = performance.now();
      this.dialog.replaceChildren(
        el("header", {}, el("strong", {}, this.title()), button("Close", () => this.dialog.close(), { className: "button close" })),
        this.bench.model.invented ? el("p", { className: "invented" }, "Invented for demonstration. Not for work on any engine.") : null,
        ...content.flat().filter(Boolean), this.bench.bar || "");
      this.dialog.scrollTop = 0;
      const bolt = this.dialog.querySelector(".bolt.now"), board = bolt && bolt.closest(".drawing");
      if (bolt) board.scrollLeft += bolt.getBoundingClientRect().left - board.getBoundingClientRect().left - board.clientWidth / 2;
      const first = this.dialog.querySelector("[data-first]") || this.dialog.querySelector("h2");
      first.setAttribute("aria-describedby", "walk-at walk-do");
      first.focus();
    }

    heading(words) {
      return el("h2", { id: "walk-at", tabIndex: -1 }, words);
    }

    // The page of one pull.
    show() {
      const pulls = this.pulls;
      if (this.at >= pulls.length) return this.finish();
      const pull = pulls[this.at];
      if (pull.action === "wait") return this.wait(pull);
      if (pull.state !== "set" && pull.state !== "nothing to set") return this.ask(pull);
      if (pull.place === ALL) return this.unordered(pull);
      this.draw(this.heading(this.where(pull)), this.value(pull), this.forward(), this.drawing(pull), this.source(pull), this.buttons(pull));
      this.inHand = true;
    }

    where(pull) {
      const row = this.pulls.filter((other) => same(other, pull));
      const round = pull.round > 1 || row.length !== this.pulls.filter((other) => other.stage === pull.stage).length ? `, round ${pull.round}` : "";
      const stage = this.kind === "loosening" ? "" : `Stage ${pull.stage + 1} of ${this.stages.length}${round}. `;
      const group = (this.bench.job.orders[this.key] || this.set.tightening).groups[pull.place];
      const kind = Object.keys(this.set.groups).length > 1 && group ? ` (${(this.set.groups[group] || {}).label || group})` : "";
      return `${stage}Bolt ${pull.place}${kind}, ${row.findIndex((other) => other.place === pull.place) + 1} of ${row.length}`;
    }

    // What to do to the bolt; brief: without what the wrench is set to.
    value(pull, brief = false) {
      if (this.kind === "loosening") return el("p", { id: "walk-do" }, this.wayOut());
      const stage = this.stages[pull.stage];
      const [first, other] = pull.target ? both(pull.target).split(" (") : [""];
      const words = [DO[pull.action], " ", el("b", { className: "qty" }, first), other ? [" ", el("span", { className: "qty other" }, `(${other}`)] : null];
      const says = pull.target && pull.target.unit !== "deg" && !brief ? wrenchSays(this.bench, pull.target) : [];
      return el("div", { id: "walk-do" }, el("p", { className: "target" }, words, stage.when ? `, ${stage.when}` : ""), stage.method ? el("p", {}, `${stage.method}.`) : null,
        says.map((each) => el("p", { className: "setting" }, each)));
    }

    source(pull) {
      if (this.kind === "loosening") return null;
      const chosenHere = choiceOf(this.key, pull.stage) in this.bench.job.choices;
      const from = chosenHere ? ["Chosen by you."] : this.figures(pull).map((fact) => (fact.cite ? `${fact.cite.source} ${fact.cite.place}` : ""));
      const order = this.bench.job.orders[this.key] ? " Order entered by you." : "";
      return el("p", { className: "basis" }, from.join("; "), order);
    }

    figures(pull) {
      const places = this.stages[pull.stage].figures.map((figure) => figure.at);
      return this.bench.model.facts.filter((fact) => places.includes(fact.at) && !fact.superseded_by);
    }

    // How to loosen: by the record's words, or by the order that the reader entered.
    wayOut() {
      const own = this.bench.job.orders[this.key], { text, order } = this.set.loosening;
      if (!own || order.length) return text;
      const stages = this.stages.map((stage) => ({ ...stage, order: own.order }));
      return attempt(() => Firedeck.calculations.tightening.loosening(stages, own.groups).text).found || text;
    }

    // What the reader chose or entered can be changed as long as no bolt was pulled by it.
    changes(pull) {
      const { choices, orders } = this.bench.job, choice = choiceOf(this.key, pull.stage);
      const untouched = this.at >= this.state.done && !this.pulls.slice(0, this.at).some((other) => other.stage === pull.stage);
      const forget = (act) => () => { this.bench.change(act); this.show(); };
      return [
        choice in choices && untouched ? button("Choose another target", forget((job) => { delete job.choices[choice]; })) : null,
        orders[this.key] && this.state.done === 0 ? button("Enter the order again", forget((job) => { delete job.orders[this.key]; delete job.choices[`${this.key}, order`]; })) : null];
    }

    // Numbers on the drawing are turns of the row in hand.
    drawing(pull) {
      const places = Firedeck.drawing.placesOf(this.set, this.head, this.bench.job.orders[this.key]);
      if (!(pull.place in places)) return null;
      const row = this.pulls.filter((other) => same(other, pull)).map((other) => other.place);
      const done = row.slice(0, row.indexOf(pull.place));
      const head = this.bench.model.heads.find((each) => each.name === this.head) || (this.bench.model.heads.length === 1 ? this.bench.model.heads[0] : null);
      return el("div", { className: "drawing", tabIndex: 0, role: "group", "aria-label": "The bolts" }, Firedeck.drawing.bolts(places, row, head, pull.place, done));
    }

    get behind() { return this.at < this.state.done; }

    // The button that is pressed after every pull, before what may have to be scrolled to.
    forward() {
      const { behind } = this;
      const note = behind ? el("p", { className: "doubt" },
        `This pull was marked done${clock(this.state.times[this.at]) ? ` at ${clock(this.state.times[this.at])}` : ""}. Going back moves this page; it does not move the bolt.`) : null;
      const forward = behind ? button("Forward", () => this.move(1), DONE)
        : button("Done", () => this.done(), DONE);
      return [note, ways(forward)];
    }

    buttons(pull) {
      return ways(
        this.at > 0 ? button("Back", () => this.move(-1)) : null,
        this.behind ? button("It was not pulled", () => this.undone()) : null,
        button("Something is wrong with this bolt", () => this.trouble(pull)), this.changes(pull));
    }

    move(step) {
      this.at += step;
      this.show();
    }

    done() {
      this.keep((walk) => {
        walk.done = this.at + 1;
        walk.times[this.at] = now();
        if (walk.done === this.pulls.length) walk.finished = now();
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
      const pull = this.pulls[this.at];
      if (!pull || !isReady(pull) || pull.action === "wait") return this.show();
      return this.draw(this.heading(`You were interrupted. ${this.where(pull)}: was it pulled?`), this.value(pull, true),
        ways(
          button("No, not yet", () => this.show(), DONE),
          button("Yes, it was", () => this.done()),
          button("Not sure", () => this.unsure(pull))), this.drawing(pull));
    }

    unsure(pull) {
      const stop = isAngle(pull);
      if (stop) this.note("not sure whether the angle was turned");
      return this.draw(this.heading(stop ? "Not sure, on an angle" : "Not sure"), el("p", { id: "walk-do" }, stop ? UNSURE_ANGLE : pull.action === "loosen" ? UNSURE_LOOSE : UNSURE_TORQUE),
        ways(
          stop ? button("Begin again at the first stage", () => this.restart(), FIRST) : button("On to this pull", () => this.show(), FIRST)));
    }

    restart() {
      this.note(`begun again at the first stage, after ${this.state.done} pulls`);
      this.at = 0;
      this.undone();
    }

    note(sign) {
      this.keep((walk) => { walk.troubles.push({ pull: this.at, sign, at: now() }); });
    }

    // A sign that something is wrong: what it means, and where to begin again.
    trouble(pull) {
      return this.draw(this.heading(`Bolt ${pull.place}: what is wrong?`),
        ways(this.bench.signs.map((sign) => button(sign.sign, () => this.sign(pull, sign))),
          button("Nothing is wrong", () => this.show(), FIRST)));
    }

    sign(pull, sign) {
      this.note(`bolt ${pull.place}: ${sign.sign}`);
      return this.draw(this.heading(sign.sign), el("p", { id: "walk-do" }, sign.means, " ", el("strong", {}, "Begin again: "), sign.again),
        ways(button("Back to this bolt", () => this.show(), FIRST),
          button("Begin again at the first stage", () => this.restart())));
    }

    // One target for the whole row: proposed from a range, or taken from the manual where the record's figure cannot be trusted.
    ask(pull) {
      const range = pull.state.startsWith("choose");
      const proposed = range ? middle(pull.low, pull.high) : "";
      const facts = this.figures(pull);
      const unit = (pull.low || pull.high || facts.map((fact) => fact.printed[0]).find((each) => each && each.unit) || { unit: pull.action === "angle" ? "deg" : "N.m" }).unit;
      let given = proposed;
      const message = el("p", { className: "refusal", role: "alert" });
      const take = () => {
        const { found, refusal } = readTarget(given, unit);
        const unfit = found && attempt(() => expanded(this.set, this.bench.job.orders[this.key], { ...chosen(this.bench, this.key), [pull.stage]: found })).refusal;
        message.textContent = refusal || unfit || "";
        if (!message.textContent) this.choose(pull, found);
      };
      return this.draw(
        this.heading(`Stage ${pull.stage + 1} of ${this.stages.length}: ${range ? "one value for the whole row" : "no target until you choose one"}`),
        el("p", {}, range ? "Any value of the range will do, but the same for every bolt of the row." : `${pull.state[0].toUpperCase()}${pull.state.slice(1)}. The record cannot decide; take the value from the manual for this engine.`),
        facts.map((fact) => el("p", { className: "doubt" }, fact.printed.map((each) => each.text).join(" / "), fact.cite ? ` (${fact.cite.source}, ${fact.cite.place})` : "", fact.doubt ? `. ${fact.doubt.says}` : "")),
        field(`Target for every bolt of this stage, in ${unit} unless a unit is written`, proposed, (value) => { given = value; }), message,
        ways(button("Use this for the row", take, { className: "button done" })));
    }

    choose(pull, { value, unit }) {
      this.bench.change((job) => { job.choices[choiceOf(this.key, pull.stage)] = `${value} ${unit}`; });
      this.show();
    }

    // No order in the record: the reader takes it from the manual's figure, or goes without a drawing.
    unordered(pull) {
      return this.draw(this.heading("The order is not in this record"),
        el("p", {}, "Lay the bolts out as in the figure of the manual and tap them in its order. It stays in this job, marked as entered by you."),
        ways(button("Enter the order", () => new Firedeck.Layout(this.bench, this.key, this).show(), FIRST)));
    }

    wait(pull) {
      const stage = this.stages[pull.stage];
      const start = Date.parse(this.state.times[this.at - 1]) || Date.now(); // since the pull before it, however often the page was closed
      const shown = el("p", { className: "target", role: "timer" });
      this.draw(this.heading(`Stage ${pull.stage + 1} of ${this.stages.length}: wait${stage.until ? ` until ${stage.until}` : ""}`), shown,
        ways(button("Done waiting", () => this.done(), DONE),
          this.at > 0 ? button("Back", () => this.move(-1)) : null));
      const tick = () => {
        const seconds = Math.floor((Date.now() - start) / 1000), two = (number) => String(number).padStart(2, "0");
        shown.textContent = `${seconds < 3600 ? "" : `${Math.floor(seconds / 3600)}:`}${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)} since the last pull`;
      };
      tick();
      this.timer = setInterval(tick, 1000);
    }

    finish() {
      return this.draw(this.heading(this.kind === "loosening" ? "Every bolt is loose. Go round again until all turn freely, then take them out." : "Every pull is done."),
        el("p", {}, `${this.state.done} pulls. Finished ${clock(this.state.finished)}.`),
        this.state.troubles.length ? el("ul", {}, this.state.troubles.map((each) => el("li", {}, `${each.sign} (${clock(each.at)})`))) : null,
        ways(button("On with the job", () => this.dialog.close(), DONE),
          button("Back", () => this.move(-1)), button("Begin again at the first stage", () => confirm("Begin again? Every pull counts as not done then.") && this.restart())));
    }
  }

  // On the page: how far the walk is, what stands before it, the button that opens it.
  function place(bench, host) {
    const of = { set: host.dataset.set, kind: host.dataset.kind, head: host.dataset.head || "" };
    const words = (pulls, open) => {
      if (!pulls.length) return "This record has no stages and no torque to walk through.";
      if (open.length) return `First sign the hold points above, or go on without them with a reason: ${open.map((hold) => hold.dataset.name).join(", ")}.`;
      return `${Math.min(pulls.length, walkOf(bench.job, walkName(of.set, of.kind, of.head)).done)} of ${pulls.length} pulls done.`;
    };
    const said = el("p"), begin = button(of.kind === "loosening" ? "Loosen, bolt by bolt" : "Tighten, pull by pull", () => new Walk(bench, of).open());
    host.replaceChildren(said, begin); // the button stays: the focus comes back to it
    const show = () => {
      const pulls = pullsOf(bench, of.set, of.kind);
      const open = Firedeck.marks.openBefore(bench, host);
      begin.hidden = !pulls.length;
      begin.disabled = open.length > 0;
      said.textContent = (of.head ? `Head ${of.head}: ` : "") + words(pulls, open);
    };
    bench.addEventListener("switch", show);
    bench.addEventListener("change", show);
  }

  Firedeck.Walk = Walk;
  Firedeck.pullsOf = pullsOf;
  (Firedeck.parts = Firedeck.parts || []).push((bench) => document.querySelectorAll("firedeck-walk").forEach((host) => place(bench, host)));
})((window.Firedeck = window.Firedeck || {}));
