// @ts-check
// Hands a file to other apps by the phone's own sheet, or to the browser's downloads.

// A browser has read the file long before.
const FILE_KEPT_MS = 60000;

/** The first of these forms of a file that the phone's sheet takes. @param {File[]} forms */
const shareable = (forms) => forms.find((file) => navigator.canShare?.({ files: [file] }));

/** A file of a kind. @param {string} name @param {string} type */
const ofKind = (name, type) => new File([""], name, { type });

/** Whether the phone's sheet takes a file of one of these kinds. @param {[string, string][]} kinds name and type */
export const canShare = (kinds) => Boolean(shareable(kinds.map(([name, type]) => ofKind(name, type))));

/** Hand a file to the browser, which keeps it among its downloads. @param {File} file */
export function download(file) {
  const url = URL.createObjectURL(file);
  Object.assign(document.createElement("a"), { href: url, download: file.name }).click();
  setTimeout(() => URL.revokeObjectURL(url), FILE_KEPT_MS);
}

/**
 * Share something as a file, in the first of some forms that the phone takes.
 * @param {string} title
 * @param {string | Blob} content
 * @param {[string, string][]} kinds name and type of each form
 * @returns {Promise<"shared" | "downloaded" | "">} what came of it; nothing where somebody closed the sheet
 */
export async function share(title, content, kinds) {
  const forms = kinds.map(([name, type]) => new File([content], name, { type }));
  const file = shareable(forms);
  if (file) {
    try {
      await navigator.share({ title, files: [file] });
      return "shared";
    } catch (failure) {
      if (failure instanceof DOMException && failure.name === "AbortError") return "";
    }
  }
  download(forms[0]);
  return "downloaded";
}
