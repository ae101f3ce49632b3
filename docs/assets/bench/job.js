// A job: one person's readings, ticks, signatures and choices on one engine. Made, read from a file, checked.
(function (Firedeck) {
  "use strict";

  const FORMAT = "firedeck job";
  const VERSION = 1;
  const LARGEST = 4 * 1024 * 1024; // characters of a job file

  const isText = (value) => typeof value === "string" && value.length <= 20000;
  // "__proto__" as a key would reach behind the job.
  const isBlock = (value) => value !== null && typeof value === "object" && !Array.isArray(value) && !Object.hasOwn(value, "__proto__");
  const blockOf = (check) => (value) => isBlock(value) && Object.values(value).every(check);
  const listOf = (check) => (value) => Array.isArray(value) && value.every(check);
  const members = (shape) => (value) =>
    isBlock(value) && Object.keys(value).every((key) => Object.hasOwn(shape, key) && shape[key](value[key]));
  const isNumber = (value) => typeof value === "number" && Number.isFinite(value);
  const isVerdict = members({ what: isText, verdict: isText, reason: isText, next: isText, basis: isText });
  const isTrouble = members({ pull: isNumber, sign: isText, at: isText });
  const isPoint = (value) => Array.isArray(value) && value.length === 2 && value.every(isNumber);

  // One row a key: what must stand there. schema/job.schema.json says the same for other programs.
  const SHAPE = {
    format: (value) => value === FORMAT,
    version: (value) => value === VERSION,
    id: (value) => isText(value) && /^[a-z0-9-]{8,64}$/.test(value),
    engine: (value) => isText(value) && /^[a-z0-9-]{1,80}$/.test(value),
    engine_name: isText,
    invented: (value) => typeof value === "boolean",
    revision: isText,
    name: isText, date: isText, hours: isText, whose: isText, notes: isText,
    created: isText, changed: isText,
    ticks: blockOf(isText),
    holds: blockOf(members({ name: isText, by: isText, at: isText, reason: isText })),
    readings: blockOf(blockOf(isText)),
    verdicts: blockOf(listOf(isVerdict)),
    choices: blockOf(isText),
    walks: blockOf(members({ done: isNumber, times: listOf(isText), troubles: listOf(isTrouble), finished: isText })),
    orders: blockOf(members({ places: blockOf(isPoint), order: listOf(isText), groups: blockOf(isText) })),
    model: (value) => value === null || isBlock(value),
  };

  const now = () => new Date().toISOString();

  function newId() {
    const bytes = crypto.getRandomValues(new Uint8Array(9));
    return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  // A job on an engine as its model is today; the figures it begins with stay with it.
  function create(model) {
    return {
      format: FORMAT, version: VERSION, id: newId(),
      engine: model.id, engine_name: model.name, invented: model.invented, revision: model.revision,
      name: "", date: now().slice(0, 10), hours: "", whose: "", notes: "", created: now(), changed: now(),
      ticks: {}, holds: {}, readings: {}, verdicts: {}, choices: {}, walks: {}, orders: {}, model,
    };
  }

  // Every reason why something is no job of ours, in words; empty if it is one.
  function faults(job) {
    if (!isBlock(job)) return ["The file holds no job."];
    if (job.format !== FORMAT) return ["The file is no job file of this site."];
    if (job.version !== VERSION) return [`The file is of version ${String(job.version).slice(0, 20)}; this site reads version ${VERSION}.`];
    const missing = Object.keys(SHAPE).filter((key) => !Object.hasOwn(job, key)).map((key) => `The file is damaged: ${key} is missing.`);
    const wrong = Object.keys(job).filter((key) => !Object.hasOwn(SHAPE, key) || !SHAPE[key](job[key]))
      .map((key) => `The file is damaged: ${key.slice(0, 40)} ${Object.hasOwn(SHAPE, key) ? "does not hold what it should" : "is not known"}.`);
    return [...missing, ...wrong];
  }

  // Read the text of a job file: {job, faults}. Nothing of a faulty file is taken.
  function read(text) {
    if (text.length > LARGEST) return { job: null, faults: ["The file is too large for a job file."] };
    let job;
    try {
      job = JSON.parse(text);
    } catch (error) {
      return { job: null, faults: ["The file is damaged or is no job file: it cannot be read as JSON."] };
    }
    const found = faults(job);
    return { job: found.length ? null : job, faults: found };
  }

  const write = (job) => JSON.stringify(job, null, 1) + "\n";

  // What the file is called: engine, name, day; nothing that a file system takes amiss.
  function fileName(job) {
    const plain = (text) => text.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 40);
    return ["job", job.engine, plain(job.name), job.date].filter(Boolean).join("-") + ".json";
  }

  const title = (job) => [job.name || "Job without a name", job.date].filter(Boolean).join(", ");

  Firedeck.job = { VERSION, SHAPE, create, faults, read, write, fileName, title, now };
})((window.Firedeck = window.Firedeck || {}));
