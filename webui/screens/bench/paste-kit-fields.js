// @ts-check
// What a pasted table may say of tools, and how its heads and cells call it.

import { LABELS } from "../../log/labels.js";
import { choiceOf } from "../../tables/pasted.js";
import { fieldOf, GAUGES, isGauge, KINDS, SIGNS } from "../form/tool-typed.js";

/** @typedef {import("../form/tool-typed.js").ToolKind} ToolKind */
/** @typedef {import("../form/tool-typed.js").Figure} Figure */
/** @typedef {import("./paste-form.js").Field} Field */

/** What a tool is called in a list, with what it is and, of a wrench or scale, how it works. */
const WHAT = {
  "wrench beam": ["beam", "beam wrench", "bending beam"],
  "wrench dial": ["dial wrench", "dial torque wrench"],
  "wrench electronic": ["electronic", "digital wrench", "digital torque wrench"],
  "wrench click": ["click", "clicker", "setting wrench"],
  "scale pull_scale": ["pull scale", "spring balance", "spring scale", "hanging scale", "luggage scale"],
  "scale weight": ["weight", "weights"],
  micrometer: ["micrometer", "micrometers", "mic"],
  dial_gauge: ["dial gauge", "dial gage", "dial indicator", "test indicator", "clock gauge"],
  feeler: ["feeler", "feelers", "leaf gauge"],
  bore_gauge: ["bore", "bore gauge"],
  depth_gauge: ["depth", "depth gauge"],
};

/** @type {Record<string, string>} */
export const WORDS = Object.fromEntries(Object.keys(WHAT).map((what) => [what, wordsOf(what)]));

/** @param {string} what */
export function wordsOf(what) {
  const [tool, kind] = what.split(" ");
  if (tool in GAUGES) return GAUGES[tool].words;
  const words = KINDS[tool].find(([name]) => name === kind)?.[1] ?? "";
  return tool === "wrench" ? `${words} wrench` : words;
}

const LABEL = /** @type {Record<string, string>} */ (LABELS.kit);
export const PERCENT_TOO = { ...SIGNS, "%": "percent", percent: "percent" };

/** Like no cell: of several figures only a head says which is which. */
const BY_HEAD = "^$";

/** @type {(Omit<Field, "units"> & {name: string})[]} */
export const FIELDS = [
  {
    name: "name",
    label: LABEL["wrench.name"],
    needed: true,
    heads: ["name", "tool", "instrument", "description", "designation", "equipment", "label", "item", "id"],
  },
  {
    name: "tool",
    label: "What it is",
    needed: true,
    heads: ["what it is", "kind", "type", "tool type", "instrument type", "kind of tool", "category", "sort"],
    options: WHAT,
    words: WORDS,
  },
  {
    // Some lists have two columns for what a tool is: torque wrench, and beam.
    name: "how",
    label: "How it works",
    source: true,
    heads: ["how it works", "kind", "type", "mechanism"],
    like: "^(beam|dial|electronic|digital|click|setting)$",
  },
  {
    name: "due",
    label: LABEL["wrench.calibration_due"],
    day: true,
    heads: [
      "calibrated until",
      "calibration due",
      "cal due",
      "due",
      "due date",
      "next calibration",
      "valid until",
      "expires",
      "expiry",
    ],
  },
  {
    name: "range",
    label: "Scale, from – to",
    source: true,
    heads: ["range", "measuring range", "scale", "capacity"],
    like: "^\\d[\\d.,]*\\D*(-|–|—|…|\\.\\.|to)\\s*\\d[\\d.,]*\\D*$",
    signs: SIGNS,
  },
  {
    name: "low",
    label: LABEL["wrench.low_nm"],
    figure: true,
    like: BY_HEAD,
    heads: ["scale starts at", "starts", "min", "minimum", "lowest", "range from", "range min"],
    signs: SIGNS,
  },
  {
    name: "high",
    label: LABEL["wrench.high_nm"],
    figure: true,
    like: BY_HEAD,
    heads: ["scale ends at", "ends", "max", "maximum", "highest", "range to", "range max", "full scale"],
    signs: SIGNS,
  },
  {
    name: "division",
    label: LABEL["wrench.division_nm"],
    figure: true,
    heads: ["division", "one division", "scale division", "resolution", "graduation", "readability", "step"],
    signs: SIGNS,
  },
  {
    name: "deviation",
    label: "Permitted deviation or error",
    figure: true,
    like: BY_HEAD,
    heads: [
      "permitted deviation",
      "permitted error",
      "largest permitted error",
      "deviation",
      "error",
      "max error",
      "mpe",
      "accuracy",
      "tolerance",
      "±",
    ],
    signs: PERCENT_TOO,
  },
  {
    name: "certificate",
    label: "From its certificate, U",
    figure: true,
    like: BY_HEAD,
    heads: ["from its certificate", "expanded uncertainty", "uncertainty", "u"],
    signs: PERCENT_TOO,
  },
  {
    name: "zero",
    label: "Off zero at its last check",
    figure: true,
    like: BY_HEAD,
    heads: ["off zero", "off zero at its last check", "zero", "zero error"],
    signs: SIGNS,
  },
];

/** What kind of tool a cell says. @param {string} [what] */
export function toolOf(what = "") {
  // How a wrench works has to be said too, and is asked for as that.
  const [tool, kind = ""] = Object.hasOwn(WHAT, what) ? what.split(" ") : /wrench/i.test(what) ? ["wrench", what] : [];
  return tool ? { tool: /** @type {ToolKind} */ (tool), kind } : undefined;
}

/**
 * What a tool is by two cells, where the first alone does not say it.
 * @param {string} what @param {string} how
 */
export function joined(what, how) {
  const both = [`${how} ${what}`, `${what} ${how}`].map((words) => choiceOf(words, WHAT));
  return both.find((known) => Object.hasOwn(WHAT, known)) ?? what;
}

/** What kind of tool a cell would say. @param {{tool: ToolKind, kind: string}} typed */
export const whatOf = ({ tool, kind }) => (isGauge(tool) ? tool : `${tool} ${kind}`);

/** A request without a field that may be left out. @param {object} request @param {string} field */
export function without(request, field) {
  const { tool, ...rest } = /** @type {Record<string, unknown> & {tool: ToolKind}} */ (request);
  const name = field === "due" ? "calibration_due" : fieldOf(tool, /** @type {Figure} */ (field));
  const group = /** @type {Record<string, unknown>} */ (rest[tool] ?? {});
  const isNeeded =
    field === "name" || field === "tool" || (!isGauge(tool) && (field === "high" || field === "division"));
  if (isNeeded || !name || !(name in group)) return undefined;
  const { [name]: _, ...others } = group;
  return { tool, ...rest, [tool]: others };
}
