// @ts-check
// What is typed of setting a crown wheel: contact pattern, shims, gears, what was tried before.

import { quantity, typedOf } from "../form/fields.js";
import { filled } from "../form/readings.js";

/** @typedef {import("../../engine/calculations.js").BodyOf<"refit">} Body */
/** @typedef {import("../../engine/calculations.js").AsTyped<Body>} Request */
/** @typedef {"" | NonNullable<Body["contact"]>["drive"]} Contact */

/** The shims of one try, as typed. @typedef {{behind: string, tooth: string, pinion: string}} Packs */
/** @typedef {Packs & {thicker: "deeper" | "shallower", step: string}} Shims */
/** @typedef {Packs & {points: string[], torque: string, contact: Contact}} Try */
/**
 * @typedef {{pressure: string, other: string, spiral: string, cone: string, crown: string, pinion: string,
 *   mean: string, gauge: string, along: "tooth" | "round"}} Gears
 */
/** @typedef {{contact: Contact, shims: Shims, gears: Gears, tries: Try[]}} SettingDraft */
/** @typedef {SettingDraft & {torqueUnit: string, lengthUnit: string}} WithUnits */

/** @returns {Packs} */
const noPacks = () => ({ behind: "", tooth: "", pinion: "" });

/** @returns {Try} */
export const emptyTry = () => ({ ...noPacks(), points: [""], torque: "", contact: "" });

/** @returns {SettingDraft} */
export function emptySetting() {
  return {
    contact: "",
    shims: { ...noPacks(), thicker: "deeper", step: "" },
    gears: {
      pressure: "",
      other: "",
      spiral: "",
      cone: "",
      crown: "",
      pinion: "",
      mean: "",
      gauge: "",
      along: "tooth",
    },
    tries: [],
  };
}

/** The shims of one try in an entry, as typed. @param {Partial<NonNullable<Body["shims"]>>} read @returns {Packs} */
const packsIn = ({ behind_mm, tooth_mm, pinion_mm }) => ({
  behind: typedOf(behind_mm),
  tooth: typedOf(tooth_mm),
  pinion: typedOf(pinion_mm),
});

/**
 * A draft from an entry, also from one that was written before there was anything of this.
 * @param {Body} body its request
 * @param {boolean} whole with what was found and tried; else only shims and gears, for the next time
 * @returns {SettingDraft}
 */
export function settingDraft({ contact, shims, gears, tries }, whole) {
  const empty = emptySetting();
  return {
    contact: whole && contact ? contact.drive : "",
    shims: shims
      ? { ...packsIn(shims), thicker: shims.thicker || empty.shims.thicker, step: typedOf(shims.step_mm) }
      : empty.shims,
    gears: gears
      ? {
          pressure: typedOf(gears.pressure_deg),
          other: typedOf(gears.other_pressure_deg),
          spiral: typedOf(gears.spiral_deg),
          cone: typedOf(gears.cone_deg),
          crown: typedOf(gears.crown_teeth),
          pinion: typedOf(gears.pinion_teeth),
          mean: typedOf(gears.mean_radius_mm),
          gauge: typedOf(gears.gauge_radius_mm),
          along: gears.along || empty.gears.along,
        }
      : empty.gears,
    tries: whole
      ? (tries ?? []).map((tried) => ({
          ...packsIn(tried),
          points: tried.points_mm?.map(typedOf) ?? [""],
          torque: typedOf(tried.torque_nm),
          contact: tried.contact ?? "",
        }))
      : [],
  };
}

/** Everything that is typed in one kind of unit. @param {SettingDraft} draft @param {"mm" | "nm"} si */
export function figuresOfSetting({ shims, gears, tries }, si) {
  if (si === "nm") return tries.map(({ torque }) => torque);
  const packs = [shims, ...tries].flatMap(({ behind, tooth, pinion }) => [behind, tooth, pinion]);
  return [...packs, shims.step, gears.mean, gears.gauge, ...tries.flatMap(({ points }) => points)];
}

/** Whether any of these is typed. @param {(string | undefined)[]} figures */
const some = (...figures) => figures.some((typed) => typed?.trim());

/** The tries of which something is typed, which are those that are sent. @param {Try[]} tries */
export const typedTries = (tries) =>
  tries.filter(({ behind, tooth, pinion, points, torque, contact }) =>
    some(behind, tooth, pinion, ...points, torque, contact),
  );

/** What is sent of it. @param {WithUnits} draft @returns {Partial<Request>} */
export function settingRequest({ contact, shims, gears, tries, torqueUnit, lengthUnit }) {
  const mm = (/** @type {string} */ typed) => quantity(typed, lengthUnit);
  const plain = (/** @type {string} */ typed) => typed.trim() || undefined;
  const packs = (/** @type {Packs} */ { behind, tooth, pinion }) => ({
    behind_mm: mm(behind),
    tooth_mm: mm(tooth),
    pinion_mm: mm(pinion),
  });
  const { along, ...figures } = gears;
  /** @type {Partial<Request>} */
  const request = {};
  if (contact) request.contact = { drive: contact };
  if (some(shims.behind, shims.tooth, shims.pinion, shims.step) || shims.thicker !== "deeper")
    request.shims = { ...packs(shims), thicker: shims.thicker, step_mm: mm(shims.step) };
  if (some(...Object.values(figures)))
    request.gears = {
      pressure_deg: plain(gears.pressure),
      other_pressure_deg: plain(gears.other),
      spiral_deg: plain(gears.spiral),
      cone_deg: plain(gears.cone),
      crown_teeth: plain(gears.crown),
      pinion_teeth: plain(gears.pinion),
      mean_radius_mm: mm(gears.mean),
      gauge_radius_mm: mm(gears.gauge),
      along,
    };
  const typed = typedTries(tries);
  if (typed.length)
    request.tries = typed.map((tried) => ({
      ...packs(tried),
      points_mm: filled(tried.points).length ? filled(tried.points).map(mm) : undefined,
      torque_nm: quantity(tried.torque, torqueUnit),
      contact: tried.contact || undefined,
    }));
  return request;
}
