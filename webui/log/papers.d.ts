// The paper that this device prints on.

/** A size of paper, as the server knows it. */
export type Paper = "a4" | "letter";

type Measure =
  | "across"
  | "down"
  | "width_mm"
  | "height_mm"
  | "gap_across_mm"
  | "gap_down_mm"
  | "left_mm"
  | "top_mm";

/** A sheet of labels: a known one, or the measures of another as they were typed. */
export interface LabelSheet {
  sheet: string;
  page: Paper;
  outline: "no" | "yes";
  custom: Record<Measure, string>;
}
