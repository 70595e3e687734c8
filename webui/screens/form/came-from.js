// @ts-check
// Where saving leads: back to the page of a strip, where a part was measured on the way from there; else to the unit.

let stripped = "";

/** Somebody goes from the page of a unit's strip to measure a part. @param {string} unit its id */
export function goesToMeasure(unit) {
  stripped = unit;
}

/** Where to go once a measurement is saved. @param {string} unit its id */
export function afterMeasuring(unit) {
  const isStrip = stripped === unit;
  stripped = "";
  return isStrip ? `#/unit/${unit}/found` : `#/unit/${unit}`;
}
