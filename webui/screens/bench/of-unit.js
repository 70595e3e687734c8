// @ts-check
// How a screen of bench work about one unit opens.

/**
 * Open a screen and draw it; a unit that is not on this phone has a page that says so.
 * @template State
 * @param {HTMLElement} place
 * @param {string[]} params of the address, the unit's id first
 * @param {(place: HTMLElement, params: string[]) => Promise<State | undefined>} opened
 * @param {(state: State) => void} draw
 */
export async function openOfUnit(place, params, opened, draw) {
  const state = await opened(place, params);
  if (!state) {
    location.hash = `#/unit/${params[0]}`;
    return undefined;
  }
  place.classList.add("wide");
  draw(state);
  return state;
}
