// @ts-check
// Made by `npm run types` from server/office/cell_words.py: change that, and run it again.

/**
 * Signs of units as people write them into spreadsheets, without blanks, points and case, by the SI unit.
 * @type {Record<"nm" | "mm" | "n", Record<string, string>>}
 */
export const UNIT_SIGNS = {
  nm: {
    nm: "nm",
    "n*m": "nm",
    n·m: "nm",
    newtonmetre: "nm",
    newtonmetres: "nm",
    newtonmeter: "nm",
    lbft: "lbf_ft",
    "lb-ft": "lbf_ft",
    lbf·ft: "lbf_ft",
    lbfft: "lbf_ft",
    lbsft: "lbf_ft",
    ftlb: "lbf_ft",
    "ft-lb": "lbf_ft",
    ftlbs: "lbf_ft",
    "ft-lbs": "lbf_ft",
    ftlbf: "lbf_ft",
    lbin: "lbf_in",
    "lb-in": "lbf_in",
    lbfin: "lbf_in",
    lbf·in: "lbf_in",
    inlb: "lbf_in",
    "in-lb": "lbf_in",
    inlbs: "lbf_in",
    kgm: "kgf_m",
    kgfm: "kgf_m",
    kgf·m: "kgf_m",
    mkg: "kgf_m",
  },
  mm: {
    mm: "mm",
    in: "inch",
    inch: "inch",
    inches: "inch",
    '"': "inch",
    thou: "thou",
    mil: "thou",
    mils: "thou",
  },
  n: {
    n: "n",
    newton: "n",
    newtons: "n",
    kgf: "kgf",
    kg: "kgf",
    kp: "kgf",
    lbf: "lbf",
    lb: "lbf",
    lbs: "lbf",
  },
};
