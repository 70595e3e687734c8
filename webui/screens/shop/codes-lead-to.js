// @ts-check
// Where a code that is printed here leads: to the address by which phones find the workshop's PC.

import { fact } from "../../log/store.js";

const HERE_ALONE = /^(localhost|127\.|\[::1\])/;

/**
 * The workshop as phones find it. At its own PC it is open at an address that means another machine to every phone.
 * @returns {Promise<{origin: string, onlyHere: boolean}>} `onlyHere`: no phone can follow it
 */
export async function codesLeadTo() {
  if (!HERE_ALONE.test(location.hostname)) return { origin: location.origin, onlyHere: false };
  const address = await fact("address", "");
  return address ? { origin: new URL(address).origin, onlyHere: false } : { origin: location.origin, onlyHere: true };
}
