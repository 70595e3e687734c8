// @ts-check
// A unit in a file: all its entries with their photos, and the patterns that it is built to, for another workshop's
// book or another phone. The same form as `slipbook export` writes. Entries are known by their ids, so that a file can
// be taken in twice, and two books merge.

import { BadInput, calc, engine } from "../engine/door.js";
import { request } from "./access.js";
import { deliver } from "./delivery.js";
import { DEVICE } from "./device.js";
import { bare, isEntry } from "./entries.js";
import { inWords, mayWrite } from "./kinds.js";
import { keepPicture, pictureOf } from "./pictures.js";
import { anything, group, list, number, record, text } from "./shape.js";
import { adopt, database, entriesOf, entry, fact, today } from "./store.js";

const FORM = 1;
// A unit's whole life with a photo of every plate at every opening stays far below this.
const MOST_BYTES = 64 * 1024 * 1024;
const TELL_EVERY_MS = 100;

const ID = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}$/;
const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const AT = /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d{1,6})?)?(Z|[+-]\d\d:\d\d)$/;
const FIELDS = new Set([
  "id",
  "at",
  "who",
  "device",
  "unit",
  "kind",
  "version",
  "engine",
  "body",
  "shown",
  "replaces",
  "knows",
  "clock",
  "imported",
]);

/** @typedef {import("./entries.js").Entry} Entry */
/** A unit in a file, as far as it is known yet. @typedef {{unit: string, name?: unknown, entries: unknown[]}} Given */
/** A file that was looked into. @typedef {{units: Given[], photos?: unknown}} Content */

/**
 * @typedef {object} FoundUnit a unit of a file, beside what this phone has of it
 * @property {string} unit
 * @property {string} name
 * @property {Entry[]} fresh entries that are new here
 * @property {number} there entries that are here already
 * @property {{words: string, reason: string}[]} refused entries that cannot be taken in
 */

/** The records of kinds of entry, by name. @typedef {Record<string, import("./kinds.js").Kind>} Kinds */

/** @typedef {{units: FoundUnit[], photos: {sha256: string, blob: Blob}[], left: string[]}} Found */

/**
 * A unit as the text of a file.
 * @param {string} unit
 * @param {string} name
 * @returns {Promise<{text: string, entries: number, missing: number}>} `missing` photos could not be had
 */
export async function unitFile(unit, name) {
  const entries = (await entriesOf(unit)).sort((entry, other) => (entry.id < other.id ? -1 : 1));
  const patterns = await builtTo([...entries, ...(await entriesOf(""))]);
  const wanted = [...new Set(entries.flatMap((entry) => (entry.kind === "photo" ? [entry.body.sha256] : [])))];
  const photos = [];
  for (const sha256 of wanted) {
    const blob = await pictureFrom(sha256);
    if (blob) photos.push({ sha256, jpeg: await base64(blob) });
  }
  const whole = {
    slipbook_export: FORM,
    made: new Date().toISOString(),
    units: [{ unit, name, entries }, ...(patterns.length ? [{ unit: "", name: "", entries: patterns }] : [])],
    ...(photos.length ? { photos } : {}),
  };
  return {
    text: `${JSON.stringify(whole, null, 1)}\n`,
    entries: entries.length,
    missing: wanted.length - photos.length,
  };
}

/**
 * Those entries of a shop that say what its units are built to: they travel with the units.
 * @param {Entry[]} all of units and of their shop
 */
async function builtTo(all) {
  const { ids } = await calc("built_to", { entries: all });
  return all.filter(({ id }) => ids.includes(id));
}

/** A photo from this phone, else from the workshop. @param {string} sha256 @returns {Promise<Blob | undefined>} */
async function pictureFrom(sha256) {
  const kept = await (await database()).get("photos", sha256);
  if (kept) return pictureOf(kept);
  return request(`/api/photos/${sha256}`).then(
    (answer) => answer.blob(),
    () => undefined,
  );
}

