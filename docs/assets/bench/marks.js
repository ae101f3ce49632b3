// Ticks of the steps and signatures of the hold points, kept in the job.
(function (Firedeck) {
  "use strict";
  const { el, button, field, clock, all } = Firedeck.elements;

  function ticks(bench) {
    const boxes = all("input[data-tick]");
    boxes.forEach((box) => box.addEventListener("change", () => {
      const { checked, dataset: { tick } } = box, at = Firedeck.job.now(); // the change may be made again on another copy of the job
      bench.change((job) => {
        if (checked) job.ticks[tick] = at;
        else delete job.ticks[tick];
      });
    }));
    bench.on("switch", () => boxes.forEach((box) => { box.checked = box.dataset.tick in bench.job.ticks; }));
  }

  // The hold points that stand before an element of the page and are neither signed nor overridden.
  function openBefore(bench, element) {
    return all("[data-hold]").filter((hold) =>
      hold.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING && !(hold.dataset.hold in bench.job.holds));
  }

  function sign(bench, hold, by, reason) {
    return bench.change((job) => {
      job.holds[hold.dataset.hold] = { name: hold.dataset.name, by, at: Firedeck.job.now(), reason };
    });
  }

  // Until a hold point is signed: who looked, or why the job goes on without it.
  function asking(bench, hold) {
    const given = { by: bench.job.whose, reason: "" };
    const message = el("p", { className: "refusal", role: "alert" });
    const need = (words, ok) => { message.textContent = ok ? "" : words; return ok; };
    return [
      field("Seen by", given.by, (value) => { given.by = value.trim(); }),
      button("Sign: it is so", () => need("Give the name of who looked.", given.by) && sign(bench, hold, given.by, "")),
      el("details", {}, el("summary", {}, "Go on without it"),
        field("Reason, in writing", "", (value) => { given.reason = value.trim(); }),
        button("Go on without it", () => need("Give a name and a reason; both are printed on the hand-over.", given.by && given.reason)
          && sign(bench, hold, given.by, given.reason))),
      message,
    ];
  }

  function signed(bench, hold, mark) {
    const words = mark.reason ? `Not held to, by ${mark.by}, ${clock(mark.at)}: ${mark.reason}` : `Signed by ${mark.by}, ${clock(mark.at)}.`;
    return [el("p", { className: "signed" }, words), button("Take this back", () => bench.change((job) => { delete job.holds[hold.dataset.hold]; }))];
  }

  function holds(bench) {
    all("[data-hold]").forEach((hold) => {
      const place = hold.querySelector(".sign");
      const line = place.firstElementChild; // to sign on paper where nobody signed here
      line.classList.add("on-paper");
      let shown = null;
      const show = () => {
        const mark = bench.job.holds[hold.dataset.hold];
        const state = bench.job.id + JSON.stringify(mark || null);
        if (state === shown) return; // a field in use keeps its focus
        shown = state;
        place.replaceChildren(...(mark ? signed(bench, hold, mark) : [line, el("div", { className: "on-screen" }, asking(bench, hold))]));
      };
      bench.on("switch change", show);
    });
  }

  Firedeck.marks = { openBefore, sign };
  Firedeck.parts.push(ticks, holds);
})((window.Firedeck = window.Firedeck || {}));
