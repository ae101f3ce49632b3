// The walk-through: one pull at a time, full screen. A pull is one bolt in one stage.
(function (Firedeck) {
  "use strict";
  const { el, button, field, clock, all } = Firedeck.elements;
  const { attempt, both, readTarget, middle, wrenchSays } = Firedeck.values;

  const { now } = Firedeck.job;
  const ways = (...buttons) => el("div", { className: "walk-buttons" }, buttons);
  const FIRST = { "data-first": "" }, DONE = { className: "button done", ...FIRST }; // where the focus goes
  const AGAIN = "Begin again at the first stage";
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

  // A walk in hand is one plain object; at: the pull on the page, which "back" moves and nothing else.
  function begun(bench, { set: key, kind, head }) {
    const name = walkName(key, kind, head);
    return { bench, key, kind, head, name, loosens: kind === "loosening", stages: bench.model.fasteners[key].tightening.stages, at: walkOf(bench.job, name).done };
  }

  const setOf = ({ bench, key }) => bench.model.fasteners[key];
  const pullsIn = ({ bench, key, kind }) => pullsOf(bench, key, kind);
  const stateOf = ({ bench, name }) => walkOf(bench.job, name);
  const orderOf = ({ bench, key }) => bench.job.orders[key]; // entered by the reader
  const isBehind = (walk) => walk.at < stateOf(walk).done;
  const stageWords = (walk, pull) => `Stage ${pull.stage + 1} of ${walk.stages.length}`;

  function keep(walk, act) {
    return walk.bench.change((job) => {
      const state = structuredClone(walkOf(job, walk.name));
      act(state);
      job.walks[walk.name] = state;
    });
  }

  function open(walk) {
    walk.dialog = el("dialog", { className: "firedeck walk", "aria-label": title(walk) });
    walk.dialog.addEventListener("close", () => close(walk));
    walk.dialog.addEventListener("click", (event) => {
      if (performance.now() - walk.drawn < PAUSE && !event.target.closest(".bar")) event.stopPropagation();
    }, true);
    document.body.append(walk.dialog);
    walk.dialog.showModal();
    walk.seen = () => document.visibilityState === "visible" && (awake(walk), broken(walk));
    walk.changed = () => broken(walk);
    document.addEventListener("visibilitychange", walk.seen);
    walk.bench.addEventListener("switch", walk.changed);
    awake(walk);
    const goesOn = walk.name in walk.bench.job.walks;
    if (!goesOn) keep(walk, () => {});
    if (goesOn && !stateOf(walk).finished) interrupted(walk);
    else show(walk);
  }

  // The screen was off, or the job went on in another window, while a pull was in hand.
  function broken(walk) {
    if (walk.inHand && !isBehind(walk)) interrupted(walk);
  }

  async function awake(walk) {
    try {
      walk.lock = await navigator.wakeLock.request("screen");
    } catch (error) {
      walk.lock = null; // the browser does not let a page keep the screen on
    }
  }

  function close(walk) {
    if (walk.lock) walk.lock.release();
    clearInterval(walk.timer);
    document.removeEventListener("visibilitychange", walk.seen);
    walk.bench.removeEventListener("switch", walk.changed);
    if (walk.bench.bar) document.body.append(walk.bench.bar);
    walk.dialog.remove();
    walk.bench.dispatchEvent(new Event("change"));
  }

  function title(walk) {
    return walk.loosens ? "Loosening, bolt by bolt" : "Tightening, pull by pull";
  }

  function draw(walk, ...content) {
    clearInterval(walk.timer);
    walk.inHand = false;
    walk.drawn = performance.now();
    walk.dialog.replaceChildren(...[
      el("header", {}, el("strong", {}, title(walk)), button("Close", () => walk.dialog.close(), { className: "button close" })),
      Firedeck.mark && el("p", { className: "own-mark" }, `${Firedeck.mark}.`),
      walk.bench.model.invented && el("p", { className: "invented" }, "Invented for demonstration. Not for work on any engine."),
      ...content.flat(), walk.bench.bar].filter(Boolean));
    walk.dialog.scrollTop = 0;
    const bolt = walk.dialog.querySelector(".bolt.now"), board = bolt && bolt.closest(".drawing");
    if (bolt) board.scrollLeft += bolt.getBoundingClientRect().left - board.getBoundingClientRect().left - board.clientWidth / 2;
    const first = walk.dialog.querySelector("[data-first]") || walk.dialog.querySelector("h2");
    first.setAttribute("aria-describedby", "walk-at walk-do");
    first.focus();
  }

  function heading(words) {
    return el("h2", { id: "walk-at", tabIndex: -1 }, words);
  }

  // The page of one pull.
  function show(walk) {
    const pull = pullsIn(walk)[walk.at];
    if (!pull) return finish(walk);
    if (pull.action === "wait") return wait(walk, pull);
    if (pull.state !== "set" && pull.state !== "nothing to set") return ask(walk, pull);
    if (pull.place === ALL) return unordered(walk, pull);
    draw(walk, heading(where(walk, pull)), task(walk, pull), onward(walk), drawingOf(walk, pull), source(walk, pull), buttonsOf(walk, pull));
    walk.inHand = true;
  }

  function where(walk, pull) {
    const row = pullsIn(walk).filter((other) => same(other, pull));
    const round = pull.round > 1 || row.length !== pullsIn(walk).filter((other) => other.stage === pull.stage).length ? `, round ${pull.round}` : "";
    const stage = walk.loosens ? "" : `${stageWords(walk, pull)}${round}. `;
    const group = (orderOf(walk) || setOf(walk).tightening).groups[pull.place];
    const kind = Object.keys(setOf(walk).groups).length > 1 && group ? ` (${(setOf(walk).groups[group] || {}).label || group})` : "";
    return `${stage}Bolt ${pull.place}${kind}, ${row.findIndex((other) => other.place === pull.place) + 1} of ${row.length}`;
  }

  // What to do to the bolt; brief: without what the wrench is set to.
  function task(walk, pull, brief = false) {
    if (walk.loosens) return el("p", { id: "walk-do" }, wayOut(walk));
    const stage = walk.stages[pull.stage];
    const [first, other] = pull.target ? both(pull.target).split(" (") : [""];
    const words = [DO[pull.action], " ", el("b", { className: "qty" }, first), other ? [" ", el("span", { className: "qty other" }, `(${other}`)] : null];
    const says = pull.target && pull.target.unit !== "deg" && !brief ? wrenchSays(walk.bench, pull.target) : [];
    return el("div", { id: "walk-do" }, el("p", { className: "target" }, words, stage.when ? `, ${stage.when}` : ""), stage.method ? el("p", {}, `${stage.method}.`) : null,
      says.map((each) => el("p", { className: "setting" }, each)));
  }

  function source(walk, pull) {
    if (walk.loosens) return null;
    const chosenHere = choiceOf(walk.key, pull.stage) in walk.bench.job.choices;
    const from = chosenHere ? ["Chosen by you."] : figuresOf(walk, pull).map((fact) => (fact.cite ? `${fact.cite.source} ${fact.cite.place}` : ""));
    const order = orderOf(walk) ? " Order entered by you." : "";
    return el("p", { className: "basis" }, from.join("; "), order);
  }

  function figuresOf(walk, pull) {
    const places = walk.stages[pull.stage].figures.map((figure) => figure.at);
    return walk.bench.model.facts.filter((fact) => places.includes(fact.at) && !fact.superseded_by);
  }

  // How to loosen: by the record's words, or by the order that the reader entered.
  function wayOut(walk) {
    const own = orderOf(walk), { text, order } = setOf(walk).loosening;
    if (!own || order.length) return text;
    const stages = walk.stages.map((stage) => ({ ...stage, order: own.order }));
    return attempt(() => Firedeck.calculations.tightening.loosening(stages, own.groups).text).found || text;
  }

  // What the reader chose or entered can be changed as long as no bolt was pulled by it.
  function changes(walk, pull) {
    const { choices, orders } = walk.bench.job, choice = choiceOf(walk.key, pull.stage);
    const untouched = !isBehind(walk) && !pullsIn(walk).slice(0, walk.at).some((other) => other.stage === pull.stage);
    const forget = (act) => () => { walk.bench.change(act); show(walk); };
    return [
      choice in choices && untouched ? button("Choose another target", forget((job) => { delete job.choices[choice]; })) : null,
      orders[walk.key] && stateOf(walk).done === 0 ? button("Enter the order again", forget((job) => { delete job.orders[walk.key]; delete job.choices[`${walk.key}, order`]; })) : null];
  }

  // Numbers on the drawing are turns of the row in hand.
  function drawingOf(walk, pull) {
    const places = Firedeck.drawing.placesOf(setOf(walk), walk.head, orderOf(walk));
    if (!(pull.place in places)) return null;
    const row = pullsIn(walk).filter((other) => same(other, pull)).map((other) => other.place);
    const done = row.slice(0, row.indexOf(pull.place));
    const head = walk.bench.model.heads.find((each) => each.name === walk.head) || (walk.bench.model.heads.length === 1 ? walk.bench.model.heads[0] : null);
    return el("div", { className: "drawing", tabIndex: 0, role: "group", "aria-label": "The bolts" }, Firedeck.drawing.bolts(places, row, head, pull.place, done));
  }

  // The button that is pressed after every pull, before what may have to be scrolled to.
  function onward(walk) {
    if (!isBehind(walk)) return ways(button("Done", () => markDone(walk), DONE));
    const at = clock(stateOf(walk).times[walk.at]);
    return [
      el("p", { className: "doubt" }, `This pull was marked done${at ? ` at ${at}` : ""}. Going back moves this page; it does not move the bolt.`),
      ways(button("Forward", () => move(walk, 1), DONE))];
  }

  function buttonsOf(walk, pull) {
    return ways(
      walk.at > 0 ? button("Back", () => move(walk, -1)) : null,
      isBehind(walk) ? button("It was not pulled", () => markUndone(walk)) : null,
      button("Something is wrong with this bolt", () => trouble(walk, pull)), changes(walk, pull));
  }

  function move(walk, step) {
    walk.at += step;
    show(walk);
  }

  function markDone(walk) {
    keep(walk, (state) => {
      state.done = walk.at + 1;
      state.times[walk.at] = now();
      if (state.done === pullsIn(walk).length) state.finished = now();
    });
    move(walk, 1);
  }

  function markUndone(walk) {
    keep(walk, (state) => {
      state.done = walk.at;
      state.times.length = walk.at;
      state.finished = "";
    });
    show(walk);
  }

  // After a break: was the bolt on the page pulled or not?
  function interrupted(walk) {
    walk.at = stateOf(walk).done;
    const pull = pullsIn(walk)[walk.at];
    if (!pull || !isReady(pull) || pull.action === "wait") return show(walk);
    return draw(walk, heading(`You were interrupted. ${where(walk, pull)}: was it pulled?`), task(walk, pull, true),
      ways(
        button("No, not yet", () => show(walk), DONE),
        button("Yes, it was", () => markDone(walk)),
        button("Not sure", () => unsure(walk, pull))), drawingOf(walk, pull));
  }

  function unsure(walk, pull) {
    const stop = isAngle(pull);
    if (stop) note(walk, "not sure whether the angle was turned");
    return draw(walk, heading(stop ? "Not sure, on an angle" : "Not sure"), el("p", { id: "walk-do" }, stop ? UNSURE_ANGLE : pull.action === "loosen" ? UNSURE_LOOSE : UNSURE_TORQUE),
      ways(
        stop ? button(AGAIN, () => restart(walk), FIRST) : button("On to this pull", () => show(walk), FIRST)));
  }

  function restart(walk) {
    note(walk, `begun again at the first stage, after ${stateOf(walk).done} pulls`);
    walk.at = 0;
    markUndone(walk);
  }

  function note(walk, sign) {
    keep(walk, (state) => { state.troubles.push({ pull: walk.at, sign, at: now() }); });
  }

  // A sign that something is wrong: what it means, and where to begin again.
  function trouble(walk, pull) {
    return draw(walk, heading(`Bolt ${pull.place}: what is wrong?`),
      ways(walk.bench.signs.map((sign) => button(sign.sign, () => explain(walk, pull, sign))),
        button("Nothing is wrong", () => show(walk), FIRST)));
  }

  function explain(walk, pull, sign) {
    note(walk, `bolt ${pull.place}: ${sign.sign}`);
    return draw(walk, heading(sign.sign), el("p", { id: "walk-do" }, sign.means, " ", el("strong", {}, "Begin again: "), sign.again),
      ways(button("Back to this bolt", () => show(walk), FIRST),
        button(AGAIN, () => restart(walk))));
  }

  // One target for the whole row: proposed from a range, or taken from the manual where the record's figure cannot be trusted.
  function ask(walk, pull) {
    const range = pull.state.startsWith("choose");
    const proposed = range ? middle(pull.low, pull.high) : "";
    const facts = figuresOf(walk, pull);
    const unit = (pull.low || pull.high || facts.map((fact) => fact.printed[0]).find((each) => each && each.unit) || { unit: pull.action === "angle" ? "deg" : "N.m" }).unit;
    let given = proposed;
    const message = el("p", { className: "refusal", role: "alert" });
    const take = () => {
      const { found, refusal } = readTarget(given, unit);
      const unfit = found && attempt(() => expanded(setOf(walk), orderOf(walk), { ...chosen(walk.bench, walk.key), [pull.stage]: found })).refusal;
      message.textContent = refusal || unfit || "";
      if (!message.textContent) choose(walk, pull, found);
    };
    return draw(walk,
      heading(`${stageWords(walk, pull)}: ${range ? "one value for the whole row" : "no target until you choose one"}`),
      el("p", {}, range ? "Any value of the range will do, but the same for every bolt of the row." : `${pull.state[0].toUpperCase()}${pull.state.slice(1)}. The record cannot decide; take the value from the manual for this engine.`),
      facts.map((fact) => el("p", { className: "doubt" }, fact.printed.map((each) => each.text).join(" / "), fact.cite ? ` (${fact.cite.source}, ${fact.cite.place})` : "", fact.doubt ? `. ${fact.doubt.says}` : "")),
      field(`Target for every bolt of this stage, in ${unit} unless a unit is written`, proposed, (value) => { given = value; }), message,
      ways(button("Use this for the row", take, { className: "button done" })));
  }

  function choose(walk, pull, { value, unit }) {
    walk.bench.change((job) => { job.choices[choiceOf(walk.key, pull.stage)] = `${value} ${unit}`; });
    show(walk);
  }

  // No order in the record: the reader takes it from the manual's figure, or goes without a drawing.
  function unordered(walk, pull) {
    return draw(walk, heading("The order is not in this record"),
      el("p", {}, "Lay the bolts out as in the figure of the manual and tap them in its order. It stays in this job, marked as entered by you."),
      ways(button("Enter the order", () => Firedeck.layOut(walk), FIRST)));
  }

  function wait(walk, pull) {
    const stage = walk.stages[pull.stage];
    const start = Date.parse(stateOf(walk).times[walk.at - 1]) || Date.now(); // since the pull before it, however often the page was closed
    const shown = el("p", { className: "target", role: "timer" });
    draw(walk, heading(`${stageWords(walk, pull)}: wait${stage.until ? ` until ${stage.until}` : ""}`), shown,
      ways(button("Done waiting", () => markDone(walk), DONE),
        walk.at > 0 ? button("Back", () => move(walk, -1)) : null));
    const tick = () => {
      const seconds = Math.floor((Date.now() - start) / 1000), two = (number) => String(number).padStart(2, "0");
      shown.textContent = `${seconds < 3600 ? "" : `${Math.floor(seconds / 3600)}:`}${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)} since the last pull`;
    };
    tick();
    walk.timer = setInterval(tick, 1000);
  }

  function finish(walk) {
    return draw(walk, heading(walk.loosens ? "Every bolt is loose. Go round again until all turn freely, then take them out." : "Every pull is done."),
      el("p", {}, `${stateOf(walk).done} pulls. Finished ${clock(stateOf(walk).finished)}.`),
      stateOf(walk).troubles.length ? el("ul", {}, stateOf(walk).troubles.map((each) => el("li", {}, `${each.sign} (${clock(each.at)})`))) : null,
      ways(button("On with the job", () => walk.dialog.close(), DONE),
        button("Back", () => move(walk, -1)), button(AGAIN, () => confirm("Begin again? Every pull counts as not done then.") && restart(walk))));
  }

  // On the page: how far the walk is, what stands before it, the button that opens it.
  function place(bench, host) {
    const of = { set: host.dataset.set, kind: host.dataset.kind, head: host.dataset.head || "" };
    const words = (pulls, open) => {
      if (!pulls.length) return "This record has no stages and no torque to walk through.";
      if (open.length) return `First sign the hold points above, or go on without them with a reason: ${open.map((hold) => hold.dataset.name).join(", ")}.`;
      return `${Math.min(pulls.length, walkOf(bench.job, walkName(of.set, of.kind, of.head)).done)} of ${pulls.length} pulls done.`;
    };
    const said = el("p"), begin = button(of.kind === "loosening" ? "Loosen, bolt by bolt" : "Tighten, pull by pull", () => open(begun(bench, of)));
    host.replaceChildren(said, begin); // the button stays: the focus comes back to it
    const show = () => {
      const pulls = pullsOf(bench, of.set, of.kind);
      const open = Firedeck.marks.openBefore(bench, host);
      begin.hidden = !pulls.length;
      begin.disabled = open.length > 0;
      said.textContent = (of.head ? `Head ${of.head}: ` : "") + words(pulls, open);
    };
    bench.on("switch change", show);
  }

  Firedeck.walk = { draw, heading, ways, show };
  Firedeck.parts.push((bench) => all("firedeck-walk").forEach((host) => place(bench, host)));
})((window.Firedeck = window.Firedeck || {}));