/** @param {Blob} blob @returns {Promise<string>} */
async function base64(blob) {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

/**
 * What a file holds, beside what this phone has; nothing is taken in yet.
 * @param {Blob} file
 * @param {(done: number, all: number) => void} tell hears how far it is
 * @returns {Promise<Found>}
 * @throws {Error} with one sentence that says what to do, where the file as a whole cannot be used
 */
export async function lookInto(file, tell) {
  const content = await parsed(file);
  const groups = content.units.filter((group) => group.unit);
  if (!groups.length)
    throw new Error("This file holds no unit: have the unit saved to a file again, from its own page.");
  const { patterns, left } = await ofTheShop(content.units);
  if (patterns.length) groups.push({ unit: "", name: PATTERNS, entries: patterns });
  const all = groups.reduce((sum, group) => sum + group.entries.length, 0);
  let done = 0;
  let lastTold = 0;
  const step = () => {
    done += 1;
    if (performance.now() - lastTold < TELL_EVERY_MS) return;
    lastTold = performance.now();
    tell(done, all);
  };
  const units = [];
  for (const group of groups) units.push(await beside(group, step));
  const photos = await pictures(content.photos, units);
  return { units, photos, left };
}

/** What the patterns that come with a unit are called. */
export const PATTERNS = "Patterns";

/** What a file holds of the other shop: what units are built to comes along. @param {Given[]} given */
async function ofTheShop(given) {
  const { kinds } = await engine();
  const entries = given.flatMap((group) => group.entries.filter(isEntry));
  const ids = new Set((await builtTo(entries)).map(({ id }) => id));
  const shop = given.filter((group) => !group.unit).flatMap((group) => group.entries);
  const patterns = shop.filter((entry) => isEntry(entry) && ids.has(entry.id));
  const others = inWords(
    Object.values(kinds).filter(({ about, calculation }) => about === "shop" && calculation !== "pattern"),
  );
  const left =
    patterns.length < shop.length ? [`The ${others} in the file stay out: they are the other workshop's.`] : [];
  return { patterns, left };
}

const isUnit = group({ unit: text, name: anything, entries: list(anything) });
const isFile = group({ units: list(isUnit), photos: anything });

/** @param {Blob} file @returns {Promise<Content>} */
async function parsed(file) {
  if (file.size > MOST_BYTES)
    throw new Error("This file is larger than any unit that Slipbook saves: choose the unit's own file.");
  const written = await file.text();
  /** @type {unknown} */
  let content;
  try {
    content = JSON.parse(written);
  } catch {
    throw new Error(
      written.slice(0, 200).includes("slipbook_export")
        ? "This file was cut short on its way: have it sent again, and choose the new one."
        : "This is not a unit that Slipbook saved to a file: choose another file.",
    );
  }
  const form = record(content) ? content.slipbook_export : undefined;
  if (record(content) && content.slipbook_outbox)
    throw new Error("This is an outbox, not a unit: import it on the Outbox screen.");
  if (!number(form)) throw new Error("This is not a unit that Slipbook saved to a file: choose another file.");
  if (form > FORM) throw new Error("A newer Slipbook saved this file: bring this one up to date, then import it.");
  if (!isFile(content) || !content.units.every((group) => group.unit === "" || UUID.test(group.unit)))
    throw new Error("This file was changed since Slipbook saved it: have it saved and sent again.");
  return content;
}

/** A file's unit beside what is here. @param {Given} given @param {() => void} step @returns {Promise<FoundUnit>} */
async function beside({ unit, name, entries }, step) {
  const { kinds } = await engine();
  /** @type {FoundUnit} */
  const found = { unit, name: String(name ?? ""), fresh: [], there: 0, refused: [] };
  /** @type {Map<string, string>} */
  const seen = new Map();
  for (const given of entries) {
    step();
    const own = record(given) ? bare(given) : {};
    const reason = misfit(own, unit, kinds);
    // What does not misfit is an entry.
    const whole = /** @type {Entry} */ (own);
    const fault = reason ?? (await clash(whole, seen)) ?? (await refusal(whole, kinds));
    if (fault === THERE) found.there += 1;
    else if (fault) found.refused.push({ words: inShort(own, kinds), reason: fault });
    else {
      found.fresh.push(whole);
      seen.set(whole.id, canonical(whole));
    }
  }
  const kept = await entriesOf(unit);
  if (unit && found.fresh.length && ![...kept, ...found.fresh].some((entry) => entry.kind === "unit"))
    throw new Error(
      `This file does not say what the unit is, and this ${DEVICE} does not know it: have the whole unit saved again.`,
    );
  // What stands has to come out of both together before anything is let in.
  await calc(unit ? "standing" : "kit_standing", { entries: [...kept, ...found.fresh], today: today() }).catch(() => {
    throw new Error("The entries in this file do not go together: have the unit saved to a file again.");
  });
  return found;
}

/** What an entry is, when and by whom, as far as it says. @param {Record<string, unknown>} own @param {Kinds} kinds */
function inShort({ kind, at, who }, kinds) {
  const meaning = kinds[String(kind)]?.meaning ?? "an entry";
  return [meaning, text(at) ? at.slice(0, 10) : "", text(who) ? who : ""].filter(Boolean).join(", ");
}

/** Why the engine refuses an entry, if it does. @param {Entry} own @param {Kinds} kinds */
async function refusal({ kind, body }, kinds) {
  try {
    await calc(kinds[kind].calculation, body);
  } catch (error) {
    if (error instanceof BadInput) return error.reason;
    throw error;
  }
}

/**
 * Why an entry is none, if it is none.
 * @param {Record<string, unknown>} own
 * @param {string} unit
 * @param {Kinds} kinds
 */
function misfit(own, unit, kinds) {
  const fits = (/** @type {RegExp} */ form, /** @type {unknown} */ value) => text(value) && form.test(value);
  if (!fits(ID, own.id) || !fits(AT, own.at) || !fits(UUID, own.device) || !record(own.body) || !record(own.shown))
    return "It is incomplete: have the file saved and sent again.";
  const kind = kinds[String(own.kind)];
  const newer = !kind || (number(own.version) && own.version > kind.version);
  if (newer || Object.keys(own).some((name) => !FIELDS.has(name)))
    return "A newer Slipbook wrote it: bring this one up to date, then import the file again.";
  if (
    own.unit !== unit ||
    typeof own.who !== "string" ||
    typeof own.engine !== "string" ||
    !Number.isInteger(own.version)
  )
    return "It was changed since Slipbook saved it: have the file saved and sent again.";
}

const THERE = "there";

/** What is here, or earlier in the file, under the same id. @param {Entry} own @param {Map<string, string>} seen */
async function clash(own, seen) {
  const known = await entry(own.id);
  const other = known ? canonical(bare(known)) : seen.get(own.id);
  if (other === undefined) return undefined;
  return other === canonical(own)
    ? THERE
    : "The book has another entry under its number. What is in the book stays; have it entered anew.";
}

/** The same text for the same content, whatever the order of its fields. @param {unknown} value @returns {string} */
function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join()}]`;
  if (!record(value)) return JSON.stringify(value);
  const names = Object.keys(value).filter((name) => value[name] !== undefined);
  return `{${names
    .sort()
    .map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`)
    .join()}}`;
}

const isPicture = group({ sha256: text, jpeg: text });

/** The photos that new entries show and this phone lacks. @param {unknown} given @param {FoundUnit[]} units */
async function pictures(given, units) {
  const wanted = new Set(
    units.flatMap((unit) => unit.fresh).flatMap((entry) => (entry.kind === "photo" ? [entry.body.sha256] : [])),
  );
  const photos = [];
  for (const { sha256, jpeg } of Array.isArray(given) ? given.filter(isPicture) : []) {
    if (!wanted.has(sha256) || (await (await database()).get("photos", sha256))) continue;
    try {
      const bytes = Uint8Array.from(atob(jpeg), (letter) => letter.charCodeAt(0));
      const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
      if (Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("") === sha256)
        photos.push({ sha256, blob: new Blob([bytes], { type: "image/jpeg" }) });
    } catch {
      // What is no picture any more is left out; its entry says what it showed.
    }
  }
  return photos;
}

/** Why this phone may not take in what was found; empty where it may. @param {Found} found */
export async function barred(found) {
  const paired = await fact("paired");
  const { kinds } = await engine();
  const all = new Set(found.units.flatMap((unit) => unit.fresh).map((own) => kinds[own.kind]));
  const kept = [...all].filter((kind) => !mayWrite(kind, paired?.role));
  return paired && kept.length
    ? `This ${DEVICE} is paired for ${paired.role}, and new ${inWords(kept)} come from the bench alone: ` +
        "send the file to the bench, and " +
        `import it there.`
    : "";
}

/** Take in what was found: into this phone's book and its outbox, all or nothing. @param {Found} found */
export async function takeIn(found) {
  const db = await database();
  // The pictures first: an entry without one would promise what the phone does not have.
  try {
    for (const { sha256, blob } of found.photos) await keepPicture(sha256, blob);
    await adopt(found.units.flatMap((unit) => unit.fresh));
  } catch (error) {
    for (const { sha256 } of found.photos) await db.delete("photos", sha256);
    throw error;
  }
  deliver();
}
