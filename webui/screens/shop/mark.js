// @ts-check
// The workshop's mark, as a page shows it.

/** A picture in base64, as an address that a page can show. @param {string} mark */
export const pictureOf = (mark) => `data:image/${mark.startsWith("/9j/") ? "jpeg" : "png"};base64,${mark}`;
