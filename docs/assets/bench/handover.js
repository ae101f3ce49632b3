// The hand-over: what was found, measured, decided and fitted, printed from the job for the owner.
(function (Firedeck) {
  "use strict";
  const { el, all, clock } = Firedeck.elements;

  const list = (items) => el("ul", {}, items.map((item) => el("li", {}, item)));
  const part = (heading, items) => (items.length ? [el("h2", {}, heading), list(items)] : []);

  function verdicts(job) {
    return Object.values(job.verdicts).flat().map((each) =>
      `${each.what}: ${each.verdict}. ${each.reason}${each.basis ? ` (${each.basis})` : ""}`);
  }

  function holds(job) {
    return Object.values(job.holds).map((mark) =>
      mark.reason ? `${mark.name}: gone on without it, ${mark.by}, ${clock(mark.at)}. Reason: ${mark.reason}` : `${mark.name}: seen by ${mark.by}, ${clock(mark.at)}`);
  }

  function walks(job) {
    return Object.entries(job.walks).map(([key, walk]) =>
      `${key}: ${walk.done} pulls${walk.finished ? `, finished ${clock(walk.finished)}` : ", not finished"}`
      + walk.troubles.map((each) => `; pull ${each.pull + 1}: ${each.sign}`).join(""));
  }

  function readings(job) {
    const found = Object.entries(job.readings).map(([sheet, typed]) => [sheet, Object.entries(typed).filter(([, text]) => text.trim())]);
    return found.filter(([, typed]) => typed.length).map(([sheet, typed]) => `${sheet}: ${typed.map(([name, text]) => `${name} ${text.trim().replace(/\n/g, "; ")}`).join(", ")}`);
  }

  // A choice between figures names the figure chosen.
  function choices(job, { facts }) {
    const { factWords, placeWords } = Firedeck.worksheets;
    return Object.entries(job.choices).map(([key, value]) => {
      const [sheet, place] = key.split(": "), fact = place && facts.find((each) => each.at === value && each.kind === "figure");
      return fact ? `${sheet}, ${placeWords(place)}: ${factWords(fact)}` : `${key}: ${value || "none yet"}`;
    });
  }
  const ticked = (job, words) => Object.keys(job.ticks).map((step) => words.get(step) || step);

  // The steps as the page words them, so that the owner reads what was done.
  function stepWords() {
    return new Map(all("input[data-tick]").map((box) => [box.dataset.tick, box.closest("label").textContent.trim()]));
  }

  function sheet(bench) {
    const job = bench.job;
    const facts = [["Engine", job.engine_name], ["Record", `${job.engine}, revision ${job.revision}`], ["Job", job.name], ["Whose", job.whose], ["Date", job.date],
      ["Hours or distance", job.hours]].filter(([, value]) => value);
    return el("section", { className: "handover", "aria-label": "Hand-over" },
      el("h1", {}, "Hand-over"),
      job.invented ? el("p", { className: "invented" }, "Invented for demonstration. Not for work on any engine.") : null,
      el("dl", {}, facts.map(([name, value]) => el("div", {}, el("dt", {}, name), el("dd", {}, value)))),
      part("Found and measured", verdicts(job)), part("Hold points", holds(job)), part("Chosen by the reader", choices(job, bench.model)),
      part("Readings as typed (mm, kPa, N·m where no unit stands)", readings(job)),
      part("Tightening, pull by pull", walks(job)), part("Steps ticked", ticked(job, stepWords())),
      job.notes ? [el("h2", {}, "Notes"), el("p", {}, job.notes)] : null,
      el("p", { className: "sign-line" }, "Signed ______________________ date ______________"),
      el("p", {}, "The maker's manual for the exact engine and local rules come first."));
  }

  function print(bench) {
    all(".handover").forEach((old) => old.remove());
    document.body.append(el("div", { className: "firedeck handover-frame" }, sheet(bench)));
    document.body.classList.add("printing-handover");
    addEventListener("afterprint", () => {
      document.body.classList.remove("printing-handover");
      all(".handover-frame").forEach((old) => old.remove());
    }, { once: true });
    window.print();
  }

  Firedeck.handover = { sheet, print };
})((window.Firedeck = window.Firedeck || {}));
