// The job in hand: its name and owner, other jobs on this engine, the job file, the hand-over.
(function (Firedeck) {
  "use strict";
  const { el, button, field, choice } = Firedeck.elements;

  const MERGED = "This job was changed in another window as well. Both are kept now: look over what you see before you go on.";
  const KEPT = "Kept on this device at every change.";
  const NOT_KEPT = "This browser keeps nothing, or has no room left: save the job to a file before you close the page.";

  function download(job) {
    const link = el("a", { href: URL.createObjectURL(new Blob([Firedeck.job.write(job)], { type: "application/json" })), download: Firedeck.job.fileName(job) });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }

  // Take a job from a file, whole or not at all.
  async function load(bench, file, say) {
    if (file.size > 4 * Firedeck.job.LARGEST) return say("The file is too large for a job file. Nothing was taken from it.");
    const { job, faults } = Firedeck.job.read(await file.text());
    if (!job) return say(faults.slice(0, 5).join(" ") + " Nothing was taken from it.");
    if (job.engine !== bench.record.id) return say(`This job is on another engine, ${job.engine_name}. Open that engine and load it there.`);
    const here = (await bench.jobs()).find((other) => other.id === job.id);
    if (here && here.changed > job.changed && !confirm("The job on this device is newer than the file. Take the older one from the file?")) return say("");
    bench.take(job, here && here.changed);
    await bench.save();
    return say(`Loaded: ${Firedeck.job.title(job)}.`);
  }

  const FIELDS = [["name", "Name of the job"], ["whose", "Whose engine, or who works"], ["date", "Date"], ["hours", "Hours or distance run"], ["notes", "Notes"]];

  function details(bench) {
    return FIELDS.map(([key, words]) => field(words, bench.job[key], (value) => bench.change((job) => { job[key] = value; }),
      { maxLength: 2000, ...(key === "notes" ? { rows: 3 } : {}) }));
  }

  async function others(bench) {
    const jobs = await bench.jobs();
    if (bench.fresh) jobs.unshift(bench.job);
    if (jobs.length < 2) return [];
    const options = jobs.map((job) => [job.id, job === bench.job && bench.fresh ? "New job, nothing in it yet" : Firedeck.job.title(job)]);
    return [choice("Job in hand", options, bench.job.id, async (id) => {
      const job = (await bench.jobs()).find((each) => each.id === id);
      if (job) bench.take(job);
    })];
  }

  function files(bench, say) {
    const input = el("input", { type: "file", accept: ".json,application/json", hidden: true, onchange: () => {
      if (input.files[0]) load(bench, input.files[0], say);
      input.value = "";
    } });
    return [
      button("Save the job to a file", () => download(bench.job)),
      button("Load a job from a file", () => input.click()), input,
      button("Print the hand-over", () => Firedeck.handover.print(bench)),
    ];
  }

  // Said at once wherever the reader is: at the foot of the window, and in the walk-through.
  function warn(bench) {
    bench.bar = el("div", { className: "firedeck bar", role: "alert" });
    document.body.append(bench.bar);
    const say = (words, ...ways) => bench.bar.replaceChildren(...(words ? [el("p", {}, words), ...ways, button("Close this message", () => say(""))] : []));
    bench.on("kept", () => say(bench.kept ? "" : NOT_KEPT, button("Save the job to a file", () => download(bench.job))));
    bench.on("merged", () => say(MERGED));
  }

  function bar(bench, place) {
    const heading = el("h2", { id: "job" }, "Job");
    const state = el("p", { className: "state-of-job", role: "status" });
    const message = el("p", { className: "refusal", role: "alert" });
    const older = el("p", { className: "doubt", hidden: true });
    const say = (words) => { message.textContent = words; };
    const inHand = el("div"), form = el("div");
    const title = () => (bench.fresh ? "Job" : `Job: ${Firedeck.job.title(bench.job)}`);
    const show = async () => {
      heading.textContent = title();
      older.hidden = !bench.changedSince;
      older.textContent = `The record has changed since this job began (revision ${bench.job.revision}, now ${bench.record.revision}). The job keeps the figures it began with.`;
      form.replaceChildren(...details(bench));
      inHand.replaceChildren(...(await others(bench)));
    };
    place.append(heading, state, older, inHand, el("details", {}, el("summary", {}, "Name, date, hours, notes"), form),
      el("div", { className: "ways" }, button("Begin another job", () => bench.begin()), files(bench, say),
        button("Delete this job", () => !bench.fresh && confirm("Delete this job from this device?") && bench.remove())), message);
    place.setAttribute("aria-labelledby", heading.id);
    place.hidden = false;
    bench.on("switch", show);
    bench.on("change", async () => {
      if (heading.textContent === title()) return;
      heading.textContent = title();
      await bench.saving;
      inHand.replaceChildren(...(await others(bench)));
    });
    bench.on("kept", () => {
      state.textContent = bench.kept ? KEPT : NOT_KEPT;
      state.classList.toggle("doubt", !bench.kept);
    });
    warn(bench);
  }

  Firedeck.jobbar = { download, load };
  Firedeck.parts.push((bench, place) => bar(bench, place));
})((window.Firedeck = window.Firedeck || {}));
