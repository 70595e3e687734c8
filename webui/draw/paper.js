// @ts-check
// Brings what is printed onto one page: it is laid out as on paper, and what is too tall for it is drawn smaller.

const TIMES = 3;

/** @param {HTMLElement} article whose style has the size of its paper */
function fit(article) {
  article.classList.add("on-paper");
  // Drawn smaller, its lines hold more: what was worked out once is a little too small.
  for (let turn = 0; turn < TIMES; turn++) {
    const { height } = article.getBoundingClientRect();
    const most = Number.parseFloat(getComputedStyle(article).getPropertyValue("--most-px"));
    const shrunk = Number(article.style.zoom || 1) * Math.min(1, most / height);
    article.style.zoom = String(shrunk);
    article.style.setProperty("--shrunk", String(shrunk));
  }
}

/** @param {HTMLElement} article */
function release(article) {
  article.classList.remove("on-paper");
  article.style.removeProperty("zoom");
  article.style.removeProperty("--shrunk");
}

/**
 * @param {() => HTMLElement | null} printed what is on the paper
 * @returns {() => void} to be called when it is no longer there
 */
export function keepOnPaper(printed) {
  const with_ = (/** @type {(article: HTMLElement) => void} */ act) => () => {
    const article = printed();
    if (article) act(article);
  };
  const [before, after] = [with_(fit), with_(release)];
  addEventListener("beforeprint", before);
  addEventListener("afterprint", after);
  return () => {
    removeEventListener("beforeprint", before);
    removeEventListener("afterprint", after);
  };
}
