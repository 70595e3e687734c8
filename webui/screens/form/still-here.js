// @ts-check
// Whether somebody still is where something was begun: whoever went on meanwhile is left where they went.

/** Remembers the screen of now. @returns {() => boolean} whether it is still the one that is wanted */
export function stillHere() {
  const here = location.hash;
  return () => location.hash === here;
}
