// An engine entered in the form, used at once: figures, drawing, worksheets and walk-through from its JSON model, nothing built.
(function (Firedeck) {
  "use strict";
  const { el, choice } = Firedeck.elements;
  const Draft = Firedeck.form.draft;

  const MARK = "From your own manual, not compared";
  const INVENTED = "Invented for demonstration. Not for work on any engine.";
  const mark = (model) => [el("p", { className: "own-mark" }, `${MARK}.`), model.invented ? el("p", { className: "invented", role: "note" }, INVENTED) : null];

  const sentence = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);
  const shown = (text) => text.replace("+-", "± ").replace(/(\d) deg$/, "$1°").replace(/ ratio$/, ":1").replace(/(?<=[A-Za-z])\.(?=[A-Za-z])/g, "·");
  const numberOf = (model, id) => (model.sources.find((source) => source.id === id) || { number: id }).number;
  const cited = (model, cite) => (cite ? `${numberOf(model, cite.source)}, ${cite.place}` : "no place given");

  const WARNINGS = { manual: "Doubtful as the manual prints it", scan: "The scan leaves a doubt", rounding: "The printed units agree only if one is rounded" };

  function doubtOf({ doubt, agreement, printed = [] }) {
    const said = [doubt ? `${WARNINGS[doubt.kind] || "Doubt"}: ${doubt.says}.` : ""];
    if (agreement && agreement.verdict === "disagree") said.push(`${doubt ? "" : `${sentence(agreement.says)}. `}The printed units disagree, so nothing is converted: trust neither until you have checked it in the manual.`);
    if (printed.some((each) => each.form === "unreadable")) said.push("It cannot be read; look it up.");
    return said.filter(Boolean).join(" ");
  }

  function value(fact) {
    if (fact.kind !== "figure") return [el("span", { className: "printed said" }, fact.text)];
    const printed = fact.printed.flatMap((each, index) => [index ? " / " : "", el("b", { className: "qty" }, shown(each.text))]);
    return [el("span", { className: "printed" }, printed), ...fact.conversions.flatMap((each) => [" ", el("span", { className: "converted" }, "= ", el("span", { className: "qty" }, shown(each.text)), " converted")])];
  }

  function row(model, fact) {
    const doubt = doubtOf(fact);
    return el("div", { className: "figure" }, el("dt", {}, sentence(fact.labels.slice(1).filter(Boolean).join(", ") || fact.labels[0] || "")),
      el("dd", { className: "value" }, value(fact), fact.when ? [" ", el("span", { className: "when" }, fact.when)] : null, fact.called ? [" ", el("span", { className: "called" }, `called ${fact.called}`)] : null,
        fact.superseded_by ? [" ", el("span", { className: "state" }, `replaced by ${fact.superseded_by}`)] : null, doubt ? el("p", { className: "doubt" }, el("strong", {}, "Doubt. "), doubt) : null),
      el("dd", { className: "from" }, el("span", { className: "cite" }, cited(model, fact.cite))));
  }

  // Every fact, section by section, in the schema's order.
  function sections(model) {
    const found = new Map();
    for (const fact of model.facts) found.set(fact.at.split(".")[0], [...(found.get(fact.at.split(".")[0]) || []), fact]);
    return [...found].map(([key, facts]) => [el("h3", {}, Firedeck.record.shape().children[key].title), el("dl", { className: "figures" }, facts.map((fact) => row(model, fact)))]);
  }

  const DO = { torque: "tighten to", angle: "turn further by", loosen: "loosen", recheck: "check again at", steps: "tighten by rounds", wait: "wait until", retorque: "tighten again after running" };

  function stage(model, each) {
    const figures = each.figures.flatMap((fact, index) => [index ? " or " : " ", value(fact), fact.when ? ` (${fact.when})` : ""]);
    const [from, by, to] = each.rounds;
    const rounds = to ? [" up to ", el("b", {}, shown(to)), ": ", el("b", {}, shown(from)), " first, then ", el("b", {}, shown(by)), " more each round"] : each.by ? ` ${each.by}` : null;
    const doubt = [doubtOf(each), ...each.figures.map(doubtOf)].filter(Boolean).join(" ");
    const who = each.do === "wait" ? "" : each.groups.length ? `Only ${each.groups.join(" and ")}: ` : "Every one: ";
    return el("li", {}, el("p", {}, who, el("strong", {}, `${DO[each.do] || each.do} ${each.until}`.trim()), figures, rounds, [each.when, each.method].filter(Boolean).map((text) => ` (${text})`), " ",
      el("span", { className: "cite" }, cited(model, each.figures.length ? each.figures[0].cite : each.cite))), doubt ? el("p", { className: "doubt" }, doubt) : null);
  }

  // The drawing of one order, on each head that it is for.
  function drawings(model, set, order, words) {
    const heads = model.heads.filter((head) => order.some((name) => !set.places[name] || !set.places[name].heads.length || set.places[name].heads.includes(head.name)));
    return (heads.length ? heads : [null]).map((head) => {
      const places = Firedeck.drawing.placesOf(set, head && heads.length > 1 ? head.name : "", null);
      return el("figure", { className: "drawn" }, el("figcaption", {}, heads.length > 1 ? `${words}, ${head.name}` : words),
        el("div", { className: "drawing", tabIndex: 0, role: "group", "aria-label": words }, Firedeck.drawing.bolts(places, order, head, "", [])),
        el("details", {}, el("summary", {}, "In words"), el("ol", {}, order.map((name) => el("li", {}, name)))));
    });
  }

  function tightening(model) {
    const set = model.fasteners.head;
    if (!set) return null;
    const orders = Object.entries(set.orders);
    const loosening = set.loosening.own ? drawings(model, set, set.loosening.order, "Loosening order") : null;
    return el("section", {}, el("h2", {}, "Tightening the head"), set.stages.length ? el("ol", { className: "stages" }, set.stages.map((each) => stage(model, each))) : null,
      orders.map(([name, order]) => drawings(model, set, order, orders.length > 1 ? `Tightening order ${name}` : "Tightening order")), loosening,
      set.order_in_figure ? el("p", { className: "gap" }, `In a figure of the manual: ${set.order_in_figure}. No order is drawn here, because a guess would ruin the gasket.`) : null);
  }

  // What stands against the record, and what the job lacks: said before any figure is used.
  function gaps(record, sources) {
    const faults = Firedeck.record.faults(record, sources, {}), lacks = Firedeck.record.lacks(record);
    return [faults.length ? el("div", { className: "notice" }, el("h2", {}, "The form is not finished"), el("p", {}, "What is not understood there is left out here, or not to be trusted:"), el("ul", {}, faults.map((fault) => el("li", {}, `${fault.at}: ${fault.message}`)))) : null,
      el("section", {}, el("h2", {}, "Not in this record"), lacks.length ? [el("p", {}, "The job needs these. The manual for the engine should give them."), el("ul", {}, lacks.map(({ what }) => el("li", {}, what)))] : el("p", {}, "Nothing is missing of what the bench asks for first."))];
  }

  const APART = ["head", "bank", "cylinder"]; // places of such a set hold for each head by itself
  const OWN_DECK = ["vee", "opposed", "single"]; // layouts in which every head stands on a deck or a barrel of its own
  const ON_A_HEAD = ["flatness-head", "height", "cut"];

  // The heads for which each tool stands on the page apart; one without a name where it stands there once. As generator/pages/bench.py has it.
  function headsOf(model) {
    const names = model.heads.length > 1 ? model.heads.map((head) => head.name) : [""], { head } = model.fasteners;
    const says = (place) => (model.facts.find((fact) => fact.at === place) || {}).text;
    return {
      walk: head && APART.includes(head.per) ? names : [""], "flatness-deck": OWN_DECK.includes(says("identity.layout")) ? names : [""],
      ...Object.fromEntries(ON_A_HEAD.map((kind) => [kind, names])),
    };
  }

  function tools(model) {
    const heads = headsOf(model);
    document.querySelectorAll("[data-tool]").forEach((place) => {
      const kind = place.dataset.tool, isWalk = "walk" in place.dataset;
      const made = (name) => (isWalk ? el("firedeck-walk", { "data-set": "head", "data-kind": kind, "data-head": name }) : el("firedeck-worksheet", { "data-kind": kind, "data-head": name }));
      const lacks = isWalk ? !model.fasteners.head : kind === "gasket" && !model.facts.some((fact) => fact.at.startsWith("gasket.choice."));
      place.replaceChildren(...(lacks ? [] : (heads[isWalk ? "walk" : kind] || [""]).map(made)));
    });
  }

  // The bench under the mark: its jobs carry it in the engine's name, its walk-through on top of every pull.
  function bench(draft, model) {
    const id = model.id && !(model.id in Firedeck.registered.engines) ? model.id : `own-${draft.id}`;
    Firedeck.model = { ...model, id, name: `${Draft.title(draft)} (${MARK.toLowerCase()})` };
    Firedeck.signs = Firedeck.registered.signs;
    Firedeck.mark = MARK;
    const place = document.querySelector("[data-own-bench]");
    place.dataset.bench = place.dataset.ownBench;
    document.getElementById("own-steps").hidden = false;
    Firedeck.startBench();
  }

  function show(draft) {
    const record = Draft.settled(draft), sources = { ...Firedeck.registered.sources, ...draft.sources };
    const model = Firedeck.record.model(record, sources);
    document.getElementById("own-name").textContent = Draft.title(draft);
    document.title = `${Draft.title(draft)}: ${MARK.toLowerCase()}`;
    document.getElementById("own-figures").replaceChildren(...[mark(model)[1], tightening(model), gaps(record, sources), el("section", {}, el("h2", {}, "All figures"), sections(model))].flat().filter(Boolean));
    tools(model);
    bench(draft, model);
    Firedeck.own = model;
  }

  async function start() {
    const above = document.getElementById("own-above");
    if (!above) return;
    const store = await Firedeck.store.open(Draft.shelf(new URL("./", location.href.split("#")[0]).href));
    const drafts = (await store.list()).filter((draft) => Draft.faults(draft).length === 0).sort((a, b) => (a.changed < b.changed ? 1 : -1));
    const draft = drafts.find((each) => each.id === location.hash.slice(1)) || drafts[0];
    const pick = (id) => { location.hash = id; location.reload(); };
    above.replaceChildren(draft ? (drafts.length > 1 ? choice("Engine", drafts.map((each) => [each.id, Draft.title(each)]), draft.id, pick) : "")
      : el("p", { className: "gap" }, "No engine was entered on this device, or the browser keeps nothing. Begin in the form, or load a draft from a file there."));
    if (draft) show(draft);
  }

  document.addEventListener("DOMContentLoaded", start);
})((window.Firedeck = window.Firedeck || {}));
