// Made by `npm run types` from the forms of server/engine: change those, and run it again.
// What each calculation is asked, what it answers, and what an entry of each kind keeps of both.

/** A number as a request takes it: in SI, as a number or as it was typed, or as it was typed in another unit. */
export type Typed = number | string | { typed: string | number | null; unit?: string };

/** Something that is being typed: any of it may be missing, and a choice may be any text. The engine says what is. */
export type AsTyped<T> = T extends string
  ? string
  : T extends object[]
    ? AsTyped<T[number]>[]
    : T extends object
      ? { [Name in keyof T]?: AsTyped<T[Name]> | null }
      : T;

/** A disc spring, or a column of equal ones at one place. */
export interface DiscSpring {
  /** Outside diameter; 5 mm to 400 mm. */
  de_mm: Typed;
  /** Inside diameter; 2 mm to 390 mm. */
  di_mm: Typed;
  /** Thickness of the disc; 0.1 mm to 20 mm. */
  t_mm: Typed;
  /** Free height of one disc; 0.15 mm to 40 mm. */
  l0_mm: Typed;
  /** Reduced thickness of a disc with contact flats; 0.1 mm to 20 mm. */
  flats_t_mm?: Typed | null;
  /** Discs nested the same way, which add their loads; 1 to 8. */
  parallel?: Typed | null;
  /** Nests turned against each other, which share the travel; 1 to 8. */
  series?: Typed | null;
  /** Friction between nested discs, w_M of DIN EN 16984; left out if empty; 0 to 0.05. */
  surface_friction?: Typed | null;
  /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty; 0 to 0.05. */
  edge_friction?: Typed | null;
  /** Modulus of elasticity; 10000 N/mm² to 400000 N/mm². */
  elastic_nmm2?: Typed | null;
  /** Poisson's ratio; 0 to 0.49. */
  poisson?: Typed | null;
}

/** A plate as it is fitted now. */
export interface FittedPlate {
  /** Place in the stack. */
  slot: string;
  /** Mean thickness as measured; 0.02 mm to 80 mm. */
  mm?: Typed | null;
  /** Its lowest point, which its limit judges; 0.01 mm to 80 mm. */
  lowest_mm?: Typed | null;
  /** Its thickness when new or as fitted; 0.05 mm to 80 mm. */
  new_mm?: Typed | null;
  /** Its limit, where it is not the definition's; 0.02 mm to 80 mm. */
  minimum_mm?: Typed | null;
  /** How far off its thickness may be; 0 mm to 1 mm. */
  within_mm?: Typed | null;
  /** Whether this plate has to stay. */
  keep?: boolean | null;
  /** Whether this plate has to go. */
  replace?: boolean | null;
}

/** The micrometer. */
export interface Micrometer {
  /** What the gauge is called. */
  name?: string | null;
  /** One division of its scale; 0.0001 mm to 0.1 mm. */
  division_mm?: Typed | null;
  /** Largest permitted error; 0 mm to 1 mm. */
  deviation_mm?: Typed | null;
  /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
  certificate_mm?: Typed | null;
  /** Last day on which its calibration holds. */
  calibration_due?: string | null;
  /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
  zero_mm?: Typed | null;
}

/** The unit's definition as far as it is typed. */
export interface NamelessUnit {
  /** Name of the unit. */
  name?: string | null;
  /** Whose it is. */
  owner?: string | null;
  /** Anything worth knowing about it. */
  note?: string | null;
  /** The car that it is fitted to, by the entry that brought that in. */
  car_id?: string | null;
  /** Where in the car it sits. */
  sits?: "centre" | "front" | "rear" | "" | null;
  /** The customer whose it is, by the entry that brought that in; owner then says the name. */
  customer_id?: string | null;
  /** Plates that fit it: rubbing ring, lugs or splines, material. */
  plate_family?: string | null;
  /** The pattern that it is built to. */
  pattern?: {
    /** The pattern's own id: that of its first entry. */
    id: string;
    /** What it was called when this was written. */
    name: string;
    /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
    seen?: string | null;
  } | null;
  /** What the customer ordered. */
  order?: {
    /** Breakaway torque ordered; 1 N·m to 2000 N·m. */
    torque_nm: Typed;
    /** How far off it may be, either way; 0.1 N·m to 500 N·m. */
    tolerance_nm: Typed;
  } | null;
  /** Reading that order and limits are for. */
  judged_on?: "first_move" | "steady" | "" | null;
  /** Way of holding that order and limits are stated for. */
  stated_for?: "case_held" | "one_output_held" | "" | null;
  /** Limits between rebuilds. */
  service?: {
    /** Lowest torque at which it may run again; 0 N·m to 2000 N·m. */
    low_nm?: Typed | null;
    /** Highest torque at which it may run again; 0 N·m to 4000 N·m. */
    high_nm?: Typed | null;
    /** Days after which its plates are measured again; 365 if empty; 7 to 3650. */
    plates_every_days?: Typed | null;
    /** Outings after which its plates are measured again; 1 to 500. */
    plates_every_outings?: Typed | null;
    /** Hours of running after which its plates are measured again; 0.5 to 1000. */
    plates_every_hours?: Typed | null;
    /** Outings after which its torque is checked again; 1 to 500. */
    check_every_outings?: Typed | null;
    /** Hours of running after which its torque is checked again; 0.5 to 1000. */
    check_every_hours?: Typed | null;
    /** Days after which its torque is checked again; 1 to 3650. */
    check_every_days?: Typed | null;
    /** Outings after which its oil is changed; 1 to 500. */
    oil_every_outings?: Typed | null;
    /** Hours of running after which its oil is changed; 0.5 to 1000. */
    oil_every_hours?: Typed | null;
    /** Days after which its oil is changed; 1 to 3650. */
    oil_every_days?: Typed | null;
  } | null;
  /** Turns of the output for one turn of the wheel; 0.2 to 10. */
  hub_ratio?: Typed | null;
  /** Where the spring sits; as the stack has it if empty. */
  layout?: "between_rings" | "in_line" | "two_springs" | "" | null;
  /** A disc spring, or a column of equal ones at one place. */
  spring?: DiscSpring | null;
  /** Depth from the cover's face to the floor; 5 mm to 500 mm. */
  cavity_mm?: Typed | null;
  /** The stack from cover to floor. */
  chain?: {
    /** Place in the stack. */
    slot: string;
    /** What sits there. */
    part: "friction" | "ring" | "separator" | "shim" | "spring";
    /** Thickness when new or as fitted; 0.05 mm to 80 mm. */
    new_mm?: Typed | null;
    /** Thickness at which it has to be replaced; 0.02 mm to 80 mm. */
    minimum_mm?: Typed | null;
    /** Side that the point of a disc spring's cone faces. */
    cone_to?: "cover" | "floor" | "" | null;
  }[] | null;
  /** The rubbing ring of the plates. */
  friction?: {
    /** Inside diameter of the rubbing ring; 10 mm to 390 mm. */
    inner_mm: Typed;
    /** Outside diameter of the rubbing ring; 15 mm to 400 mm. */
    outer_mm: Typed;
    /** Coefficient of friction, plates in oil; 0.02 to 0.5. */
    mu?: Typed | null;
    /** Whether the plates are run in. */
    run_in?: boolean | null;
  } | null;
  /** The ramp rings, and what else presses the packs. */
  ramps?: {
    /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
    pin_radius_mm: Typed;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Coefficient of friction of pin on ramp; 0 to 0.4. */
    mu?: Typed | null;
    /** The ramp rings' ears. */
    ears?: {
      /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
      radius_mm: Typed;
      /** Coefficient of friction of ear in slot; 0 to 0.4. */
      mu?: Typed | null;
    } | null;
    /** The bevel gears. */
    gears?: {
      /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
      on_packs: boolean;
      /** Pressure angle of the teeth; 10 ° to 35 °. */
      pressure_deg: Typed;
      /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
      pitch_radius_mm: Typed;
      /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
      cone_deg?: Typed | null;
      /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
      side_teeth?: Typed | null;
      /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
      pinion_teeth?: Typed | null;
    } | null;
  } | null;
  /** Other pairs of ramps that it can run with, on the same rings or on others. */
  other_ramps?: {
    /** What this pair is called. */
    name: string;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Radius at which the cross pins bear on them; as on the ramps in use if empty; 5 mm to 200 mm. */
    pin_radius_mm?: Typed | null;
  }[] | null;
  /** The cover and its screws. */
  cover?: {
    /** How many screws hold the cover; 2 to 24. */
    screws: Typed;
    /** Thread diameter; 3 mm to 20 mm. */
    screw_mm: Typed;
    /** Torque of a screw; 1 N·m to 300 N·m. */
    torque_nm: Typed;
    /** Gap under the cover when the screws first catch; assumed if empty; 0 mm to 20 mm. */
    start_mm?: Typed | null;
    /** Greatest torque into the case, which the ramps turn into push; 1 N·m to 50000 N·m. */
    case_nm?: Typed | null;
  } | null;
  /** Limits common to all plates. */
  limits?: {
    /** Largest difference round a plate; 0.001 mm to 5 mm. */
    taper_mm?: Typed | null;
    /** Largest gap under a plate; 0.001 mm to 5 mm. */
    flatness_mm?: Typed | null;
  } | null;
  /** A case that expands otherwise than what is in it. */
  warming?: {
    /** How much warmer the unit runs than it was built; 1 K to 200 K. */
    warmer_k: Typed;
    /** Expansion of the case, millionths of its length for each kelvin; 1 to 40. */
    case_ppm?: Typed | null;
    /** Expansion of plates, rings and spring, the same way; 1 to 40. */
    stack_ppm?: Typed | null;
  } | null;
  /** What is inspected on other parts. */
  features?: {
    /** What the feature is called. */
    name: string;
    /** Part that it is on. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "journals"
      | "other"
      | "rings"
      | "screws"
      | "splines"
      | "thrust_washers";
    /** What is measured. */
    measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
    /** Kind of gauge; the usual one for what is measured if empty. */
    gauge?: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "" | null;
    /** In how many places it is measured; 1 to 24. */
    places?: Typed | null;
    /** Figure when new; 0 mm to 500 mm. */
    new_mm?: Typed | null;
    /** Lowest allowed; 0 mm to 500 mm. */
    low_mm?: Typed | null;
    /** Highest allowed; 0 mm to 500 mm. */
    high_mm?: Typed | null;
    /** Largest change against new, either way; 0.001 mm to 50 mm. */
    change_mm?: Typed | null;
    /** How often it may be used in all; 1 to 1000. */
    most_uses?: Typed | null;
    /** What uses it once more, as the log tells; only what inspections say if empty. */
    counted?: "closing" | "refit" | "" | null;
    /** Whether its limits are only common practice. */
    usual_limits?: boolean | null;
    /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
    outside?: "replace" | "rework" | "" | null;
  }[] | null;
  /** Marked parts that were in it when it was added; rebuilds say what changed since. */
  marked_parts?: {
    /** What the part is. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "friction"
      | "journals"
      | "other"
      | "ring"
      | "screws"
      | "separator"
      | "splines"
      | "spring"
      | "thrust_washers";
    /** Its place in the stack, or which of several; may stay empty where the unit has one. */
    place?: string | null;
    /** Number or mark on it. */
    mark: string;
  }[] | null;
  /** Which of these figures were worked out, not measured. */
  worked_out?: {
    /** The depth, where it was worked out. */
    cavity_mm?: {
      /** What it was worked out from. */
      from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The free height of a disc, where it was worked out. */
    l0_mm?: {
      /** What it was worked out from. */
      from: "height_from_load";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The friction of the plates, where it was worked out. */
    mu?: {
      /** What it was worked out from. */
      from: "friction_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.02 to 0.5. */
      value: Typed;
      /** Its standard uncertainty; 0 to 0.5. */
      u: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
  } | null;
}

/** A unit without its name. */
export interface NewUnit {
  /** Anything worth knowing about it. */
  note?: string | null;
  /** Where in the car it sits. */
  sits?: "centre" | "front" | "rear" | "" | null;
  /** Plates that fit it: rubbing ring, lugs or splines, material. */
  plate_family?: string | null;
  /** What the customer ordered. */
  order?: {
    /** Breakaway torque ordered; 1 N·m to 2000 N·m. */
    torque_nm: Typed;
    /** How far off it may be, either way; 0.1 N·m to 500 N·m. */
    tolerance_nm: Typed;
  } | null;
  /** Reading that order and limits are for. */
  judged_on?: "first_move" | "steady" | "" | null;
  /** Way of holding that order and limits are stated for. */
  stated_for?: "case_held" | "one_output_held" | "" | null;
  /** Limits between rebuilds. */
  service?: {
    /** Lowest torque at which it may run again; 0 N·m to 2000 N·m. */
    low_nm?: Typed | null;
    /** Highest torque at which it may run again; 0 N·m to 4000 N·m. */
    high_nm?: Typed | null;
    /** Days after which its plates are measured again; 365 if empty; 7 to 3650. */
    plates_every_days?: Typed | null;
    /** Outings after which its plates are measured again; 1 to 500. */
    plates_every_outings?: Typed | null;
    /** Hours of running after which its plates are measured again; 0.5 to 1000. */
    plates_every_hours?: Typed | null;
    /** Outings after which its torque is checked again; 1 to 500. */
    check_every_outings?: Typed | null;
    /** Hours of running after which its torque is checked again; 0.5 to 1000. */
    check_every_hours?: Typed | null;
    /** Days after which its torque is checked again; 1 to 3650. */
    check_every_days?: Typed | null;
    /** Outings after which its oil is changed; 1 to 500. */
    oil_every_outings?: Typed | null;
    /** Hours of running after which its oil is changed; 0.5 to 1000. */
    oil_every_hours?: Typed | null;
    /** Days after which its oil is changed; 1 to 3650. */
    oil_every_days?: Typed | null;
  } | null;
  /** Turns of the output for one turn of the wheel; 0.2 to 10. */
  hub_ratio?: Typed | null;
  /** Where the spring sits; as the stack has it if empty. */
  layout?: "between_rings" | "in_line" | "two_springs" | "" | null;
  /** A disc spring, or a column of equal ones at one place. */
  spring?: DiscSpring | null;
  /** Depth from the cover's face to the floor; 5 mm to 500 mm. */
  cavity_mm?: Typed | null;
  /** The stack from cover to floor. */
  chain?: {
    /** Place in the stack. */
    slot: string;
    /** What sits there. */
    part: "friction" | "ring" | "separator" | "shim" | "spring";
    /** Thickness when new or as fitted; 0.05 mm to 80 mm. */
    new_mm?: Typed | null;
    /** Thickness at which it has to be replaced; 0.02 mm to 80 mm. */
    minimum_mm?: Typed | null;
    /** Side that the point of a disc spring's cone faces. */
    cone_to?: "cover" | "floor" | "" | null;
  }[] | null;
  /** The rubbing ring of the plates. */
  friction?: {
    /** Inside diameter of the rubbing ring; 10 mm to 390 mm. */
    inner_mm: Typed;
    /** Outside diameter of the rubbing ring; 15 mm to 400 mm. */
    outer_mm: Typed;
    /** Coefficient of friction, plates in oil; 0.02 to 0.5. */
    mu?: Typed | null;
    /** Whether the plates are run in. */
    run_in?: boolean | null;
  } | null;
  /** The ramp rings, and what else presses the packs. */
  ramps?: {
    /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
    pin_radius_mm: Typed;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Coefficient of friction of pin on ramp; 0 to 0.4. */
    mu?: Typed | null;
    /** The ramp rings' ears. */
    ears?: {
      /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
      radius_mm: Typed;
      /** Coefficient of friction of ear in slot; 0 to 0.4. */
      mu?: Typed | null;
    } | null;
    /** The bevel gears. */
    gears?: {
      /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
      on_packs: boolean;
      /** Pressure angle of the teeth; 10 ° to 35 °. */
      pressure_deg: Typed;
      /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
      pitch_radius_mm: Typed;
      /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
      cone_deg?: Typed | null;
      /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
      side_teeth?: Typed | null;
      /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
      pinion_teeth?: Typed | null;
    } | null;
  } | null;
  /** Other pairs of ramps that it can run with, on the same rings or on others. */
  other_ramps?: {
    /** What this pair is called. */
    name: string;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Radius at which the cross pins bear on them; as on the ramps in use if empty; 5 mm to 200 mm. */
    pin_radius_mm?: Typed | null;
  }[] | null;
  /** The cover and its screws. */
  cover?: {
    /** How many screws hold the cover; 2 to 24. */
    screws: Typed;
    /** Thread diameter; 3 mm to 20 mm. */
    screw_mm: Typed;
    /** Torque of a screw; 1 N·m to 300 N·m. */
    torque_nm: Typed;
    /** Gap under the cover when the screws first catch; assumed if empty; 0 mm to 20 mm. */
    start_mm?: Typed | null;
    /** Greatest torque into the case, which the ramps turn into push; 1 N·m to 50000 N·m. */
    case_nm?: Typed | null;
  } | null;
  /** Limits common to all plates. */
  limits?: {
    /** Largest difference round a plate; 0.001 mm to 5 mm. */
    taper_mm?: Typed | null;
    /** Largest gap under a plate; 0.001 mm to 5 mm. */
    flatness_mm?: Typed | null;
  } | null;
  /** A case that expands otherwise than what is in it. */
  warming?: {
    /** How much warmer the unit runs than it was built; 1 K to 200 K. */
    warmer_k: Typed;
    /** Expansion of the case, millionths of its length for each kelvin; 1 to 40. */
    case_ppm?: Typed | null;
    /** Expansion of plates, rings and spring, the same way; 1 to 40. */
    stack_ppm?: Typed | null;
  } | null;
  /** What is inspected on other parts. */
  features?: {
    /** What the feature is called. */
    name: string;
    /** Part that it is on. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "journals"
      | "other"
      | "rings"
      | "screws"
      | "splines"
      | "thrust_washers";
    /** What is measured. */
    measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
    /** Kind of gauge; the usual one for what is measured if empty. */
    gauge?: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "" | null;
    /** In how many places it is measured; 1 to 24. */
    places?: Typed | null;
    /** Figure when new; 0 mm to 500 mm. */
    new_mm?: Typed | null;
    /** Lowest allowed; 0 mm to 500 mm. */
    low_mm?: Typed | null;
    /** Highest allowed; 0 mm to 500 mm. */
    high_mm?: Typed | null;
    /** Largest change against new, either way; 0.001 mm to 50 mm. */
    change_mm?: Typed | null;
    /** How often it may be used in all; 1 to 1000. */
    most_uses?: Typed | null;
    /** What uses it once more, as the log tells; only what inspections say if empty. */
    counted?: "closing" | "refit" | "" | null;
    /** Whether its limits are only common practice. */
    usual_limits?: boolean | null;
    /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
    outside?: "replace" | "rework" | "" | null;
  }[] | null;
  /** Which of these figures were worked out, not measured. */
  worked_out?: {
    /** The depth, where it was worked out. */
    cavity_mm?: {
      /** What it was worked out from. */
      from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The free height of a disc, where it was worked out. */
    l0_mm?: {
      /** What it was worked out from. */
      from: "height_from_load";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The friction of the plates, where it was worked out. */
    mu?: {
      /** What it was worked out from. */
      from: "friction_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.02 to 0.5. */
      value: Typed;
      /** Its standard uncertainty; 0 to 0.5. */
      u: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
  } | null;
  /** The pattern that it is built to. */
  pattern?: {
    /** The pattern's own id: that of its first entry. */
    id: string;
    /** What it was called when this was written. */
    name: string;
    /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
    seen?: string | null;
  } | null;
}

/** A pull scale or weight, used on a bar. */
export interface Scale {
  /** What the scale is called. */
  name?: string | null;
  /** How the force is known. */
  kind: "pull_scale" | "weight";
  /** Lowest force on its scale; 0 N to 20000 N. */
  low_n?: Typed | null;
  /** Highest force on its scale; 1 N to 20000 N. */
  high_n: Typed;
  /** One division of its scale; 0.001 N to 2000 N. */
  division_n: Typed;
  /** Largest permitted deviation, in percent of the reading; 0 % to 50 %. */
  deviation_percent?: Typed | null;
  /** Expanded uncertainty (k = 2) from its certificate, in percent of the reading; 0 % to 50 %. */
  certificate_percent?: Typed | null;
  /** Last day on which its calibration holds. */
  calibration_due?: string | null;
}

/** A measured piece, or a class of equal ones. */
export interface ShelfPiece {
  /** What the piece or the class is called. */
  name: string;
  /** What kind of plate. */
  part: "friction" | "separator" | "shim";
  /** Thickness; 0.02 mm to 50 mm. */
  mm: Typed;
  /** How many there are; 1 to 99. */
  count?: Typed | null;
  /** How far off one may be; 0 mm to 1 mm. */
  within_mm?: Typed | null;
  /** Limit: thickness at which one has to be replaced; 0.01 mm to 50 mm. */
  minimum_mm?: Typed | null;
  /** Thickness when new, of a piece that has run; 0.02 mm to 50 mm. */
  new_mm?: Typed | null;
  /** Its lowest point, which its limit judges, of a piece that has run; 0.01 mm to 50 mm. */
  lowest_mm?: Typed | null;
  /** Plate family: rubbing ring, lugs or splines, material. */
  family?: string | null;
}

/** A torque wrench. */
export interface Wrench {
  /** What the wrench is called. */
  name?: string | null;
  /** How the wrench works. */
  kind: "beam" | "click" | "dial" | "electronic";
  /** Lowest torque on its scale; 0 N·m to 5000 N·m. */
  low_nm?: Typed | null;
  /** Highest torque on its scale; 1 N·m to 5000 N·m. */
  high_nm: Typed;
  /** One division of its scale; 0.001 N·m to 500 N·m. */
  division_nm: Typed;
  /** Largest permitted deviation, in percent of the reading; 0 % to 50 %. */
  deviation_percent?: Typed | null;
  /** Expanded uncertainty (k = 2) from its certificate, in percent of the reading; 0 % to 50 %. */
  certificate_percent?: Typed | null;
  /** Last day on which its calibration holds. */
  calibration_due?: string | null;
}

/** A car. */
export interface CarRequest {
  /** What the car is called. */
  name: string;
  /** Anything worth knowing about it. */
  note?: string | null;
  /** Which axle is driven. */
  axle?: "front" | "rear" | "" | null;
  /** Mass of the whole car with its driver; 100 kg to 10000 kg. */
  mass_kg?: Typed | null;
  /** Weights by scales, with the driver in the seat. */
  corners?: {
    /** Weight on the front left wheel, by scales; 1 kg to 3000 kg. */
    front_left_kg: Typed;
    /** Weight on the front right wheel, by scales; 1 kg to 3000 kg. */
    front_right_kg: Typed;
    /** Weight on the rear left wheel, by scales; 1 kg to 3000 kg. */
    rear_left_kg: Typed;
    /** Weight on the rear right wheel, by scales; 1 kg to 3000 kg. */
    rear_right_kg: Typed;
  } | null;
  /** Height of the centre of gravity; 50 mm to 2000 mm. */
  cg_mm?: Typed | null;
  /** The height of the centre of gravity as it was measured by lifting an axle. */
  lifted?: {
    /** The axle that was lifted. */
    axle: "front" | "rear";
    /** How far its hubs were lifted above their height on level ground; 50 mm to 1500 mm. */
    lift_mm: Typed;
    /** Weight that the scales under the other axle then gained; 0.1 kg to 1000 kg. */
    gained_kg: Typed;
    /** Height of the hubs on level ground; 100 mm to 1000 mm. */
    hub_mm: Typed;
  } | null;
  /** From wheel to wheel on the driven axle; 500 mm to 3000 mm. */
  track_mm?: Typed | null;
  /** From axle to axle; 1000 mm to 6000 mm. */
  wheelbase_mm?: Typed | null;
  /** Rolling radius of the driven tyres; 100 mm to 1500 mm. */
  tyre_mm?: Typed | null;
  /** The tyres as they were rolled. */
  rolled?: {
    /** Turns of the wheel; 1 to 50. */
    turns: Typed;
    /** How far the car rolled meanwhile, with its driver in the seat; 200 mm to 200000 mm. */
    distance_mm: Typed;
  } | null;
  /** Share of the load transfer across that the driven axle carries; 0 to 1. */
  transfer_share?: Typed | null;
  /** Tyres and ground, in words. */
  tyres?: "damp" | "historic" | "loose" | "racing_slicks" | "racing_treaded" | "road" | "snow" | "wet" | "" | null;
  /** Grip sideways, where it is known better than in words; 0.02 to 3. */
  grip?: Typed | null;
  /** Greatest torque of the engine; 1 N·m to 5000 N·m. */
  engine_nm?: Typed | null;
  /** Ratio of the final drive; 0.5 to 20. */
  final_drive?: Typed | null;
  /** Ratios of the gearbox, from the lowest gear up. */
  gears?: Typed[] | null;
  /** The car that this entry changes. */
  id?: string | null;
  /** Whether it is still kept. */
  gone?: "no" | "yes" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A tool of the kit. */
export interface KitRequest {
  /** What kind of tool. */
  tool: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "scale" | "wrench";
  /** A torque wrench. */
  wrench?: Wrench | null;
  /** A pull scale or weight, used on a bar. */
  scale?: Scale | null;
  /** The micrometer. */
  micrometer?: Micrometer | null;
  /** The dial gauge. */
  dial_gauge?: {
    /** What the gauge is called. */
    name?: string | null;
    /** One division of its scale; 0.0001 mm to 1 mm. */
    division_mm?: Typed | null;
    /** Largest permitted error; 0 mm to 1 mm. */
    deviation_mm?: Typed | null;
    /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
    certificate_mm?: Typed | null;
    /** Last day on which its calibration holds. */
    calibration_due?: string | null;
    /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
    zero_mm?: Typed | null;
  } | null;
  /** The feeler gauge. */
  feeler?: {
    /** What the gauge is called. */
    name?: string | null;
    /** One division of its scale; 0.0001 mm to 1 mm. */
    division_mm?: Typed | null;
    /** Largest permitted error; 0 mm to 1 mm. */
    deviation_mm?: Typed | null;
    /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
    certificate_mm?: Typed | null;
    /** Last day on which its calibration holds. */
    calibration_due?: string | null;
    /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
    zero_mm?: Typed | null;
  } | null;
  /** The bore gauge. */
  bore_gauge?: {
    /** What the gauge is called. */
    name?: string | null;
    /** One division of its scale; 0.0001 mm to 1 mm. */
    division_mm?: Typed | null;
    /** Largest permitted error; 0 mm to 1 mm. */
    deviation_mm?: Typed | null;
    /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
    certificate_mm?: Typed | null;
    /** Last day on which its calibration holds. */
    calibration_due?: string | null;
    /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
    zero_mm?: Typed | null;
  } | null;
  /** The depth gauge. */
  depth_gauge?: {
    /** What the gauge is called. */
    name?: string | null;
    /** One division of its scale; 0.0001 mm to 1 mm. */
    division_mm?: Typed | null;
    /** Largest permitted error; 0 mm to 1 mm. */
    deviation_mm?: Typed | null;
    /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
    certificate_mm?: Typed | null;
    /** Last day on which its calibration holds. */
    calibration_due?: string | null;
    /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
    zero_mm?: Typed | null;
  } | null;
  /** The tool that this entry changes. */
  id?: string | null;
  /** Whether it is still used. */
  gone?: "no" | "yes" | "" | null;
}

/** Wear over use. */
export interface LifeRequest {
  /** What use is counted in. */
  use?: "hours" | "km" | "outings" | "" | null;
  /** Torque over use. */
  torque?: {
    /** Use up to this reading, counted from one common start; 0 to 1000000. */
    use: Typed;
    /** Breakaway torque, as stated; 0.1 N·m to 5000 N·m. */
    torque_nm: Typed;
  }[] | null;
  /** Thickness of one plate over use. */
  plate?: {
    /** Use up to this reading, counted from one common start; 0 to 1000000. */
    use: Typed;
    /** Lowest thickness of it; 0.02 mm to 80 mm. */
    thickness_mm: Typed;
  }[] | null;
  /** Thickness of all plates and rings over use, which is carried to torque through the spring. */
  stack?: {
    /** Use up to this reading, counted from one common start; 0 to 1000000. */
    use: Typed;
    /** Plates and rings of the whole stack together; 1 mm to 500 mm. */
    thickness_mm: Typed;
  }[] | null;
  /** The limits that end its life. */
  limits: {
    /** Lowest torque allowed; 0 N·m to 5000 N·m. */
    low_nm?: Typed | null;
    /** Highest torque allowed; 0.1 N·m to 5000 N·m. */
    high_nm?: Typed | null;
    /** Thickness at which the plate has to be replaced; 0.01 mm to 80 mm. */
    minimum_mm?: Typed | null;
  };
  /** The unit's definition, for a whole stack. */
  unit?: UnitRequest | null;
  /** Torque measured at the last of the stack's readings, as stated; 0.5 N·m to 5000 N·m. */
  measured_nm?: Typed | null;
  /** Use so far, where it is past the last reading; 0 to 1000000. */
  now?: Typed | null;
}

/** A unit that has lost torque. */
export interface LossRequest {
  /** The unit's definition, as it stands in the log. */
  unit: UnitRequest;
  /** The last good state. */
  before: {
    /** Breakaway torque, as the unit's order states it; 0.5 N·m to 5000 N·m. */
    torque_nm: Typed;
    /** Its standard uncertainty; 0 N·m to 1000 N·m. */
    u_nm?: Typed | null;
    /** What the doubt is made of, as far as two checks may share it; its standard uncertainty alone if empty. */
    parts?: {
      /** Short name of what may be off. */
      name: string;
      /** Its standard uncertainty; 0 N·m to 1000000 N·m. */
      u_nm: Typed;
      /** Its degrees of freedom; infinite if empty; 1 to 1000000. */
      dof?: Typed | null;
      /** Whether it may lie anywhere between two ends. */
      even?: boolean | null;
      /** What it comes from; two checks share what has the same source. */
      source?: string | null;
    }[] | null;
    /** Plates that differ from the definition, or have to stay or go. */
    plates?: FittedPlate[] | null;
    /** Standard uncertainty of a plate's thickness; 0 mm to 1 mm. */
    plate_u_mm?: Typed | null;
    /** Micrometer that the plates were measured with. */
    gauge?: string | null;
    /** Standard uncertainty of what it is off by, at every plate; 0 mm to 1 mm. */
    gauge_u_mm?: Typed | null;
    /** Free height of one disc; the definition's where it was not measured; 0.15 mm to 40 mm. */
    l0_mm?: Typed | null;
    /** Standard uncertainty of the free height; 0 mm to 1 mm. */
    l0_u_mm?: Typed | null;
    /** Oil in the unit; not known if empty. */
    oil?: string | null;
    /** How warm the unit was; not known if empty. */
    temperature?: "cold" | "hot" | "warm" | "" | null;
    /** How far off it may be besides, such as where it may have set since; 0 mm to 5 mm. */
    l0_within_mm?: Typed | null;
  };
  /** The unit as it is now. */
  now: {
    /** Breakaway torque, as the unit's order states it; 0.5 N·m to 5000 N·m. */
    torque_nm: Typed;
    /** Its standard uncertainty; 0 N·m to 1000 N·m. */
    u_nm?: Typed | null;
    /** What the doubt is made of, as far as two checks may share it; its standard uncertainty alone if empty. */
    parts?: {
      /** Short name of what may be off. */
      name: string;
      /** Its standard uncertainty; 0 N·m to 1000000 N·m. */
      u_nm: Typed;
      /** Its degrees of freedom; infinite if empty; 1 to 1000000. */
      dof?: Typed | null;
      /** Whether it may lie anywhere between two ends. */
      even?: boolean | null;
      /** What it comes from; two checks share what has the same source. */
      source?: string | null;
    }[] | null;
    /** Plates that differ from the definition, or have to stay or go. */
    plates?: FittedPlate[] | null;
    /** Standard uncertainty of a plate's thickness; 0 mm to 1 mm. */
    plate_u_mm?: Typed | null;
    /** Micrometer that the plates were measured with. */
    gauge?: string | null;
    /** Standard uncertainty of what it is off by, at every plate; 0 mm to 1 mm. */
    gauge_u_mm?: Typed | null;
    /** Free height of one disc; the definition's where it was not measured; 0.15 mm to 40 mm. */
    l0_mm?: Typed | null;
    /** Standard uncertainty of the free height; 0 mm to 1 mm. */
    l0_u_mm?: Typed | null;
    /** Oil in the unit; not known if empty. */
    oil?: string | null;
    /** How warm the unit was; not known if empty. */
    temperature?: "cold" | "hot" | "warm" | "" | null;
    /** How far off it may be besides, such as where it may have set since; 0 mm to 5 mm. */
    l0_within_mm?: Typed | null;
  };
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A note. */
export interface NoteRequest {
  /** The note. */
  text: string;
}

/** Planning a rebuild. */
export interface PlanRequest {
  /** The unit's definition, as it stands in the log. */
  unit: UnitRequest;
  /** Plates that differ from the definition, or have to stay or go. */
  fitted?: FittedPlate[] | null;
  /** A torque measured with the plates as they are fitted. */
  measured?: {
    /** Breakaway torque, as the unit's order states it; 0.5 N·m to 5000 N·m. */
    torque_nm: Typed;
    /** Its expanded uncertainty, two-sided, 95 %; 0 N·m to 1000 N·m. */
    expanded_nm?: Typed | null;
  } | null;
  /** What is wanted, where it is not what was ordered. */
  wanted?: {
    /** Breakaway torque, as the unit's order states it; 0.5 N·m to 5000 N·m. */
    torque_nm: Typed;
    /** How far off it may be, either way; 0.05 N·m to 1000 N·m. */
    tolerance_nm: Typed;
  } | null;
  /** What the log shows of bedding in. */
  bedding?: {
    /** What bedding in took after each of the last rebuilds. */
    losses: {
      /** When it was rebuilt. */
      at?: string | null;
      /** Torque of the first check after it, as stated; 0.1 N·m to 5000 N·m. */
      first_nm: Typed;
      /** What it lost in its first outings; below 0 where it rose; -5000 N·m to 5000 N·m. */
      loss_nm: Typed;
      /** Standard doubt of that loss; 0 N·m to 1000 N·m. */
      u_nm: Typed;
    }[];
    /** What units built alike have in common. */
    alike?: string | null;
    /** Other units of the log; those built alike count where this one shows little. */
    others?: {
      /** Name of the unit. */
      name: string;
      /** What units built alike have in common. */
      alike?: string | null;
      /** What bedding in took after each of the last rebuilds. */
      losses: {
        /** When it was rebuilt. */
        at?: string | null;
        /** Torque of the first check after it, as stated; 0.1 N·m to 5000 N·m. */
        first_nm: Typed;
        /** What it lost in its first outings; below 0 where it rose; -5000 N·m to 5000 N·m. */
        loss_nm: Typed;
        /** Standard doubt of that loss; 0 N·m to 1000 N·m. */
        u_nm: Typed;
      }[];
    }[] | null;
    /** Whether the plan aims above the order by it. */
    aim_above?: boolean | null;
  } | null;
  /** Plates in stock. */
  shelf: ShelfPiece[];
  /** Other springs in stock, each for every spring place. */
  springs?: {
    /** What the spring is called. */
    name: string;
    /** A disc spring, or a column of equal ones at one place. */
    spring: DiscSpring;
  }[] | null;
  /**
   * First pack less second when the cross pins sit in the middle, where it is not the definition's; -50 mm to 50 mm.
   */
  balance_mm?: Typed | null;
  /** How far the packs may be off that, either way; 0 mm to 20 mm. */
  most_apart_mm?: Typed | null;
  /** How much one place may change; a worn plate may always get back to its thickness when new; 0 mm to 20 mm. */
  most_change_mm?: Typed | null;
  /** How far off the free height of a disc may be that was gauged; left out, a new one's tolerance; 0 mm to 2 mm. */
  spring_within_mm?: Typed | null;
  /** Torque and thickness of builds, from the log. */
  experience?: {
    /** Builds of this unit with its present spring. */
    own?: {
      /** Plates and rings of the whole stack together, springs left out; 1 mm to 500 mm. */
      thickness_mm: Typed;
      /** Breakaway torque of it, as the unit's order states it; 0.5 N·m to 5000 N·m. */
      torque_nm: Typed;
      /** Standard uncertainty of that; 0 N·m to 1000 N·m. */
      u_nm?: Typed | null;
    }[] | null;
    /** Other units of the same pattern. */
    others?: {
      /** Name of the unit. */
      name: string;
      /** Its builds. */
      own?: {
        /** Plates and rings of the whole stack together, springs left out; 1 mm to 500 mm. */
        thickness_mm: Typed;
        /** Breakaway torque of it, as the unit's order states it; 0.5 N·m to 5000 N·m. */
        torque_nm: Typed;
        /** Standard uncertainty of that; 0 N·m to 1000 N·m. */
        u_nm?: Typed | null;
      }[] | null;
    }[] | null;
  } | null;
  /** What the plan goes by; the spring where it is known, if empty. */
  by?: "builds" | "spring" | "" | null;
  /** How far off the depth may be; 0 mm to 2 mm. */
  cavity_within_mm?: Typed | null;
  /** Tools of the kit that the torque could be checked with. */
  tools?: {
    /** A torque wrench. */
    wrench?: Wrench | null;
    /** A pull scale or weight, used on a bar. */
    scale?: Scale | null;
  }[] | null;
  /** Whether it is looked into what to buy for a better choice. */
  buying?: boolean | null;
  /** Whether other means are looked into as well, which may take many times as long. */
  alternatives?: boolean | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** What is known of a unit. */
export interface UnitRequest {
  /** Name of the unit. */
  name: string;
  /** Whose it is. */
  owner?: string | null;
  /** Anything worth knowing about it. */
  note?: string | null;
  /** The car that it is fitted to, by the entry that brought that in. */
  car_id?: string | null;
  /** Where in the car it sits. */
  sits?: "centre" | "front" | "rear" | "" | null;
  /** The customer whose it is, by the entry that brought that in; owner then says the name. */
  customer_id?: string | null;
  /** Plates that fit it: rubbing ring, lugs or splines, material. */
  plate_family?: string | null;
  /** The pattern that it is built to. */
  pattern?: {
    /** The pattern's own id: that of its first entry. */
    id: string;
    /** What it was called when this was written. */
    name: string;
    /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
    seen?: string | null;
  } | null;
  /** What the customer ordered. */
  order?: {
    /** Breakaway torque ordered; 1 N·m to 2000 N·m. */
    torque_nm: Typed;
    /** How far off it may be, either way; 0.1 N·m to 500 N·m. */
    tolerance_nm: Typed;
  } | null;
  /** Reading that order and limits are for. */
  judged_on?: "first_move" | "steady" | "" | null;
  /** Way of holding that order and limits are stated for. */
  stated_for?: "case_held" | "one_output_held" | "" | null;
  /** Limits between rebuilds. */
  service?: {
    /** Lowest torque at which it may run again; 0 N·m to 2000 N·m. */
    low_nm?: Typed | null;
    /** Highest torque at which it may run again; 0 N·m to 4000 N·m. */
    high_nm?: Typed | null;
    /** Days after which its plates are measured again; 365 if empty; 7 to 3650. */
    plates_every_days?: Typed | null;
    /** Outings after which its plates are measured again; 1 to 500. */
    plates_every_outings?: Typed | null;
    /** Hours of running after which its plates are measured again; 0.5 to 1000. */
    plates_every_hours?: Typed | null;
    /** Outings after which its torque is checked again; 1 to 500. */
    check_every_outings?: Typed | null;
    /** Hours of running after which its torque is checked again; 0.5 to 1000. */
    check_every_hours?: Typed | null;
    /** Days after which its torque is checked again; 1 to 3650. */
    check_every_days?: Typed | null;
    /** Outings after which its oil is changed; 1 to 500. */
    oil_every_outings?: Typed | null;
    /** Hours of running after which its oil is changed; 0.5 to 1000. */
    oil_every_hours?: Typed | null;
    /** Days after which its oil is changed; 1 to 3650. */
    oil_every_days?: Typed | null;
  } | null;
  /** Turns of the output for one turn of the wheel; 0.2 to 10. */
  hub_ratio?: Typed | null;
  /** Where the spring sits; as the stack has it if empty. */
  layout?: "between_rings" | "in_line" | "two_springs" | "" | null;
  /** A disc spring, or a column of equal ones at one place. */
  spring?: DiscSpring | null;
  /** Depth from the cover's face to the floor; 5 mm to 500 mm. */
  cavity_mm?: Typed | null;
  /** The stack from cover to floor. */
  chain?: {
    /** Place in the stack. */
    slot: string;
    /** What sits there. */
    part: "friction" | "ring" | "separator" | "shim" | "spring";
    /** Thickness when new or as fitted; 0.05 mm to 80 mm. */
    new_mm?: Typed | null;
    /** Thickness at which it has to be replaced; 0.02 mm to 80 mm. */
    minimum_mm?: Typed | null;
    /** Side that the point of a disc spring's cone faces. */
    cone_to?: "cover" | "floor" | "" | null;
  }[] | null;
  /** The rubbing ring of the plates. */
  friction?: {
    /** Inside diameter of the rubbing ring; 10 mm to 390 mm. */
    inner_mm: Typed;
    /** Outside diameter of the rubbing ring; 15 mm to 400 mm. */
    outer_mm: Typed;
    /** Coefficient of friction, plates in oil; 0.02 to 0.5. */
    mu?: Typed | null;
    /** Whether the plates are run in. */
    run_in?: boolean | null;
  } | null;
  /** The ramp rings, and what else presses the packs. */
  ramps?: {
    /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
    pin_radius_mm: Typed;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Coefficient of friction of pin on ramp; 0 to 0.4. */
    mu?: Typed | null;
    /** The ramp rings' ears. */
    ears?: {
      /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
      radius_mm: Typed;
      /** Coefficient of friction of ear in slot; 0 to 0.4. */
      mu?: Typed | null;
    } | null;
    /** The bevel gears. */
    gears?: {
      /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
      on_packs: boolean;
      /** Pressure angle of the teeth; 10 ° to 35 °. */
      pressure_deg: Typed;
      /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
      pitch_radius_mm: Typed;
      /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
      cone_deg?: Typed | null;
      /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
      side_teeth?: Typed | null;
      /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
      pinion_teeth?: Typed | null;
    } | null;
  } | null;
  /** Other pairs of ramps that it can run with, on the same rings or on others. */
  other_ramps?: {
    /** What this pair is called. */
    name: string;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Radius at which the cross pins bear on them; as on the ramps in use if empty; 5 mm to 200 mm. */
    pin_radius_mm?: Typed | null;
  }[] | null;
  /** The cover and its screws. */
  cover?: {
    /** How many screws hold the cover; 2 to 24. */
    screws: Typed;
    /** Thread diameter; 3 mm to 20 mm. */
    screw_mm: Typed;
    /** Torque of a screw; 1 N·m to 300 N·m. */
    torque_nm: Typed;
    /** Gap under the cover when the screws first catch; assumed if empty; 0 mm to 20 mm. */
    start_mm?: Typed | null;
    /** Greatest torque into the case, which the ramps turn into push; 1 N·m to 50000 N·m. */
    case_nm?: Typed | null;
  } | null;
  /** Limits common to all plates. */
  limits?: {
    /** Largest difference round a plate; 0.001 mm to 5 mm. */
    taper_mm?: Typed | null;
    /** Largest gap under a plate; 0.001 mm to 5 mm. */
    flatness_mm?: Typed | null;
  } | null;
  /** A case that expands otherwise than what is in it. */
  warming?: {
    /** How much warmer the unit runs than it was built; 1 K to 200 K. */
    warmer_k: Typed;
    /** Expansion of the case, millionths of its length for each kelvin; 1 to 40. */
    case_ppm?: Typed | null;
    /** Expansion of plates, rings and spring, the same way; 1 to 40. */
    stack_ppm?: Typed | null;
  } | null;
  /** What is inspected on other parts. */
  features?: {
    /** What the feature is called. */
    name: string;
    /** Part that it is on. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "journals"
      | "other"
      | "rings"
      | "screws"
      | "splines"
      | "thrust_washers";
    /** What is measured. */
    measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
    /** Kind of gauge; the usual one for what is measured if empty. */
    gauge?: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "" | null;
    /** In how many places it is measured; 1 to 24. */
    places?: Typed | null;
    /** Figure when new; 0 mm to 500 mm. */
    new_mm?: Typed | null;
    /** Lowest allowed; 0 mm to 500 mm. */
    low_mm?: Typed | null;
    /** Highest allowed; 0 mm to 500 mm. */
    high_mm?: Typed | null;
    /** Largest change against new, either way; 0.001 mm to 50 mm. */
    change_mm?: Typed | null;
    /** How often it may be used in all; 1 to 1000. */
    most_uses?: Typed | null;
    /** What uses it once more, as the log tells; only what inspections say if empty. */
    counted?: "closing" | "refit" | "" | null;
    /** Whether its limits are only common practice. */
    usual_limits?: boolean | null;
    /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
    outside?: "replace" | "rework" | "" | null;
  }[] | null;
  /** Marked parts that were in it when it was added; rebuilds say what changed since. */
  marked_parts?: {
    /** What the part is. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "friction"
      | "journals"
      | "other"
      | "ring"
      | "screws"
      | "separator"
      | "splines"
      | "spring"
      | "thrust_washers";
    /** Its place in the stack, or which of several; may stay empty where the unit has one. */
    place?: string | null;
    /** Number or mark on it. */
    mark: string;
  }[] | null;
  /** Which of these figures were worked out, not measured. */
  worked_out?: {
    /** The depth, where it was worked out. */
    cavity_mm?: {
      /** What it was worked out from. */
      from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The free height of a disc, where it was worked out. */
    l0_mm?: {
      /** What it was worked out from. */
      from: "height_from_load";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The friction of the plates, where it was worked out. */
    mu?: {
      /** What it was worked out from. */
      from: "friction_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.02 to 0.5. */
      value: Typed;
      /** Its standard uncertainty; 0 to 0.5. */
      u: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
  } | null;
}

/** A unit closed. */
export interface CloseRequest {
  /** Answers to what the strip found bad. */
  answers?: {
    /** Part that was found bad. */
    name: string;
    /** What became of it. */
    answer: "left" | "put_right";
    /** What was done, or why it stays. */
    why?: string | null;
  }[] | null;
  /** Steps that were done, in order. */
  done:
    | ("clean"
    | "cone"
    | "cover"
    | "flush"
    | "held"
    | "inside"
    | "oiled"
    | "opened"
    | "order"
    | "screws"
    | "started"
    | "turned")[];
  /** List of steps that was followed: 1 is the shorter, older one; 1 to 2. */
  guide?: Typed | null;
  /** Force that the vice has to hold, as it was shown; 0 N to 200000 N. */
  vice_n?: Typed | null;
  /** Who did it and signs for it. */
  signed: string;
  /** Anything that was seen. */
  note?: string | null;
}

/** A photo. */
export interface PhotoRequest {
  /** SHA-256 of the picture, 64 hexadecimal digits. */
  sha256: string;
  /** Size of the picture; 1 to 4000000. */
  bytes: Typed;
  /** Width in pixels; 1 to 1600. */
  wide: Typed;
  /** Height in pixels; 1 to 1600. */
  tall: Typed;
  /** Place in the stack that it shows. */
  slot?: string | null;
  /** What it shows. */
  text?: string | null;
}

/** What the ramps do; ramps given here are tried in place of the unit's own. */
export interface RampsRequest {
  /** The unit as it is built now, whole, as `standing` answers it. */
  built?: {
    /** The unit's definition, as it stands in the log. */
    unit: UnitRequest;
    /** Every place but the spring's. */
    places?: {
      /** How far off its thickness may be, either way; 0 mm to 50 mm. */
      within_mm: Typed;
    }[] | null;
    /** How far off the free height may be; a new spring's tolerance if empty; 0 mm to 50 mm. */
    spring_within_mm?: Typed | null;
    /** The torque measured with this build. */
    measured?: {
      /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
      torque_nm: Typed;
      /** Its expanded uncertainty, 95 %; 0 N·m to 5000 N·m. */
      expanded_nm?: Typed | null;
    } | null;
  } | null;
  /** The unit's definition, where it is not given as built. */
  unit?: UnitRequest | null;
  /** The ramp rings, and what else presses the packs. */
  ramps?: {
    /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
    pin_radius_mm: Typed;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Coefficient of friction of pin on ramp; 0 to 0.4. */
    mu?: Typed | null;
    /** The ramp rings' ears. */
    ears?: {
      /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
      radius_mm: Typed;
      /** Coefficient of friction of ear in slot; 0 to 0.4. */
      mu?: Typed | null;
    } | null;
    /** The bevel gears. */
    gears?: {
      /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
      on_packs: boolean;
      /** Pressure angle of the teeth; 10 ° to 35 °. */
      pressure_deg: Typed;
      /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
      pitch_radius_mm: Typed;
      /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
      cone_deg?: Typed | null;
      /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
      side_teeth?: Typed | null;
      /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
      pinion_teeth?: Typed | null;
    } | null;
  } | null;
  /** Crush, where it is not that of the definition; 0 mm to 100 mm. */
  crush_mm?: Typed | null;
  /** Breakaway torque measured at this crush, as the order states it; 0.5 N·m to 5000 N·m. */
  measured_nm?: Typed | null;
  /** Largest torque into the case to draw to; 10 N·m to 20000 N·m. */
  most_nm?: Typed | null;
  /** Points of each curve; 3 to 201. */
  points?: Typed | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
}

/** Putting the unit back into its axle. */
export interface RefitRequest {
  /** Backlash of crown wheel and pinion. */
  backlash?: {
    /** Backlash at several teeth. */
    points_mm: Typed[];
    /** Lowest backlash allowed; 0 mm to 5 mm. */
    low_mm?: Typed | null;
    /** Highest backlash allowed; 0 mm to 5 mm. */
    high_mm?: Typed | null;
    /** Backlash that is wanted; the middle of the limits if empty; 0.01 mm to 5 mm. */
    wanted_mm?: Typed | null;
    /** Largest difference from tooth to tooth; 0.001 mm to 5 mm. */
    uneven_mm?: Typed | null;
    /** The dial gauge on the crown wheel. */
    gauge: {
      /** What the gauge is called. */
      name?: string | null;
      /** One division of its scale; 0.0001 mm to 1 mm. */
      division_mm?: Typed | null;
      /** Largest permitted error; 0 mm to 1 mm. */
      deviation_mm?: Typed | null;
      /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
      certificate_mm?: Typed | null;
      /** Last day on which its calibration holds. */
      calibration_due?: string | null;
      /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
      zero_mm?: Typed | null;
    };
  } | null;
  /** Turning torque of the carrier bearings, repeated. */
  bearings?: {
    /** Lowest turning torque allowed; 0 N·m to 100 N·m. */
    low_nm?: Typed | null;
    /** Highest turning torque allowed; 0 N·m to 100 N·m. */
    high_nm?: Typed | null;
    /** Turning torque of the carrier bearings, repeated. */
    readings_nm: Typed[];
    /** The wrench it is read on. */
    tool: {
      /** What the wrench is called. */
      name?: string | null;
      /** One division of its scale; 0.0001 N·m to 50 N·m. */
      division_nm: Typed;
      /** Largest permitted deviation, in percent of the reading; 0 % to 50 %. */
      deviation_percent?: Typed | null;
      /** Expanded uncertainty (k = 2) from its certificate, in percent; 0 % to 50 %. */
      certificate_percent?: Typed | null;
      /** Last day on which its calibration holds. */
      calibration_due?: string | null;
    };
    /** Turning torque that is wanted; the middle of the limits if empty; 0.01 N·m to 100 N·m. */
    wanted_nm?: Typed | null;
    /** How much turning torque rises for a shim, as the maker states it; 0.001 N·m to 100 N·m. */
    rise_nm?: Typed | null;
    /** The shim, both sides together, for which it rises so much; 0.001 mm to 5 mm. */
    for_mm?: Typed | null;
  } | null;
  /** Torque of each crown-wheel screw. */
  screws?: {
    /** Lowest screw torque allowed; 0 N·m to 1000 N·m. */
    low_nm?: Typed | null;
    /** Highest screw torque allowed; 0 N·m to 1000 N·m. */
    high_nm?: Typed | null;
    /** Torque of each crown-wheel screw. */
    readings_nm: Typed[];
    /** The wrench it is read on. */
    tool: {
      /** What the wrench is called. */
      name?: string | null;
      /** One division of its scale; 0.0001 N·m to 50 N·m. */
      division_nm: Typed;
      /** Largest permitted deviation, in percent of the reading; 0 % to 50 %. */
      deviation_percent?: Typed | null;
      /** Expanded uncertainty (k = 2) from its certificate, in percent; 0 % to 50 %. */
      certificate_percent?: Typed | null;
      /** Last day on which its calibration holds. */
      calibration_due?: string | null;
    };
  } | null;
  /** Contact pattern by marking paste. */
  contact?: {
    /** Where the paste is wiped off, drive side. */
    drive: "face" | "flank" | "good" | "heel" | "toe";
  } | null;
  /** Shims that are in now. */
  shims?: {
    /** Shims at the bearing behind the crown wheel, on the side of its back, in all; 0 mm to 30 mm. */
    behind_mm?: Typed | null;
    /** Shims at the other bearing, on the side that the teeth face, in all; 0 mm to 30 mm. */
    tooth_mm?: Typed | null;
    /** Shims that set the pinion's depth, in all; 0 mm to 30 mm. */
    pinion_mm?: Typed | null;
    /** What a thicker pinion shim does. */
    thicker?: "deeper" | "shallower" | "" | null;
    /** Steps in which shims are at hand; 0.001 mm to 1 mm. */
    step_mm?: Typed | null;
  } | null;
  /** Crown wheel and pinion as the maker's drawing has them. */
  gears?: {
    /** Normal pressure angle of the flank that the gauge touches; 5 ° to 35 °. */
    pressure_deg?: Typed | null;
    /** Normal pressure angle of the other flank, where it differs; 5 ° to 35 °. */
    other_pressure_deg?: Typed | null;
    /** Spiral angle of the crown wheel at the middle of the tooth; 0 ° to 60 °. */
    spiral_deg?: Typed | null;
    /** Pitch cone angle of the crown wheel; 30 ° to 89 °. */
    cone_deg?: Typed | null;
    /** Teeth of the crown wheel; 5 to 200. */
    crown_teeth?: Typed | null;
    /** Teeth of the pinion; 3 to 100. */
    pinion_teeth?: Typed | null;
    /** Pitch radius of the crown wheel at the middle of the tooth; 5 mm to 500 mm. */
    mean_radius_mm?: Typed | null;
    /** Radius at which the gauge touches; 5 mm to 500 mm. */
    gauge_radius_mm?: Typed | null;
    /** Which way the gauge stands. */
    along?: "round" | "tooth" | "" | null;
  } | null;
  /** What was tried before, the oldest first. */
  tries?: {
    /** Shims at the bearing behind the crown wheel, on the side of its back, in all; 0 mm to 30 mm. */
    behind_mm?: Typed | null;
    /** Shims at the other bearing, on the side that the teeth face, in all; 0 mm to 30 mm. */
    tooth_mm?: Typed | null;
    /** Shims that set the pinion's depth, in all; 0 mm to 30 mm. */
    pinion_mm?: Typed | null;
    /** Backlash that this try had. */
    points_mm?: Typed[] | null;
    /** Turning torque of the carrier bearings, mean; 0 N·m to 100 N·m. */
    torque_nm?: Typed | null;
    /** Contact pattern, drive side. */
    contact?: "face" | "flank" | "good" | "heel" | "toe" | "" | null;
  }[] | null;
  /** Day of the check. */
  day?: string | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A sheet of a unit. */
export interface SheetRequest {
  /** All entries of the unit. */
  entries: object[];
  /** The entries that belong to no unit, for the kit. */
  shop?: object[] | null;
  /** The day on the sheet. */
  today: string;
  /** Whom the sheet is for. */
  template?: "customer" | "inspection" | "workshop" | "" | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A count of the shelf. */
export interface ShelfRequest {
  /** Plates in stock. */
  pieces: {
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string | null;
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness; 0.02 mm to 50 mm. */
    mm: Typed;
    /** How many there are; 0 to 99. */
    count?: Typed | null;
    /** How far off one may be; 0 mm to 1 mm. */
    within_mm?: Typed | null;
    /** Limit: thickness at which one has to be replaced; 0.01 mm to 50 mm. */
    minimum_mm?: Typed | null;
    /** Thickness when new, of a piece that has run; 0.02 mm to 50 mm. */
    new_mm?: Typed | null;
    /** Its lowest point, which its limit judges, of a piece that has run; 0.01 mm to 50 mm. */
    lowest_mm?: Typed | null;
    /** Lowest stock of the class: with fewer than this, more are to be bought; 0 to 99. */
    lowest_stock?: Typed | null;
  }[];
  /** Whether only these rows were counted, and the others are as they were; the whole shelf, if empty. */
  only_these?: boolean | null;
}

/** A unit that is being taken in. */
export interface SoFarRequest {
  /** The unit's definition as far as it is typed. */
  unit: NamelessUnit;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
  /** Unit of force that sentences are written in. */
  write_forces_in?: "kgf" | "lbf" | "n" | "" | null;
}

/** A unit stripped. */
export interface StripRequest {
  /** Steps that were done, in order. */
  done: ("caps" | "cleaned" | "drained" | "held" | "laid" | "lifted" | "marked" | "out" | "relieved" | "screws")[];
  /** List of steps that was followed: 1 is the shorter, older one; 1 to 2. */
  guide?: Typed | null;
  /** Force that the vice has to hold, as it was shown; 0 N to 200000 N. */
  vice_n?: Typed | null;
  /** Who did it and signs for it. */
  signed: string;
  /** Anything that was seen. */
  note?: string | null;
}

/** A change to try. */
export interface TrialRequest {
  /** What is changed. */
  lever: "coast_ramp" | "drive_ramp" | "faces" | "oil" | "pair" | "preload" | "turned_over";
  /** Name of the pair of ramps, for another pair. */
  pair?: string | null;
  /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
  torque_nm?: Typed | null;
  /** Drive ramp angle; 5 ° to 90 °. */
  drive_deg?: Typed | null;
  /** Coast ramp angle; 5 ° to 90 °. */
  coast_deg?: Typed | null;
  /** Sliding faces of both packs together; 2 to 200. */
  faces?: Typed | null;
  /** What the driver felt. */
  complaint?: {
    /** What the driver felt. */
    what: "bangs" | "hops" | "judders" | "loose" | "pulls" | "pushes" | "snaps" | "spins" | "whines";
    /** When it shows; at any time if empty. */
    when?: "braking" | "entry" | "lift" | "power" | "straight" | "" | null;
    /** Where it shows; everywhere if empty. */
    corners?: "fast" | "slow" | "" | null;
  } | null;
  /** Id of the outing at which it was felt. */
  outing?: string | null;
  /** Why this change. */
  reason: string;
}

/** Two torque checks of one unit. */
export interface ChangeRequest {
  /** All entries of one unit, in any order. */
  entries: object[];
  /** Id of the earlier check; the first since the rebuild where none is given. */
  before?: string | null;
  /** Id of the later check; the last where none is given. */
  now?: string | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A driven axle in a steady corner. */
export interface CornerRequest {
  /** Which axle is driven. */
  axle?: "front" | "rear" | "" | null;
  /** Mass of the whole car with its driver; 100 kg to 10000 kg. */
  mass_kg: Typed;
  /** Height of its centre of gravity; 50 mm to 2000 mm. */
  cg_mm: Typed;
  /** From wheel to wheel on the driven axle; 500 mm to 3000 mm. */
  track_mm: Typed;
  /** From axle to axle; 1000 mm to 6000 mm. */
  wheelbase_mm: Typed;
  /** Share of the weight on the driven axle; 0.05 to 0.95. */
  weight_share: Typed;
  /** Share of the load transfer across that the driven axle carries; 0 to 1. */
  transfer_share?: Typed | null;
  /** Rolling radius of the driven wheels; 100 mm to 1500 mm. */
  tyre_mm: Typed;
  /** Coefficient of friction sideways of the tyres at their standing load; 0.02 to 3. */
  grip: Typed;
  /** Grip along as a share of that sideways; 0.3 to 2. */
  along?: Typed | null;
  /** Share of the grip that is lost where the load doubles; 0 to 0.3333. */
  sensitivity?: Typed | null;
  /** Force along for each newton of load at a slip of 1; 2 to 200. */
  stiffness?: Typed | null;
  /** Lateral acceleration; 0 m/s² to 40 m/s². */
  lateral_ms2: Typed;
  /** Radius of the corner, to the middle of the axle; 2 m to 1000000 m. */
  radius_m: Typed;
  /** Torque at the axle; below 0 the engine brakes; -50000 N·m to 50000 N·m. */
  torque_nm: Typed;
  /** The unit as it is built now, whole, as `standing` answers it. */
  built?: {
    /** The unit's definition, as it stands in the log. */
    unit: UnitRequest;
    /** Every place but the spring's. */
    places?: {
      /** How far off its thickness may be, either way; 0 mm to 50 mm. */
      within_mm: Typed;
    }[] | null;
    /** How far off the free height may be; a new spring's tolerance if empty; 0 mm to 50 mm. */
    spring_within_mm?: Typed | null;
    /** The torque measured with this build. */
    measured?: {
      /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
      torque_nm: Typed;
      /** Its expanded uncertainty, 95 %; 0 N·m to 5000 N·m. */
      expanded_nm?: Typed | null;
    } | null;
  } | null;
  /** Ramps to try in place of the unit's own. */
  ramps?: {
    /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
    pin_radius_mm: Typed;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Coefficient of friction of pin on ramp; 0 to 0.4. */
    mu?: Typed | null;
    /** The ramp rings' ears. */
    ears?: {
      /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
      radius_mm: Typed;
      /** Coefficient of friction of ear in slot; 0 to 0.4. */
      mu?: Typed | null;
    } | null;
    /** The bevel gears. */
    gears?: {
      /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
      on_packs: boolean;
      /** Pressure angle of the teeth; 10 ° to 35 °. */
      pressure_deg: Typed;
      /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
      pitch_radius_mm: Typed;
      /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
      cone_deg?: Typed | null;
      /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
      side_teeth?: Typed | null;
      /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
      pinion_teeth?: Typed | null;
    } | null;
  } | null;
  /** How the rings are fitted. */
  fitted?: "as_is" | "turned_over" | "" | null;
  /** Without a unit: lock of both packs together from preload alone; 0 N·m to 10000 N·m. */
  preload_nm?: Typed | null;
  /** Without a unit: locking value of the drive ramps alone; 0 to 1000000. */
  s_drive?: Typed | null;
  /** Without a unit: locking value of the coast ramps alone; 0 to 1000000. */
  s_coast?: Typed | null;
  /** Without a unit: whether the spring sits between the rings and adds. */
  adds?: boolean | null;
  /** Whether driving force shifts load along the car. */
  pitch?: boolean | null;
  /** Whether side forces of both axles balance what the differential turns. */
  yaw_balance?: boolean | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
}

/** An outing. */
export interface OutingRequest {
  /** Day of the outing; that on which it is written if empty. */
  day?: string | null;
  /** Day on which it is written: an outing cannot be later. */
  today?: string | null;
  /** Where it was. */
  where?: string | null;
  /** Which session, such as practice or race 2. */
  session?: string | null;
  /** Minutes that it ran; 0.5 to 1440. */
  minutes?: Typed | null;
  /** Kilometres that it ran; 0.1 to 5000. */
  km?: Typed | null;
  /** What it ran on. */
  conditions?: "damp" | "dry" | "loose" | "snow" | "wet" | "" | null;
  /** Whether the driver says that nothing was wrong. */
  nothing_felt?: boolean | null;
  /** What the driver felt. */
  felt?: {
    /** What the driver felt. */
    what: "bangs" | "hops" | "judders" | "loose" | "pulls" | "pushes" | "snaps" | "spins" | "whines";
    /** When it shows; at any time if empty. */
    when?: "braking" | "entry" | "lift" | "power" | "straight" | "" | null;
    /** Where it shows; everywhere if empty. */
    corners?: "fast" | "slow" | "" | null;
  }[] | null;
  /** Anything else about it, in the driver's own words. */
  note?: string | null;
  /** Whether changes that were made helped. */
  helped?: {
    /** Id of the change that was tried. */
    trial: string;
    /** Whether it helped. */
    answer: "better" | "gone" | "same" | "unclear" | "worse";
  }[] | null;
  /** Hottest that the unit's oil became, degrees Celsius; -40 to 300. */
  oil_c?: Typed | null;
}

/** Units and the customers whose they may be. */
export interface OwnersRequest {
  /** The customers that stand. */
  customers: object[];
  /** The units. */
  units: object[];
}

/** A measurement of plates. */
export interface PlatesRequest {
  /** The micrometer. */
  micrometer: Micrometer;
  /** Day of the measurement. */
  day?: string | null;
  /** Unit of length that sentences are written in. */
  write_in?: "inch" | "mm" | "thou" | "" | null;
  /** Limits common to all plates. */
  limits?: {
    /** Largest difference round a plate; 0.001 mm to 5 mm. */
    taper_mm?: Typed | null;
    /** Largest gap under a plate; 0.001 mm to 5 mm. */
    flatness_mm?: Typed | null;
  } | null;
  /** The measured plates. */
  plates: {
    /** Place of the plate in the stack. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness when new; 0.05 mm to 50 mm. */
    new_mm: Typed;
    /** Thickness at which it has to be replaced; 0.02 mm to 50 mm. */
    minimum_mm: Typed;
    /** Whether that limit is only common practice. */
    usual_minimum?: boolean | null;
    /** Thickness round the plate. */
    points_mm: Typed[];
    /** Whether one figure was taken and said to hold at every point. */
    same_all_round?: boolean | null;
    /** Thickest feeler that passes under its rim on a surface plate, the larger of both sides; 0 mm to 5 mm. */
    gap_mm?: Typed | null;
    /** Signs of heat or scoring. */
    marks?: "heavy" | "none" | "slight" | "" | null;
  }[];
}

/** A disc spring on its own. */
export interface SpringRequest {
  /** A disc spring, or a column of equal ones at one place. */
  spring: DiscSpring;
  /** How far the whole column is squeezed; 0 mm to 300 mm. */
  deflection_mm?: Typed | null;
  /** Load of the whole column, instead of how far it is squeezed; 0 N to 1000000 N. */
  load_n?: Typed | null;
  /** Points of the curve; 5 to 400. */
  points?: Typed | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A unit to make others like. */
export interface AnotherRequest {
  /** A unit's definition, as it was typed. */
  unit: object;
}

/** Units that travel, with the entries of their shop. */
export interface BuiltToRequest {
  /** Entries of units and of the shop. */
  entries: object[];
}

/** Where plates that come out may go. */
export interface CameOutRequest {
  /** What the unit is called. */
  unit_name?: string | null;
  /** Plate family: rubbing ring, lugs or splines, material. */
  family?: string | null;
  /** The unit's places. */
  places: object[];
  /** The last measurement of each plate by its slot, as `standing` has it. */
  by_slot?: object | null;
  /** Places of the rebuild. */
  slots: string[];
  /** Names on the shelf. */
  taken_names?: string[] | null;
}

/** Closing or opening a unit. */
export interface ClosingRequest {
  /** The unit's definition, as it stands in the log. */
  unit: UnitRequest;
  /** Crush, where it is not that of the definition; 0 mm to 100 mm. */
  crush_mm?: Typed | null;
  /** Torque over force and diameter of a screw; 0.08 to 0.4. */
  nut_factor?: Typed | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
  /** Unit of force that sentences are written in. */
  write_forces_in?: "kgf" | "lbf" | "n" | "" | null;
}

/** Two torque checks side by side. */
export interface CompareRequest {
  /** The earlier check. */
  before: {
    /** Breakaway torque, as the limits are stated; 0.1 N·m to 5000 N·m. */
    value_nm: Typed;
    /** Its standard uncertainty; 0 N·m to 1000 N·m. */
    u_nm?: Typed | null;
    /** What the doubt is made of, as far as two checks may share it; its standard uncertainty alone if empty. */
    parts?: {
      /** Short name of what may be off. */
      name: string;
      /** Its standard uncertainty; 0 N·m to 1000000 N·m. */
      u_nm: Typed;
      /** Its degrees of freedom; infinite if empty; 1 to 1000000. */
      dof?: Typed | null;
      /** Whether it may lie anywhere between two ends. */
      even?: boolean | null;
      /** What it comes from; two checks share what has the same source. */
      source?: string | null;
    }[] | null;
    /** What the tool is called. */
    tool?: string | null;
    /** Oil in the unit. */
    oil?: string | null;
    /** How warm the unit was. */
    temperature?: "cold" | "hot" | "warm" | "" | null;
    /** Outings since the rebuild; 0 to 1000. */
    outings?: Typed | null;
  };
  /** The later check. */
  now: {
    /** Breakaway torque, as the limits are stated; 0.1 N·m to 5000 N·m. */
    value_nm: Typed;
    /** Its standard uncertainty; 0 N·m to 1000 N·m. */
    u_nm?: Typed | null;
    /** What the doubt is made of, as far as two checks may share it; its standard uncertainty alone if empty. */
    parts?: {
      /** Short name of what may be off. */
      name: string;
      /** Its standard uncertainty; 0 N·m to 1000000 N·m. */
      u_nm: Typed;
      /** Its degrees of freedom; infinite if empty; 1 to 1000000. */
      dof?: Typed | null;
      /** Whether it may lie anywhere between two ends. */
      even?: boolean | null;
      /** What it comes from; two checks share what has the same source. */
      source?: string | null;
    }[] | null;
    /** What the tool is called. */
    tool?: string | null;
    /** Oil in the unit. */
    oil?: string | null;
    /** How warm the unit was. */
    temperature?: "cold" | "hot" | "warm" | "" | null;
    /** Outings since the rebuild; 0 to 1000. */
    outings?: Typed | null;
  };
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
}

/** An erasure. */
export interface ErasureRequest {
  /** Records of customers whose data are erased. */
  ids?: string[] | null;
  /** Places in other entries that are erased. */
  cuts?: {
    /** Id of an entry. */
    entry: string;
    /** The field, by the names on the way to it. */
    field: string;
    /** Letters before what is erased; 0 to 100000. */
    start: Typed;
    /** Letters that are erased; 1 to 100000. */
    length: Typed;
    /** Letters of the whole text, as it was looked at; 1 to 100000. */
    of: Typed;
  }[] | null;
}

/** The entries of one unit. */
export interface FromLogRequest {
  /** All entries of one unit, in any order. */
  entries: object[];
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A figure in the reader's unit. */
export interface InWordsRequest {
  /** A torque, as it was typed; -1000000 N·m to 1000000 N·m. */
  torque_nm?: Typed | null;
  /** A length, as it was typed; -1000000 mm to 1000000 mm. */
  length_mm?: Typed | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** The entries of one unit, and which of its checks count. */
export interface OutlookRequest {
  /** All entries of one unit, in any order. */
  entries: object[];
  /** The day to judge by what is due. */
  today?: string | null;
  /** Whether checks fresh from the rebuild count as well, before the plates bedded in. */
  with_first?: boolean | null;
  /** Other units of the same pattern. */
  others?: {
    /** Name of the unit. */
    name: string;
    /** All entries of one unit, in any order. */
    entries: object[];
  }[] | null;
  /** What use is counted in. */
  use?: "hours" | "outings" | "" | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** A pattern, to which units are built. */
export interface PatternRequest {
  /** Name of the pattern. */
  name: string;
  /** The pattern that this entry changes: the id of its first entry. */
  id?: string | null;
  /** Whether new units are still built to it. */
  gone?: "no" | "yes" | "" | null;
  /** Anything worth knowing about it. */
  note?: string | null;
  /** Where in the car it sits. */
  sits?: "centre" | "front" | "rear" | "" | null;
  /** Plates that fit it: rubbing ring, lugs or splines, material. */
  plate_family?: string | null;
  /** What the customer ordered. */
  order?: {
    /** Breakaway torque ordered; 1 N·m to 2000 N·m. */
    torque_nm: Typed;
    /** How far off it may be, either way; 0.1 N·m to 500 N·m. */
    tolerance_nm: Typed;
  } | null;
  /** Reading that order and limits are for. */
  judged_on?: "first_move" | "steady" | "" | null;
  /** Way of holding that order and limits are stated for. */
  stated_for?: "case_held" | "one_output_held" | "" | null;
  /** Limits between rebuilds. */
  service?: {
    /** Lowest torque at which it may run again; 0 N·m to 2000 N·m. */
    low_nm?: Typed | null;
    /** Highest torque at which it may run again; 0 N·m to 4000 N·m. */
    high_nm?: Typed | null;
    /** Days after which its plates are measured again; 365 if empty; 7 to 3650. */
    plates_every_days?: Typed | null;
    /** Outings after which its plates are measured again; 1 to 500. */
    plates_every_outings?: Typed | null;
    /** Hours of running after which its plates are measured again; 0.5 to 1000. */
    plates_every_hours?: Typed | null;
    /** Outings after which its torque is checked again; 1 to 500. */
    check_every_outings?: Typed | null;
    /** Hours of running after which its torque is checked again; 0.5 to 1000. */
    check_every_hours?: Typed | null;
    /** Days after which its torque is checked again; 1 to 3650. */
    check_every_days?: Typed | null;
    /** Outings after which its oil is changed; 1 to 500. */
    oil_every_outings?: Typed | null;
    /** Hours of running after which its oil is changed; 0.5 to 1000. */
    oil_every_hours?: Typed | null;
    /** Days after which its oil is changed; 1 to 3650. */
    oil_every_days?: Typed | null;
  } | null;
  /** Turns of the output for one turn of the wheel; 0.2 to 10. */
  hub_ratio?: Typed | null;
  /** Where the spring sits; as the stack has it if empty. */
  layout?: "between_rings" | "in_line" | "two_springs" | "" | null;
  /** A disc spring, or a column of equal ones at one place. */
  spring?: DiscSpring | null;
  /** Depth from the cover's face to the floor; 5 mm to 500 mm. */
  cavity_mm?: Typed | null;
  /** The stack from cover to floor. */
  chain?: {
    /** Place in the stack. */
    slot: string;
    /** What sits there. */
    part: "friction" | "ring" | "separator" | "shim" | "spring";
    /** Thickness when new or as fitted; 0.05 mm to 80 mm. */
    new_mm?: Typed | null;
    /** Thickness at which it has to be replaced; 0.02 mm to 80 mm. */
    minimum_mm?: Typed | null;
    /** Side that the point of a disc spring's cone faces. */
    cone_to?: "cover" | "floor" | "" | null;
  }[] | null;
  /** The rubbing ring of the plates. */
  friction?: {
    /** Inside diameter of the rubbing ring; 10 mm to 390 mm. */
    inner_mm: Typed;
    /** Outside diameter of the rubbing ring; 15 mm to 400 mm. */
    outer_mm: Typed;
    /** Coefficient of friction, plates in oil; 0.02 to 0.5. */
    mu?: Typed | null;
    /** Whether the plates are run in. */
    run_in?: boolean | null;
  } | null;
  /** The ramp rings, and what else presses the packs. */
  ramps?: {
    /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
    pin_radius_mm: Typed;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Coefficient of friction of pin on ramp; 0 to 0.4. */
    mu?: Typed | null;
    /** The ramp rings' ears. */
    ears?: {
      /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
      radius_mm: Typed;
      /** Coefficient of friction of ear in slot; 0 to 0.4. */
      mu?: Typed | null;
    } | null;
    /** The bevel gears. */
    gears?: {
      /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
      on_packs: boolean;
      /** Pressure angle of the teeth; 10 ° to 35 °. */
      pressure_deg: Typed;
      /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
      pitch_radius_mm: Typed;
      /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
      cone_deg?: Typed | null;
      /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
      side_teeth?: Typed | null;
      /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
      pinion_teeth?: Typed | null;
    } | null;
  } | null;
  /** Other pairs of ramps that it can run with, on the same rings or on others. */
  other_ramps?: {
    /** What this pair is called. */
    name: string;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Radius at which the cross pins bear on them; as on the ramps in use if empty; 5 mm to 200 mm. */
    pin_radius_mm?: Typed | null;
  }[] | null;
  /** The cover and its screws. */
  cover?: {
    /** How many screws hold the cover; 2 to 24. */
    screws: Typed;
    /** Thread diameter; 3 mm to 20 mm. */
    screw_mm: Typed;
    /** Torque of a screw; 1 N·m to 300 N·m. */
    torque_nm: Typed;
    /** Gap under the cover when the screws first catch; assumed if empty; 0 mm to 20 mm. */
    start_mm?: Typed | null;
    /** Greatest torque into the case, which the ramps turn into push; 1 N·m to 50000 N·m. */
    case_nm?: Typed | null;
  } | null;
  /** Limits common to all plates. */
  limits?: {
    /** Largest difference round a plate; 0.001 mm to 5 mm. */
    taper_mm?: Typed | null;
    /** Largest gap under a plate; 0.001 mm to 5 mm. */
    flatness_mm?: Typed | null;
  } | null;
  /** A case that expands otherwise than what is in it. */
  warming?: {
    /** How much warmer the unit runs than it was built; 1 K to 200 K. */
    warmer_k: Typed;
    /** Expansion of the case, millionths of its length for each kelvin; 1 to 40. */
    case_ppm?: Typed | null;
    /** Expansion of plates, rings and spring, the same way; 1 to 40. */
    stack_ppm?: Typed | null;
  } | null;
  /** What is inspected on other parts. */
  features?: {
    /** What the feature is called. */
    name: string;
    /** Part that it is on. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "journals"
      | "other"
      | "rings"
      | "screws"
      | "splines"
      | "thrust_washers";
    /** What is measured. */
    measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
    /** Kind of gauge; the usual one for what is measured if empty. */
    gauge?: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "" | null;
    /** In how many places it is measured; 1 to 24. */
    places?: Typed | null;
    /** Figure when new; 0 mm to 500 mm. */
    new_mm?: Typed | null;
    /** Lowest allowed; 0 mm to 500 mm. */
    low_mm?: Typed | null;
    /** Highest allowed; 0 mm to 500 mm. */
    high_mm?: Typed | null;
    /** Largest change against new, either way; 0.001 mm to 50 mm. */
    change_mm?: Typed | null;
    /** How often it may be used in all; 1 to 1000. */
    most_uses?: Typed | null;
    /** What uses it once more, as the log tells; only what inspections say if empty. */
    counted?: "closing" | "refit" | "" | null;
    /** Whether its limits are only common practice. */
    usual_limits?: boolean | null;
    /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
    outside?: "replace" | "rework" | "" | null;
  }[] | null;
  /** Which of these figures were worked out, not measured. */
  worked_out?: {
    /** The depth, where it was worked out. */
    cavity_mm?: {
      /** What it was worked out from. */
      from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The free height of a disc, where it was worked out. */
    l0_mm?: {
      /** What it was worked out from. */
      from: "height_from_load";
      /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
      value_mm: Typed;
      /** Its standard uncertainty; 0 mm to 100 mm. */
      u_mm: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
    /** The friction of the plates, where it was worked out. */
    mu?: {
      /** What it was worked out from. */
      from: "friction_from_torque";
      /** What came of it: the mark holds as long as this is the figure; 0.02 to 0.5. */
      value: Typed;
      /** Its standard uncertainty; 0 to 0.5. */
      u: Typed;
      /** What was measured for it, in words. */
      basis?: string | null;
    } | null;
  } | null;
}

/** A plan that was taken. */
export interface PlannedRequest {
  /** Every plate that is to be fitted. */
  fitted: {
    /** Place in the stack. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** What the piece is called on the shelf. */
    piece: string;
    /** Its thickness; 0.02 mm to 50 mm. */
    mm: Typed;
    /** Its limit, where it is known; 0.01 mm to 50 mm. */
    minimum_mm?: Typed | null;
    /** Whether it has to be bought first. */
    bought?: boolean | null;
  }[];
  /** Breakaway torque that it gives; 0.01 N·m to 2000 N·m. */
  torque_nm?: Typed | null;
  /** Breakaway torque that is wanted; 0.01 N·m to 2000 N·m. */
  wanted_nm?: Typed | null;
  /** Anything to remember about it. */
  note?: string | null;
}

/** A rebuild. */
export interface RebuildRequest {
  /** Parts that were exchanged; none where only the order or the oil changed. */
  fitted?: {
    /** Place in the stack. */
    slot: string;
    /** Thickness of the part that was fitted; 0.05 mm to 80 mm. */
    mm: Typed;
    /** What the piece was called on the shelf. */
    piece?: string | null;
    /** Its limit, where it is known: thickness at which it is replaced; 0.02 mm to 80 mm. */
    minimum_mm?: Typed | null;
    /** How far off its thickness may be; 0 mm to 1 mm. */
    within_mm?: Typed | null;
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string | null;
    /** Whether it was bought for this rebuild and never lay on the shelf. */
    bought?: boolean | null;
  }[] | null;
  /** Plates that came out, as far as it was said where they went. */
  came_out?: {
    /** Place that it came out of. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Where it went. */
    where: "again" | "keep" | "scrap";
    /** What it is called on the shelf, where it is kept. */
    name?: string | null;
    /** Its mean thickness as measured; 0.02 mm to 50 mm. */
    mm?: Typed | null;
    /** Its lowest point, which its limit judges; 0.01 mm to 50 mm. */
    lowest_mm?: Typed | null;
    /** How far off its thickness may be; 0 mm to 1 mm. */
    within_mm?: Typed | null;
    /** Its own limit; that of its class, if empty; 0.01 mm to 50 mm. */
    minimum_mm?: Typed | null;
    /** Its thickness when new, by which its class is found; 0.02 mm to 50 mm. */
    new_mm?: Typed | null;
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string | null;
  }[] | null;
  /** What it means for the shelf; nothing, if empty. */
  shelf?: "counted" | "moves" | "" | null;
  /** Changes to try that were made with it. */
  trials?: string[] | null;
  /** What was done about the spring. */
  spring?: string | null;
  /** Whether another spring was fitted; if empty, any text on the spring counts as yes. */
  other_spring?: boolean | null;
  /** Inspected features whose part was replaced: what was found of it no longer counts. */
  replaced?: string[] | null;
  /** Marked parts that came out or went in. */
  marked_parts?: {
    /** What the part is. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "friction"
      | "journals"
      | "other"
      | "ring"
      | "screws"
      | "separator"
      | "splines"
      | "spring"
      | "thrust_washers";
    /** Its place in the stack, or which of several; may stay empty where the unit has one. */
    place?: string | null;
    /** Mark of what came out. */
    out_mark?: string | null;
    /** Where that went. */
    out_to?: "away" | "scrap" | "stock" | "" | null;
    /** Mark of what went in; blank where that has none. */
    mark?: string | null;
    /** How often it was tightened before, for screws; 0 to 1000. */
    uses?: Typed | null;
    /** What was found of what went in, where that was no go. */
    found?: {
      /** Feature that was inspected; blank for a part of the stack. */
      feature?: string | null;
      /** How it was judged. */
      verdict: "measure_again" | "replace" | "rework";
      /** Why, as it was said then. */
      reason?: string | null;
      /** Day on which it was found. */
      day?: string | null;
      /** Unit in which it was found. */
      unit_name?: string | null;
    }[] | null;
  }[] | null;
  /** Oil that was filled. */
  oil?: string | null;
  /** What was done and why. */
  note: string;
  /** Hours of work; 0 to 1000. */
  hours?: Typed | null;
  /** Cost of the parts, in the workshop's own money; 0 to 1000000. */
  parts_cost?: Typed | null;
}

/** Service done. */
export interface ServiceRequest {
  /** Day on which it was done; that on which it is written if empty. */
  day?: string | null;
  /** Day on which it is written: nothing was done later. */
  today?: string | null;
  /** Whether the oil was changed. */
  oil_changed?: boolean | null;
  /** Which oil was filled in. */
  oil?: string | null;
  /** How much of it, litres; 0.02 to 50. */
  litres?: Typed | null;
  /** Whether it was run in. */
  run_in?: boolean | null;
  /** Whether it was washed out. */
  washed?: boolean | null;
  /** Changes to try that were made with it. */
  trials?: string[] | null;
  /** Anything else that was done. */
  note?: string | null;
}

/** What cannot be measured, and what it is worked out from. */
export interface WorkOutRequest {
  /** What is worked out, and from what. */
  from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque" | "friction_from_torque" | "height_from_load";
  /** What is known of the unit, where it is not given as built. */
  unit?: NamelessUnit | null;
  /** The unit as it is built now, as `standing` answers it. */
  built?: {
    /** The unit's definition as far as it is typed. */
    unit: NamelessUnit;
    /** Every place but the spring's. */
    places?: {
      /** How far off its thickness may be, either way; 0 mm to 50 mm. */
      within_mm: Typed;
    }[] | null;
    /** How far off the free height may be; a new spring's tolerance if empty; 0 mm to 50 mm. */
    spring_within_mm?: Typed | null;
  } | null;
  /** The gap under the loose cover. */
  gap?: {
    /** Gap under the cover while it lies loose on the stack; 0.01 mm to 100 mm. */
    gap_mm: Typed;
    /** How far off it may be, either way; 0 mm to 10 mm. */
    within_mm?: Typed | null;
  } | null;
  /** A torque that was measured. */
  torque?: {
    /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
    torque_nm: Typed;
    /** Its expanded uncertainty, 95 %; 5 % of it if empty; 0.001 N·m to 2500 N·m. */
    expanded_nm?: Typed | null;
  } | null;
  /** The friction, where it is known otherwise than by the definition. */
  friction?: {
    /** Friction of the plates; the unit's own if empty; 0.02 to 0.5. */
    mu?: Typed | null;
    /** How far off it may be, either way; a fifth of it if empty; 0 to 0.5. */
    within?: Typed | null;
  } | null;
  /** Two builds of the unit. */
  builds?: {
    /** Plates and rings of the first build together; as the definition has them if empty; 1 mm to 500 mm. */
    solids_mm?: Typed | null;
    /** Breakaway torque of the first build, as the order states it; 0.5 N·m to 5000 N·m. */
    torque_nm: Typed;
    /** Its expanded uncertainty, 95 %; 5 % of it if empty; 0.001 N·m to 2500 N·m. */
    expanded_nm?: Typed | null;
    /** By how much the second build was thicker; below 0 it was thinner; -20 mm to 20 mm. */
    thicker_mm: Typed;
    /** How far off that may be, either way; 0 mm to 5 mm. */
    thicker_within_mm?: Typed | null;
    /** Breakaway torque of the second build, as the order states it; 0.5 N·m to 5000 N·m. */
    second_nm: Typed;
    /** Its expanded uncertainty, 95 %; 5 % of it if empty; 0.001 N·m to 2500 N·m. */
    second_expanded_nm?: Typed | null;
  } | null;
  /** The spring whose free height is wanted. */
  spring?: {
    /** Outside diameter; 5 mm to 400 mm. */
    de_mm: Typed;
    /** Inside diameter; 2 mm to 390 mm. */
    di_mm: Typed;
    /** Thickness of the disc; 0.1 mm to 20 mm. */
    t_mm: Typed;
    /** Reduced thickness of a disc with contact flats; 0.1 mm to 20 mm. */
    flats_t_mm?: Typed | null;
    /** Discs nested the same way, which add their loads; 1 to 8. */
    parallel?: Typed | null;
    /** Nests turned against each other, which share the travel; 1 to 8. */
    series?: Typed | null;
    /** Friction between nested discs, w_M of DIN EN 16984; left out if empty; 0 to 0.05. */
    surface_friction?: Typed | null;
    /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty; 0 to 0.05. */
    edge_friction?: Typed | null;
    /** Modulus of elasticity; 10000 N/mm² to 400000 N/mm². */
    elastic_nmm2?: Typed | null;
    /** Poisson's ratio; 0 to 0.49. */
    poisson?: Typed | null;
  } | null;
  /** The spring in a press. */
  load?: {
    /** Load of the whole column; 1 N to 1000000 N. */
    load_n: Typed;
    /** How far off it may be, either way; 0 % to 50 %. */
    within_percent?: Typed | null;
    /** Height of the whole column under that load; 0.1 mm to 500 mm. */
    height_mm: Typed;
    /** How far off it may be, either way; 0 mm to 10 mm. */
    within_mm?: Typed | null;
  } | null;
  /** When it was measured. */
  day?: string | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
  /** Unit of force that sentences are written in. */
  write_forces_in?: "kgf" | "lbf" | "n" | "" | null;
}

/** A customer. */
export interface CustomerRequest {
  /** What the customer is called. */
  name: string;
  /** Telephone. */
  phone?: string | null;
  /** Mail address. */
  mail?: string | null;
  /** Postal address. */
  address?: string | null;
  /** Anything worth knowing. */
  note?: string | null;
  /** The customer that this entry changes: the id of its first entry. */
  id?: string | null;
  /** Whether units are still taken in for it. */
  gone?: "no" | "yes" | "" | null;
  /** Other records that turned out to be the same customer. */
  takes_in?: string[] | null;
}

/** The shelf that stands. */
export interface ShelfNowRequest {
  /** Counts in the order of arrival. */
  counts: object[];
  /** Every count of this shop, corrected ones among them: by these a rebuild of another shop is known. */
  count_ids?: string[] | null;
  /** Every unit with a rebuild or a plan that concerns the shelf. */
  units?: {
    /** Id of the unit. */
    unit: string;
    /** What it is called. */
    name?: string | null;
    /** What its rebuilds moved. */
    moves: object[];
    /** The plan that was taken, as `standing` has it under shelf. */
    plan?: object | null;
  }[] | null;
  /** Id of the unit that is planned: its own plan reserves nothing from it. */
  for_unit?: string | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** What stands for one unit. */
export interface StandingRequest {
  /** All entries of one unit, in any order. */
  entries: object[];
  /** The day to judge by what is due. */
  today?: string | null;
  /** Unit of torque of sentences; the reason is as it was said at the check if empty. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
}

/** What an axle puts down. */
export interface TractionRequest {
  /** The left driven wheel. */
  left: {
    /** Weight on this wheel; 1 kg to 5000 kg. */
    load_kg: Typed;
    /** Coefficient of friction of tyre on ground; 0 to 3. */
    grip: Typed;
  };
  /** The right driven wheel. */
  right: {
    /** Weight on this wheel; 1 kg to 5000 kg. */
    load_kg: Typed;
    /** Coefficient of friction of tyre on ground; 0 to 3. */
    grip: Typed;
  };
  /** Rolling radius of the driven wheels; 100 mm to 1500 mm. */
  tyre_radius_mm: Typed;
  /** The unit as it is built now, whole, as `standing` answers it. */
  built?: {
    /** The unit's definition, as it stands in the log. */
    unit: UnitRequest;
    /** Every place but the spring's. */
    places?: {
      /** How far off its thickness may be, either way; 0 mm to 50 mm. */
      within_mm: Typed;
    }[] | null;
    /** How far off the free height may be; a new spring's tolerance if empty; 0 mm to 50 mm. */
    spring_within_mm?: Typed | null;
    /** The torque measured with this build. */
    measured?: {
      /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
      torque_nm: Typed;
      /** Its expanded uncertainty, 95 %; 0 N·m to 5000 N·m. */
      expanded_nm?: Typed | null;
    } | null;
  } | null;
  /** Ramps to try in place of the unit's own. */
  ramps?: {
    /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
    pin_radius_mm: Typed;
    /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
    drive_deg: Typed;
    /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
    coast_deg: Typed;
    /** Coefficient of friction of pin on ramp; 0 to 0.4. */
    mu?: Typed | null;
    /** The ramp rings' ears. */
    ears?: {
      /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
      radius_mm: Typed;
      /** Coefficient of friction of ear in slot; 0 to 0.4. */
      mu?: Typed | null;
    } | null;
    /** The bevel gears. */
    gears?: {
      /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
      on_packs: boolean;
      /** Pressure angle of the teeth; 10 ° to 35 °. */
      pressure_deg: Typed;
      /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
      pitch_radius_mm: Typed;
      /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
      cone_deg?: Typed | null;
      /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
      side_teeth?: Typed | null;
      /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
      pinion_teeth?: Typed | null;
    } | null;
  } | null;
  /** How the rings are fitted. */
  fitted?: "as_is" | "turned_over" | "" | null;
  /** Without a unit: locking value of the ramps alone; from 1 up they lock solid; 0 to 1000000. */
  locking_value?: Typed | null;
  /** Without a unit: lock of both packs together from preload alone; 0 N·m to 10000 N·m. */
  preload_lock_nm?: Typed | null;
  /** Without a unit: whether the spring sits between the rings and adds. */
  adds?: boolean | null;
  /** Torque into the case that the engine asks for; 0 N·m to 50000 N·m. */
  input_nm?: Typed | null;
  /** A turn. */
  turn?: {
    /** Radius of the turn, to the middle of the axle; 2000 mm to 1000000 mm. */
    radius_mm: Typed;
    /** From wheel to wheel on the driven axle; 500 mm to 3000 mm. */
    track_mm: Typed;
  } | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
}

/** A breakaway torque check. */
export interface BreakawayRequest {
  /** How the unit is held. */
  held: "bench_case_held" | "bench_output_held" | "car_both_wheels_up" | "car_one_wheel_down";
  /** A torque wrench. */
  wrench?: Wrench | null;
  /** A pull scale or weight, used on a bar. */
  scale?: Scale | null;
  /** An adapter between wrench and shaft. */
  adapter?: {
    /** From the middle of the grip to the drive of the wrench; 50 mm to 3000 mm. */
    wrench_mm: Typed;
    /** From the drive of the wrench to the middle of the nut or shaft; 0 mm to 1000 mm. */
    adapter_mm: Typed;
    /** Angle of the adapter to the line of the wrench, 0 straight on; 0 ° to 180 °. */
    angle_deg?: Typed | null;
    /** How far off either length may be; 0 mm to 50 mm. */
    doubt_mm?: Typed | null;
    /** How far off the angle may be; 0 ° to 45 °. */
    doubt_deg?: Typed | null;
  } | null;
  /** A bar that is pulled or loaded. */
  bar?: {
    /** From the shaft's middle to where the force pulls, square to the bar; 50 mm to 5000 mm. */
    length_mm: Typed;
    /** Torque of the bar's own weight, in the direction of the pull; -200 N·m to 200 N·m. */
    moment_nm?: Typed | null;
    /** How far off the length may be; 0 mm to 50 mm. */
    doubt_mm?: Typed | null;
  } | null;
  /** Steady turning, read on a wrench. */
  steady_nm?: {
    /** Steady turning, read on a wrench, turned forward. */
    forward: Typed[];
    /** Steady turning, read on a wrench, turned in reverse. */
    reverse?: Typed[] | null;
  } | null;
  /** Peak at the first move, read on a wrench. */
  first_nm?: {
    /** Peak at the first move, read on a wrench, turned forward. */
    forward: Typed[];
    /** Peak at the first move, read on a wrench, turned in reverse. */
    reverse?: Typed[] | null;
  } | null;
  /** Steady turning, read on a scale. */
  steady_n?: {
    /** Steady turning, read on a scale, turned forward. */
    forward: Typed[];
    /** Steady turning, read on a scale, turned in reverse. */
    reverse?: Typed[] | null;
  } | null;
  /** Peak at the first move, read on a scale. */
  first_n?: {
    /** Peak at the first move, read on a scale, turned forward. */
    forward: Typed[];
    /** Peak at the first move, read on a scale, turned in reverse. */
    reverse?: Typed[] | null;
  } | null;
  /** Which of the two the limits are for. */
  judged_on?: "first_move" | "steady" | "" | null;
  /** Way of holding that the limits are stated for. */
  stated_for?: "case_held" | "one_output_held" | "" | null;
  /** Turns of the output for one turn of the wheel; 0.2 to 10. */
  hub_ratio?: Typed | null;
  /** Drag that the wrench feels beside the packs. */
  drag?: {
    /** Drag on the case: crown wheel, pinion, shaft; 0 N·m to 500 N·m. */
    case_nm?: Typed | null;
    /**
     * Drag on the turned wheel: bearing, brake, seal; with both wheels up, on each where one is given; 0 N·m to 500
     * N·m.
     */
    wheel_nm?: Typed | null;
    /** Drag on the other wheel, which turns backwards with both wheels up; 0 N·m to 500 N·m. */
    other_wheel_nm?: Typed | null;
    /** How far off each may be; a quarter of it if empty; 0 N·m to 500 N·m. */
    doubt_nm?: Typed | null;
  } | null;
  /** How the unit is built, as far as a wrench feels it besides the preload. */
  build?: {
    /** Where the spring sits. */
    layout: "between_rings" | "in_line" | "not_known" | "two_springs";
    /** Sliding faces of the first pack; 0 to 200. */
    first_faces?: Typed | null;
    /** Sliding faces of the second pack; 0 to 200. */
    second_faces?: Typed | null;
    /** Effective radius of the plates; 2 mm to 400 mm. */
    radius_mm?: Typed | null;
    /** Coefficient of friction, plates in oil; 0.02 to 0.5. */
    mu?: Typed | null;
    /** The ramp rings, and what else presses the packs. */
    ramps?: {
      /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
      pin_radius_mm: Typed;
      /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
      drive_deg: Typed;
      /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
      coast_deg: Typed;
      /** Coefficient of friction of pin on ramp; 0 to 0.4. */
      mu?: Typed | null;
      /** The ramp rings' ears. */
      ears?: {
        /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
        radius_mm: Typed;
        /** Coefficient of friction of ear in slot; 0 to 0.4. */
        mu?: Typed | null;
      } | null;
      /** The bevel gears. */
      gears?: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; 10 ° to 35 °. */
        pressure_deg: Typed;
        /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
        pitch_radius_mm: Typed;
        /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
        cone_deg?: Typed | null;
        /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
        side_teeth?: Typed | null;
        /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
        pinion_teeth?: Typed | null;
      } | null;
    } | null;
  } | null;
  /** Limits for the breakaway torque. */
  limits: {
    /** Lowest torque allowed; 0 N·m to 5000 N·m. */
    low_nm?: Typed | null;
    /** Highest torque allowed; 0 N·m to 5000 N·m. */
    high_nm?: Typed | null;
  };
  /** Torque at the last check of this build, as stated; 0.1 N·m to 5000 N·m. */
  last_nm?: Typed | null;
  /** Whether somebody has said that the unit of the readings is right. */
  sure_of_unit?: boolean | null;
  /** Day of the check. */
  day?: string | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of force that sentences are written in. */
  write_forces_in?: "kgf" | "lbf" | "n" | "" | null;
  /** What the reading was taken in. */
  circumstances?: {
    /** Oil in the unit. */
    oil?: string | null;
    /** How warm the unit is. */
    temperature?: "cold" | "hot" | "warm" | "" | null;
    /** Outings since the rebuild; 0 to 1000. */
    outings?: Typed | null;
  } | null;
}

/** What a driver felt of a unit. */
export interface ComplaintRequest {
  /** The unit as it is built now, whole, as `standing` answers it. */
  built?: {
    /** The unit's definition, as it stands in the log. */
    unit: UnitRequest;
    /** Every place but the spring's. */
    places?: {
      /** How far off its thickness may be, either way; 0 mm to 50 mm. */
      within_mm: Typed;
    }[] | null;
    /** How far off the free height may be; a new spring's tolerance if empty; 0 mm to 50 mm. */
    spring_within_mm?: Typed | null;
    /** The torque measured with this build. */
    measured?: {
      /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
      torque_nm: Typed;
      /** Its expanded uncertainty, 95 %; 0 N·m to 5000 N·m. */
      expanded_nm?: Typed | null;
    } | null;
  } | null;
  /** The car, as it is kept; a usual one if empty. */
  car?: CarRequest | null;
  /** What the driver felt. */
  felt: {
    /** What the driver felt. */
    what: "bangs" | "hops" | "judders" | "loose" | "pulls" | "pushes" | "snaps" | "spins" | "whines";
    /** When it shows; at any time if empty. */
    when?: "braking" | "entry" | "lift" | "power" | "straight" | "" | null;
    /** Where it shows; everywhere if empty. */
    corners?: "fast" | "slow" | "" | null;
  }[];
  /** What it ran on; as the car's tyres have it if dry or empty. */
  conditions?: "damp" | "dry" | "loose" | "snow" | "wet" | "" | null;
  /** Radius of the slow corners; 4 m to 1000 m. */
  slow_m?: Typed | null;
  /** Radius of the fast corners; 4 m to 1000 m. */
  fast_m?: Typed | null;
  /** Gear in slow corners; 1 to 12. */
  slow_gear?: Typed | null;
  /** Gear in fast corners; 1 to 12. */
  fast_gear?: Typed | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of force that sentences are written in. */
  write_forces_in?: "kgf" | "lbf" | "n" | "" | null;
}

/** A corner for each way to build a unit. */
export interface CornerMapRequest {
  /** The car, as it is kept. */
  car?: CarRequest | null;
  /** The unit as it is built now, whole, as `standing` answers it. */
  built?: {
    /** The unit's definition, as it stands in the log. */
    unit: UnitRequest;
    /** Every place but the spring's. */
    places?: {
      /** How far off its thickness may be, either way; 0 mm to 50 mm. */
      within_mm: Typed;
    }[] | null;
    /** How far off the free height may be; a new spring's tolerance if empty; 0 mm to 50 mm. */
    spring_within_mm?: Typed | null;
    /** The torque measured with this build. */
    measured?: {
      /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
      torque_nm: Typed;
      /** Its expanded uncertainty, 95 %; 0 N·m to 5000 N·m. */
      expanded_nm?: Typed | null;
    } | null;
  } | null;
  /** What is to be tried besides. */
  tries?: {
    /** What it is called; made of its figures if empty. */
    name?: string | null;
    /** One of the unit's other pairs of ramps, by its name. */
    pair?: string | null;
    /** How the rings are fitted. */
    fitted?: "as_is" | "turned_over" | "" | null;
    /** Drive ramp angle to try; 5 ° to 90 °. */
    drive_deg?: Typed | null;
    /** Coast ramp angle to try; 5 ° to 90 °. */
    coast_deg?: Typed | null;
    /** Sliding faces of both packs together to try; 2 to 200. */
    faces?: Typed | null;
    /** Breakaway torque to try, as the order states it; 0.5 N·m to 5000 N·m. */
    torque_nm?: Typed | null;
  }[] | null;
  /** Radius of the corner; 4 m to 1000 m. */
  radius_m?: Typed | null;
  /** Columns of each picture; none draws nothing and tells the point alone; 0 to 61. */
  points?: Typed | null;
  /** Whether the doubt of the limits is told. */
  blur?: boolean | null;
  /** One point of the picture. */
  point?: {
    /** Lateral acceleration; 0 m/s² to 40 m/s². */
    lateral_ms2: Typed;
    /** Torque at the axle; below 0 the engine brakes; -50000 N·m to 50000 N·m. */
    torque_nm: Typed;
  } | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
}

/** A field of a request. */
export interface FieldNameRequest {
  /** The calculation whose request the field is in. */
  calculation: string;
  /** Dotted path of the field. */
  field?: string | null;
  /** The request as it was typed, by which its rows are named. */
  body?: object | null;
}

/** A check of ramp rings and cross pins. */
export interface RingCheckRequest {
  /** The gauge for steps and pins. */
  gauge: {
    /** What the gauge is called. */
    name?: string | null;
    /** One division of its scale; 0.0001 mm to 1 mm. */
    division_mm?: Typed | null;
    /** Largest permitted error; 0 mm to 1 mm. */
    deviation_mm?: Typed | null;
    /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
    certificate_mm?: Typed | null;
    /** Last day on which its calibration holds. */
    calibration_due?: string | null;
    /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
    zero_mm?: Typed | null;
  };
  /** Day of the measurement. */
  day?: string | null;
  /** Unit of length that sentences are written in. */
  write_in?: "inch" | "mm" | "thou" | "" | null;
  /** The ramp rings. */
  rings: {
    /** Place of the ring in the stack. */
    slot: string;
    /** Depth worn into each ramp. */
    steps_mm: Typed[];
    /** Deepest step allowed; 0.001 mm to 5 mm. */
    limit_mm?: Typed | null;
    /** Signs of heat or scoring. */
    marks?: "heavy" | "none" | "slight" | "" | null;
  }[];
  /** The cross pins. */
  pins?: {
    /** What the pin is called. */
    slot: string;
    /** Thickness across its bearing faces when new; 3 mm to 80 mm. */
    new_mm: Typed;
    /** Each end. */
    points_mm: Typed[];
    /** Deepest flat allowed; 0.001 mm to 5 mm. */
    limit_mm?: Typed | null;
    /** Signs of heat or scoring. */
    marks?: "heavy" | "none" | "slight" | "" | null;
  }[] | null;
}

/** A sheet that was sent. */
export interface SheetSentRequest {
  /** When it was sent. */
  day: string;
  /** How it was sent. */
  how: "mail" | "message" | "other" | "paper";
  /** The customer whom it was sent to: the id of that record's first entry. */
  customer_id?: string | null;
  /** Anything worth knowing about it. */
  note?: string | null;
}

/** A shelf from which pieces were fitted. */
export interface ShelfLessRequest {
  /** Plates in stock. */
  pieces: ShelfPiece[];
  /** Every piece that was fitted, wherever it came from. */
  fitted?: string[] | null;
}

/** Plates now and when they were measured last. */
export interface SinceLastRequest {
  /** Unit of length that sentences are written in. */
  write_in?: "inch" | "mm" | "thou" | "" | null;
  /** Plates that were measured twice. */
  plates: {
    /** Place of the plate in the stack. */
    slot: string;
    /** Its lowest point now; 0.01 mm to 60 mm. */
    now_mm: Typed;
    /** Guard band of that measurement, one-sided 95 %; 0 mm to 5 mm. */
    now_guard_mm: Typed;
    /** Its lowest point when it was measured last; 0.01 mm to 60 mm. */
    last_mm: Typed;
    /** Guard band of that measurement; as large as the one now if empty; 0 mm to 5 mm. */
    last_guard_mm?: Typed | null;
  }[];
}

/** Ways to build a unit, side by side. */
export interface CandidatesRequest {
  /** The unit as it is built now, whole, as `standing` answers it. */
  built?: {
    /** The unit's definition, as it stands in the log. */
    unit: UnitRequest;
    /** Every place but the spring's. */
    places?: {
      /** How far off its thickness may be, either way; 0 mm to 50 mm. */
      within_mm: Typed;
    }[] | null;
    /** How far off the free height may be; a new spring's tolerance if empty; 0 mm to 50 mm. */
    spring_within_mm?: Typed | null;
    /** The torque measured with this build. */
    measured?: {
      /** Breakaway torque, as the order states it; 0.5 N·m to 5000 N·m. */
      torque_nm: Typed;
      /** Its expanded uncertainty, 95 %; 0 N·m to 5000 N·m. */
      expanded_nm?: Typed | null;
    } | null;
  } | null;
  /** What is to be tried besides. */
  tries?: {
    /** What it is called; made of its figures if empty. */
    name?: string | null;
    /** One of the unit's other pairs of ramps, by its name. */
    pair?: string | null;
    /** How the rings are fitted. */
    fitted?: "as_is" | "turned_over" | "" | null;
    /** Drive ramp angle to try; 5 ° to 90 °. */
    drive_deg?: Typed | null;
    /** Coast ramp angle to try; 5 ° to 90 °. */
    coast_deg?: Typed | null;
    /** Sliding faces of both packs together to try; 2 to 200. */
    faces?: Typed | null;
    /** Breakaway torque to try, as the order states it; 0.5 N·m to 5000 N·m. */
    torque_nm?: Typed | null;
  }[] | null;
  /** Torque into the case at which the torque held is told; 1 N·m to 50000 N·m. */
  at_nm?: Typed | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
}

/** The entries of one unit, and of others of its pattern. */
export interface ExperienceRequest {
  /** All entries of one unit, in any order. */
  entries: object[];
  /** Other units of the same pattern. */
  others?: {
    /** Name of the unit. */
    name: string;
    /** All entries of one unit, in any order. */
    entries: object[];
  }[] | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** An inspection of other parts. */
export interface InspectionRequest {
  /** Day of the inspection. */
  day?: string | null;
  /** Unit of length that sentences are written in. */
  write_in?: "inch" | "mm" | "thou" | "" | null;
  /** What was inspected. */
  features: {
    /** What the feature is called. */
    name: string;
    /** Part that it is on. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "journals"
      | "other"
      | "rings"
      | "screws"
      | "splines"
      | "thrust_washers";
    /** What is measured. */
    measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
    /** Kind of gauge; the usual one for what is measured if empty. */
    gauge?: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "" | null;
    /** In how many places it is measured; 1 to 24. */
    places?: Typed | null;
    /** Figure when new; 0 mm to 500 mm. */
    new_mm?: Typed | null;
    /** Lowest allowed; 0 mm to 500 mm. */
    low_mm?: Typed | null;
    /** Highest allowed; 0 mm to 500 mm. */
    high_mm?: Typed | null;
    /** Largest change against new, either way; 0.001 mm to 50 mm. */
    change_mm?: Typed | null;
    /** How often it may be used in all; 1 to 1000. */
    most_uses?: Typed | null;
    /** What uses it once more, as the log tells; only what inspections say if empty. */
    counted?: "closing" | "refit" | "" | null;
    /** Whether its limits are only common practice. */
    usual_limits?: boolean | null;
    /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
    outside?: "replace" | "rework" | "" | null;
    /** The gauge that it was measured with; the usual one of its kind if empty. */
    tool?: {
      /** What the gauge is called. */
      name?: string | null;
      /** One division of its scale, or the step from leaf to leaf; 0.0001 mm to 1 mm. */
      division_mm?: Typed | null;
      /** Largest permitted error; 0 mm to 1 mm. */
      deviation_mm?: Typed | null;
      /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
      certificate_mm?: Typed | null;
      /** Last day on which its calibration holds. */
      calibration_due?: string | null;
      /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
      zero_mm?: Typed | null;
    } | null;
    /** What was measured in each place; with a feeler gauge the thickest leaf that passes. */
    points_mm?: Typed[] | null;
    /** What the surface looks like. */
    marks?: "heavy" | "none" | "slight" | "" | null;
    /** What the crack test found. */
    crack?: "crack" | "none" | "unclear" | "" | null;
    /** How often it has been used; 0 to 1000. */
    uses?: Typed | null;
  }[];
}

/** Units with the time of their last look. */
export interface LastLookedRequest {
  /** Units, in the order to keep where two were never looked at, or at the same time. */
  units: {
    /** The unit's own id. */
    unit_id: string;
    /** When somebody last looked at it, with offset. */
    looked_at?: string | null;
  }[];
}

/** A letterhead. */
export interface LetterheadRequest {
  /** The workshop's name. */
  name: string;
  /** What stands below it: address, telephone, a line each. */
  lines?: string | null;
  /** Its mark: a JPEG or PNG picture in base64. */
  mark?: string | null;
}

/** What a strip of one unit found. */
export interface StripFoundRequest {
  /** All entries of one unit, in any order. */
  entries: object[];
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** Figures that are typed for plates. */
export interface WhichPlateRequest {
  /** Unit of length that sentences are written in. */
  write_in?: "inch" | "mm" | "thou" | "" | null;
  /** The plates of the stack, in their order. */
  plates: {
    /** Place of the plate in the stack. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness when new; 0.05 mm to 50 mm. */
    new_mm: Typed;
    /** Thickness at which it has to be replaced; 0.02 mm to 50 mm. */
    minimum_mm: Typed;
    /** Figures that were typed for it so far. */
    points_mm: Typed[];
  }[];
}

/** A torque check among the entries of its unit. */
export interface JudgedAgainRequest {
  /** All entries of one unit. */
  entries: object[];
  /** Id of the torque check. */
  id: string;
}

/** The marked parts of all units. */
export interface MarkedPartsRequest {
  /** Every stay of a marked part in any unit. */
  stays: object[];
  /** Marks that are looked up, as a rebuild has them. */
  asked?: {
    /** What the part is. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "friction"
      | "journals"
      | "other"
      | "ring"
      | "screws"
      | "separator"
      | "splines"
      | "spring"
      | "thrust_washers";
    /** Its mark, as somebody wrote it. */
    mark?: string | null;
  }[] | null;
}

/** A measurement of disc springs. */
export interface SpringCheckRequest {
  /** The gauge for the free height. */
  gauge: {
    /** What the gauge is called. */
    name?: string | null;
    /** One division of its scale; 0.0001 mm to 1 mm. */
    division_mm?: Typed | null;
    /** Largest permitted error; 0 mm to 1 mm. */
    deviation_mm?: Typed | null;
    /** Expanded uncertainty (k = 2) from its certificate; 0 mm to 1 mm. */
    certificate_mm?: Typed | null;
    /** Last day on which its calibration holds. */
    calibration_due?: string | null;
    /** How far from zero it stood when zero was last checked, either way; 0 mm to 5 mm. */
    zero_mm?: Typed | null;
  };
  /** Day of the measurement. */
  day?: string | null;
  /** Unit of length that sentences are written in. */
  write_in?: "inch" | "mm" | "thou" | "" | null;
  /** Largest difference round a disc; 0.001 mm to 5 mm. */
  uneven_mm?: Typed | null;
  /** The measured discs. */
  springs: {
    /** Place of the disc in the stack. */
    slot: string;
    /** The disc when new. */
    spring: DiscSpring;
    /** Free height round the disc. */
    points_mm: Typed[];
    /** Free height below which it has to be replaced; a new one's tolerance if empty; 0.1 mm to 60 mm. */
    minimum_mm?: Typed | null;
    /** Height of this disc in the closed unit; 0.1 mm to 60 mm. */
    fitted_mm?: Typed | null;
    /** Signs of heat, scoring or cracks. */
    marks?: "heavy" | "none" | "slight" | "" | null;
  }[];
}

/** A unit beside its pattern. */
export interface PatternOfferRequest {
  /** The unit's definition, as it was typed. */
  own: object;
  /** Its pattern as it stands, as it was typed. */
  wanted: object;
  /** The pattern as it was when its changes were last decided on; every difference is offered if empty. */
  seen?: object | null;
  /** The pattern that it is built to. */
  link?: {
    /** The pattern's own id: that of its first entry. */
    id: string;
    /** What it was called when this was written. */
    name: string;
    /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
    seen?: string | null;
  } | null;
  /** Changes to take. */
  accepted?: string[] | null;
  /** Unit of torque that sentences are written in. */
  write_in?: "kgf_m" | "lbf_ft" | "lbf_in" | "nm" | "" | null;
  /** Unit of length that sentences are written in. */
  write_lengths_in?: "inch" | "mm" | "thou" | "" | null;
}

/** The verdict. */
export type Verdict = "go" | "measure_again" | "replace" | "rework";

/** Something noticed besides the figures themselves. */
export interface Finding {
  /** Short name of what was found. */
  name: string;
  /** How much it counts. */
  weight: "doubt" | "note";
  /** What was found, as a number. */
  number: number;
  /** What was found and what to do about it. */
  text: string;
}

/** Something to know. */
export interface Concern {
  /** Short name. */
  name: string;
  /** One sentence. */
  text: string;
}

/** A plate as it was judged. */
export interface MeasuredPlate {
  /** Place in the stack. */
  slot: string;
  /** What kind of plate. */
  part: "friction" | "separator" | "shim";
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest point, which judges it; mm. */
  lowest_mm: number;
  /** Mean of its points; mm. */
  mean_mm: number;
  /** Difference round the plate; mm. */
  taper_mm: number;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm: number;
  /** Thickness at which it has to be replaced; mm. */
  minimum_mm: number;
  /** Whether that limit is only common practice; only where this engine judged it. */
  usual_minimum?: boolean;
  /** Thickness when new; mm. */
  new_mm: number;
  /** Thickness round the plate. */
  points_mm: number[];
  /** What was found. */
  findings: Finding[];
}

/** A disc spring as it was judged. */
export interface MeasuredSpring {
  /** What the part is called. */
  name: string;
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; mm. */
  lowest_mm: number;
  /** Highest of what was measured; mm. */
  highest_mm: number;
  /** Guard band, one-sided 95 %; mm. */
  guard_mm: number;
  /** Lowest allowed; mm. */
  low_mm: number | null;
  /** Highest allowed; mm. */
  high_mm: number | null;
  /** What was found. */
  findings: Finding[];
  /** Mean free height; mm. */
  mean_mm: number;
  /** How much lower it stands than when new; mm. */
  set_mm: number;
  /** Largest difference round the part; mm. */
  uneven_mm: number;
  /** Load in the closed unit when new; N; only where the height of the disc in the closed unit was given. */
  load_new_n?: number;
  /** Load in the closed unit now; N; only where the height of the disc in the closed unit was given. */
  load_now_n?: number;
}

/** A ramp ring or a cross pin as it was judged. */
export interface WornPart {
  /** What the part is called. */
  name: string;
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; mm. */
  lowest_mm: number;
  /** Highest of what was measured; mm. */
  highest_mm: number;
  /** Guard band, one-sided 95 %; mm. */
  guard_mm: number;
  /** Lowest allowed; mm. */
  low_mm: number | null;
  /** Highest allowed; mm. */
  high_mm: number | null;
  /** What was found. */
  findings: Finding[];
}

/** A feature as it was judged; without a verdict where nothing limits it. */
export interface InspectedFeature {
  /** What the feature is called. */
  name: string;
  /** Part that it is on. */
  part:
    | "bevel_gears"
    | "case"
    | "cover"
    | "cross_pins"
    | "journals"
    | "other"
    | "rings"
    | "screws"
    | "splines"
    | "thrust_washers";
  /** What was measured. */
  measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; empty where it has no length; mm. */
  lowest_mm: number | null;
  /** Highest of what was measured; mm. */
  highest_mm: number | null;
  /** Guard band of one value, one-sided 95 %; mm. */
  guard_mm: number | null;
  /** Lowest allowed; mm. */
  low_mm: number | null;
  /** Highest allowed; mm. */
  high_mm: number | null;
  /** Figure when new; mm. */
  new_mm: number | null;
  /** Largest change against new, with its sign; mm. */
  change_mm: number | null;
  /** How often it has been used. */
  uses: number | null;
  /** How often it may be used in all. */
  most_uses: number | null;
  /** What was found. */
  findings: Finding[];
}

/** A feature of another part by its last inspection. */
export interface StandingFeature {
  /** What the feature is called. */
  name: string;
  /** Part that it is on. */
  part:
    | "bevel_gears"
    | "case"
    | "cover"
    | "cross_pins"
    | "journals"
    | "other"
    | "rings"
    | "screws"
    | "splines"
    | "thrust_washers";
  /** What was measured. */
  measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; empty where it has no length; mm. */
  lowest_mm: number | null;
  /** Highest of what was measured; mm. */
  highest_mm: number | null;
  /** Guard band of one value, one-sided 95 %; mm. */
  guard_mm: number | null;
  /** Lowest allowed; mm. */
  low_mm: number | null;
  /** Highest allowed; mm. */
  high_mm: number | null;
  /** Largest change against new, with its sign; mm. */
  change_mm: number | null;
  /** How often it has been used. */
  uses: number | null;
  /** When it was entered, by the device's clock. */
  at: string | null;
  /** The entry's own id. */
  id: string | null;
  /** What whoever closes the unit has to know of screws; blank for nothing. */
  at_closing: string;
  /** What was found since its part was replaced, by time. */
  trend: {
    /** The entry's own id. */
    id: string;
    /** When it was entered, by the device's clock. */
    at: string;
    /** Lowest of what was measured; empty where it has no length; mm. */
    lowest_mm: number | null;
    /** Highest of what was measured; mm. */
    highest_mm: number | null;
    /** Guard band of one value, one-sided 95 %; mm. */
    guard_mm: number | null;
    /** How often it has been used. */
    uses: number | null;
    /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
    verdict: Verdict | null;
  }[];
}

/** One direction of torque. */
export interface Lock {
  /** Ramp angle from the plane of rotation; °. */
  angle_deg: number;
  /** Difference over sum of the two output torques, without the preload, most likely. */
  locking_value: number;
  /** The least that it may be, 95 %. */
  locking_low: number;
  /** The most that it may be, 95 %. */
  locking_high: number;
  /** The likely one in words, in percent. */
  locking: string;
  /** Its range in words; blank where that is nothing. */
  locking_range: string;
  /** Ratio of the two output torques; empty where it locks solid. */
  bias_ratio: number | null;
  /** The least that it may be, 95 %; empty where it locks solid. */
  bias_low: number | null;
  /** The most that it may be, 95 %; empty where it locks solid. */
  bias_high: number | null;
  /** The likely one in words. */
  bias: string;
  /** Its range in words; blank where that is nothing. */
  bias_range: string;
  /** What the ramps do to the locking value. */
  from_ramps: number;
  /** What the thrust of the bevel gears adds. */
  from_gears: number;
  /** What the ears' friction takes away, below 0. */
  from_ears: number;
  /** These in words; blank where the ramps alone press. */
  pressed_by: string;
  /** What the range of the locking value is made of, largest first. */
  doubt: {
    /** Short name of what may be off. */
    name: string;
    /** What it is. */
    meaning: string;
    /** Its share of the variance. */
    share: number;
  }[];
  /** Whether it locks solid without the preload. */
  solid: boolean;
  /** Torque into the case from which the ramps press harder; N·m. */
  takes_over_nm: number | null;
  /** The same in words: a torque, never, or that they add from the start. */
  takes_over: string;
  /** Torque into the case up to which it turns as one, whatever the grip; N·m. */
  holds_to_nm: number | null;
  /** Lock over torque. */
  curve: {
    /** Torque into the case; N·m. */
    torque_nm: number;
    /** Difference of the output torques that the packs hold, most likely; N·m. */
    lock_nm: number;
    /** The least that it may be, 95 %; N·m. */
    low_nm: number;
    /** The most that it may be, 95 %; N·m. */
    high_nm: number;
    /** Difference over sum of the two output torques. */
    locking_value: number;
    /** Ratio of the two output torques; empty where it locks solid. */
    bias_ratio: number | null;
  }[];
  /** Axial force on each pack for the torque into the case; N for each N·m. */
  axial_n_per_nm: number;
}

/** What to do at one place. */
export interface PlannedPart {
  /** Place in the stack. */
  slot: string;
  /** What sits there. */
  part: "friction" | "ring" | "separator" | "shim" | "spring";
  /** Thickness as it is fitted now; mm. */
  was_mm: number;
  /** What to do. */
  action: "fit" | "keep";
  /** The piece from the shelf; blank where the part stays. */
  piece: string;
  /** Thickness as planned; mm. */
  mm: number;
  /** How far off that may be, either way; mm. */
  within_mm: number;
  /** Limit of the piece; empty where it has none, as a ring or a shim; mm. */
  minimum_mm: number | null;
  /** Whether that limit is only common practice. */
  usual_minimum: boolean;
}

/** Another means to the same torque. */
export type Alternative = {
  /** Whether it reaches the torque. */
  possible: true;
  /** What else is tried. */
  means: "apart" | "change" | "order" | "shim" | "spring";
  /** Which spring, or which order. */
  about: string;
  /** What it changes. */
  affects: "preload torque and lock together" | "preload torque only";
  /** Whether it is proven that no choice with as few changes is better by more than 2 in 100. */
  proven: boolean;
  /** How many plates are changed. */
  changes: number;
  /** Breakaway torque that it gives; N·m. */
  torque_nm: number;
  /** That less what is wanted; N·m. */
  off_nm: number;
  /** Chance that the torque comes out within the order. */
  chance: number;
  /** The same as a builder says it. */
  chance_text: string;
  /** Chance that it reads above the order before it has bedded in; 0 if not aimed so. */
  above_chance: number;
  /** How far the closed cover squeezes the stack; empty where the plan goes by builds; mm. */
  crush_mm: number | null;
  /** Preload; empty where the plan goes by builds; N. */
  preload_n: number | null;
  /** First pack less second, less what that should be; mm. */
  apart_mm: number;
  /** Plates and rings together; mm. */
  solids_mm: number;
  /** Plates and rings together, less those that are fitted; mm. */
  added_mm: number;
  /** How far off the torque may come out; the shares are each for itself and do not add up. */
  spread_nm: {
    /** From the fitted pieces' thickness, 95 %; N·m. */
    plates_nm: number;
    /** From the other places' thickness and the depth, 95 %; N·m. */
    places_nm: number;
    /** From the spring's height, and its load where none was measured, upward; N·m. */
    spring_above_nm: number;
    /** The same, downward; N·m. */
    spring_below_nm: number;
    /** From the torque that was measured, 95 %; N·m. */
    reading_nm: number;
    /** From a friction that is assumed, 95 %, upward; N·m. */
    friction_above_nm: number;
    /** The same, downward; N·m. */
    friction_below_nm: number;
    /** Lowest to expect: 1 of 40 comes out below; N·m. */
    low_nm: number;
    /** Highest to expect: 1 of 40 comes out above; N·m. */
    high_nm: number;
    /** From what builds differ by, 95 %; N·m; only where the plan goes by builds in the log. */
    builds_nm?: number;
  };
  /** Every part, from cover to floor. */
  stack: PlannedPart[];
} | {
  /** Whether it reaches the torque. */
  possible: false;
  /** What else is tried. */
  means: "apart" | "change" | "order" | "shim" | "spring";
  /** Which spring, or which order. */
  about: string;
  /** What it changes. */
  affects: "preload torque and lock together" | "preload torque only";
};

/** One of the good choices. */
export interface PlannedChoice {
  /** What it is among the choices. */
  kind: "between" | "fewest" | "most_certain";
  /** Whether it is proven that no choice with as few changes is better by more than 2 in 100. */
  proven: boolean;
  /** How many plates are changed. */
  changes: number;
  /** Breakaway torque that it gives; N·m. */
  torque_nm: number;
  /** That less what is wanted; N·m. */
  off_nm: number;
  /** Chance that the torque comes out within the order. */
  chance: number;
  /** The same as a builder says it. */
  chance_text: string;
  /** Chance that it reads above the order before it has bedded in; 0 if not aimed so. */
  above_chance: number;
  /** How far the closed cover squeezes the stack; empty where the plan goes by builds; mm. */
  crush_mm: number | null;
  /** Preload; empty where the plan goes by builds; N. */
  preload_n: number | null;
  /** First pack less second, less what that should be; mm. */
  apart_mm: number;
  /** Plates and rings together; mm. */
  solids_mm: number;
  /** Plates and rings together, less those that are fitted; mm. */
  added_mm: number;
  /** How far off the torque may come out; the shares are each for itself and do not add up. */
  spread_nm: {
    /** From the fitted pieces' thickness, 95 %; N·m. */
    plates_nm: number;
    /** From the other places' thickness and the depth, 95 %; N·m. */
    places_nm: number;
    /** From the spring's height, and its load where none was measured, upward; N·m. */
    spring_above_nm: number;
    /** The same, downward; N·m. */
    spring_below_nm: number;
    /** From the torque that was measured, 95 %; N·m. */
    reading_nm: number;
    /** From a friction that is assumed, 95 %, upward; N·m. */
    friction_above_nm: number;
    /** The same, downward; N·m. */
    friction_below_nm: number;
    /** Lowest to expect: 1 of 40 comes out below; N·m. */
    low_nm: number;
    /** Highest to expect: 1 of 40 comes out above; N·m. */
    high_nm: number;
    /** From what builds differ by, 95 %; N·m; only where the plan goes by builds in the log. */
    builds_nm?: number;
  };
  /** Every part, from cover to floor. */
  stack: PlannedPart[];
  /** The choice in one line. */
  text: string;
  /** Chances to meet the order that are proven to be above those of all other choices. */
  at_most: {
    /** With fewer changes; empty where none of those is expected within the order. */
    fewer: number | null;
    /** With as many changes. */
    as_many: number;
    /** With any number of changes. */
    all: number;
  };
  /** What is proven about it. */
  proof: string;
  /** What to know about it. */
  warnings: Concern[];
}

/** An entry that was judged as a whole. */
export interface JudgedEntry {
  /** The entry's own id. */
  id: string;
  /** When it was entered, by the device's clock. */
  at: string;
  /** Who entered it. */
  who: string;
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** Why, in one sentence. */
  reason: string;
  /** The torque that was shown; N·m. */
  value_nm: number | null;
  /** The expanded uncertainty that was shown; N·m. */
  expanded_nm: number | null;
  /** The guard band that was shown; N·m. */
  guard_nm: number | null;
  /** Lowest torque allowed then; N·m. */
  low_nm: number | null;
  /** Highest torque allowed then; N·m. */
  high_nm: number | null;
  /** What was found then. */
  findings: StoredFinding[];
  /** Whether the workshop's verdict is the same; empty until it has judged. */
  agrees: boolean | null;
}

/** The last measurement of one part. */
export interface LastMeasurement {
  /** Place in the stack, or name of the part. */
  slot: string;
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; mm. */
  lowest_mm: number | null;
  /** Mean of what was measured; mm. */
  mean_mm: number | null;
  /** Its limit, for a plate; mm. */
  minimum_mm: number | null;
  /** Guard band of one reading; mm. */
  guard_mm: number | null;
  /** When it was entered, by the device's clock. */
  at: string;
  /** The same in UTC, corrected where the device's clock was off. */
  corrected_at: string;
  /** The entry's own id. */
  id: string;
}

/** What sits in one place. */
export interface BuiltPlace {
  /** Place in the stack. */
  slot: string;
  /** What sits there. */
  part: "friction" | "ring" | "separator" | "shim" | "spring";
  /** Mean thickness; mm. */
  mm: number;
  /** Lowest point, which its limit judges; empty where it was not measured; mm. */
  lowest_mm: number | null;
  /** How its thickness is known. */
  known: "fitted" | "measured" | "nominal";
  /** How far off that thickness may be, either way; mm. */
  within_mm: number;
  /** When it was measured, by the device's clock. */
  at: string | null;
  /** Thickness as it was fitted or when new; mm. */
  new_mm: number;
  /** Its limit; mm. */
  minimum_mm: number;
  /** Whether that limit is only common practice. */
  usual_minimum: boolean;
  /** Whether it is a plate that was judged worn and has to go. */
  replace: boolean;
}

/** The unit as it is built now. */
export interface BuiltUnit {
  /** Every place but the spring's, from cover to floor. */
  places: BuiltPlace[];
  /** When its plates were measured. */
  measured_text: string;
  /** That this was too long ago; blank where it was not. */
  stale_text: string;
  /** What it lost while it bedded in, after each of its last rebuilds. */
  bedding: {
    /** When it was rebuilt, by the device's clock. */
    at: string;
    /** Torque of the first check, before the plates bedded in; N·m. */
    first_nm: number;
    /** That less the checks after its first outings; below 0 where it rose; N·m. */
    loss_nm: number;
    /** Standard doubt of that loss; N·m. */
    u_nm: number;
  }[];
  /** What units built alike have in common. */
  alike: string;
  /** The definition as built, in SI. */
  unit: {
    /** Name of the unit. */
    name: string;
    /** Whose it is. */
    owner: string;
    /** Anything worth knowing about it. */
    note: string;
    /** The car that it is fitted to, by the entry that brought that in. */
    car_id: string;
    /** Where in the car it sits; centre: centre, between the axles; front: front axle; rear: rear axle. */
    sits: "centre" | "front" | "rear" | null;
    /** The customer whose it is, by the entry that brought that in; owner then says the name. */
    customer_id: string;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family: string;
    /** The pattern that it is built to. */
    pattern: {
      /** The pattern's own id: that of its first entry. */
      id: string;
      /** What it was called when this was written. */
      name: string;
      /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
      seen: string;
    } | null;
    /** What the customer ordered. */
    order: {
      /** Breakaway torque ordered; N·m. */
      torque_nm: number;
      /** How far off it may be, either way; N·m. */
      tolerance_nm: number;
    } | null;
    /** Reading that order and limits are for. */
    judged_on: "first_move" | "steady";
    /** Way of holding that order and limits are stated for. */
    stated_for: "case_held" | "one_output_held";
    /** Limits between rebuilds. */
    service: {
      /** Lowest torque at which it may run again; N·m. */
      low_nm: number | null;
      /** Highest torque at which it may run again; N·m. */
      high_nm: number | null;
      /** Days after which its plates are measured again; 365 if empty. */
      plates_every_days: number | null;
      /** Outings after which its plates are measured again. */
      plates_every_outings: number | null;
      /** Hours of running after which its plates are measured again. */
      plates_every_hours: number | null;
      /** Outings after which its torque is checked again. */
      check_every_outings: number | null;
      /** Hours of running after which its torque is checked again. */
      check_every_hours: number | null;
      /** Days after which its torque is checked again. */
      check_every_days: number | null;
      /** Outings after which its oil is changed. */
      oil_every_outings: number | null;
      /** Hours of running after which its oil is changed. */
      oil_every_hours: number | null;
      /** Days after which its oil is changed. */
      oil_every_days: number | null;
    } | null;
    /** Turns of the output for one turn of the wheel. */
    hub_ratio: number;
    /**
     * Where the spring sits; as the stack has it if empty; between_rings: a spring between the ramp rings; in_line: one
     * spring in line with the packs, against the cover or the floor; two_springs: two springs in line, one at each end.
     */
    layout: "between_rings" | "in_line" | "two_springs" | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring: {
      /** Outside diameter; mm. */
      de_mm: number;
      /** Inside diameter; mm. */
      di_mm: number;
      /** Thickness of the disc; mm. */
      t_mm: number;
      /** Free height of one disc; mm. */
      l0_mm: number;
      /** Reduced thickness of a disc with contact flats; mm. */
      flats_t_mm: number | null;
      /** Discs nested the same way, which add their loads. */
      parallel: number;
      /** Nests turned against each other, which share the travel. */
      series: number;
      /** Friction between nested discs, w_M of DIN EN 16984; left out if empty. */
      surface_friction: number | null;
      /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty. */
      edge_friction: number | null;
      /** Modulus of elasticity; N/mm². */
      elastic_nmm2: number;
      /** Poisson's ratio. */
      poisson: number;
    } | null;
    /** Depth from the cover's face to the floor; mm. */
    cavity_mm: number | null;
    /** The stack from cover to floor. */
    chain: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; mm. */
      new_mm: number | null;
      /** Thickness at which it has to be replaced; mm. */
      minimum_mm: number | null;
      /**
       * Side that the point of a disc spring's cone faces; cover: its point faces the cover; floor: its point faces the
       * floor.
       */
      cone_to: "cover" | "floor" | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction: {
      /** Inside diameter of the rubbing ring; mm. */
      inner_mm: number;
      /** Outside diameter of the rubbing ring; mm. */
      outer_mm: number;
      /** Coefficient of friction, plates in oil. */
      mu: number;
      /** Whether the plates are run in. */
      run_in: boolean;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps: {
      /** Radius at which the cross pins bear on the ramps; mm. */
      pin_radius_mm: number;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Coefficient of friction of pin on ramp. */
      mu: number;
      /** The ramp rings' ears. */
      ears: {
        /** Radius at which the rings' ears bear in the case's slots; mm. */
        radius_mm: number;
        /** Coefficient of friction of ear in slot. */
        mu: number;
      } | null;
      /** The bevel gears. */
      gears: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; °. */
        pressure_deg: number;
        /** Radius of a side gear at the middle of its teeth; mm. */
        pitch_radius_mm: number;
        /** Pitch cone angle of a side gear, from its own shaft; °. */
        cone_deg: number | null;
        /** Teeth of a side gear, where its cone angle is not known. */
        side_teeth: number | null;
        /** Teeth of a pinion, where the cone angle is not known. */
        pinion_teeth: number | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; mm. */
      pin_radius_mm: number | null;
    }[];
    /** The cover and its screws. */
    cover: {
      /** How many screws hold the cover. */
      screws: number;
      /** Thread diameter; mm. */
      screw_mm: number;
      /** Torque of a screw; N·m. */
      torque_nm: number;
      /** Gap under the cover when the screws first catch; assumed if empty; mm. */
      start_mm: number | null;
      /** Greatest torque into the case, which the ramps turn into push; N·m. */
      case_nm: number | null;
    } | null;
    /** Limits common to all plates. */
    limits: {
      /** Largest difference round a plate; mm. */
      taper_mm: number;
      /** Largest gap under a plate; mm. */
      flatness_mm: number;
    };
    /** A case that expands otherwise than what is in it. */
    warming: {
      /** How much warmer the unit runs than it was built; K. */
      warmer_k: number;
      /** Expansion of the case, millionths of its length for each kelvin. */
      case_ppm: number;
      /** Expansion of plates, rings and spring, the same way. */
      stack_ppm: number;
    } | null;
    /** What is inspected on other parts. */
    features: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /**
       * Kind of gauge; the usual one for what is measured if empty; bore_gauge: bore gauge; depth_gauge: depth gauge;
       * dial_gauge: dial gauge; feeler: feeler gauge; micrometer: micrometer.
       */
      gauge: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | null;
      /** In how many places it is measured. */
      places: number;
      /** Figure when new; mm. */
      new_mm: number | null;
      /** Lowest allowed; mm. */
      low_mm: number | null;
      /** Highest allowed; mm. */
      high_mm: number | null;
      /** Largest change against new, either way; mm. */
      change_mm: number | null;
      /** How often it may be used in all. */
      most_uses: number | null;
      /**
       * What uses it once more, as the log tells; only what inspections say if empty; closing: each time that the cover
       * is closed; refit: each time that the unit goes back into its axle.
       */
      counted: "closing" | "refit" | null;
      /** Whether its limits are only common practice. */
      usual_limits: boolean;
      /**
       * What is done where it is outside; if empty, rework for backlash and end float, replace for all else; replace:
       * replace it; rework: rework or shim it.
       */
      outside: "replace" | "rework" | null;
    }[];
    /** Marked parts that were in it when it was added; rebuilds say what changed since. */
    marked_parts: {
      /** What the part is. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "friction"
        | "journals"
        | "other"
        | "ring"
        | "screws"
        | "separator"
        | "splines"
        | "spring"
        | "thrust_washers";
      /** Its place in the stack, or which of several; may stay empty where the unit has one. */
      place: string;
      /** Number or mark on it. */
      mark: string;
    }[];
    /** Which of these figures were worked out, not measured. */
    worked_out: {
      /** The depth, where it was worked out. */
      cavity_mm: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure. */
        value: number;
        /** Its standard uncertainty. */
        u: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
    } | null;
  };
  /** The strongest spring and stack that a vice has to hold. */
  strongest: {
    /** Name of the unit. */
    name: string;
    /** Whose it is. */
    owner: string;
    /** Anything worth knowing about it. */
    note: string;
    /** The car that it is fitted to, by the entry that brought that in. */
    car_id: string;
    /** Where in the car it sits; centre: centre, between the axles; front: front axle; rear: rear axle. */
    sits: "centre" | "front" | "rear" | null;
    /** The customer whose it is, by the entry that brought that in; owner then says the name. */
    customer_id: string;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family: string;
    /** The pattern that it is built to. */
    pattern: {
      /** The pattern's own id: that of its first entry. */
      id: string;
      /** What it was called when this was written. */
      name: string;
      /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
      seen: string;
    } | null;
    /** What the customer ordered. */
    order: {
      /** Breakaway torque ordered; N·m. */
      torque_nm: number;
      /** How far off it may be, either way; N·m. */
      tolerance_nm: number;
    } | null;
    /** Reading that order and limits are for. */
    judged_on: "first_move" | "steady";
    /** Way of holding that order and limits are stated for. */
    stated_for: "case_held" | "one_output_held";
    /** Limits between rebuilds. */
    service: {
      /** Lowest torque at which it may run again; N·m. */
      low_nm: number | null;
      /** Highest torque at which it may run again; N·m. */
      high_nm: number | null;
      /** Days after which its plates are measured again; 365 if empty. */
      plates_every_days: number | null;
      /** Outings after which its plates are measured again. */
      plates_every_outings: number | null;
      /** Hours of running after which its plates are measured again. */
      plates_every_hours: number | null;
      /** Outings after which its torque is checked again. */
      check_every_outings: number | null;
      /** Hours of running after which its torque is checked again. */
      check_every_hours: number | null;
      /** Days after which its torque is checked again. */
      check_every_days: number | null;
      /** Outings after which its oil is changed. */
      oil_every_outings: number | null;
      /** Hours of running after which its oil is changed. */
      oil_every_hours: number | null;
      /** Days after which its oil is changed. */
      oil_every_days: number | null;
    } | null;
    /** Turns of the output for one turn of the wheel. */
    hub_ratio: number;
    /**
     * Where the spring sits; as the stack has it if empty; between_rings: a spring between the ramp rings; in_line: one
     * spring in line with the packs, against the cover or the floor; two_springs: two springs in line, one at each end.
     */
    layout: "between_rings" | "in_line" | "two_springs" | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring: {
      /** Outside diameter; mm. */
      de_mm: number;
      /** Inside diameter; mm. */
      di_mm: number;
      /** Thickness of the disc; mm. */
      t_mm: number;
      /** Free height of one disc; mm. */
      l0_mm: number;
      /** Reduced thickness of a disc with contact flats; mm. */
      flats_t_mm: number | null;
      /** Discs nested the same way, which add their loads. */
      parallel: number;
      /** Nests turned against each other, which share the travel. */
      series: number;
      /** Friction between nested discs, w_M of DIN EN 16984; left out if empty. */
      surface_friction: number | null;
      /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty. */
      edge_friction: number | null;
      /** Modulus of elasticity; N/mm². */
      elastic_nmm2: number;
      /** Poisson's ratio. */
      poisson: number;
    } | null;
    /** Depth from the cover's face to the floor; mm. */
    cavity_mm: number | null;
    /** The stack from cover to floor. */
    chain: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; mm. */
      new_mm: number | null;
      /** Thickness at which it has to be replaced; mm. */
      minimum_mm: number | null;
      /**
       * Side that the point of a disc spring's cone faces; cover: its point faces the cover; floor: its point faces the
       * floor.
       */
      cone_to: "cover" | "floor" | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction: {
      /** Inside diameter of the rubbing ring; mm. */
      inner_mm: number;
      /** Outside diameter of the rubbing ring; mm. */
      outer_mm: number;
      /** Coefficient of friction, plates in oil. */
      mu: number;
      /** Whether the plates are run in. */
      run_in: boolean;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps: {
      /** Radius at which the cross pins bear on the ramps; mm. */
      pin_radius_mm: number;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Coefficient of friction of pin on ramp. */
      mu: number;
      /** The ramp rings' ears. */
      ears: {
        /** Radius at which the rings' ears bear in the case's slots; mm. */
        radius_mm: number;
        /** Coefficient of friction of ear in slot. */
        mu: number;
      } | null;
      /** The bevel gears. */
      gears: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; °. */
        pressure_deg: number;
        /** Radius of a side gear at the middle of its teeth; mm. */
        pitch_radius_mm: number;
        /** Pitch cone angle of a side gear, from its own shaft; °. */
        cone_deg: number | null;
        /** Teeth of a side gear, where its cone angle is not known. */
        side_teeth: number | null;
        /** Teeth of a pinion, where the cone angle is not known. */
        pinion_teeth: number | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; mm. */
      pin_radius_mm: number | null;
    }[];
    /** The cover and its screws. */
    cover: {
      /** How many screws hold the cover. */
      screws: number;
      /** Thread diameter; mm. */
      screw_mm: number;
      /** Torque of a screw; N·m. */
      torque_nm: number;
      /** Gap under the cover when the screws first catch; assumed if empty; mm. */
      start_mm: number | null;
      /** Greatest torque into the case, which the ramps turn into push; N·m. */
      case_nm: number | null;
    } | null;
    /** Limits common to all plates. */
    limits: {
      /** Largest difference round a plate; mm. */
      taper_mm: number;
      /** Largest gap under a plate; mm. */
      flatness_mm: number;
    };
    /** A case that expands otherwise than what is in it. */
    warming: {
      /** How much warmer the unit runs than it was built; K. */
      warmer_k: number;
      /** Expansion of the case, millionths of its length for each kelvin. */
      case_ppm: number;
      /** Expansion of plates, rings and spring, the same way. */
      stack_ppm: number;
    } | null;
    /** What is inspected on other parts. */
    features: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /**
       * Kind of gauge; the usual one for what is measured if empty; bore_gauge: bore gauge; depth_gauge: depth gauge;
       * dial_gauge: dial gauge; feeler: feeler gauge; micrometer: micrometer.
       */
      gauge: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | null;
      /** In how many places it is measured. */
      places: number;
      /** Figure when new; mm. */
      new_mm: number | null;
      /** Lowest allowed; mm. */
      low_mm: number | null;
      /** Highest allowed; mm. */
      high_mm: number | null;
      /** Largest change against new, either way; mm. */
      change_mm: number | null;
      /** How often it may be used in all. */
      most_uses: number | null;
      /**
       * What uses it once more, as the log tells; only what inspections say if empty; closing: each time that the cover
       * is closed; refit: each time that the unit goes back into its axle.
       */
      counted: "closing" | "refit" | null;
      /** Whether its limits are only common practice. */
      usual_limits: boolean;
      /**
       * What is done where it is outside; if empty, rework for backlash and end float, replace for all else; replace:
       * replace it; rework: rework or shim it.
       */
      outside: "replace" | "rework" | null;
    }[];
    /** Marked parts that were in it when it was added; rebuilds say what changed since. */
    marked_parts: {
      /** What the part is. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "friction"
        | "journals"
        | "other"
        | "ring"
        | "screws"
        | "separator"
        | "splines"
        | "spring"
        | "thrust_washers";
      /** Its place in the stack, or which of several; may stay empty where the unit has one. */
      place: string;
      /** Number or mark on it. */
      mark: string;
    }[];
    /** Which of these figures were worked out, not measured. */
    worked_out: {
      /** The depth, where it was worked out. */
      cavity_mm: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure. */
        value: number;
        /** Its standard uncertainty. */
        u: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
    } | null;
  };
  /** Free height of the spring as measured; empty where it was not; mm. */
  spring_mm: number | null;
  /** How far off that height may be, either way; mm. */
  spring_within_mm: number | null;
  /** The last torque check of this build. */
  measured: {
    /** Breakaway torque of this build; N·m. */
    torque_nm: number;
    /** Its expanded uncertainty, 95 %; N·m. */
    expanded_nm: number;
  } | null;
  /** What a torque check has to know of the unit, as its build. */
  for_check: {
    /** Where the spring sits. */
    layout: "between_rings" | "in_line" | "not_known" | "two_springs";
    /** Sliding faces of the first pack. */
    first_faces: number | null;
    /** Sliding faces of the second pack. */
    second_faces: number | null;
    /** Effective radius of the plates; mm. */
    radius_mm: number | null;
    /** Coefficient of friction, plates in oil. */
    mu: number | null;
    /** The ramp rings, and what else presses the packs. */
    ramps: {
      /** Radius at which the cross pins bear on the ramps; mm. */
      pin_radius_mm: number;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Coefficient of friction of pin on ramp. */
      mu: number;
      /** The ramp rings' ears. */
      ears: {
        /** Radius at which the rings' ears bear in the case's slots; mm. */
        radius_mm: number;
        /** Coefficient of friction of ear in slot. */
        mu: number;
      } | null;
      /** The bevel gears. */
      gears: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; °. */
        pressure_deg: number;
        /** Radius of a side gear at the middle of its teeth; mm. */
        pitch_radius_mm: number;
        /** Pitch cone angle of a side gear, from its own shaft; °. */
        cone_deg: number | null;
        /** Teeth of a side gear, where its cone angle is not known. */
        side_teeth: number | null;
        /** Teeth of a pinion, where the cone angle is not known. */
        pinion_teeth: number | null;
      } | null;
    } | null;
  };
  /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
  crush_mm: number | null;
  /** Preload; empty where the stack is loose, or not known; N. */
  preload_n: number | null;
  /** Figures that were worked out, not measured. */
  worked_out: {
    /** Short name of the figure. */
    name: string;
    /** Its field in the definition. */
    field: string;
    /** What it is called. */
    title: string;
    /** The figure with its unit. */
    value: string;
    /** How far off it may be, 95 %. */
    within: string;
    /** What it was worked out from, in one sentence. */
    text: string;
    /** What was measured for it, as it was written then. */
    basis: string;
  }[];
  /** What to know about the spring, and where order and limits contradict each other. */
  warnings: Concern[];
}

/** A class or a piece on the shelf. */
export interface ShelfRow {
  /** What the piece or the class is called. */
  name: string;
  /** What kind of plate; friction: friction plate; separator: separator plate; shim: shim. */
  part: "friction" | "separator" | "shim" | null;
  /** Thickness; mm. */
  mm: number;
  /** How many there are now. */
  count: number;
  /** How many of it plans that were taken mean to fit. */
  wanted: number;
  /** How many those leave. */
  free: number;
  /** How many have to be bought for the plans and the lowest stock; 0 for a piece that has run. */
  to_buy: number;
  /** Lowest stock that somebody set. */
  lowest_stock: number | null;
  /** How many more were fitted than there were: the shelf disagrees. */
  short: number;
  /** Whether fewer are there than plans and the lowest stock ask for. */
  is_low: boolean;
  /** Whether it is a piece that has run. */
  used: boolean;
  /** How far off one may be; mm. */
  within_mm: number | null;
  /** Limit: its own, its class's, or that of common practice; mm. */
  minimum_mm: number;
  /** Whether that limit is only common practice. */
  usual_minimum: boolean;
  /** Its lowest point, which its limit judges; mm. */
  lowest_mm: number | null;
  /** Thickness when new, of a piece that has run; mm. */
  new_mm: number | null;
  /** Plate family. */
  family: string | null;
  /** When it was counted last; empty where it never was. */
  counted_at: string | null;
  /** Who counted it. */
  counted_by: string;
  /** Id of that count; empty where it has no row for it. */
  counted_in: string | null;
  /** Which plans want it. */
  wanted_by: {
    /** The unit's own id. */
    unit: string;
    /** What the unit is called. */
    name: string;
    /** How many. */
    count: number;
  }[];
  /** Where the number disagrees or is in doubt, and what is lacking. */
  says: string[];
  /** Where the number comes from, the newest first. */
  trail: {
    /** When. */
    at: string;
    /** Who entered it. */
    who: string;
    /** The entry's own id. */
    id: string;
    /** The unit's own id; blank for a count. */
    unit: string;
    /** What it was. */
    step: "counted" | "earlier" | "kept" | "taken";
    /** How many plates it put or took; empty for a count. */
    change: number | null;
    /** How many there were then; below 0 where more were fitted than there were. */
    left: number | null;
    /** The same in words. */
    text: string;
  }[];
}

/** What a rebuild means for the shelf. */
export interface ShelfMove {
  /** The entry's own id. */
  id: string;
  /** Id of the entry that it corrects, or its own. */
  first: string;
  /** When it was entered, by the device's clock put right. */
  at: string;
  /** Who entered it. */
  who: string;
  /** When it was most likely made, seconds since 1970. */
  at_s: number;
  /** The earliest that it can have been made; empty where nobody knows. */
  first_s: number | null;
  /** The latest that it can have been made; empty where nobody knows. */
  last_s: number | null;
  /** Whether an older Slipbook wrote it. */
  old: boolean;
  /** Entries that it knew, as far as they concern the shelf. */
  knew: string[];
  /** Those that it names itself and that are not of its own unit, or of the shop. */
  elsewhere: string[];
  /** What came off the shelf. */
  taken: {
    /** What the piece or the class is called. */
    name: string;
    /** Place that it was fitted in. */
    slot: string;
    /** What sits in that place; friction: friction plate; ring: a ramp ring; separator: separator plate; shim: shim. */
    part: "friction" | "ring" | "separator" | "shim" | null;
    /** Its thickness; mm. */
    mm: number;
  }[];
  /** What went onto the shelf. */
  kept: {
    /** Place that it came out of. */
    slot?: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Where it went. */
    where: "again" | "keep" | "scrap";
    /** What it is called on the shelf, where it is kept. */
    name?: string;
    /** Its mean thickness as measured; mm. */
    mm: number | null;
    /** Its lowest point, which its limit judges; mm. */
    lowest_mm: number;
    /** How far off its thickness may be; mm. */
    within_mm: number;
    /** Its own limit; that of its class, if empty; mm. */
    minimum_mm: number;
    /** Its thickness when new, by which its class is found; mm. */
    new_mm: number;
    /** Plate family: rubbing ring, lugs or splines, material. */
    family: string;
  }[];
}

/** A count of the shelf that stands. */
export interface ShelfCount {
  /** The entry's own id. */
  id: string;
  /** Id of the entry that it corrects, or its own. */
  first: string;
  /** When it was entered, by the device's clock put right. */
  at: string;
  /** Who entered it. */
  who: string;
  /** When it was most likely made, seconds since 1970. */
  at_s: number;
  /** The earliest that it can have been made; empty where nobody knows. */
  first_s: number | null;
  /** The latest that it can have been made; empty where nobody knows. */
  last_s: number | null;
  /** Whether an older Slipbook wrote it. */
  old: boolean;
  /** Entries that it knew, as far as they concern the shelf. */
  knew: string[];
  /** Those that it names itself and that are not of its own unit, or of the shop. */
  elsewhere: string[];
  /** Plates in stock. */
  pieces: {
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string;
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness; mm. */
    mm: number;
    /** How many there are. */
    count?: number;
    /** How far off one may be; mm. */
    within_mm?: number;
    /** Limit: thickness at which one has to be replaced; mm. */
    minimum_mm?: number;
    /** Thickness when new, of a piece that has run; mm. */
    new_mm?: number;
    /** Its lowest point, which its limit judges, of a piece that has run; mm. */
    lowest_mm?: number;
    /** Lowest stock of the class: with fewer than this, more are to be bought. */
    lowest_stock?: number;
  }[];
  /** Whether the other rows are as they were. */
  only_these: boolean;
}

/** A plan that was taken, and not rebuilt since. */
export interface PlanTaken {
  /** The entry's own id. */
  id: string;
  /** Id of the entry that it corrects, or its own. */
  first: string;
  /** When it was entered, by the device's clock put right. */
  at: string;
  /** Who entered it. */
  who: string;
  /** When it was most likely made, seconds since 1970. */
  at_s: number;
  /** The earliest that it can have been made; empty where nobody knows. */
  first_s: number | null;
  /** The latest that it can have been made; empty where nobody knows. */
  last_s: number | null;
  /** Whether an older Slipbook wrote it. */
  old: boolean;
  /** Entries that it knew, as far as they concern the shelf. */
  knew: string[];
  /** Those that it names itself and that are not of its own unit, or of the shop. */
  elsewhere: string[];
  /** Every plate that is to be fitted. */
  fitted: {
    /** Place in the stack. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** What the piece is called on the shelf. */
    piece: string;
    /** Its thickness; mm. */
    mm: number;
    /** Its limit, where it is known; mm. */
    minimum_mm?: number;
    /** Whether it has to be bought first. */
    bought?: boolean;
  }[];
}

/** A marked part in a unit, from when to when. */
export interface MarkedStay {
  /** What it is. */
  part:
    | "bevel_gears"
    | "case"
    | "cover"
    | "cross_pins"
    | "friction"
    | "journals"
    | "other"
    | "ring"
    | "screws"
    | "separator"
    | "splines"
    | "spring"
    | "thrust_washers";
  /** Its place in the unit; blank where it has no name. */
  place: string;
  /** The mark on it. */
  mark: string;
  /** The mark as it is compared. */
  key: string;
  /** When it went in; empty where it was there when the unit was added. */
  from_at: string | null;
  /** The same in seconds since 1970. */
  from_s: number | null;
  /** The entry's own id. */
  from_id: string | null;
  /** When it came out; empty while it is in the unit. */
  to_at: string | null;
  /** The same in seconds since 1970. */
  to_s: number | null;
  /** The entry's own id. */
  to_id: string | null;
  /**
   * Where it went; empty where that was not said; away: left for another workshop; scrap: scrapped; stock: kept in
   * stock.
   */
  to: "away" | "scrap" | "stock" | null;
  /** That the log contradicts itself here; blank where it does not. */
  says: string;
  /** Outings; empty where nothing tells of any. */
  outings: number | null;
  /** Hours that were logged. */
  hours: number;
  /** Outings that are counted without their hours. */
  untimed: number;
  /** Builds that say nothing of outings. */
  untold: number;
  /** How often screws were tightened; empty where that is not counted. */
  uses: number | null;
  /** How many of these were before it went in, as was typed. */
  uses_before: number;
  /** What was found of it here, by time. */
  found: {
    /** Feature that was inspected; blank for a part of the stack. */
    name: string;
    /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
    verdict: Verdict | null;
    /** Why, in one sentence. */
    reason: string;
    /** When it was entered, by the device's clock. */
    at: string;
    /** The entry's own id. */
    id: string;
    /** The same in seconds since 1970. */
    at_s: number;
    /** Whether it is what was found last. */
    stands: boolean;
  }[];
  /** What was found of it elsewhere. */
  brought: {
    /** Feature that was inspected; blank for a part of the stack. */
    feature?: string | null;
    /** How it was judged. */
    verdict: "measure_again" | "replace" | "rework";
    /** Why, as it was said then. */
    reason?: string | null;
    /** Day on which it was found. */
    day?: string | null;
    /** Unit in which it was found. */
    unit_name?: string | null;
  }[];
}

/** Nothing beyond the request itself. */
export interface JustChecked {
  /** Always empty: nothing is judged here. */
  verdict: null;
}

/** What the engine says about itself. */
export interface AboutResult {
  /** Version of the engine. */
  version: string;
  /** The kinds of entry that the engine judges; by the kind's own name. */
  kinds: Record<string, {
    /** Version of the body's form. */
    version: number;
    /** What it is, in the user's words. */
    meaning: string;
    /** The calculation that checks and judges its body. */
    calculation:
      | "breakaway"
      | "car"
      | "close"
      | "customer"
      | "erasure"
      | "inspection"
      | "kit"
      | "letterhead"
      | "note"
      | "outing"
      | "pattern"
      | "photo"
      | "planned"
      | "plates"
      | "rebuild"
      | "refit"
      | "ring_check"
      | "service"
      | "sheet_sent"
      | "shelf"
      | "spring_check"
      | "strip"
      | "trial"
      | "unit";
    /** What several are called in a sentence. */
    nouns: string;
    /** What an entry of it is about. */
    about: "either" | "shop" | "unit";
    /** What it belongs to, as a sentence names all kinds that do. */
    area: string;
    /** Who may write it. */
    writers: ("bench" | "trackside")[];
    /** Whether whoever wrote it looked at the unit itself. */
    is_look: boolean;
    /** Tables of judged parts in its result. */
    tables: string[][];
    /** Name of the screen on which it is corrected; blank for none. */
    corrected_on: string;
    /** Whether saving one can be undone, by a note that replaces it. */
    can_undo: boolean;
    /** Whether its body may name an earlier day on which it was done. */
    is_dated: boolean;
  }>;
  /** The verdicts, from best to worst. */
  verdicts: Verdict[];
  /** How good a tool is where nothing better is known; by kind of wrench or scale. */
  permitted_percent: Record<string, number>;
}

/** Every unit that can be chosen. */
export type UnitsResult = Record<string, {
  /** Its name in requests. */
  unit: string;
  /** How it is written. */
  label: string;
  /** Its size in SI. */
  factor: number;
  /** Places after the point that sentences give. */
  places: number;
}[]>;

/** A figure in the reader's unit. */
export interface InWordsResult {
  /** The figure with its unit. */
  text: string;
}

/** A field as people call it. */
export interface FieldNameResult {
  /** What stands beside it on the screens, with its row and its section. */
  name: string;
}

/** What a unit's definition comes to with every part new, as far as it is known. */
export interface UnitResult {
  /** Sliding faces of each pack; empty without the stack. */
  faces: {
    /** In the first pack. */
    first: number;
    /** In the second pack. */
    second: number;
  } | null;
  /** Height of the whole stack before the cover is closed; mm. */
  free_mm: number | null;
  /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
  crush_mm: number | null;
  /** How far each disc is squeezed; mm. */
  deflection_mm: number | null;
  /** Share of the way to flat. */
  travel: number | null;
  /** Preload; empty unless stack, spring and depth are known; N. */
  preload_n: number | null;
  /** Effective radius of the plates; mm. */
  radius_mm: number | null;
  /** Torque of each pack; empty unless preload and friction are known. */
  pack_nm: {
    /** Of the first pack; N·m. */
    first: number;
    /** Of the second pack; N·m. */
    second: number;
  } | null;
  /** Breakaway torque, as order and limits are stated; N·m. */
  breakaway_nm: number | null;
  /** The unit once it has warmed through, by expansion alone; empty where that is not given. */
  warm: {
    /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
    crush_mm: number;
    /** Preload; N. */
    preload_n: number;
    /** Change of preload and torque; empty without a preload; %. */
    change_percent: number | null;
  } | null;
  /** What to know about the spring, where order and limits contradict each other, and what was worked out. */
  warnings: Concern[];
  /** Figures that were worked out, not measured. */
  worked_out: {
    /** Short name of the figure. */
    name: string;
    /** Its field in the definition. */
    field: string;
    /** What it is called. */
    title: string;
    /** The figure with its unit. */
    value: string;
    /** How far off it may be, 95 %. */
    within: string;
    /** What it was worked out from, in one sentence. */
    text: string;
    /** What was measured for it, as it was written then. */
    basis: string;
  }[];
  /** The definition itself, in SI. */
  checked: {
    /** Name of the unit. */
    name: string;
    /** Whose it is. */
    owner: string;
    /** Anything worth knowing about it. */
    note: string;
    /** The car that it is fitted to, by the entry that brought that in. */
    car_id: string;
    /** Where in the car it sits; centre: centre, between the axles; front: front axle; rear: rear axle. */
    sits: "centre" | "front" | "rear" | null;
    /** The customer whose it is, by the entry that brought that in; owner then says the name. */
    customer_id: string;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family: string;
    /** The pattern that it is built to. */
    pattern: {
      /** The pattern's own id: that of its first entry. */
      id: string;
      /** What it was called when this was written. */
      name: string;
      /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
      seen: string;
    } | null;
    /** What the customer ordered. */
    order: {
      /** Breakaway torque ordered; N·m. */
      torque_nm: number;
      /** How far off it may be, either way; N·m. */
      tolerance_nm: number;
    } | null;
    /** Reading that order and limits are for. */
    judged_on: "first_move" | "steady";
    /** Way of holding that order and limits are stated for. */
    stated_for: "case_held" | "one_output_held";
    /** Limits between rebuilds. */
    service: {
      /** Lowest torque at which it may run again; N·m. */
      low_nm: number | null;
      /** Highest torque at which it may run again; N·m. */
      high_nm: number | null;
      /** Days after which its plates are measured again; 365 if empty. */
      plates_every_days: number | null;
      /** Outings after which its plates are measured again. */
      plates_every_outings: number | null;
      /** Hours of running after which its plates are measured again. */
      plates_every_hours: number | null;
      /** Outings after which its torque is checked again. */
      check_every_outings: number | null;
      /** Hours of running after which its torque is checked again. */
      check_every_hours: number | null;
      /** Days after which its torque is checked again. */
      check_every_days: number | null;
      /** Outings after which its oil is changed. */
      oil_every_outings: number | null;
      /** Hours of running after which its oil is changed. */
      oil_every_hours: number | null;
      /** Days after which its oil is changed. */
      oil_every_days: number | null;
    } | null;
    /** Turns of the output for one turn of the wheel. */
    hub_ratio: number;
    /**
     * Where the spring sits; as the stack has it if empty; between_rings: a spring between the ramp rings; in_line: one
     * spring in line with the packs, against the cover or the floor; two_springs: two springs in line, one at each end.
     */
    layout: "between_rings" | "in_line" | "two_springs" | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring: {
      /** Outside diameter; mm. */
      de_mm: number;
      /** Inside diameter; mm. */
      di_mm: number;
      /** Thickness of the disc; mm. */
      t_mm: number;
      /** Free height of one disc; mm. */
      l0_mm: number;
      /** Reduced thickness of a disc with contact flats; mm. */
      flats_t_mm: number | null;
      /** Discs nested the same way, which add their loads. */
      parallel: number;
      /** Nests turned against each other, which share the travel. */
      series: number;
      /** Friction between nested discs, w_M of DIN EN 16984; left out if empty. */
      surface_friction: number | null;
      /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty. */
      edge_friction: number | null;
      /** Modulus of elasticity; N/mm². */
      elastic_nmm2: number;
      /** Poisson's ratio. */
      poisson: number;
    } | null;
    /** Depth from the cover's face to the floor; mm. */
    cavity_mm: number | null;
    /** The stack from cover to floor. */
    chain: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; mm. */
      new_mm: number | null;
      /** Thickness at which it has to be replaced; mm. */
      minimum_mm: number | null;
      /**
       * Side that the point of a disc spring's cone faces; cover: its point faces the cover; floor: its point faces the
       * floor.
       */
      cone_to: "cover" | "floor" | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction: {
      /** Inside diameter of the rubbing ring; mm. */
      inner_mm: number;
      /** Outside diameter of the rubbing ring; mm. */
      outer_mm: number;
      /** Coefficient of friction, plates in oil. */
      mu: number;
      /** Whether the plates are run in. */
      run_in: boolean;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps: {
      /** Radius at which the cross pins bear on the ramps; mm. */
      pin_radius_mm: number;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Coefficient of friction of pin on ramp. */
      mu: number;
      /** The ramp rings' ears. */
      ears: {
        /** Radius at which the rings' ears bear in the case's slots; mm. */
        radius_mm: number;
        /** Coefficient of friction of ear in slot. */
        mu: number;
      } | null;
      /** The bevel gears. */
      gears: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; °. */
        pressure_deg: number;
        /** Radius of a side gear at the middle of its teeth; mm. */
        pitch_radius_mm: number;
        /** Pitch cone angle of a side gear, from its own shaft; °. */
        cone_deg: number | null;
        /** Teeth of a side gear, where its cone angle is not known. */
        side_teeth: number | null;
        /** Teeth of a pinion, where the cone angle is not known. */
        pinion_teeth: number | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; mm. */
      pin_radius_mm: number | null;
    }[];
    /** The cover and its screws. */
    cover: {
      /** How many screws hold the cover. */
      screws: number;
      /** Thread diameter; mm. */
      screw_mm: number;
      /** Torque of a screw; N·m. */
      torque_nm: number;
      /** Gap under the cover when the screws first catch; assumed if empty; mm. */
      start_mm: number | null;
      /** Greatest torque into the case, which the ramps turn into push; N·m. */
      case_nm: number | null;
    } | null;
    /** Limits common to all plates. */
    limits: {
      /** Largest difference round a plate; mm. */
      taper_mm: number;
      /** Largest gap under a plate; mm. */
      flatness_mm: number;
    };
    /** A case that expands otherwise than what is in it. */
    warming: {
      /** How much warmer the unit runs than it was built; K. */
      warmer_k: number;
      /** Expansion of the case, millionths of its length for each kelvin. */
      case_ppm: number;
      /** Expansion of plates, rings and spring, the same way. */
      stack_ppm: number;
    } | null;
    /** What is inspected on other parts. */
    features: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /**
       * Kind of gauge; the usual one for what is measured if empty; bore_gauge: bore gauge; depth_gauge: depth gauge;
       * dial_gauge: dial gauge; feeler: feeler gauge; micrometer: micrometer.
       */
      gauge: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | null;
      /** In how many places it is measured. */
      places: number;
      /** Figure when new; mm. */
      new_mm: number | null;
      /** Lowest allowed; mm. */
      low_mm: number | null;
      /** Highest allowed; mm. */
      high_mm: number | null;
      /** Largest change against new, either way; mm. */
      change_mm: number | null;
      /** How often it may be used in all. */
      most_uses: number | null;
      /**
       * What uses it once more, as the log tells; only what inspections say if empty; closing: each time that the cover
       * is closed; refit: each time that the unit goes back into its axle.
       */
      counted: "closing" | "refit" | null;
      /** Whether its limits are only common practice. */
      usual_limits: boolean;
      /**
       * What is done where it is outside; if empty, rework for backlash and end float, replace for all else; replace:
       * replace it; rework: rework or shim it.
       */
      outside: "replace" | "rework" | null;
    }[];
    /** Marked parts that were in it when it was added; rebuilds say what changed since. */
    marked_parts: {
      /** What the part is. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "friction"
        | "journals"
        | "other"
        | "ring"
        | "screws"
        | "separator"
        | "splines"
        | "spring"
        | "thrust_washers";
      /** Its place in the stack, or which of several; may stay empty where the unit has one. */
      place: string;
      /** Number or mark on it. */
      mark: string;
    }[];
    /** Which of these figures were worked out, not measured. */
    worked_out: {
      /** The depth, where it was worked out. */
      cavity_mm: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure. */
        value: number;
        /** Its standard uncertainty. */
        u: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
    } | null;
  };
}

/** A breakaway torque check as it was judged. */
export interface BreakawayResult {
  /** The verdict. */
  verdict: Verdict;
  /** What comes next; only where this engine judged it. */
  next?: {
    /** What comes next. */
    name: "afresh" | "better" | "correct" | "more" | "plan" | "recheck" | "run" | "unit";
    /** As a key says it. */
    text: string;
  };
  /**
   * Unit that the figures were perhaps read in; kgf: kgf; kgf_m: kgf·m; lbf: lbf; lbf_ft: lbf·ft; lbf_in: lbf·in; n: N;
   * nm: N·m; only where this engine judged it.
   */
  perhaps_in?: "kgf" | "kgf_m" | "lbf" | "lbf_ft" | "lbf_in" | "n" | "nm" | null;
  /** Why, in one sentence. */
  reason: string;
  /** How the torque lies to its limits, with the guard band; only where this engine judged it. */
  why?: string;
  /** Mean of both directions, as the limits are stated; N·m. */
  value_nm: number;
  /** Its standard uncertainty; N·m. */
  u_nm: number;
  /** Its effective degrees of freedom; empty where they are infinite. */
  dof: number | null;
  /** Its expanded uncertainty, two-sided 95 %; N·m. */
  expanded_nm: number;
  /** Guard band at the nearest limit, one-sided 95 %; N·m. */
  guard_nm: number;
  /** Lowest torque allowed; N·m. */
  low_nm: number | null;
  /** Highest torque allowed; N·m. */
  high_nm: number | null;
  /** Guard band at the lowest torque allowed; N·m. */
  guard_low_nm: number | null;
  /** Guard band at the highest torque allowed; N·m. */
  guard_high_nm: number | null;
  /** Each direction of turning on its own. */
  directions: {
    /** One direction of turning. */
    forward: {
      /** Mean of this direction's readings; N·m. */
      mean_nm: number;
      /** Standard deviation of a single reading; N·m. */
      scatter_nm: number;
      /** How many readings. */
      count: number;
      /** The readings as stated torque. */
      readings_nm: number[];
    };
    /** One direction of turning. */
    reverse: {
      /** Mean of this direction's readings; N·m. */
      mean_nm: number;
      /** Standard deviation of a single reading; N·m. */
      scatter_nm: number;
      /** How many readings. */
      count: number;
      /** The readings as stated torque. */
      readings_nm: number[];
    } | null;
  };
  /** What a wrench would feel either way. */
  felt: {
    /** With one output held and the case free; N·m. */
    one_output_held_nm: number;
    /** With the case held and the other output free; empty where that is not known; N·m. */
    case_held_nm: number | null;
  };
  /** What the doubt is made of, largest first. */
  budget: {
    /** Short name of what may be off. */
    name: string;
    /** What it is. */
    meaning: string;
    /** Its standard uncertainty; N·m. */
    u_nm: number;
    /** Its share of the variance. */
    share: number;
  }[];
  /** What was found. */
  findings: Finding[];
  /** Readings that are in question. */
  marked: string[];
  /** What would help a check that cannot say, best first. */
  helps: {
    /** Short name of what would help. */
    name: string;
    /** Guard band that it would leave; N·m. */
    guard_nm: number;
    /** Whether that would decide at this value. */
    decides: boolean;
    /** What to do, and what it would bring. */
    text: string;
  }[];
}

/** Plates as they were judged. */
export interface PlatesResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm: number;
  /** Every measured plate. */
  plates: MeasuredPlate[];
}

/** What is asked about figures of plates. */
export interface WhichPlateResult {
  /** Figures that fit a plate of another class. */
  asked: {
    /** The plate that the figure was typed for. */
    slot: string;
    /** Place of the figure among those that were sent, from 0. */
    point: number;
    /** Plates that it fits, the nearest first. */
    fits: string[];
    /** Those that all its figures fit. */
    fits_whole: string[];
    /** The question. */
    text: string;
  }[];
}

/** Plates now and when they were measured last. */
export interface SinceLastResult {
  /** What became of each. */
  plates: {
    /** Place in the stack. */
    slot: string;
    /** Lowest point now less that of the last time; below 0 for wear; mm. */
    change_mm: number;
    /** Expanded uncertainty of that difference, two-sided 95 %; mm. */
    expanded_mm: number;
    /** What became of it. */
    found: "thicker" | "thinner" | "unsure";
    /** The same in words. */
    text: string;
  }[];
}

/** A disc spring, or a column of equal ones, on its own. */
export interface SpringResult {
  /** Free height; mm. */
  free_mm: number;
  /** Travel until it is flat; mm. */
  flat_mm: number;
  /** Largest load on the rising branch; N. */
  most_n: number;
  /** Travel at which it has that; mm. */
  most_mm: number;
  /** Load when it is flat; N. */
  flat_n: number;
  /** Travel at which its load peaks before flat; mm. */
  peak_mm: number | null;
  /** Stress in the middle of the section when flat; N/mm². */
  flat_stress_nmm2: number;
  /** Load over travel. */
  curve: {
    /** Travel; mm. */
    deflection_mm: number;
    /** Load; N. */
    load_n: number;
  }[];
  /** Stretches to stay out of. */
  zones: {
    /** Short name. */
    name: string;
    /** Travel at which it begins; mm. */
    from_mm: number;
    /** Travel at which it ends; mm. */
    to_mm: number;
    /** What happens there. */
    text: string;
  }[];
  /** A column of springs at one travel. */
  at: {
    /** How far the whole column is squeezed; mm. */
    deflection_mm: number;
    /** Height of the column; mm. */
    height_mm: number;
    /** Share of the way to flat. */
    travel: number;
    /** Load of the column; N. */
    load_n: number;
    /** Rate of the column; below 0 past its peak; N/mm. */
    rate_n_per_mm: number;
    /** Load on the way down, with friction; empty where that is not given; N. */
    closing_n: number | null;
    /** Load on the way up, with friction; empty where that is not given; N. */
    opening_n: number | null;
    /** Energy that it holds; J. */
    energy_j: number;
    /** Stresses; below 0 is compression. */
    stress_nmm2: {
      /** In the middle of the section; N/mm². */
      om: number;
      /** At the inner edge, above; N/mm². */
      i: number;
      /** At the inner edge, below; N/mm². */
      ii: number;
      /** At the outer edge, below; N/mm². */
      iii: number;
      /** At the outer edge, above; N/mm². */
      iv: number;
    };
  } | null;
  /** What to know about the spring. */
  warnings: Concern[];
}

/** A figure that cannot be measured, worked out. */
export interface WorkOutResult {
  /** The figure's field in the definition. */
  field: string;
  /** A depth or a height, in mm; empty for a friction. */
  mm: {
    /** The figure, in mm where it is a length. */
    value: number;
    /** Its standard uncertainty. */
    u: number;
    /** 19 of 20 lie above this and. */
    low: number;
    /** Below this. */
    high: number;
  } | null;
  /** A friction; empty for a length. */
  mu: {
    /** The figure, in mm where it is a length. */
    value: number;
    /** Its standard uncertainty. */
    u: number;
    /** 19 of 20 lie above this and. */
    low: number;
    /** Below this. */
    high: number;
  } | null;
  /** The figure as its field takes it. */
  fill: {
    /** The figure, rounded. */
    typed: string;
    /** Its unit; blank where it has none. */
    unit: string;
  };
  /** What the definition keeps of it, beside the figure. */
  mark: {
    /** What it was worked out from. */
    from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque" | "friction_from_torque" | "height_from_load";
    /** What was measured for it, in words. */
    basis: string;
    /** The figure as its field has it; mm; only where it is a length. */
    value_mm?: number;
    /** Its standard uncertainty; mm; only where it is a length. */
    u_mm?: number;
    /** The figure as its field has it; only where it is a friction. */
    value?: number;
    /** Its standard uncertainty; only where it is a friction. */
    u?: number;
  };
  /** The figure and its band in a sentence. */
  text: string;
  /** What the doubt is made of, largest first. */
  doubt: {
    /** Short name. */
    name: string;
    /** What it is. */
    meaning: string;
    /** Its share of the variance. */
    share: number;
  }[];
  /** What to know about it. */
  warnings: Concern[];
}

/** Figures that nobody measured and the log can say. */
export interface FromLogResult {
  /** What says most first. */
  figures: {
    /** What would be worked out, and from what. */
    from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque" | "friction_from_torque" | "height_from_load";
    /** The figure's field in the definition. */
    field: string;
    /** What comes of it, in a sentence. */
    text: string;
    /** What the log has for it, in words. */
    basis: string;
    /** The question's figures, as a form takes them. */
    typed: {
      /** Field of the question. */
      path: string;
      /** What the log has for it, in SI. */
      typed: string;
    }[];
    /** The question whole, for `work_out`. */
    request: WorkOutRequest;
  }[];
}

/** Forces while a unit is closed or opened. */
export type ClosingResult = {
  /** Whether the spring's force can be worked out. */
  known: true;
  /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
  crush_mm: number;
  /** Whether the cover can reach its seat. */
  closes: boolean;
  /** The spring's push at the closed cover; N. */
  flush_n: number;
  /** The same; kgf. */
  flush_kgf: number;
  /** What a press pushes with to close it, against the discs' friction; empty where not given; N. */
  closing_n: number | null;
  /** What comes back at the press when it is opened; empty where not given; N. */
  opening_n: number | null;
  /** The same in words; blank where it is not given. */
  friction_text: string;
  /** Gap under the cover when the screws first catch; mm. */
  start_mm: number | null;
  /** Whether that gap is only assumed, because the definition does not give it. */
  start_assumed: boolean | null;
  /** What the spring does then, and whether the gap is assumed. */
  start_text: string | null;
  /** The spring's push when the screws first catch; N. */
  start_n: number | null;
  /** The same; kgf. */
  start_kgf: number | null;
  /** Energy that the closed spring holds; J. */
  energy_j: number;
  /** Largest push to expect on the way of a spring within its tolerance; N. */
  vice_most_n: number;
  /** The same; kgf. */
  vice_most_kgf: number;
  /** Largest push to expect when the screws first catch; N. */
  start_most_n: number | null;
  /** Largest energy to expect; J. */
  energy_most_j: number;
  /** What a vice or press for it is rated for; N. */
  rated_n: number;
  /** Opening of the vice after which even the tallest new spring is free; mm. */
  free_after_mm: number;
  /** Opening at which the cover is tried by hand; mm. */
  open_to_mm: number;
  /** How high the largest energy would throw a cover of 1 kg; m. */
  lift_m: number;
  /** The spring's push on each screw at the closed cover; N. */
  per_screw_n: number | null;
  /** Clamp of one screw; N. */
  screw_n: number | null;
  /** Clamp of all screws less the spring's push; N. */
  clamp_left_n: number | null;
  /** The same; kN. */
  clamp_left_kn: number | null;
  /** The most that pushes the cover at the greatest torque; empty where not known; N. */
  push_most_n: number | null;
  /** Clamp of all screws less that; empty where it is not known; N. */
  left_n: number | null;
  /** The same with the largest nut factor to expect; N. */
  left_low_n: number | null;
  /** The same with the smallest nut factor to expect; N. */
  left_high_n: number | null;
  /** What is left of the clamp, in two figures, and what it counts. */
  clamp_text: string | null;
  /** What to know about the spring and the screws. */
  warnings: Concern[];
  /** What cannot be done with what is known of a unit. */
  lack: {
    /** Short name of what cannot be done. */
    name: string;
    /** Field of the definition at which to go on. */
    field: string;
    /** What it needs, in one sentence. */
    text: string;
  } | null;
  /** What to heed at this step. */
  cautions: string[];
  /** These figures as sentences, at the steps of strip and close. */
  at_steps: {
    /** Sentences for one procedure. */
    strip: {
      /** Name of the step. */
      step: string;
      /** One sentence. */
      text: string;
    }[];
    /** Sentences for one procedure. */
    close: {
      /** Name of the step. */
      step: string;
      /** One sentence. */
      text: string;
    }[];
  };
} | {
  /** Whether the spring's force can be worked out. */
  known: false;
  /** What cannot be done with what is known of a unit. */
  lack: {
    /** Short name of what cannot be done. */
    name: string;
    /** Field of the definition at which to go on. */
    field: string;
    /** What it needs, in one sentence. */
    text: string;
  } | null;
  /** What to heed at this step. */
  cautions: string[];
  /** These figures as sentences, at the steps of strip and close. */
  at_steps: {
    /** Sentences for one procedure. */
    strip: {
      /** Name of the step. */
      step: string;
      /** One sentence. */
      text: string;
    }[];
    /** Sentences for one procedure. */
    close: {
      /** Name of the step. */
      step: string;
      /** One sentence. */
      text: string;
    }[];
  };
};

/** The plan of a rebuild. */
export type PlanResult = {
  /** Whether the shelf reaches the torque. */
  possible: true;
  /** Whether it is proven that no choice with as few changes is better by more than 2 in 100. */
  proven: boolean;
  /** How many plates are changed. */
  changes: number;
  /** Breakaway torque that it gives; N·m. */
  torque_nm: number;
  /** That less what is wanted; N·m. */
  off_nm: number;
  /** Chance that the torque comes out within the order. */
  chance: number;
  /** The same as a builder says it. */
  chance_text: string;
  /** Chance that it reads above the order before it has bedded in; 0 if not aimed so. */
  above_chance: number;
  /** How far the closed cover squeezes the stack; empty where the plan goes by builds; mm. */
  crush_mm: number | null;
  /** Preload; empty where the plan goes by builds; N. */
  preload_n: number | null;
  /** First pack less second, less what that should be; mm. */
  apart_mm: number;
  /** Plates and rings together; mm. */
  solids_mm: number;
  /** Plates and rings together, less those that are fitted; mm. */
  added_mm: number;
  /** How far off the torque may come out; the shares are each for itself and do not add up. */
  spread_nm: {
    /** From the fitted pieces' thickness, 95 %; N·m. */
    plates_nm: number;
    /** From the other places' thickness and the depth, 95 %; N·m. */
    places_nm: number;
    /** From the spring's height, and its load where none was measured, upward; N·m. */
    spring_above_nm: number;
    /** The same, downward; N·m. */
    spring_below_nm: number;
    /** From the torque that was measured, 95 %; N·m. */
    reading_nm: number;
    /** From a friction that is assumed, 95 %, upward; N·m. */
    friction_above_nm: number;
    /** The same, downward; N·m. */
    friction_below_nm: number;
    /** Lowest to expect: 1 of 40 comes out below; N·m. */
    low_nm: number;
    /** Highest to expect: 1 of 40 comes out above; N·m. */
    high_nm: number;
    /** From what builds differ by, 95 %; N·m; only where the plan goes by builds in the log. */
    builds_nm?: number;
  };
  /** Every part, from cover to floor. */
  stack: PlannedPart[];
  /** From the most certain to the fewest plates. */
  choices: PlannedChoice[];
  /** What is wanted. */
  wanted_nm: {
    /** Breakaway torque; N·m. */
    torque_nm: number;
    /** How far off it may be; N·m. */
    tolerance_nm: number;
    /** Lowest torque that is as wanted; N·m. */
    low_nm: number;
    /** Highest torque that is as wanted; N·m. */
    high_nm: number;
  };
  /** The unit with the plates as they are fitted. */
  now: {
    /** Breakaway torque; empty where no build was so thick; N·m. */
    torque_nm: number | null;
    /** How far the closed cover squeezes the stack; below 0 it is loose; empty where the plan goes by builds; mm. */
    crush_mm: number | null;
    /** Plates and rings together; mm. */
    solids_mm: number;
  };
  /** Friction that is planned with; empty where the plan goes by builds. */
  mu: number | null;
  /** Breakaway torque for each newton of preload; empty where the plan goes by builds; N·m for each N. */
  torque_per_n: number | null;
  /** Plates and rings together that give what is wanted; empty where no thickness does. */
  window_mm: {
    /** Thinnest; mm. */
    low_mm: number;
    /** Thickest; mm. */
    high_mm: number;
  } | null;
  /** How much was covered. */
  proof: {
    /** How many arrangements were covered, as text: it outgrows a number. */
    arrangements: string;
    /** How many different thicknesses of the stack they have. */
    thicknesses: number;
    /** What that proves. */
    text: string;
  };
  /** What the log shows of bedding in. */
  bedding: {
    /** What bedding in takes; N·m. */
    loss_nm: number;
    /** Its expanded uncertainty, 95 %; N·m. */
    expanded_nm: number;
    /** How far above the order the plan aims for it; N·m. */
    above_nm: number;
    /** How many rebuilds show it. */
    rebuilds: number;
    /** Whether the plan aims above the order by it. */
    aimed: boolean;
    /** The same in words. */
    text: string;
  } | null;
  /** What the shelf lacks for a better choice. */
  buy: {
    /** What to buy, in the shelf's classes. */
    pieces: {
      /** What the shelf calls the class, or the kind of plate where it has none so thick. */
      name: string;
      /** What kind of plate. */
      part: "friction" | "separator" | "shim";
      /** Thickness; mm. */
      mm: number;
      /** How many are lacking. */
      count: number;
    }[];
    /** Every plate that is fitted then. */
    fitted: {
      /** Place in the stack. */
      slot: string;
      /** What kind of plate. */
      part: "friction" | "separator" | "shim";
      /** What it is called. */
      piece: string;
      /** Thickness; mm. */
      mm: number;
      /** Whether it has to be bought first. */
      bought: boolean;
    }[];
    /** How many plates are changed then. */
    changes: number;
    /** Breakaway torque that it gives; N·m. */
    torque_nm: number;
    /** Chance that the torque comes out within the order. */
    chance: number;
    /** The same in words. */
    text: string;
  } | null;
  /** What the kit's tools can say of the order. */
  provable: {
    /** Whether a check with that tool can say go at all. */
    can_prove: boolean;
    /** The best tool of the kit for it; blank where none reads it. */
    tool: string;
    /** How the unit is held for it; blank where none reads it. */
    held: string;
    /** Its guard band at the low end of the order; N·m. */
    guard_low_nm: number | null;
    /** Its guard band at the high end of the order; N·m. */
    guard_high_nm: number | null;
    /** Lowest torque at which a check says go; N·m. */
    go_low_nm: number | null;
    /** Highest torque at which a check says go; N·m. */
    go_high_nm: number | null;
    /** The same in words. */
    text: string;
  } | null;
  /** What to know about the plan. */
  warnings: Concern[];
  /** What it goes by. */
  by: "builds" | "spring";
  /** What builds in the log have shown of torque over thickness. */
  experience: {
    /** What it rests on. */
    text: string;
    /** What a tenth of a millimetre more gives, and over which thickness, in words. */
    tenth_text: string;
    /** Torque at which a drawing may begin; N·m. */
    base_nm: number;
    /** What a tenth of a millimetre more gives; N·m. */
    tenth_nm: number;
    /** How far off that may be, either way, 95 %; N·m. */
    tenth_within_nm: number;
    /** The thinnest stack that was built; mm. */
    low_mm: number;
    /** The thickest; mm. */
    high_mm: number;
    /** Builds of this unit. */
    own: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** Breakaway torque; N·m. */
      torque_nm: number;
    }[];
    /** Builds of other units of its pattern. */
    others: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** Breakaway torque; N·m. */
      torque_nm: number;
    }[];
    /** The line and its band, over the thickness that was built. */
    curve: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** What is expected; N·m. */
      torque_nm: number;
      /** 19 of 20 builds come out above this and; N·m. */
      low_nm: number;
      /** Below this; N·m. */
      high_nm: number;
    }[];
  } | null;
  /** Torque over added thickness. */
  curve: {
    /** Thickness added to the stack; mm. */
    added_mm: number;
    /** Torque; N·m. */
    torque_nm: number;
  }[];
  /** Stretches to stay out of. */
  zones: {
    /** Added thickness at which it begins; mm. */
    from_mm: number;
    /** Added thickness at which it ends; mm. */
    to_mm: number;
    /** What is wrong there. */
    name: string;
  }[];
  /** Other means to the same torque. */
  alternatives: Alternative[] | null;
} | {
  /** Whether the shelf reaches the torque. */
  possible: false;
  /** What is wanted. */
  wanted_nm: {
    /** Breakaway torque; N·m. */
    torque_nm: number;
    /** How far off it may be; N·m. */
    tolerance_nm: number;
    /** Lowest torque that is as wanted; N·m. */
    low_nm: number;
    /** Highest torque that is as wanted; N·m. */
    high_nm: number;
  };
  /** The unit with the plates as they are fitted. */
  now: {
    /** Breakaway torque; empty where no build was so thick; N·m. */
    torque_nm: number | null;
    /** How far the closed cover squeezes the stack; below 0 it is loose; empty where the plan goes by builds; mm. */
    crush_mm: number | null;
    /** Plates and rings together; mm. */
    solids_mm: number;
  };
  /** Friction that is planned with; empty where the plan goes by builds. */
  mu: number | null;
  /** Breakaway torque for each newton of preload; empty where the plan goes by builds; N·m for each N. */
  torque_per_n: number | null;
  /** Plates and rings together that give what is wanted; empty where no thickness does. */
  window_mm: {
    /** Thinnest; mm. */
    low_mm: number;
    /** Thickest; mm. */
    high_mm: number;
  } | null;
  /** How much was covered. */
  proof: {
    /** How many arrangements were covered, as text: it outgrows a number. */
    arrangements: string;
    /** How many different thicknesses of the stack they have. */
    thicknesses: number;
    /** What that proves. */
    text: string;
  };
  /** What the log shows of bedding in. */
  bedding: {
    /** What bedding in takes; N·m. */
    loss_nm: number;
    /** Its expanded uncertainty, 95 %; N·m. */
    expanded_nm: number;
    /** How far above the order the plan aims for it; N·m. */
    above_nm: number;
    /** How many rebuilds show it. */
    rebuilds: number;
    /** Whether the plan aims above the order by it. */
    aimed: boolean;
    /** The same in words. */
    text: string;
  } | null;
  /** What the shelf lacks for a better choice. */
  buy: {
    /** What to buy, in the shelf's classes. */
    pieces: {
      /** What the shelf calls the class, or the kind of plate where it has none so thick. */
      name: string;
      /** What kind of plate. */
      part: "friction" | "separator" | "shim";
      /** Thickness; mm. */
      mm: number;
      /** How many are lacking. */
      count: number;
    }[];
    /** Every plate that is fitted then. */
    fitted: {
      /** Place in the stack. */
      slot: string;
      /** What kind of plate. */
      part: "friction" | "separator" | "shim";
      /** What it is called. */
      piece: string;
      /** Thickness; mm. */
      mm: number;
      /** Whether it has to be bought first. */
      bought: boolean;
    }[];
    /** How many plates are changed then. */
    changes: number;
    /** Breakaway torque that it gives; N·m. */
    torque_nm: number;
    /** Chance that the torque comes out within the order. */
    chance: number;
    /** The same in words. */
    text: string;
  } | null;
  /** What the kit's tools can say of the order. */
  provable: {
    /** Whether a check with that tool can say go at all. */
    can_prove: boolean;
    /** The best tool of the kit for it; blank where none reads it. */
    tool: string;
    /** How the unit is held for it; blank where none reads it. */
    held: string;
    /** Its guard band at the low end of the order; N·m. */
    guard_low_nm: number | null;
    /** Its guard band at the high end of the order; N·m. */
    guard_high_nm: number | null;
    /** Lowest torque at which a check says go; N·m. */
    go_low_nm: number | null;
    /** Highest torque at which a check says go; N·m. */
    go_high_nm: number | null;
    /** The same in words. */
    text: string;
  } | null;
  /** What to know about the plan. */
  warnings: Concern[];
  /** What it goes by. */
  by: "builds" | "spring";
  /** What builds in the log have shown of torque over thickness. */
  experience: {
    /** What it rests on. */
    text: string;
    /** What a tenth of a millimetre more gives, and over which thickness, in words. */
    tenth_text: string;
    /** Torque at which a drawing may begin; N·m. */
    base_nm: number;
    /** What a tenth of a millimetre more gives; N·m. */
    tenth_nm: number;
    /** How far off that may be, either way, 95 %; N·m. */
    tenth_within_nm: number;
    /** The thinnest stack that was built; mm. */
    low_mm: number;
    /** The thickest; mm. */
    high_mm: number;
    /** Builds of this unit. */
    own: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** Breakaway torque; N·m. */
      torque_nm: number;
    }[];
    /** Builds of other units of its pattern. */
    others: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** Breakaway torque; N·m. */
      torque_nm: number;
    }[];
    /** The line and its band, over the thickness that was built. */
    curve: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** What is expected; N·m. */
      torque_nm: number;
      /** 19 of 20 builds come out above this and; N·m. */
      low_nm: number;
      /** Below this; N·m. */
      high_nm: number;
    }[];
  } | null;
  /** Torque over added thickness. */
  curve: {
    /** Thickness added to the stack; mm. */
    added_mm: number;
    /** Torque; N·m. */
    torque_nm: number;
  }[];
  /** Stretches to stay out of. */
  zones: {
    /** Added thickness at which it begins; mm. */
    from_mm: number;
    /** Added thickness at which it ends; mm. */
    to_mm: number;
    /** What is wrong there. */
    name: string;
  }[];
  /** Other means to the same torque. */
  alternatives: Alternative[];
  /** The nearest that there is. */
  nearest: {
    /** An arrangement that misses the torque. */
    below: {
      /** Breakaway torque; N·m. */
      torque_nm: number;
      /** Plates and rings together; mm. */
      solids_mm: number;
    } | null;
    /** An arrangement that misses the torque. */
    above: {
      /** Breakaway torque; N·m. */
      torque_nm: number;
      /** Plates and rings together; mm. */
      solids_mm: number;
    } | null;
  };
  /** What would make it possible. */
  ways: string[];
};

/** Lock on drive and on coast. */
export interface RampsResult {
  /** How far the closed cover squeezes the stack; empty if not known; mm. */
  crush_mm: number | null;
  /** Preload; empty if not known: then the measured torque serves; N. */
  preload_n: number | null;
  /** Friction of the packs. */
  mu: number;
  /** Whether that follows from a measured torque. */
  measured: boolean;
  /** What the lock was worked out from, in one sentence. */
  basis: string;
  /** Whether the spring sits between the rings, so that the ramps add to it from the start. */
  adds: boolean;
  /** Lock of both packs together from preload alone, most likely; N·m. */
  preload_lock_nm: number;
  /** The least that it may be, 95 %; N·m. */
  preload_lock_low_nm: number;
  /** The most that it may be, 95 %; N·m. */
  preload_lock_high_nm: number;
  /** What the range of the lock from preload is made of, largest first. */
  preload_doubt: {
    /** Short name of what may be off. */
    name: string;
    /** What it is. */
    meaning: string;
    /** Its share of the variance. */
    share: number;
  }[];
  /** The unit once it has warmed through, by expansion alone; empty where that is not given. */
  warm: {
    /** Preload; N. */
    preload_n: number;
    /** Lock of both packs together from preload alone; N·m. */
    preload_lock_nm: number;
    /** Change against the unit as it was built; %. */
    change_percent: number;
  } | null;
  /** Breakaway torque that it comes to, as the order states it; N·m. */
  breakaway_nm: number;
  /** The same in words. */
  text: string;
  /** Each way of fitting the rings. */
  fittings: {
    /** How the rings are fitted. */
    fitted: "as_is" | "turned_over";
    /** One direction of torque. */
    drive: Lock;
    /** One direction of torque. */
    coast: Lock;
  }[];
  /** Each other pair of ramps that the unit has. */
  others: {
    /** What the pair is called. */
    name: string;
    /** One direction of torque with another pair of ramps. */
    drive: {
      /** Ramp angle from the plane of rotation; °. */
      angle_deg: number;
      /** Difference over sum of the two output torques, without the preload, most likely. */
      locking_value: number;
      /** The same in words, in percent. */
      locking: string;
      /** Its range in words; blank where that is nothing. */
      locking_range: string;
    };
    /** One direction of torque with another pair of ramps. */
    coast: {
      /** Ramp angle from the plane of rotation; °. */
      angle_deg: number;
      /** Difference over sum of the two output torques, without the preload, most likely. */
      locking_value: number;
      /** The same in words, in percent. */
      locking: string;
      /** Its range in words; blank where that is nothing. */
      locking_range: string;
    };
  }[];
  /** What to know about friction and ramps. */
  warnings: Concern[];
}

/** Ways to build a unit, side by side. */
export interface CandidatesResult {
  /** As built, turned over, its other pairs of ramps, and what was to be tried. */
  candidates: {
    /** Where it comes from. */
    kind: "as_built" | "pair" | "tried" | "turned_over";
    /** What it is called. */
    name: string;
    /** One direction of torque of a candidate. */
    drive: {
      /** Ramp angle from the plane of rotation; °. */
      angle_deg: number;
      /** Difference over sum of the two output torques, without the preload, most likely. */
      locking_value: number;
      /** The least that it may be, 95 %. */
      locking_low: number;
      /** The most that it may be, 95 %. */
      locking_high: number;
      /** The likely one in words, in percent. */
      locking: string;
      /** Its range in words; blank where that is nothing. */
      locking_range: string;
      /** Ratio of the two output torques; empty where it locks solid. */
      bias_ratio: number | null;
      /** The least that it may be, 95 %; empty where it locks solid. */
      bias_low: number | null;
      /** The most that it may be, 95 %; empty where it locks solid. */
      bias_high: number | null;
      /** The likely one in words. */
      bias: string;
      /** Its range in words; blank where that is nothing. */
      bias_range: string;
      /** What the range of the locking value is made of, largest first. */
      doubt: {
        /** Short name of what may be off. */
        name: string;
        /** What it is. */
        meaning: string;
        /** Its share of the variance. */
        share: number;
      }[];
      /** Whether it locks solid without the preload. */
      solid: boolean;
      /** Torque into the case from which the ramps press harder; N·m. */
      takes_over_nm: number | null;
      /** The same in words: a torque, never, or that they add from the start. */
      takes_over: string;
      /** Torque into the case up to which it turns as one, whatever the grip; N·m. */
      holds_to_nm: number | null;
      /** Difference of the output torques that the packs hold at the torque asked for; N·m. */
      held_nm: number;
      /** The least that it may be, 95 %; N·m. */
      held_low_nm: number;
      /** The most that it may be, 95 %; N·m. */
      held_high_nm: number;
      /** The same in words, with its range. */
      held: string;
    };
    /** One direction of torque of a candidate. */
    coast: {
      /** Ramp angle from the plane of rotation; °. */
      angle_deg: number;
      /** Difference over sum of the two output torques, without the preload, most likely. */
      locking_value: number;
      /** The least that it may be, 95 %. */
      locking_low: number;
      /** The most that it may be, 95 %. */
      locking_high: number;
      /** The likely one in words, in percent. */
      locking: string;
      /** Its range in words; blank where that is nothing. */
      locking_range: string;
      /** Ratio of the two output torques; empty where it locks solid. */
      bias_ratio: number | null;
      /** The least that it may be, 95 %; empty where it locks solid. */
      bias_low: number | null;
      /** The most that it may be, 95 %; empty where it locks solid. */
      bias_high: number | null;
      /** The likely one in words. */
      bias: string;
      /** Its range in words; blank where that is nothing. */
      bias_range: string;
      /** What the range of the locking value is made of, largest first. */
      doubt: {
        /** Short name of what may be off. */
        name: string;
        /** What it is. */
        meaning: string;
        /** Its share of the variance. */
        share: number;
      }[];
      /** Whether it locks solid without the preload. */
      solid: boolean;
      /** Torque into the case from which the ramps press harder; N·m. */
      takes_over_nm: number | null;
      /** The same in words: a torque, never, or that they add from the start. */
      takes_over: string;
      /** Torque into the case up to which it turns as one, whatever the grip; N·m. */
      holds_to_nm: number | null;
      /** Difference of the output torques that the packs hold at the torque asked for; N·m. */
      held_nm: number;
      /** The least that it may be, 95 %; N·m. */
      held_low_nm: number;
      /** The most that it may be, 95 %; N·m. */
      held_high_nm: number;
      /** The same in words, with its range. */
      held: string;
    };
    /** What the trade calls it. */
    trade: "more_on_coast" | "one_and_a_half_way" | "one_way" | "preload_alone" | "two_way";
    /** The same in words, with what it means. */
    trade_text: string;
    /** Breakaway torque that it comes to, as the order states it; N·m. */
    breakaway_nm: number;
    /** Lock of both packs together from preload alone; N·m. */
    preload_lock_nm: number;
    /** The least that it may be, 95 %; N·m. */
    preload_lock_low_nm: number;
    /** The most that it may be, 95 %; N·m. */
    preload_lock_high_nm: number;
    /** What to know about its ramps. */
    warnings: Concern[];
  }[];
  /** The same in words. */
  text: string;
}

/** What an axle puts down. */
export interface TractionResult {
  /** What the left wheel can put down; N·m. */
  left_nm: number;
  /** What the right wheel can put down; N·m. */
  right_nm: number;
  /** Torque into the case that an open axle puts down; N·m. */
  open_nm: number;
  /** Torque into the case put down with this unit; N·m. */
  unit_nm: number;
  /** The least that it may be, 95 %; empty without a unit; N·m. */
  unit_low_nm: number | null;
  /** The most that it may be, 95 %; empty without a unit; N·m. */
  unit_high_nm: number | null;
  /** Lock of both packs from preload alone that was counted on; N·m. */
  preload_lock_nm: number;
  /** Locking value without the preload that was counted on. */
  locking_value: number;
  /** Torque into the case that a solid axle puts down; N·m. */
  solid_nm: number;
  /** Push of both wheels with this unit; N. */
  push_n: number;
  /** Share of what a solid axle would gain over an open one; empty if nothing. */
  gain: number | null;
  /** The same in words. */
  text: string;
  /** Figures of the unit that were worked out, not measured. */
  warnings: Concern[];
  /** What is put down of the torque asked for; N·m; only where a torque into the case was given. */
  put_down_nm?: number;
  /** What spins a wheel; N·m; only where a torque into the case was given. */
  spare_nm?: number;
  /**
   * Which wheel spins; both: both; left: the left one; none: neither; right: the right one; only where a torque into
   * the case was given.
   */
  spins?: "both" | "left" | "none" | "right";
  /** By how much the wheels of a solid axle slip against each other; %; only where a turn was given. */
  turn_slip_percent?: number;
  /** By how much each wheel of a solid axle slips on the ground in the turn; %; only where a turn was given. */
  turn_slip_each_percent?: number;
  /** Torque by which the unit resists the turn; N·m; only where a turn was given. */
  turn_lock_nm?: number;
  /** Torque by which the unit helps the turn; N·m; only where a turn was given. */
  turn_helps_nm?: number;
  /** The most by which it could resist: all that the plates hold; N·m; only where a turn was given. */
  turn_most_nm?: number;
}

/** A driven axle in a steady corner. */
export interface CornerResult {
  /** Load of the inner wheel; N. */
  load_inner_n: number;
  /** Load of the outer wheel; N. */
  load_outer_n: number;
  /** Whether the inner wheel is off the ground. */
  lifted: boolean;
  /** Coefficient of friction of the inner wheel. */
  grip_inner: number;
  /** Coefficient of friction of the outer wheel. */
  grip_outer: number;
  /** Side force of the inner wheel; below 0 outwards, where the yaw is balanced; N. */
  side_inner_n: number;
  /** Side force of the outer wheel; below 0 outwards, where the yaw is balanced; N. */
  side_outer_n: number;
  /** Share of the grip that the side force takes; from 1 up the axle slides. */
  use: number;
  /** Torque that the inner wheel has grip left for; N·m. */
  left_inner_nm: number;
  /** Torque that the outer wheel has grip left for; N·m. */
  left_outer_nm: number;
  /** Difference of the torques that the plates can hold, at the torque put down; N·m. */
  lock_nm: number;
  /** Inner less outer torque of a solid axle; N·m. */
  demand_nm: number;
  /** Inner less outer torque with the unit; N·m. */
  difference_nm: number;
  /** Torque of the inner wheel; N·m. */
  inner_nm: number;
  /** Torque of the outer wheel; N·m. */
  outer_nm: number;
  /** What both wheels put down of the torque asked for; N·m. */
  put_down_nm: number;
  /** Which wheel turns faster. */
  state: "inner_faster" | "locked" | "outer_faster" | "slides";
  /** Whether the inner wheel has no grip left. */
  inner_at_limit: boolean;
  /** Whether the outer wheel has no grip left. */
  outer_at_limit: boolean;
  /** By how much of the car's speed the outer wheel turns faster; empty where a wheel slides freely; %. */
  speed_difference_percent: number | null;
  /** Torque beyond which not all is put down: the inner wheel slides, or both do; N·m. */
  most_nm: number;
  /** The least that it may be, 95 %; empty without a unit; N·m. */
  most_low_nm: number | null;
  /** The most that it may be, 95 %; empty without a unit; N·m. */
  most_high_nm: number | null;
  /** Torque at which it leaves its line; empty if it keeps it however fast a wheel spins; N·m. */
  gone_nm: number | null;
  /** Torque beyond which an open axle does not put down all; N·m. */
  open_nm: number;
  /** Torque beyond which a solid axle does not put down all; N·m. */
  solid_nm: number;
  /** Engine braking beyond which not all is put down; N·m. */
  coast_most_nm: number;
  /** Engine braking at which it leaves its line; empty if it keeps it however much is dragged; N·m. */
  coast_gone_nm: number | null;
  /** Torque from which the difference helps the tail round; N·m. */
  changes_at_nm: number;
  /** The least that it may be, with tyres 15 to 30 stiff; N·m. */
  changes_low_nm: number;
  /** The most that it may be, with tyres 15 to 30 stiff; N·m. */
  changes_high_nm: number;
  /** Locking value from which both wheels let go together. */
  even_lock: number;
  /** Moment that turns the car further into the corner; N·m. */
  yaw_nm: number;
  /** Side force at the other axle that does the same; N. */
  yaw_side_n: number;
  /** Side force that the axle has to spare; N. */
  side_spare_n: number;
  /** Side force to spare on drive, with the inner wheel spinning; empty if the other axle lifts first; N. */
  spun_side_spare_n: number | null;
  /** Speed of the car; m/s. */
  speed_ms: number;
  /**
   * Torque, or of a front axle engine braking, that lifts the other axle; no limit is beyond it; N·m; only where
   * driving force shifts load along the car.
   */
  lifts_nm?: number;
  /**
   * Whether the torque asked for lifts the other axle off the ground; only where driving force shifts load along the
   * car.
   */
  other_lifted?: boolean;
  /** The same in words. */
  text: string;
  /** Figures of the unit that were worked out, not measured. */
  warnings: Concern[];
}

/** Zones over lateral acceleration and throttle. */
export interface CornerMapResult {
  /** Radius of the corner; m. */
  radius_m: number;
  /** Speed at its limit; m/s. */
  speed_ms: number;
  /** Lateral acceleration from which the axle slides; m/s². */
  limit_ms2: number;
  /** The columns. */
  lateral_ms2: number[];
  /** The least torque that is drawn, engine braking; N·m. */
  foot_nm: number;
  /** The most torque that is drawn; N·m. */
  top_nm: number;
  /** Open, each way to build the unit, solid. */
  panels: {
    /** What is built. */
    kind: "as_built" | "open" | "pair" | "solid" | "tried" | "turned_over";
    /** What it is called. */
    name: string;
    /** Its zones. */
    zones: {
      /** Which zone. */
      zone: "both_go" | "even" | "inner_drags" | "inner_spins" | "nose_out" | "slides" | "tail_out";
      /** Over the columns. */
      from_nm: (number | null)[];
      /** Over the columns. */
      to_nm: (number | null)[];
      /** Over the columns. */
      depth: (number | null)[];
    }[];
    /** Its doubt over the columns; empty unless asked for. */
    most: {
      /** The least that it may be, 95 %; N·m. */
      low_nm: number;
      /** The most that it may be, 95 %; N·m. */
      high_nm: number;
    }[];
    /** The picture in words. */
    rows: {
      /** Lateral acceleration; m/s². */
      lateral_ms2: number;
      /** The same in words. */
      text: string;
    }[];
    /** What it does at the point. */
    point: {
      /** In which zone it lies. */
      zone: "both_go" | "even" | "inner_drags" | "inner_spins" | "nose_out" | "slides" | "tail_out";
      /** The same in words. */
      zone_text: string;
      /** Torque of the inner wheel; N·m. */
      inner_nm: number;
      /** Torque of the outer wheel; N·m. */
      outer_nm: number;
      /** Torque that the inner wheel has grip left for; N·m. */
      left_inner_nm: number;
      /** Torque that the outer wheel has grip left for; N·m. */
      left_outer_nm: number;
      /** What both wheels put down; N·m. */
      put_down_nm: number;
      /** Torque beyond which not all is put down: the inner wheel slides, or both do; N·m. */
      most_nm: number;
      /** Moment that turns the car further into the corner; N·m. */
      yaw_nm: number;
      /** Side force at the other axle that does the same; N. */
      yaw_side_n: number;
      /** Whether the outer wheel has no grip left. */
      outer_at_limit: boolean;
      /** Which wheel turns faster. */
      state: "inner_faster" | "locked" | "outer_faster" | "slides";
      /** The same in words. */
      text: string;
    } | null;
  }[];
  /** Over the columns; empty unless the doubt is asked for. */
  turns: {
    /** Most likely; N·m. */
    value_nm: number;
    /** The least that it may be; N·m. */
    low_nm: number;
    /** The most that it may be; N·m. */
    high_nm: number;
  }[];
  /** Each gear, where engine, gears and final drive are known. */
  gears: {
    /** Which gear, from the lowest up. */
    gear: number;
    /** Torque at the driven axle at full throttle; N·m. */
    torque_nm: number;
    /** The least that it may be; N·m. */
    low_nm: number;
    /** The most that it may be; N·m. */
    high_nm: number;
    /** Torque by which the engine brakes at the axle; N·m. */
    braking_nm: number;
  }[];
  /** The same in words. */
  text: string;
}

/** From complaint to change. */
export interface ComplaintResult {
  /** Each complaint that was given. */
  complaints: {
    /** What was felt. */
    what: "bangs" | "hops" | "judders" | "loose" | "pulls" | "pushes" | "snaps" | "spins" | "whines";
    /**
     * When; empty for at any time; braking: under braking; entry: turning in; lift: on lift-off; power: on power;
     * straight: in a straight line.
     */
    when: "braking" | "entry" | "lift" | "power" | "straight" | null;
    /** Where; empty for everywhere; fast: fast corners; slow: slow corners. */
    corners: "fast" | "slow" | null;
    /** The same in words. */
    felt: string;
    /** Whether something computed answers to it. */
    match: "matches" | "may" | "none" | "not" | "unknown";
    /** The same in words. */
    text: string;
    /** Every figure that was looked at. */
    figures: {
      /** Which figure. */
      figure: "gap" | "most" | "push" | "round" | "scrub" | "slip" | "steady";
      /** Where. */
      place: "fast" | "slow" | "straight" | "tight";
      /** Radius of the corner; m. */
      radius_m: number;
      /** The figure in its own unit, N, N·m or a share, most likely. */
      value: number;
      /** The least that it may be. */
      low: number;
      /** The most that it may be. */
      high: number;
      /** What it is held against; empty where that is not known. */
      limit: number | null;
      /** What it should come to; empty where it is not there. */
      target: number | null;
      /** Whether it is there. */
      match: "matches" | "may" | "none" | "not" | "unknown";
      /** The same in words. */
      text: string;
    }[];
    /** Number of the figure that answers, from 0; empty where none does. */
    best: number | null;
    /** Ways to change it, those that go far enough first. */
    ways: {
      /** What is changed. */
      lever: "coast_ramp" | "drive_ramp" | "faces" | "oil" | "pair" | "preload" | "turned_over";
      /** The change in a few words. */
      name: string;
      /** The other pair of ramps; blank for none. */
      pair: string;
      /** How the rings are fitted. */
      fitted: "as_is" | "turned_over";
      /** Drive ramp; empty where it stays; °. */
      drive_deg: number | null;
      /** Coast ramp; empty where it stays; °. */
      coast_deg: number | null;
      /** Sliding faces; empty where they stay. */
      faces: number | null;
      /** Breakaway torque to order; empty where it stays; N·m. */
      torque_nm: number | null;
      /** Breakaway torque that it comes to; empty where nothing is computed; N·m. */
      breakaway_nm: number | null;
      /** The figure with it, most likely. */
      value: number | null;
      /** The least that it may be. */
      low: number | null;
      /** The most that it may be. */
      high: number | null;
      /** Whether it is as far as the target. */
      reaches: boolean;
      /** The figure before and after. */
      text: string;
      /** What it costs elsewhere. */
      elsewhere: {
        /** Which figure. */
        figure: "gap" | "most" | "push" | "round" | "scrub" | "slip" | "steady";
        /** Where. */
        place: "fast" | "slow" | "straight" | "tight";
        /** In its own unit. */
        before: number;
        /** In its own unit. */
        after: number;
        /** Whether that is worse. */
        worse: boolean;
        /** The same in words. */
        text: string;
      }[];
      /** Corners where both wheels let go together now, or no longer. */
      together: string[];
      /** Other complaints that it changes. */
      others: {
        /** The complaint. */
        felt: string;
        /** What it does to it. */
        effect: "helps" | "worsens";
        /** The same in words. */
        text: string;
      }[];
      /** What to mind. */
      warnings: string[];
    }[];
  }[];
  /** Complaints that want the opposite of one lock. */
  conflicts: string[];
  /** Why nothing of the unit is worked out; blank where it is. */
  lacks: string;
  /** What it rests on. */
  rests_on: string;
  /** What to mind. */
  caution: string;
}

/** A change to try. */
export interface TrialResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** What is changed. */
  change: string;
  /** What it is for; blank for no complaint. */
  felt: string;
  /** Breakaway torque that is to be ordered; empty for another change; N·m. */
  torque_nm: number | null;
}

/** Where the preload went. */
export interface LossResult {
  /** Change of the torque; %. */
  change_percent: number;
  /** The same in a sentence. */
  change: string;
  /** The same on the natural logarithm. */
  change_log: number;
  /** Standard uncertainty of that. */
  u_log: number;
  /** Half of the interval that holds 95 % of it. */
  expanded_log: number;
  /** Whether it is more than its doubt. */
  certain: boolean;
  /** What each cause does. */
  shares: {
    /** What changes the torque. */
    cause: "friction" | "plates" | "spring";
    /** Its part of the change, on the natural logarithm. */
    share_log: number;
    /** What it multiplies the torque by. */
    factor: number;
    /** Standard uncertainty of that. */
    u_log: number;
    /** Half of the interval that holds 95 % of it. */
    expanded_log: number;
    /** The least that it may be, 95 %. */
    low_log: number;
    /** The most that it may be, 95 %. */
    high_log: number;
    /** Its part of the change; empty where there is no change. */
    share: number | null;
    /** What it does to the torque on its own; %. */
    percent: number;
    /** The same without its sign; %. */
    size_percent: number;
    /** Whether that is more than nothing, written with one place after the point. */
    shows: boolean;
    /** Whether it is more than its doubt. */
    certain: boolean;
    /** The same in words. */
    text: string;
  }[];
  /**
   * What changes the torque; friction: friction of the plates; plates: plates and rings; spring: the spring has set, or
   * is another.
   */
  cause: "friction" | "plates" | "spring" | null;
  /** The same in words. */
  text: string;
  /** The unit at one time. */
  before: {
    /** Breakaway torque; N·m. */
    torque_nm: number;
    /** How far the closed cover squeezes the stack; mm. */
    crush_mm: number;
    /** Share of the way to flat. */
    travel: number;
    /** Preload; N. */
    preload_n: number;
    /** Friction that the torque comes to; empty without the rubbing ring. */
    mu: number | null;
  };
  /** The unit at one time. */
  now: {
    /** Breakaway torque; N·m. */
    torque_nm: number;
    /** How far the closed cover squeezes the stack; mm. */
    crush_mm: number;
    /** Share of the way to flat. */
    travel: number;
    /** Preload; N. */
    preload_n: number;
    /** Friction that the torque comes to; empty without the rubbing ring. */
    mu: number | null;
  };
  /** What to know about friction. */
  warnings: Concern[];
}

/** When wear will meet a limit. */
export type LifeResult = {
  /** Whether there are enough readings for a trend. */
  enough: true;
  /** How many readings there are. */
  count: number;
  /** Change for each use, in the unit of the readings. */
  slope: number;
  /** Its standard deviation. */
  slope_sd: number;
  /** Scatter of single readings about the line. */
  scatter: number;
  /** Whether the trend is more than chance. */
  certain: boolean;
  /** Each limit that counts. */
  meets: {
    /** Which limit. */
    limit: "high_nm" | "low_nm" | "minimum_mm";
    /** The limit as it was given, N·m or mm. */
    at: number;
    /** The limit in the unit of the readings. */
    value: number;
    /** Use at which the line meets it; empty where that is out of sight. */
    likely_use: number | null;
    /** Use from which a reading past it has a chance of 5 % or more. */
    earliest_use: number | null;
  }[];
  /** The first use at which a limit may be met. */
  due_use: number | null;
  /** How much use is left until then. */
  left_use: number | null;
  /** Torque that a whole stack comes to now; N·m. */
  torque_now_nm: number | null;
  /** The line over use. */
  curve: {
    /** Use. */
    use: number;
    /** The line, in the unit of the readings. */
    value: number;
    /** Lower edge of its band, 95 %, at 0 where it would be below. */
    low: number;
    /** Upper edge of its band, 95 %. */
    high: number;
    /** Torque that it comes to; N·m; only where readings are of a whole stack. */
    torque_nm?: number;
  }[];
  /** The same in words. */
  text: string;
} | {
  /** Whether there are enough readings for a trend. */
  enough: false;
  /** How many readings there are. */
  count: number;
  /** The same in words. */
  text: string;
};

/** Two torque checks side by side. */
export interface CompareResult {
  /** Later torque less the earlier one; N·m. */
  change_nm: number;
  /** The same, of the earlier one; %. */
  change_percent: number;
  /** Expanded uncertainty of the change, 95 %; N·m. */
  expanded_nm: number;
  /** Whether the change is more than its doubt. */
  certain: boolean;
  /** In what the two checks were not alike. */
  marks: Concern[];
  /** Whether they were taken alike. */
  alike: boolean;
  /** Whether they share their tool, so that what it may be off by cancels. */
  same_tool: boolean;
  /** The same in words. */
  text: string;
}

/** Disc springs as they were judged. */
export interface SpringCheckResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm: number;
  /** Every measured disc. */
  springs: MeasuredSpring[];
}

/** Ramp rings and cross pins as they were judged. */
export interface RingCheckResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm: number;
  /** The ramp rings. */
  rings: WornPart[];
  /** The cross pins. */
  pins: WornPart[];
}

/** Other parts as they were judged; without a verdict where nothing has a limit. */
export interface InspectionResult {
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** Why, in one sentence. */
  reason: string;
  /** Every inspected feature. */
  features: InspectedFeature[];
}

/** A unit back in its axle, as it was judged. */
export interface RefitResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** What was checked. */
  checks: ({
    /** What was checked. */
    name: "backlash";
    /** The verdict. */
    verdict: Verdict;
    /** Why, in one sentence. */
    reason: string;
    /** Lowest of what was measured; mm. */
    lowest_mm: number;
    /** Highest of what was measured; mm. */
    highest_mm: number;
    /** Guard band, one-sided 95 %; mm. */
    guard_mm: number;
    /** Lowest allowed; mm. */
    low_mm: number | null;
    /** Highest allowed; mm. */
    high_mm: number | null;
    /** What was found. */
    findings: Finding[];
    /** Largest difference round the part; mm. */
    uneven_mm: number;
  } | {
    /** What was checked. */
    name: "bearings";
    /** The verdict. */
    verdict: Verdict;
    /** Why, in one sentence. */
    reason: string;
    /** Lowest of what was measured; N·m. */
    lowest_nm: number;
    /** Highest of what was measured; N·m. */
    highest_nm: number;
    /** Guard band, one-sided 95 %; N·m. */
    guard_nm: number;
    /** Lowest allowed; N·m. */
    low_nm: number | null;
    /** Highest allowed; N·m. */
    high_nm: number | null;
    /** What was found. */
    findings: Finding[];
  } | {
    /** What was checked. */
    name: "screws";
    /** The verdict. */
    verdict: Verdict;
    /** Why, in one sentence. */
    reason: string;
    /** Lowest of what was measured; N·m. */
    lowest_nm: number;
    /** Highest of what was measured; N·m. */
    highest_nm: number;
    /** Guard band, one-sided 95 %; N·m. */
    guard_nm: number;
    /** Lowest allowed; N·m. */
    low_nm: number | null;
    /** Highest allowed; N·m. */
    high_nm: number | null;
    /** What was found. */
    findings: Finding[];
  } | {
    /** What was checked. */
    name: "contact";
    /** The verdict. */
    verdict: Verdict;
    /** Why, in one sentence. */
    reason: string;
    /** Where the marking paste is wiped off. */
    contact: "face" | "flank" | "good" | "heel" | "toe";
    /** What was found. */
    findings: Finding[];
  })[];
  /** What to move. */
  setting: {
    /** How far the crown wheel moves away from the pinion; below 0 towards it; mm. */
    move_mm: number;
    /** Least that this may really have to be; mm. */
    move_low_mm: number;
    /** Most that this may really have to be; mm. */
    move_high_mm: number;
    /** How far away it moves beside that, so that the pinion leaves backlash alone; mm. */
    with_pinion_mm: number;
    /** Shims to add behind the crown wheel; below 0 to take out; mm. */
    behind_change_mm: number;
    /** Shims to add on the tooth side; mm. */
    tooth_change_mm: number;
    /** Shims to add at the pinion; mm. */
    pinion_change_mm: number;
    /** Where the crown wheel goes. */
    way: "away" | "still" | "towards";
    /** Change behind the crown wheel, with its sign; empty for none. */
    behind_text: string;
    /** Change on the tooth side, with its sign; empty for none. */
    tooth_text: string;
    /** Change at the pinion, with its sign; empty for none. */
    pinion_text: string;
    /** Turning torque for each 0.1 mm of shims; empty where nobody knows; N·m. */
    rises_nm: number | null;
    /** What stands of backlash. */
    backlash: {
      /** Middle between the tightest and the loosest tooth; mm. */
      found_mm: number;
      /** Expanded uncertainty of that, 95 %; mm. */
      found_within_mm: number;
      /** What it is set to; empty where nobody says; mm. */
      aim_mm: number | null;
      /** Backlash for each mm that the crown wheel moves sideways. */
      ratio: number;
      /** Lowest that the ratio may be. */
      ratio_low: number;
      /** Highest that the ratio may be. */
      ratio_high: number;
      /** Where the ratio is from. */
      ratio_from: "geometry" | "tries" | "usual";
      /** Backlash to expect once the shims are moved; mm. */
      expected_mm: number;
      /** How far off that may be; mm. */
      expected_within_mm: number;
    } | null;
    /** Shims behind the crown wheel afterwards; mm. */
    behind_mm: number | null;
    /** Shims on the tooth side afterwards; mm. */
    tooth_mm: number | null;
    /** Shims of the pinion afterwards; mm. */
    pinion_mm: number | null;
    /** What to do, in the order of the work. */
    advice: {
      /** What it is about. */
      about: "backlash" | "bearings" | "contact" | "shims";
      /** What to do, or why nothing can be said. */
      text: string;
    }[];
    /** What was tried, the present try last. */
    tries: {
      /** Shims behind the crown wheel; mm. */
      behind_mm: number | null;
      /** Shims on the tooth side; mm. */
      tooth_mm: number | null;
      /** Shims of the pinion; mm. */
      pinion_mm: number | null;
      /** Middle between the tightest and the loosest tooth; mm. */
      backlash_mm: number | null;
      /** Turning torque of the bearings; N·m. */
      torque_nm: number | null;
      /**
       * Contact pattern, drive side; face: high, along the tip of the tooth; flank: low, along the root of the tooth;
       * good: in the middle, or a little towards the toe; heel: at the heel, the outer end of the tooth; toe: at the
       * toe, the inner end of the tooth.
       */
      contact: "face" | "flank" | "good" | "heel" | "toe" | null;
    }[];
  } | null;
}

/** The steps of both procedures, in order. */
export interface StepsResult {
  /** The list of steps that this is. */
  guide: number;
  /** Stripping a unit. */
  strip: {
    /** The step. */
    name: "caps" | "cleaned" | "drained" | "held" | "laid" | "lifted" | "marked" | "out" | "relieved" | "screws";
    /** What to do. */
    text: string;
    /** How it is done. */
    how: string[];
    /** What can hurt somebody at this step. */
    cautions: string[];
    /** Whether a vice alone holds the spring once it is done. */
    holds: boolean;
  }[];
  /** Closing a unit. */
  close: {
    /** The step. */
    name:
      | "clean"
      | "cone"
      | "cover"
      | "flush"
      | "held"
      | "inside"
      | "oiled"
      | "opened"
      | "order"
      | "screws"
      | "started"
      | "turned";
    /** What to do. */
    text: string;
    /** How it is done. */
    how: string[];
    /** What can hurt somebody at this step. */
    cautions: string[];
    /** Whether a vice alone holds the spring once it is done. */
    holds: boolean;
  }[];
}

/** A unit stripped. */
export interface StripResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** Whether every step was done. */
  complete: boolean;
  /** Steps that were not done, in order. */
  left: ("caps" | "cleaned" | "drained" | "held" | "laid" | "lifted" | "marked" | "out" | "relieved" | "screws")[];
  /** Whether a vice alone holds the spring; only where this engine judged it. */
  held_by_vice?: boolean;
  /** Who signed for it. */
  signed: string;
}

/** A unit closed. */
export interface CloseResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** Whether every step was done. */
  complete: boolean;
  /** Steps that were not done, in order. */
  left:
    | ("clean"
    | "cone"
    | "cover"
    | "flush"
    | "held"
    | "inside"
    | "oiled"
    | "opened"
    | "order"
    | "screws"
    | "started"
    | "turned")[];
  /** Whether a vice alone holds the spring; only where this engine judged it. */
  held_by_vice?: boolean;
  /** Who signed for it. */
  signed: string;
}

/** Whose each unit is. */
export interface OwnersResult {
  /** The units of each customer; by id of a customer. */
  customers: Record<string, string[]>;
  /** Owners that were typed, by name. */
  texts: {
    /** The owner as it was typed most often. */
    text: string;
    /** Every way in which it was typed. */
    spellings: string[];
    /** Its units. */
    units: {
      /** The entry's own id. */
      unit_id: string;
      /** As it was typed. */
      owner: string;
    }[];
    /** The customer who has this name; empty where there is none. */
    customer: string | null;
  }[];
}

/** What a rebuild fitted and what came out, in SI. */
export interface RebuildResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** Parts that were exchanged; none where only the order or the oil changed. */
  fitted: {
    /** Place in the stack. */
    slot: string;
    /** Thickness of the part that was fitted; mm. */
    mm: number;
    /** What the piece was called on the shelf. */
    piece: string;
    /** Its limit, where it is known: thickness at which it is replaced; mm; only where it was given. */
    minimum_mm?: number;
    /** How far off its thickness may be; mm; only where it was given. */
    within_mm?: number;
    /** Plate family: rubbing ring, lugs or splines, material; only where it was given. */
    family?: string;
    /** Whether it was bought for this rebuild and never lay on the shelf; only where it was given. */
    bought?: boolean;
  }[];
  /** Plates that came out, as far as it was said where they went; only where something came out. */
  came_out?: {
    /** Place that it came out of. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Where it went. */
    where: "again" | "keep" | "scrap";
    /** What it is called on the shelf, where it is kept. */
    name: string;
    /** Its mean thickness as measured; mm. */
    mm: number | null;
    /** Its lowest point, which its limit judges; mm; only where it was given. */
    lowest_mm?: number;
    /** How far off its thickness may be; mm; only where it was given. */
    within_mm?: number;
    /** Its own limit; that of its class, if empty; mm; only where it was given. */
    minimum_mm?: number;
    /** Its thickness when new, by which its class is found; mm; only where it was given. */
    new_mm?: number;
    /** Plate family: rubbing ring, lugs or splines, material; only where it was given. */
    family?: string;
  }[];
  /** Changes to try that were made with it; only where it says so. */
  trials?: string[];
  /**
   * What it means for the shelf; nothing, if empty; counted: a count that was made since has all of it already; moves:
   * what was fitted comes off it, and what is kept goes onto it; only where it was said.
   */
  shelf?: "counted" | "moves";
}

/** Where plates that come out may go. */
export interface CameOutResult {
  /** Every plate whose place another part goes into. */
  plates: {
    /** Place that it comes out of. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /**
     * Where it may go; empty where the builder has to say; keep: its last check found it within its limit; scrap: that
     * found it worn.
     */
    start: "keep" | "scrap" | null;
    /** Why, in words. */
    why: string;
    /** A name for its bag that nothing on the shelf has. */
    name: string;
    /** Its mean thickness; empty where it was not measured; mm. */
    mm: number | null;
    /** Its lowest point; mm. */
    lowest_mm: number | null;
    /** How far off its thickness may be; mm. */
    within_mm: number | null;
    /** Its own limit; empty where that is its class's; mm. */
    minimum_mm: number | null;
    /** Its thickness when new; mm. */
    new_mm: number;
    /** Plate family. */
    family: string | null;
  }[];
}

/** A plan that was taken, in SI. */
export interface PlannedResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** Every plate that is to be fitted. */
  fitted: {
    /** Place in the stack. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** What the piece is called on the shelf. */
    piece: string;
    /** Its thickness; mm. */
    mm: number;
    /** Its limit, where it is known; mm; only where it was given. */
    minimum_mm?: number;
    /** Whether it has to be bought first. */
    bought: boolean;
  }[];
  /** Breakaway torque that it gives; N·m. */
  torque_nm: number | null;
  /** Breakaway torque that is wanted; N·m. */
  wanted_nm: number | null;
}

/** An outing. */
export interface OutingResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** The outing in one line; blank where only that it ran is known. */
  text: string;
  /** What the driver felt. */
  felt: {
    /** What was felt. */
    what: "bangs" | "hops" | "judders" | "loose" | "pulls" | "pushes" | "snaps" | "spins" | "whines";
    /**
     * When; empty for at any time; braking: under braking; entry: turning in; lift: on lift-off; power: on power;
     * straight: in a straight line.
     */
    when: "braking" | "entry" | "lift" | "power" | "straight" | null;
    /** Where; empty for everywhere; fast: fast corners; slow: slow corners. */
    corners: "fast" | "slow" | null;
    /** The same in words. */
    text: string;
  }[];
  /** Hours that it ran. */
  hours: number | null;
  /** Kilometres that it ran. */
  km: number | null;
  /** Whether changes that were made helped; only where it was answered. */
  helped?: {
    /** Id of the change. */
    trial: string;
    /** Whether it helped. */
    answer: "better" | "gone" | "same" | "unclear" | "worse";
  }[];
}

/** Service done. */
export interface ServiceResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** What was done, in one line. */
  text: string;
  /** Changes to try that were made with it; only where it says so. */
  trials?: string[];
}

/** The shelf as it was counted, in SI. */
export interface ShelfResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** Plates in stock. */
  pieces: {
    /** Plate family: rubbing ring, lugs or splines, material; only where it was given. */
    family?: string;
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness; mm. */
    mm: number;
    /** How many there are. */
    count: number;
    /** How far off one may be; mm. */
    within_mm: number;
    /** Limit: thickness at which one has to be replaced; mm; only where it was given. */
    minimum_mm?: number;
    /** Thickness when new, of a piece that has run; mm; only where it was given. */
    new_mm?: number;
    /** Its lowest point, which its limit judges, of a piece that has run; mm; only where it was given. */
    lowest_mm?: number;
    /** Lowest stock of the class: with fewer than this, more are to be bought; only where it was given. */
    lowest_stock?: number;
  }[];
  /** Whether only these rows were counted; only where that was said. */
  only_these?: boolean;
}

/** A shelf without what was fitted. */
export interface ShelfLessResult {
  /** How many pieces came off it. */
  taken: number;
  /** Plates in stock. */
  pieces: {
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness; mm. */
    mm: number;
    /** How many there are. */
    count: number;
    /** How far off one may be; mm. */
    within_mm: number;
    /** Limit: thickness at which one has to be replaced; mm; only where it was given. */
    minimum_mm?: number;
    /** Thickness when new, of a piece that has run; mm; only where it was given. */
    new_mm?: number;
    /** Its lowest point, which its limit judges, of a piece that has run; mm; only where it was given. */
    lowest_mm?: number;
    /** Plate family: rubbing ring, lugs or splines, material; only where it was given. */
    family?: string;
  }[];
  /** For every piece that was fitted, in order. */
  known: {
    /** Limit of the piece or its class; empty where it has none; mm. */
    minimum_mm: number | null;
    /** How far off its thickness may be; mm. */
    within_mm: number | null;
    /** Its plate family. */
    family: string | null;
  }[];
}

/** What a pattern comes to with every part new, as far as it is known. */
export interface PatternResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** Sliding faces of each pack; empty without the stack. */
  faces: {
    /** In the first pack. */
    first: number;
    /** In the second pack. */
    second: number;
  } | null;
  /** Height of the whole stack before the cover is closed; mm. */
  free_mm: number | null;
  /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
  crush_mm: number | null;
  /** How far each disc is squeezed; mm. */
  deflection_mm: number | null;
  /** Share of the way to flat. */
  travel: number | null;
  /** Preload; empty unless stack, spring and depth are known; N. */
  preload_n: number | null;
  /** Effective radius of the plates; mm. */
  radius_mm: number | null;
  /** Torque of each pack; empty unless preload and friction are known. */
  pack_nm: {
    /** Of the first pack; N·m. */
    first: number;
    /** Of the second pack; N·m. */
    second: number;
  } | null;
  /** Breakaway torque, as order and limits are stated; N·m. */
  breakaway_nm: number | null;
  /** The unit once it has warmed through, by expansion alone; empty where that is not given. */
  warm: {
    /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
    crush_mm: number;
    /** Preload; N. */
    preload_n: number;
    /** Change of preload and torque; empty without a preload; %. */
    change_percent: number | null;
  } | null;
  /** What to know about the spring, where order and limits contradict each other, and what was worked out. */
  warnings: Concern[];
  /** Figures that were worked out, not measured. */
  worked_out: {
    /** Short name of the figure. */
    name: string;
    /** Its field in the definition. */
    field: string;
    /** What it is called. */
    title: string;
    /** The figure with its unit. */
    value: string;
    /** How far off it may be, 95 %. */
    within: string;
    /** What it was worked out from, in one sentence. */
    text: string;
    /** What was measured for it, as it was written then. */
    basis: string;
  }[];
  /** The definition itself, in SI. */
  checked: {
    /** Name of the unit. */
    name: string;
    /** Whose it is. */
    owner: string;
    /** Anything worth knowing about it. */
    note: string;
    /** The car that it is fitted to, by the entry that brought that in. */
    car_id: string;
    /** Where in the car it sits; centre: centre, between the axles; front: front axle; rear: rear axle. */
    sits: "centre" | "front" | "rear" | null;
    /** The customer whose it is, by the entry that brought that in; owner then says the name. */
    customer_id: string;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family: string;
    /** The pattern that it is built to. */
    pattern: {
      /** The pattern's own id: that of its first entry. */
      id: string;
      /** What it was called when this was written. */
      name: string;
      /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
      seen: string;
    } | null;
    /** What the customer ordered. */
    order: {
      /** Breakaway torque ordered; N·m. */
      torque_nm: number;
      /** How far off it may be, either way; N·m. */
      tolerance_nm: number;
    } | null;
    /** Reading that order and limits are for. */
    judged_on: "first_move" | "steady";
    /** Way of holding that order and limits are stated for. */
    stated_for: "case_held" | "one_output_held";
    /** Limits between rebuilds. */
    service: {
      /** Lowest torque at which it may run again; N·m. */
      low_nm: number | null;
      /** Highest torque at which it may run again; N·m. */
      high_nm: number | null;
      /** Days after which its plates are measured again; 365 if empty. */
      plates_every_days: number | null;
      /** Outings after which its plates are measured again. */
      plates_every_outings: number | null;
      /** Hours of running after which its plates are measured again. */
      plates_every_hours: number | null;
      /** Outings after which its torque is checked again. */
      check_every_outings: number | null;
      /** Hours of running after which its torque is checked again. */
      check_every_hours: number | null;
      /** Days after which its torque is checked again. */
      check_every_days: number | null;
      /** Outings after which its oil is changed. */
      oil_every_outings: number | null;
      /** Hours of running after which its oil is changed. */
      oil_every_hours: number | null;
      /** Days after which its oil is changed. */
      oil_every_days: number | null;
    } | null;
    /** Turns of the output for one turn of the wheel. */
    hub_ratio: number;
    /**
     * Where the spring sits; as the stack has it if empty; between_rings: a spring between the ramp rings; in_line: one
     * spring in line with the packs, against the cover or the floor; two_springs: two springs in line, one at each end.
     */
    layout: "between_rings" | "in_line" | "two_springs" | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring: {
      /** Outside diameter; mm. */
      de_mm: number;
      /** Inside diameter; mm. */
      di_mm: number;
      /** Thickness of the disc; mm. */
      t_mm: number;
      /** Free height of one disc; mm. */
      l0_mm: number;
      /** Reduced thickness of a disc with contact flats; mm. */
      flats_t_mm: number | null;
      /** Discs nested the same way, which add their loads. */
      parallel: number;
      /** Nests turned against each other, which share the travel. */
      series: number;
      /** Friction between nested discs, w_M of DIN EN 16984; left out if empty. */
      surface_friction: number | null;
      /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty. */
      edge_friction: number | null;
      /** Modulus of elasticity; N/mm². */
      elastic_nmm2: number;
      /** Poisson's ratio. */
      poisson: number;
    } | null;
    /** Depth from the cover's face to the floor; mm. */
    cavity_mm: number | null;
    /** The stack from cover to floor. */
    chain: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; mm. */
      new_mm: number | null;
      /** Thickness at which it has to be replaced; mm. */
      minimum_mm: number | null;
      /**
       * Side that the point of a disc spring's cone faces; cover: its point faces the cover; floor: its point faces the
       * floor.
       */
      cone_to: "cover" | "floor" | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction: {
      /** Inside diameter of the rubbing ring; mm. */
      inner_mm: number;
      /** Outside diameter of the rubbing ring; mm. */
      outer_mm: number;
      /** Coefficient of friction, plates in oil. */
      mu: number;
      /** Whether the plates are run in. */
      run_in: boolean;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps: {
      /** Radius at which the cross pins bear on the ramps; mm. */
      pin_radius_mm: number;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Coefficient of friction of pin on ramp. */
      mu: number;
      /** The ramp rings' ears. */
      ears: {
        /** Radius at which the rings' ears bear in the case's slots; mm. */
        radius_mm: number;
        /** Coefficient of friction of ear in slot. */
        mu: number;
      } | null;
      /** The bevel gears. */
      gears: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; °. */
        pressure_deg: number;
        /** Radius of a side gear at the middle of its teeth; mm. */
        pitch_radius_mm: number;
        /** Pitch cone angle of a side gear, from its own shaft; °. */
        cone_deg: number | null;
        /** Teeth of a side gear, where its cone angle is not known. */
        side_teeth: number | null;
        /** Teeth of a pinion, where the cone angle is not known. */
        pinion_teeth: number | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; mm. */
      pin_radius_mm: number | null;
    }[];
    /** The cover and its screws. */
    cover: {
      /** How many screws hold the cover. */
      screws: number;
      /** Thread diameter; mm. */
      screw_mm: number;
      /** Torque of a screw; N·m. */
      torque_nm: number;
      /** Gap under the cover when the screws first catch; assumed if empty; mm. */
      start_mm: number | null;
      /** Greatest torque into the case, which the ramps turn into push; N·m. */
      case_nm: number | null;
    } | null;
    /** Limits common to all plates. */
    limits: {
      /** Largest difference round a plate; mm. */
      taper_mm: number;
      /** Largest gap under a plate; mm. */
      flatness_mm: number;
    };
    /** A case that expands otherwise than what is in it. */
    warming: {
      /** How much warmer the unit runs than it was built; K. */
      warmer_k: number;
      /** Expansion of the case, millionths of its length for each kelvin. */
      case_ppm: number;
      /** Expansion of plates, rings and spring, the same way. */
      stack_ppm: number;
    } | null;
    /** What is inspected on other parts. */
    features: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /**
       * Kind of gauge; the usual one for what is measured if empty; bore_gauge: bore gauge; depth_gauge: depth gauge;
       * dial_gauge: dial gauge; feeler: feeler gauge; micrometer: micrometer.
       */
      gauge: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | null;
      /** In how many places it is measured. */
      places: number;
      /** Figure when new; mm. */
      new_mm: number | null;
      /** Lowest allowed; mm. */
      low_mm: number | null;
      /** Highest allowed; mm. */
      high_mm: number | null;
      /** Largest change against new, either way; mm. */
      change_mm: number | null;
      /** How often it may be used in all. */
      most_uses: number | null;
      /**
       * What uses it once more, as the log tells; only what inspections say if empty; closing: each time that the cover
       * is closed; refit: each time that the unit goes back into its axle.
       */
      counted: "closing" | "refit" | null;
      /** Whether its limits are only common practice. */
      usual_limits: boolean;
      /**
       * What is done where it is outside; if empty, rework for backlash and end float, replace for all else; replace:
       * replace it; rework: rework or shim it.
       */
      outside: "replace" | "rework" | null;
    }[];
    /** Marked parts that were in it when it was added; rebuilds say what changed since. */
    marked_parts: {
      /** What the part is. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "friction"
        | "journals"
        | "other"
        | "ring"
        | "screws"
        | "separator"
        | "splines"
        | "spring"
        | "thrust_washers";
      /** Its place in the stack, or which of several; may stay empty where the unit has one. */
      place: string;
      /** Number or mark on it. */
      mark: string;
    }[];
    /** Which of these figures were worked out, not measured. */
    worked_out: {
      /** The depth, where it was worked out. */
      cavity_mm: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure. */
        value: number;
        /** Its standard uncertainty. */
        u: number;
        /** What was measured for it, in words. */
        basis: string;
      } | null;
    } | null;
  };
}

/** What others take over of a unit. */
export interface AnotherResult {
  /** The definition without what is the unit's own, as it was typed. */
  for_pattern: {
    /** Anything worth knowing about it. */
    note?: string | null;
    /** Where in the car it sits. */
    sits?: "centre" | "front" | "rear" | "" | null;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family?: string | null;
    /** What the customer ordered. */
    order?: {
      /** Breakaway torque ordered; 1 N·m to 2000 N·m. */
      torque_nm: Typed;
      /** How far off it may be, either way; 0.1 N·m to 500 N·m. */
      tolerance_nm: Typed;
    } | null;
    /** Reading that order and limits are for. */
    judged_on?: "first_move" | "steady" | "" | null;
    /** Way of holding that order and limits are stated for. */
    stated_for?: "case_held" | "one_output_held" | "" | null;
    /** Limits between rebuilds. */
    service?: {
      /** Lowest torque at which it may run again; 0 N·m to 2000 N·m. */
      low_nm?: Typed | null;
      /** Highest torque at which it may run again; 0 N·m to 4000 N·m. */
      high_nm?: Typed | null;
      /** Days after which its plates are measured again; 365 if empty; 7 to 3650. */
      plates_every_days?: Typed | null;
      /** Outings after which its plates are measured again; 1 to 500. */
      plates_every_outings?: Typed | null;
      /** Hours of running after which its plates are measured again; 0.5 to 1000. */
      plates_every_hours?: Typed | null;
      /** Outings after which its torque is checked again; 1 to 500. */
      check_every_outings?: Typed | null;
      /** Hours of running after which its torque is checked again; 0.5 to 1000. */
      check_every_hours?: Typed | null;
      /** Days after which its torque is checked again; 1 to 3650. */
      check_every_days?: Typed | null;
      /** Outings after which its oil is changed; 1 to 500. */
      oil_every_outings?: Typed | null;
      /** Hours of running after which its oil is changed; 0.5 to 1000. */
      oil_every_hours?: Typed | null;
      /** Days after which its oil is changed; 1 to 3650. */
      oil_every_days?: Typed | null;
    } | null;
    /** Turns of the output for one turn of the wheel; 0.2 to 10. */
    hub_ratio?: Typed | null;
    /** Where the spring sits; as the stack has it if empty. */
    layout?: "between_rings" | "in_line" | "two_springs" | "" | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring?: DiscSpring | null;
    /** Depth from the cover's face to the floor; 5 mm to 500 mm. */
    cavity_mm?: Typed | null;
    /** The stack from cover to floor. */
    chain?: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; 0.05 mm to 80 mm. */
      new_mm?: Typed | null;
      /** Thickness at which it has to be replaced; 0.02 mm to 80 mm. */
      minimum_mm?: Typed | null;
      /** Side that the point of a disc spring's cone faces. */
      cone_to?: "cover" | "floor" | "" | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction?: {
      /** Inside diameter of the rubbing ring; 10 mm to 390 mm. */
      inner_mm: Typed;
      /** Outside diameter of the rubbing ring; 15 mm to 400 mm. */
      outer_mm: Typed;
      /** Coefficient of friction, plates in oil; 0.02 to 0.5. */
      mu?: Typed | null;
      /** Whether the plates are run in. */
      run_in?: boolean | null;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps?: {
      /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
      pin_radius_mm: Typed;
      /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
      drive_deg: Typed;
      /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
      coast_deg: Typed;
      /** Coefficient of friction of pin on ramp; 0 to 0.4. */
      mu?: Typed | null;
      /** The ramp rings' ears. */
      ears?: {
        /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
        radius_mm: Typed;
        /** Coefficient of friction of ear in slot; 0 to 0.4. */
        mu?: Typed | null;
      } | null;
      /** The bevel gears. */
      gears?: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; 10 ° to 35 °. */
        pressure_deg: Typed;
        /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
        pitch_radius_mm: Typed;
        /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
        cone_deg?: Typed | null;
        /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
        side_teeth?: Typed | null;
        /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
        pinion_teeth?: Typed | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps?: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
      drive_deg: Typed;
      /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
      coast_deg: Typed;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; 5 mm to 200 mm. */
      pin_radius_mm?: Typed | null;
    }[] | null;
    /** The cover and its screws. */
    cover?: {
      /** How many screws hold the cover; 2 to 24. */
      screws: Typed;
      /** Thread diameter; 3 mm to 20 mm. */
      screw_mm: Typed;
      /** Torque of a screw; 1 N·m to 300 N·m. */
      torque_nm: Typed;
      /** Gap under the cover when the screws first catch; assumed if empty; 0 mm to 20 mm. */
      start_mm?: Typed | null;
      /** Greatest torque into the case, which the ramps turn into push; 1 N·m to 50000 N·m. */
      case_nm?: Typed | null;
    } | null;
    /** Limits common to all plates. */
    limits?: {
      /** Largest difference round a plate; 0.001 mm to 5 mm. */
      taper_mm?: Typed | null;
      /** Largest gap under a plate; 0.001 mm to 5 mm. */
      flatness_mm?: Typed | null;
    } | null;
    /** A case that expands otherwise than what is in it. */
    warming?: {
      /** How much warmer the unit runs than it was built; 1 K to 200 K. */
      warmer_k: Typed;
      /** Expansion of the case, millionths of its length for each kelvin; 1 to 40. */
      case_ppm?: Typed | null;
      /** Expansion of plates, rings and spring, the same way; 1 to 40. */
      stack_ppm?: Typed | null;
    } | null;
    /** What is inspected on other parts. */
    features?: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /** Kind of gauge; the usual one for what is measured if empty. */
      gauge?: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "" | null;
      /** In how many places it is measured; 1 to 24. */
      places?: Typed | null;
      /** Figure when new; 0 mm to 500 mm. */
      new_mm?: Typed | null;
      /** Lowest allowed; 0 mm to 500 mm. */
      low_mm?: Typed | null;
      /** Highest allowed; 0 mm to 500 mm. */
      high_mm?: Typed | null;
      /** Largest change against new, either way; 0.001 mm to 50 mm. */
      change_mm?: Typed | null;
      /** How often it may be used in all; 1 to 1000. */
      most_uses?: Typed | null;
      /** What uses it once more, as the log tells; only what inspections say if empty. */
      counted?: "closing" | "refit" | "" | null;
      /** Whether its limits are only common practice. */
      usual_limits?: boolean | null;
      /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
      outside?: "replace" | "rework" | "" | null;
    }[] | null;
    /** Which of these figures were worked out, not measured. */
    worked_out?: {
      /** The depth, where it was worked out. */
      cavity_mm?: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
        value_mm: Typed;
        /** Its standard uncertainty; 0 mm to 100 mm. */
        u_mm: Typed;
        /** What was measured for it, in words. */
        basis?: string | null;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm?: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
        value_mm: Typed;
        /** Its standard uncertainty; 0 mm to 100 mm. */
        u_mm: Typed;
        /** What was measured for it, in words. */
        basis?: string | null;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu?: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure; 0.02 to 0.5. */
        value: Typed;
        /** Its standard uncertainty; 0 to 0.5. */
        u: Typed;
        /** What was measured for it, in words. */
        basis?: string | null;
      } | null;
    } | null;
  };
  /** What a new unit starts with, as it would be typed. */
  for_unit: NewUnit;
}

/** What a pattern offers to a unit. */
export interface PatternOfferResult {
  /** What the pattern changed, where the unit has something else. */
  offers: {
    /** Its name. */
    name: string;
    /** What it is about. */
    label: string;
    /** What the unit has, in words. */
    now: string;
    /** What the pattern has, in words. */
    offered: string;
  }[];
  /** How many they are; blank where there are none. */
  text: string;
  /** The definition with what was accepted, as it would be typed. */
  body: {
    /** Its name. */
    name?: string | null;
    /** The pattern that this entry changes: the id of its first entry. */
    id?: string | null;
    /** Whether new units are still built to it. */
    gone?: "no" | "yes" | "" | null;
    /** Whose it is. */
    owner?: string | null;
    /** The customer whose it is, by the entry that brought that in; owner then says the name. */
    customer_id?: string | null;
    /** The car that it is fitted to, by the entry that brought that in. */
    car_id?: string | null;
    /** Anything worth knowing about it. */
    note?: string | null;
    /** Where in the car it sits. */
    sits?: "centre" | "front" | "rear" | "" | null;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family?: string | null;
    /** What the customer ordered. */
    order?: {
      /** Breakaway torque ordered; 1 N·m to 2000 N·m. */
      torque_nm: Typed;
      /** How far off it may be, either way; 0.1 N·m to 500 N·m. */
      tolerance_nm: Typed;
    } | null;
    /** Reading that order and limits are for. */
    judged_on?: "first_move" | "steady" | "" | null;
    /** Way of holding that order and limits are stated for. */
    stated_for?: "case_held" | "one_output_held" | "" | null;
    /** Limits between rebuilds. */
    service?: {
      /** Lowest torque at which it may run again; 0 N·m to 2000 N·m. */
      low_nm?: Typed | null;
      /** Highest torque at which it may run again; 0 N·m to 4000 N·m. */
      high_nm?: Typed | null;
      /** Days after which its plates are measured again; 365 if empty; 7 to 3650. */
      plates_every_days?: Typed | null;
      /** Outings after which its plates are measured again; 1 to 500. */
      plates_every_outings?: Typed | null;
      /** Hours of running after which its plates are measured again; 0.5 to 1000. */
      plates_every_hours?: Typed | null;
      /** Outings after which its torque is checked again; 1 to 500. */
      check_every_outings?: Typed | null;
      /** Hours of running after which its torque is checked again; 0.5 to 1000. */
      check_every_hours?: Typed | null;
      /** Days after which its torque is checked again; 1 to 3650. */
      check_every_days?: Typed | null;
      /** Outings after which its oil is changed; 1 to 500. */
      oil_every_outings?: Typed | null;
      /** Hours of running after which its oil is changed; 0.5 to 1000. */
      oil_every_hours?: Typed | null;
      /** Days after which its oil is changed; 1 to 3650. */
      oil_every_days?: Typed | null;
    } | null;
    /** Turns of the output for one turn of the wheel; 0.2 to 10. */
    hub_ratio?: Typed | null;
    /** Where the spring sits; as the stack has it if empty. */
    layout?: "between_rings" | "in_line" | "two_springs" | "" | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring?: DiscSpring | null;
    /** Depth from the cover's face to the floor; 5 mm to 500 mm. */
    cavity_mm?: Typed | null;
    /** The stack from cover to floor. */
    chain?: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; 0.05 mm to 80 mm. */
      new_mm?: Typed | null;
      /** Thickness at which it has to be replaced; 0.02 mm to 80 mm. */
      minimum_mm?: Typed | null;
      /** Side that the point of a disc spring's cone faces. */
      cone_to?: "cover" | "floor" | "" | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction?: {
      /** Inside diameter of the rubbing ring; 10 mm to 390 mm. */
      inner_mm: Typed;
      /** Outside diameter of the rubbing ring; 15 mm to 400 mm. */
      outer_mm: Typed;
      /** Coefficient of friction, plates in oil; 0.02 to 0.5. */
      mu?: Typed | null;
      /** Whether the plates are run in. */
      run_in?: boolean | null;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps?: {
      /** Radius at which the cross pins bear on the ramps; 5 mm to 200 mm. */
      pin_radius_mm: Typed;
      /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
      drive_deg: Typed;
      /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
      coast_deg: Typed;
      /** Coefficient of friction of pin on ramp; 0 to 0.4. */
      mu?: Typed | null;
      /** The ramp rings' ears. */
      ears?: {
        /** Radius at which the rings' ears bear in the case's slots; 5 mm to 300 mm. */
        radius_mm: Typed;
        /** Coefficient of friction of ear in slot; 0 to 0.4. */
        mu?: Typed | null;
      } | null;
      /** The bevel gears. */
      gears?: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; 10 ° to 35 °. */
        pressure_deg: Typed;
        /** Radius of a side gear at the middle of its teeth; 5 mm to 200 mm. */
        pitch_radius_mm: Typed;
        /** Pitch cone angle of a side gear, from its own shaft; 10 ° to 85 °. */
        cone_deg?: Typed | null;
        /** Teeth of a side gear, where its cone angle is not known; 5 to 60. */
        side_teeth?: Typed | null;
        /** Teeth of a pinion, where the cone angle is not known; 5 to 60. */
        pinion_teeth?: Typed | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps?: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; 5 ° to 90 °. */
      drive_deg: Typed;
      /** Coast ramp angle from the plane of rotation; 5 ° to 90 °. */
      coast_deg: Typed;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; 5 mm to 200 mm. */
      pin_radius_mm?: Typed | null;
    }[] | null;
    /** The cover and its screws. */
    cover?: {
      /** How many screws hold the cover; 2 to 24. */
      screws: Typed;
      /** Thread diameter; 3 mm to 20 mm. */
      screw_mm: Typed;
      /** Torque of a screw; 1 N·m to 300 N·m. */
      torque_nm: Typed;
      /** Gap under the cover when the screws first catch; assumed if empty; 0 mm to 20 mm. */
      start_mm?: Typed | null;
      /** Greatest torque into the case, which the ramps turn into push; 1 N·m to 50000 N·m. */
      case_nm?: Typed | null;
    } | null;
    /** Limits common to all plates. */
    limits?: {
      /** Largest difference round a plate; 0.001 mm to 5 mm. */
      taper_mm?: Typed | null;
      /** Largest gap under a plate; 0.001 mm to 5 mm. */
      flatness_mm?: Typed | null;
    } | null;
    /** A case that expands otherwise than what is in it. */
    warming?: {
      /** How much warmer the unit runs than it was built; 1 K to 200 K. */
      warmer_k: Typed;
      /** Expansion of the case, millionths of its length for each kelvin; 1 to 40. */
      case_ppm?: Typed | null;
      /** Expansion of plates, rings and spring, the same way; 1 to 40. */
      stack_ppm?: Typed | null;
    } | null;
    /** What is inspected on other parts. */
    features?: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /** Kind of gauge; the usual one for what is measured if empty. */
      gauge?: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "" | null;
      /** In how many places it is measured; 1 to 24. */
      places?: Typed | null;
      /** Figure when new; 0 mm to 500 mm. */
      new_mm?: Typed | null;
      /** Lowest allowed; 0 mm to 500 mm. */
      low_mm?: Typed | null;
      /** Highest allowed; 0 mm to 500 mm. */
      high_mm?: Typed | null;
      /** Largest change against new, either way; 0.001 mm to 50 mm. */
      change_mm?: Typed | null;
      /** How often it may be used in all; 1 to 1000. */
      most_uses?: Typed | null;
      /** What uses it once more, as the log tells; only what inspections say if empty. */
      counted?: "closing" | "refit" | "" | null;
      /** Whether its limits are only common practice. */
      usual_limits?: boolean | null;
      /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
      outside?: "replace" | "rework" | "" | null;
    }[] | null;
    /** Which of these figures were worked out, not measured. */
    worked_out?: {
      /** The depth, where it was worked out. */
      cavity_mm?: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
        value_mm: Typed;
        /** Its standard uncertainty; 0 mm to 100 mm. */
        u_mm: Typed;
        /** What was measured for it, in words. */
        basis?: string | null;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm?: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; 0.1 mm to 500 mm. */
        value_mm: Typed;
        /** Its standard uncertainty; 0 mm to 100 mm. */
        u_mm: Typed;
        /** What was measured for it, in words. */
        basis?: string | null;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu?: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure; 0.02 to 0.5. */
        value: Typed;
        /** Its standard uncertainty; 0 to 0.5. */
        u: Typed;
        /** What was measured for it, in words. */
        basis?: string | null;
      } | null;
    } | null;
    /** The pattern that it is built to. */
    pattern?: {
      /** The pattern's own id: that of its first entry. */
      id: string;
      /** What it was called when this was written. */
      name: string;
      /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
      seen?: string | null;
    } | null;
  };
}

/** Ready-made lists of features. */
export interface UsualFeaturesResult {
  /** Parts, in the order in which a unit comes apart. */
  parts: {
    /** The part. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "journals"
      | "other"
      | "rings"
      | "screws"
      | "splines"
      | "thrust_washers";
    /** What it is called. */
    title: string;
    /** Its features, as a definition holds them. */
    features: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /**
       * Kind of gauge; the usual one for what is measured if empty; bore_gauge: bore gauge; depth_gauge: depth gauge;
       * dial_gauge: dial gauge; feeler: feeler gauge; micrometer: micrometer.
       */
      gauge: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | null;
      /** In how many places it is measured. */
      places: number;
      /** Figure when new; mm. */
      new_mm: number | null;
      /** Lowest allowed; mm. */
      low_mm: number | null;
      /** Highest allowed; mm. */
      high_mm: number | null;
      /** Largest change against new, either way; mm. */
      change_mm: number | null;
      /** How often it may be used in all. */
      most_uses: number | null;
      /**
       * What uses it once more, as the log tells; only what inspections say if empty; closing: each time that the cover
       * is closed; refit: each time that the unit goes back into its axle.
       */
      counted: "closing" | "refit" | null;
      /** Whether its limits are only common practice. */
      usual_limits: boolean;
      /**
       * What is done where it is outside; if empty, rework for backlash and end float, replace for all else; replace:
       * replace it; rework: rework or shim it.
       */
      outside: "replace" | "rework" | null;
    }[];
  }[];
}

/** A car as far as it is known. */
export interface CarResult {
  /** Always empty: nothing is judged here. */
  verdict: null;
  /** Every figure that a corner needs. */
  figures: {
    /** Which figure, with its unit at the end. */
    name:
      | "along"
      | "cg_mm"
      | "grip"
      | "mass_kg"
      | "sensitivity"
      | "stiffness"
      | "track_mm"
      | "transfer_share"
      | "tyre_mm"
      | "weight_share"
      | "wheelbase_mm";
    /** What it is. */
    meaning: string;
    /** Most likely. */
    value: number;
    /** The least that it may be. */
    low: number;
    /** The most that it may be. */
    high: number;
    /** Where it comes from. */
    source: "typed" | "usual" | "worked_out";
    /** The same in words. */
    text: string;
    /** Where it comes from, in words. */
    from: string;
  }[];
  /** Each gear, where engine, gears and final drive are known. */
  gears: {
    /** Which gear, from the lowest up. */
    gear: number;
    /** Torque at the driven axle at full throttle; N·m. */
    torque_nm: number;
    /** The least that it may be; N·m. */
    low_nm: number;
    /** The most that it may be; N·m. */
    high_nm: number;
    /** Torque by which the engine brakes at the axle; N·m. */
    braking_nm: number;
  }[];
  /** How many of its measurable figures nobody measured. */
  usual: number;
  /** The same in words. */
  text: string;
  /** What to mind where an axle is lifted. */
  caution: string;
}

/** Patterns of units. */
export interface BuiltToResult {
  /** Entries that travel with the units. */
  ids: string[];
}

/** Kit, shelf and cars that stand. */
export interface KitStandingResult {
  /** Every tool in use, by name. */
  tools: {
    /** The entry that brought it in. */
    id: string;
    /** What kind of tool. */
    tool: "bore_gauge" | "depth_gauge" | "dial_gauge" | "feeler" | "micrometer" | "scale" | "wrench";
    /** What it is called. */
    name: string;
    /** The tool as it was typed. */
    body: KitRequest;
    /** Whether its calibration had run out by the day that was given. */
    overdue: boolean;
  }[];
  /** Every car that is kept, by name. */
  cars: {
    /** The entry that brought it in. */
    id: string;
    /** What it is called. */
    name: string;
    /** The car as it was typed. */
    body: CarRequest;
  }[];
  /** Every customer, those that are none any more among them, by name. */
  customers: {
    /** The entry that brought it in. */
    id: string;
    /** What the customer is called. */
    name: string;
    /** Whether it is a customer no more. */
    gone: boolean;
    /** Whether its personal data are erased. */
    erased: boolean;
    /** All its records, its own among them. */
    ids: string[];
    /** The customer as it was typed. */
    body: CustomerRequest;
    /** Records that were joined with it. */
    others: {
      /** The entry's own id. */
      id: string;
      /** The record as it was typed. */
      body: CustomerRequest;
    }[];
    /** Other customers of the same name. */
    alike: string[];
    /** Changes that a later one, which does count, did not know. */
    overwritten: string[];
    /** Its entries that stand, the newest first. */
    history: {
      /** The entry's own id. */
      entry: string;
      /** Who changed it. */
      who: string;
      /** When it was entered, by the device's clock. */
      at: string;
    }[];
  }[];
  /** The workshop's letterhead as it was typed. */
  letterhead: LetterheadRequest | null;
  /** Plates in stock. */
  shelf: {
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string;
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness; mm. */
    mm: number;
    /** How many there are. */
    count?: number;
    /** How far off one may be; mm. */
    within_mm?: number;
    /** Limit: thickness at which one has to be replaced; mm. */
    minimum_mm?: number;
    /** Thickness when new, of a piece that has run; mm. */
    new_mm?: number;
    /** Its lowest point, which its limit judges, of a piece that has run; mm. */
    lowest_mm?: number;
    /** Lowest stock of the class: with fewer than this, more are to be bought. */
    lowest_stock?: number;
  }[];
  /** How many plates and shims lie on it by its counts alone. */
  shelf_count: number;
  /** Every count of the shelf that stands, in the order of arrival. */
  counts: ShelfCount[];
  /** Every count of it, those that were corrected among them. */
  count_ids: string[];
  /** Every pattern by its newest entry, by name. */
  patterns: {
    /** The entry that brought it in. */
    id: string;
    /** What it is called. */
    name: string;
    /** Whether it is withdrawn. */
    gone: boolean;
    /** Its newest entry, to which what is decided on refers. */
    entry: string;
    /** The pattern as it was typed. */
    body: PatternRequest;
    /** What a new unit starts with, as it would be typed. */
    unit: NewUnit;
    /** Its entries that stand, the newest first. */
    history: {
      /** The entry's own id. */
      entry: string;
      /** Who changed it. */
      who: string;
      /** When it was entered, by the device's clock. */
      at: string;
    }[];
    /** Changes of other devices that do not count, because a later one did not know them. */
    overwritten: {
      /** The entry of the pattern that it went by; empty where there was none. */
      base: string | null;
      /** The entry's own id. */
      entry: string;
      /** Who changed it. */
      who: string;
      /** When it was entered, by the device's clock. */
      at: string;
    }[];
  }[];
  /** Id of the last count of the whole shelf; empty where it was never counted. */
  shelf_entry: string | null;
  /** What an entry that is written now knows. */
  knows: string[];
}

/** What builds in the log have shown. */
export interface ExperienceResult {
  /** Every build of the unit, in order of time. */
  builds: {
    /** When it was rebuilt; empty for the unit as it was taken in. */
    rebuilt_at: string | null;
    /** Id of the check that counts; empty where there is none. */
    check: string | null;
    /** When that was. */
    at: string | null;
    /** Plates and rings of the whole stack together; mm. */
    thickness_mm: number | null;
    /** Breakaway torque; N·m. */
    torque_nm: number | null;
    /** Standard uncertainty of that; N·m. */
    u_nm: number | null;
    /** Whether it has both, and the present spring. */
    counts: boolean;
    /** What it is, or why it does not count. */
    text: string;
  }[];
  /** What builds in the log have shown of torque over thickness. */
  shown: {
    /** What it rests on. */
    text: string;
    /** What a tenth of a millimetre more gives, and over which thickness, in words. */
    tenth_text: string;
    /** Torque at which a drawing may begin; N·m. */
    base_nm: number;
    /** What a tenth of a millimetre more gives; N·m. */
    tenth_nm: number;
    /** How far off that may be, either way, 95 %; N·m. */
    tenth_within_nm: number;
    /** The thinnest stack that was built; mm. */
    low_mm: number;
    /** The thickest; mm. */
    high_mm: number;
    /** Builds of this unit. */
    own: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** Breakaway torque; N·m. */
      torque_nm: number;
    }[];
    /** Builds of other units of its pattern. */
    others: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** Breakaway torque; N·m. */
      torque_nm: number;
    }[];
    /** The line and its band, over the thickness that was built. */
    curve: {
      /** Plates and rings of the whole stack together; mm. */
      thickness_mm: number;
      /** How much thicker that is than the thinnest; mm. */
      above_mm: number;
      /** What is expected; N·m. */
      torque_nm: number;
      /** 19 of 20 builds come out above this and; N·m. */
      low_nm: number;
      /** Below this; N·m. */
      high_nm: number;
    }[];
  } | null;
  /** Why nothing can be said; blank where it can. */
  why: string;
  /** What a plan takes for its experience. */
  for_plan: {
    /** Builds of this unit with its present spring. */
    own: {
      /** Plates and rings of the whole stack together, springs left out; mm. */
      thickness_mm: number;
      /** Breakaway torque of it, as the unit's order states it; N·m. */
      torque_nm: number;
      /** Standard uncertainty of that; N·m. */
      u_nm: number;
    }[];
    /** Other units of the same pattern. */
    others: {
      /** Name of the unit. */
      name: string;
      /** Its builds. */
      own: {
        /** Plates and rings of the whole stack together, springs left out; mm. */
        thickness_mm: number;
        /** Breakaway torque of it, as the unit's order states it; N·m. */
        torque_nm: number;
        /** Standard uncertainty of that; N·m. */
        u_nm: number;
      }[];
    }[];
  } | null;
}

/** What stands for a unit. */
export interface StandingResult {
  /** The unit's own id; empty without an entry. */
  unit_id: string | null;
  /** Its definition that stands, as it was typed; empty while none has arrived. */
  unit: UnitRequest | null;
  /** What a unit's definition comes to with every part new, as far as it is known. */
  derived: StoredUnitResult | null;
  /** Limits that a check may be judged against, in SI; running: service, or else order. */
  limits: {
    /** Two limits. */
    order: {
      /** Lowest torque allowed; N·m. */
      low_nm: number;
      /** Highest torque allowed; empty where there is none; N·m. */
      high_nm: number | null;
    } | null;
    /** Two limits. */
    service: {
      /** Lowest torque allowed; N·m. */
      low_nm: number;
      /** Highest torque allowed; empty where there is none; N·m. */
      high_nm: number | null;
    } | null;
    /** Two limits. */
    running: {
      /** Lowest torque allowed; N·m. */
      low_nm: number;
      /** Highest torque allowed; empty where there is none; N·m. */
      high_nm: number | null;
    } | null;
  } | null;
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** Why, in one sentence. */
  reason: string;
  /** When somebody last looked at the unit itself. */
  looked_at: string | null;
  /** Who did; blank where nobody did, or gave no name. */
  looked_by: string;
  /** An entry that was judged as a whole. */
  torque: JudgedEntry | null;
  /** Every measured plate; by place in the stack. */
  by_slot: Record<string, LastMeasurement>;
  /** Springs, rings and pins, then the refit. */
  parts: (LastMeasurement | JudgedEntry)[];
  /** Features of other parts, in the definition's order. */
  features: StandingFeature[];
  /** Plates; by place in the stack. */
  fitted: Record<string, number>;
  /** The last rebuild. */
  rebuilt: {
    /** When it was entered, by the device's clock. */
    at: string;
    /** The entry's own id. */
    id: string;
  } | null;
  /** When each rebuild was done. */
  rebuilds: string[];
  /** What is due, most pressing first. */
  due: {
    /** What is due. */
    name: "check" | "definition" | "held" | "oil" | "open" | "plates" | "recheck" | "torque";
    /** The same in a few words. */
    title: string;
    /** What is due and why, in one sentence. */
    text: string;
  }[];
  /** Every torque check that stands, by time. */
  trend: {
    /** The entry's own id. */
    id: string;
    /** When it was entered, by the device's clock. */
    at: string;
    /** The torque that was shown; N·m. */
    value_nm: number | null;
    /** The guard band that was shown; N·m. */
    guard_nm: number | null;
    /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
    verdict: Verdict | null;
    /** Whether it was taken fresh from a rebuild, before the plates bedded in. */
    fresh: boolean;
    /** Outings since the rebuild, as logged or as the check says; empty where nothing tells. */
    outings: number | null;
  }[];
  /** Every entry, newest first. */
  order: string[];
  /** What an entry that is written now knows. */
  knows: string[];
  /** What stands though nobody can tell the last. */
  unsure: string[];
  /** Clocks that were wrong; by id of an entry. */
  clocks: Record<string, string>;
  /** The newest that stands, by kind; by kind of entry. */
  newest: Record<string, string>;
  /** The unit as it is built now. */
  built: BuiltUnit | null;
  /** What is to know of the unit itself whatever was read. */
  findings: {
    /** Short name. */
    name:
      | "builds_disagree"
      | "felt_bangs"
      | "felt_hops"
      | "felt_judders"
      | "felt_loose"
      | "felt_pulls"
      | "felt_pushes"
      | "felt_snaps"
      | "felt_spins"
      | "felt_whines"
      | "solid_coast"
      | "solid_drive";
    /** The same in a few words. */
    title: string;
    /** What was found and what to do about it. */
    text: string;
    /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
    verdict: Verdict | null;
  }[];
  /** Where its definition contradicts itself. */
  contradiction: {
    /** Field of the definition. */
    field: string;
    /** The same in words. */
    text: string;
  } | null;
  /** What each section that is not known would open. */
  opens: {
    /** Short name of the section. */
    name: string;
    /** The first of its fields in the definition. */
    field: string;
    /** What it is called. */
    title: string;
    /** Whether it opens something without any other section. */
    at_once: boolean;
    /** What it opens. */
    text: string;
  }[];
  /** What cannot be done yet. */
  lacks: {
    /** Short name of what cannot be done. */
    name: string;
    /** Field of the definition at which to go on. */
    field: string;
    /** What it needs, in one sentence. */
    text: string;
  }[];
  /** Entries that were corrected; by id of an entry. */
  replaced: Record<string, string>;
  /** Definitions that another device overwrote without having seen them. */
  contested: string[];
  /** Entries on which the workshop's verdict differs. */
  disagrees: string[];
  /** A torque check that an older engine judged, where this one differs. */
  judged_again: {
    /** The entry's own id. */
    id: string;
    /** Version of the engine that judged it. */
    engine: string;
    /** The verdict. */
    verdict: Verdict;
    /** Its torque as this engine finds it; empty where it cannot tell; N·m. */
    value_nm: number | null;
    /** The same in words. */
    text: string;
  } | null;
  /** The job at hand. */
  job: {
    /** A step of the job. */
    next: "check" | "close" | "inspect" | "plan" | "plates" | "rebuild" | "refit" | "rings" | "springs" | "strip";
    /** What comes next, as a key says it. */
    text: string;
    /** The steps in the order of the job. */
    steps: {
      /** A step of the job. */
      name: "check" | "close" | "inspect" | "plan" | "plates" | "rebuild" | "refit" | "rings" | "springs" | "strip";
      /** The same in words. */
      text: string;
      /** Whether it is done. */
      done: boolean;
    }[];
  };
  /** What the next torque check starts with. */
  start: {
    /** Id of the newest torque check. */
    last: string | null;
    /** Torque that it found, where the next one is likely to find the same; N·m. */
    last_nm: number | null;
    /** Outings since the rebuild, as far as they were logged or noted. */
    outings: number | null;
    /** What it is judged by. */
    against: "order" | "service";
  };
  /** What the unit means for the shelf. */
  shelf: {
    /** What its rebuilds took from the shelf and put onto it, by time. */
    moves: ShelfMove[];
    /** A plan that was taken, and not rebuilt since. */
    plan: PlanTaken | null;
  };
  /** What it was used since the rebuild. */
  used: {
    /** Outings since the rebuild; empty where nothing tells. */
    outings: number | null;
    /** Those that were logged. */
    logged: number;
    /** Those that only torque checks tell of. */
    unlogged: number;
    /** Hours that were logged. */
    hours: number;
    /** Kilometres that were logged. */
    km: number;
    /** Whether each outing that is counted says how long it was. */
    every_hour: boolean;
    /** The same in words; blank where nothing was logged. */
    text: string;
    /** Checks that contradict what was logged. */
    contradictions: {
      /** The check's own id. */
      id: string;
      /** The same in words. */
      text: string;
    }[];
  };
  /** What is done at intervals, as far as the unit's definition gives any. */
  upkeep: {
    /** What is to be done. */
    name: "check" | "oil" | "plates";
    /** Day on which it was done last. */
    since: string;
    /** The intervals that it has. */
    measures: {
      /** What is counted. */
      measure: "days" | "hours" | "outings";
      /** How many are allowed. */
      every: number;
      /** How many there were since. */
      used: number;
      /** How many are left; below 0 where it is over. */
      left: number;
    }[];
    /** The interval that is used up furthest. */
    first: "days" | "hours" | "outings";
    /** Whether it is due. */
    due: boolean;
    /** Last day by the calendar; empty where no days are given. */
    due_on: string | null;
    /** The same in words. */
    text: string;
  }[];
  /** Last day on which its plates may be gone by; empty where nothing is known of them. */
  plates_by: string | null;
  /** The outing that was logged last. */
  last_outing: {
    /** The entry's own id. */
    id: string;
    /** What another like it begins with, as it was typed. */
    like: {
      /** Where it was. */
      where?: string | null;
      /** Minutes that it ran; 0.5 to 1440. */
      minutes?: Typed | null;
      /** Kilometres that it ran; 0.1 to 5000. */
      km?: Typed | null;
      /** What it ran on. */
      conditions?: "damp" | "dry" | "loose" | "snow" | "wet" | "" | null;
    };
  } | null;
  /** Changes to try, the newest first. */
  trials: {
    /** The entry's own id. */
    id: string;
    /** When it was entered, by the device's clock. */
    at: string;
    /** Who chose it. */
    who: string;
    /** What is changed. */
    lever: "coast_ramp" | "drive_ramp" | "faces" | "oil" | "pair" | "preload" | "turned_over";
    /** Name of the pair of ramps; blank for another change. */
    pair: string;
    /** Breakaway torque to order; empty for another change; N·m. */
    torque_nm: number | null;
    /** Drive ramp; empty for another change; °. */
    drive_deg: number | null;
    /** Coast ramp; empty for another change; °. */
    coast_deg: number | null;
    /** Sliding faces; empty for another change. */
    faces: number | null;
    /** The same in words. */
    change: string;
    /** The complaint that it is for; blank for none. */
    felt: string;
    /** Id of the outing at which that was felt; blank for none. */
    outing: string;
    /** Why. */
    reason: string;
    /** How it is about it. */
    state: "answered" | "chosen" | "made" | "run";
    /** Whether the next outing asks if it helped. */
    asks: boolean;
    /** The rebuild or service with which it was made; empty until then. */
    made: {
      /** The entry's own id. */
      id: string;
      /** When it was entered, by the device's clock. */
      at: string;
    } | null;
    /** Outings since it was made. */
    outings: number;
    /** What was said of it, by outing. */
    answers: {
      /** The entry's own id. */
      id: string;
      /** When it was entered, by the device's clock. */
      at: string;
      /** Whether it helped. */
      answer: "better" | "gone" | "same" | "unclear" | "worse";
      /** The same in words. */
      text: string;
    }[];
    /** Whether it belongs on the unit's page. */
    stays: boolean;
    /** Whether the unit's definition has it too. */
    defined: boolean;
    /** The same in words. */
    text: string;
    /** What to know of it. */
    notes: string[];
  }[];
  /** What was felt, the newest outing first. */
  felt: {
    /** The entry's own id. */
    id: string;
    /** When it was entered, by the device's clock. */
    at: string;
    /** What was felt. */
    felt: {
      /** What was felt. */
      what: "bangs" | "hops" | "judders" | "loose" | "pulls" | "pushes" | "snaps" | "spins" | "whines";
      /**
       * When; empty for at any time; braking: under braking; entry: turning in; lift: on lift-off; power: on power;
       * straight: in a straight line.
       */
      when: "braking" | "entry" | "lift" | "power" | "straight" | null;
      /** Where; empty for everywhere; fast: fast corners; slow: slow corners. */
      corners: "fast" | "slow" | null;
      /** The same in words. */
      text: string;
    }[];
    /**
     * What it ran on; empty where that is not known; damp: damp; dry: dry; loose: loose: gravel, dust or grass; snow:
     * snow or ice; wet: wet.
     */
    conditions: "damp" | "dry" | "loose" | "snow" | "wet" | null;
    /** When the unit was rebuilt since; empty where it was not. */
    rebuilt: string | null;
  }[];
  /** Marked parts that are or were in the unit. */
  marked_parts: {
    /** Every stay of a marked part. */
    stays: MarkedStay[];
    /** What was found elsewhere of parts that are in it, and not looked at here since. */
    brought: {
      /** What it is. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "friction"
        | "journals"
        | "other"
        | "ring"
        | "screws"
        | "separator"
        | "splines"
        | "spring"
        | "thrust_washers";
      /** Its place in the unit; blank where it has no name. */
      place: string;
      /** The mark on it. */
      mark: string;
      /** Feature that was inspected; blank for a part of the stack. */
      name: string;
      /** The verdict. */
      verdict: Verdict;
      /** Why, in one sentence. */
      reason: string;
      /** When it was entered, by the device's clock. */
      at: string | null;
      /** The entry's own id. */
      id: string | null;
    }[];
  };
  /** Where in the car it sits. */
  sits: {
    /**
     * Where in the car it sits; empty where nobody said; centre: centre, between the axles; front: front axle; rear:
     * rear axle.
     */
    where: "centre" | "front" | "rear" | null;
    /** The same in words; blank where nobody said. */
    text: string;
    /** Why nothing is said of corners and wheels; blank where it is. */
    corner: string;
    /** Why it is not checked on the car; blank where it is. */
    car: string;
    /** What the step is called in which it goes back. */
    goes_back: string;
  };
  /** Outings from now on until a limit may be met at the earliest; empty where none is in sight. */
  outings_left: number | null;
}

/** The shelf that stands. */
export interface ShelfNowResult {
  /** Every class and piece, by kind of plate, classes before pieces that have run. */
  rows: ShelfRow[];
  /** How many plates and shims there are in all. */
  count: number;
  /** How many of them plans want. */
  reserved: number;
  /** The buying list of all plans and lowest stocks. */
  to_buy: {
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate; friction: friction plate; separator: separator plate; shim: shim. */
    part: "friction" | "separator" | "shim" | null;
    /** Thickness; mm. */
    mm: number;
    /** How many. */
    count: number;
    /** The same in words, with what they are for. */
    text: string;
  }[];
  /** What to know of the shelf as a whole. */
  says: string[];
  /** Whether any number cannot be, or nobody can tell it. */
  disagrees: boolean;
  /** What a plan for that unit may use. */
  pieces: {
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness; mm. */
    mm: number;
    /** How many there are. */
    count: number;
    /** How far off one may be; mm. */
    within_mm: number;
    /** Limit: thickness at which one has to be replaced; mm; only where it was given. */
    minimum_mm?: number;
    /** Thickness when new, of a piece that has run; mm; only where it was given. */
    new_mm?: number;
    /** Its lowest point, which its limit judges, of a piece that has run; mm; only where it was given. */
    lowest_mm?: number;
    /** Plate family: rubbing ring, lugs or splines, material; only where it was given. */
    family?: string;
  }[];
  /** What of the shelf is not among it; blank where all is. */
  pieces_text: string;
  /** Id of the count of the whole shelf that stands. */
  entry: string | null;
  /** What an entry that is written now names of the other book. */
  knows: {
    /** Counts that a rebuild or a plan names as known. */
    counts: string[];
    /** Rebuilds that a count names as known. */
    moves: string[];
  };
}

/** The marked parts of all units. */
export interface MarkedPartsResult {
  /** Every marked part. */
  parts: {
    /** What it is. */
    part:
      | "bevel_gears"
      | "case"
      | "cover"
      | "cross_pins"
      | "friction"
      | "journals"
      | "other"
      | "ring"
      | "screws"
      | "separator"
      | "splines"
      | "spring"
      | "thrust_washers";
    /** The mark on it. */
    mark: string;
    /** The mark as it is compared. */
    key: string;
    /** What it is called. */
    name: string;
    /** Where it is. */
    where: "away" | "scrap" | "stock" | "unit" | "unknown";
    /** Id of the unit that it is in; empty outside one. */
    unit: string | null;
    /** What that is called. */
    unit_name: string;
    /** Its place in the unit; blank where it has no name. */
    place: string;
    /** Since when; empty where that is not known. */
    since: string | null;
    /** The same in words. */
    text: string;
    /** Outings; empty where nothing tells of any. */
    outings: number | null;
    /** Hours that were logged. */
    hours: number;
    /** Whether nothing of these is missing. */
    exact: boolean;
    /** How often screws were tightened; empty where that is not counted. */
    uses: number | null;
    /** The same in words. */
    used: string;
    /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
    verdict: Verdict | null;
    /** Why, in one sentence. */
    reason: string;
    /** Unit in which that was found; blank where nothing was judged. */
    found_in: string;
    /** When it was entered, by the device's clock. */
    found_at: string | null;
    /** Where the log contradicts itself. */
    says: string[];
    /** What a rebuild that puts it in takes along. */
    for_rebuild: {
      /** How often screws were tightened; empty where that is not counted. */
      uses: number | null;
      /** What was found of it elsewhere. */
      found: {
        /** Feature that was inspected; blank for a part of the stack. */
        feature?: string | null;
        /** How it was judged. */
        verdict: "measure_again" | "replace" | "rework";
        /** Why, as it was said then. */
        reason?: string | null;
        /** Day on which it was found. */
        day?: string | null;
        /** Unit in which it was found. */
        unit_name?: string | null;
      }[];
    };
    /** Where it was, the newest first. */
    stays: {
      /** The unit's own id. */
      unit: string;
      /** What it is called. */
      unit_name: string;
      /** Its place in the unit; blank where it has no name. */
      place: string;
      /** When it went in; empty where it was there when the unit was added. */
      from_at: string | null;
      /** The entry's own id. */
      from_id: string | null;
      /** When it came out; empty while it is in the unit. */
      to_at: string | null;
      /** The entry's own id. */
      to_id: string | null;
      /**
       * Where it went; empty where that was not said; away: left for another workshop; scrap: scrapped; stock: kept in
       * stock.
       */
      to: "away" | "scrap" | "stock" | null;
      /** The same in words. */
      text: string;
      /** What it ran there, in words. */
      used: string;
      /** What was found of it there, the newest first. */
      found: {
        /** Feature that was inspected; blank for a part of the stack. */
        name: string;
        /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
        verdict: Verdict | null;
        /** Why, in one sentence. */
        reason: string;
        /** When it was entered, by the device's clock. */
        at: string;
        /** The entry's own id. */
        id: string;
      }[];
    }[];
  }[];
  /** The part of each mark that was looked up, in order; empty where nobody has heard of it. */
  asked: {
    /** The mark as it is compared. */
    key: string | null;
  }[];
}

/** Units in the order in which they were last looked at. */
export interface LastLookedResult {
  /** Units, the last one looked at first. */
  order: string[];
}

/** What changed between two torque checks. */
export interface ChangeResult {
  /** Every torque check that stands, by time. */
  checks: {
    /** The entry's own id. */
    id: string;
    /** When it was entered, by the device's clock. */
    at: string;
    /** The torque that was shown; N·m. */
    value_nm: number;
  }[];
  /** Whether there are two checks or more. */
  comparable: boolean;
  /** Id of the earlier check that is compared. */
  before: string | null;
  /** Id of the later one. */
  now: string | null;
  /** What was not measured between the two. */
  unmeasured: ("plates" | "spring")[];
  /** What changes friction and was logged between the two. */
  logged: {
    /** What it is about. */
    name: "heat" | "oil";
    /** The same in words. */
    text: string;
  }[];
  /** Where the preload went. */
  loss: LossResult | null;
  /** Two torque checks side by side. */
  compared: CompareResult | null;
  /** Why nothing is shared out; blank where it is. */
  fault: string;
  /** The field at fault; blank where there is none. */
  fault_field: string;
}

/** What a strip found. */
export interface StripFoundResult {
  /** When the last strip was signed. */
  stripped: string | null;
  /** Whether the unit is still in parts. */
  open: boolean;
  /** Every place and every other part, in the order in which they come out. */
  parts: {
    /** Place in the stack, or name of the part. */
    name: string;
    /** What it is. */
    what: string;
    /** The step that measures it. */
    step: "check" | "close" | "inspect" | "plan" | "plates" | "rebuild" | "refit" | "rings" | "springs" | "strip";
    /** How it was found. */
    state: "go" | "measure_again" | "noted" | "replace" | "rework" | "unseen";
    /** The same in words. */
    text: string;
    /** Lowest of what was measured; mm. */
    lowest_mm: number | null;
    /** The entry's own id. */
    id: string | null;
    /** What was done about it; blank where nothing was. */
    answer: string;
    /** Whether it is bad and nobody said what becomes of it. */
    asks: boolean;
  }[];
  /** Worn parts that were not exchanged yet. */
  order: {
    /** The part. */
    what: string;
    /** How many. */
    count: number;
    /** Places. */
    names: string[];
  }[];
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** The same in words. */
  text: string;
}

/** A torque check, judged again by the engine of now. */
export interface JudgedAgainResult {
  /** A torque check that an older engine judged, where this one differs. */
  again: {
    /** The entry's own id. */
    id: string;
    /** Version of the engine that judged it. */
    engine: string;
    /** The verdict. */
    verdict: Verdict;
    /** Its torque as this engine finds it; empty where it cannot tell; N·m. */
    value_nm: number | null;
    /** The same in words. */
    text: string;
  } | null;
  /** Whether its limits are none of those that its unit has today. */
  outdated: boolean;
}

/** When the torque will meet a limit. */
export interface OutlookResult {
  /** When wear will meet a limit. */
  life: LifeResult | null;
  /** Wear by earlier builds and those of the unit's pattern. */
  wear: {
    /** The torque since the rebuild. */
    torque: {
      /** What the torque changes by for each outing; N·m. */
      per_use_nm: number;
      /** How far off that may be, either way, 95 %; N·m. */
      per_use_within_nm: number;
      /** Outings at which the line meets the limit; empty if not in sight. */
      likely_use: number | null;
      /** Outings at which a reading below it has a chance of 5 %; empty if not in sight. */
      due_use: number | null;
      /** That less the outings so far. */
      left_use: number | null;
      /** The checks since the rebuild, once bedded in, by use. */
      checks: {
        /** Outings since the rebuild. */
        use: number;
        /** Breakaway torque; N·m. */
        torque_nm: number;
      }[];
      /** The line and its band. */
      curve: {
        /** Outings since the rebuild. */
        use: number;
        /** The line; N·m. */
        value_nm: number;
        /** 19 of 20 readings lie above this and; N·m. */
        low_nm: number;
        /** Below this; N·m. */
        high_nm: number;
      }[];
      /** The same in words. */
      text: string;
    } | null;
    /** Kinds of plate that were measured after use. */
    plates: {
      /** Kind of plate. */
      part: string;
      /** What one loses for each outing; mm. */
      per_use_mm: number;
      /** How far off that may be, either way, 95 %; mm. */
      per_use_within_mm: number;
      /** Outings at which one may first be at its limit; empty if not in sight. */
      due_use: number | null;
      /** The same in words. */
      text: string;
    }[];
  };
  /** Why there is no prediction; blank where there is. */
  why: string;
  /** Those that checks enough say. */
  uses: ("hours" | "outings")[];
  /** The checks, by use; none where there is no prediction. */
  checks: {
    /** Outings or hours since the rebuild, as they were asked for. */
    use: number;
    /** The torque that was shown; N·m. */
    value_nm: number;
    /** The guard band that was shown; N·m. */
    guard_nm: number | null;
    /** Whether it was taken fresh from a rebuild, before the plates bedded in. */
    fresh: boolean;
    /** Whether the line goes by it. */
    counts: boolean;
  }[];
}

/** A unit that is being taken in. */
export interface SoFarResult {
  /** Every section, in the order in which they are usually got to know. */
  sections: {
    /** Short name of the section. */
    name: string;
    /** The first of its fields in the definition. */
    field: string;
    /** What it is called. */
    title: string;
    /** Whether it is filled in. */
    known: boolean;
    /** What it gives, with what is known beside it. */
    gives: string;
  }[];
  /** What cannot be done yet. */
  lacks: {
    /** Short name of what cannot be done. */
    name: string;
    /** Field of the definition at which to go on. */
    field: string;
    /** What it needs, in one sentence. */
    text: string;
  }[];
  /** What it comes to with every part new, as far as it is known. */
  figures: {
    /** Short name of the figure. */
    name: string;
    /** What it is. */
    title: string;
    /** The figure with its unit and its range. */
    text: string;
  }[];
}

/** The sheet of a unit; empty where there is no definition to go by. */
export interface SheetResult {
  /** A sheet. */
  sheet: {
    /** Whom it is for. */
    template: "customer" | "inspection" | "workshop";
    /** The unit's name. */
    name: string;
    /** Whose it is. */
    owner: string;
    /** What the sheet is, and its day. */
    title: string;
    /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
    verdict: Verdict | null;
    /** The same in words; blank on a list that is filled in by hand. */
    verdict_text: string;
    /** The torque that was reached; blank on such a list. */
    figure: string;
    /** Why, in one sentence. */
    reason: string;
    /** What else was found. */
    findings: string[];
    /** What is known, from top to bottom. */
    rows: {
      /** Its heading. */
      title: string;
      /** What is known. */
      text: string;
    }[];
    /** What stands above the table of parts. */
    caption: string;
    /** Headings of the table of parts. */
    headings: string[];
    /** The parts of the stack but its springs, from cover to floor. */
    parts: {
      /** Its cells; blank ones are filled in. */
      cells: string[];
    }[];
    /** The stack from cover to floor. */
    stack: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Its thickness; 0 for a spring; mm. */
      mm: number;
    }[];
    /** What is filled in by hand besides the table. */
    by_hand: string[];
    /** What to beware of. */
    caution: string;
  } | null;
}

/** Something noticed besides the figures themselves. */
export interface StoredFinding {
  /** Short name of what was found. */
  name: string;
  /** How much it counts. */
  weight?: string;
  /** What was found, as a number. */
  number?: number;
  /** What was found and what to do about it. */
  text?: string;
}

/** Something to know. */
export interface StoredConcern {
  /** Short name. */
  name: string;
  /** One sentence. */
  text?: string;
}

/** A plate as it was judged. */
export interface StoredMeasuredPlate {
  /** Place in the stack. */
  slot: string;
  /** What kind of plate. */
  part?: string;
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest point, which judges it; mm. */
  lowest_mm: number;
  /** Mean of its points; mm. */
  mean_mm?: number;
  /** Difference round the plate; mm. */
  taper_mm?: number;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm?: number;
  /** Thickness at which it has to be replaced; mm. */
  minimum_mm?: number;
  /** Whether that limit is only common practice. */
  usual_minimum?: boolean;
  /** Thickness when new; mm. */
  new_mm?: number;
  /** Thickness round the plate. */
  points_mm?: number[];
  /** What was found. */
  findings?: StoredFinding[];
}

/** A disc spring as it was judged. */
export interface StoredMeasuredSpring {
  /** What the part is called. */
  name: string;
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; mm. */
  lowest_mm?: number;
  /** Highest of what was measured; mm. */
  highest_mm?: number;
  /** Guard band, one-sided 95 %; mm. */
  guard_mm?: number;
  /** Lowest allowed; mm. */
  low_mm?: number | null;
  /** Highest allowed; mm. */
  high_mm?: number | null;
  /** What was found. */
  findings?: StoredFinding[];
  /** Mean free height; mm. */
  mean_mm?: number;
  /** How much lower it stands than when new; mm. */
  set_mm?: number;
  /** Largest difference round the part; mm. */
  uneven_mm?: number;
  /** Load in the closed unit when new; N. */
  load_new_n?: number;
  /** Load in the closed unit now; N. */
  load_now_n?: number;
}

/** A ramp ring or a cross pin as it was judged. */
export interface StoredWornPart {
  /** What the part is called. */
  name: string;
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; mm. */
  lowest_mm?: number;
  /** Highest of what was measured; mm. */
  highest_mm?: number;
  /** Guard band, one-sided 95 %; mm. */
  guard_mm?: number;
  /** Lowest allowed; mm. */
  low_mm?: number | null;
  /** Highest allowed; mm. */
  high_mm?: number | null;
  /** What was found. */
  findings?: StoredFinding[];
}

/** A feature as it was judged; without a verdict where nothing limits it. */
export interface StoredInspectedFeature {
  /** What the feature is called. */
  name: string;
  /** Part that it is on. */
  part?: string;
  /** What was measured. */
  measure?: string;
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** Why, in one sentence. */
  reason: string;
  /** Lowest of what was measured; empty where it has no length; mm. */
  lowest_mm?: number | null;
  /** Highest of what was measured; mm. */
  highest_mm?: number | null;
  /** Guard band of one value, one-sided 95 %; mm. */
  guard_mm?: number | null;
  /** Lowest allowed; mm. */
  low_mm?: number | null;
  /** Highest allowed; mm. */
  high_mm?: number | null;
  /** Figure when new; mm. */
  new_mm?: number | null;
  /** Largest change against new, with its sign; mm. */
  change_mm?: number | null;
  /** How often it has been used. */
  uses?: number | null;
  /** How often it may be used in all. */
  most_uses?: number | null;
  /** What was found. */
  findings?: StoredFinding[];
}

/** Nothing beyond the request itself. */
export interface StoredJustChecked {
  /** Always empty: nothing is judged here. */
  verdict?: null;
}

/** What a unit's definition comes to with every part new, as far as it is known. */
export interface StoredUnitResult {
  /** Sliding faces of each pack; empty without the stack. */
  faces?: {
    /** In the first pack. */
    first?: number;
    /** In the second pack. */
    second?: number;
  } | null;
  /** Height of the whole stack before the cover is closed; mm. */
  free_mm?: number | null;
  /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
  crush_mm?: number | null;
  /** How far each disc is squeezed; mm. */
  deflection_mm?: number | null;
  /** Share of the way to flat. */
  travel?: number | null;
  /** Preload; empty unless stack, spring and depth are known; N. */
  preload_n?: number | null;
  /** Effective radius of the plates; mm. */
  radius_mm?: number | null;
  /** Torque of each pack; empty unless preload and friction are known. */
  pack_nm?: {
    /** Of the first pack; N·m. */
    first?: number;
    /** Of the second pack; N·m. */
    second?: number;
  } | null;
  /** Breakaway torque, as order and limits are stated; N·m. */
  breakaway_nm?: number | null;
  /** The unit once it has warmed through, by expansion alone; empty where that is not given. */
  warm?: {
    /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
    crush_mm?: number;
    /** Preload; N. */
    preload_n?: number;
    /** Change of preload and torque; empty without a preload; %. */
    change_percent?: number | null;
  } | null;
  /** What to know about the spring, where order and limits contradict each other, and what was worked out. */
  warnings?: StoredConcern[];
  /** Figures that were worked out, not measured. */
  worked_out?: {
    /** Short name of the figure. */
    name?: string;
    /** Its field in the definition. */
    field?: string;
    /** What it is called. */
    title?: string;
    /** The figure with its unit. */
    value?: string;
    /** How far off it may be, 95 %. */
    within?: string;
    /** What it was worked out from, in one sentence. */
    text?: string;
    /** What was measured for it, as it was written then. */
    basis?: string;
  }[];
  /** The definition itself, in SI. */
  checked?: {
    /** Name of the unit. */
    name: string;
    /** Whose it is. */
    owner?: string;
    /** Anything worth knowing about it. */
    note?: string;
    /** The car that it is fitted to, by the entry that brought that in. */
    car_id?: string;
    /** Where in the car it sits. */
    sits?: string | null;
    /** The customer whose it is, by the entry that brought that in; owner then says the name. */
    customer_id?: string;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family?: string;
    /** The pattern that it is built to. */
    pattern?: {
      /** The pattern's own id: that of its first entry. */
      id: string;
      /** What it was called when this was written. */
      name: string;
      /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
      seen?: string;
    } | null;
    /** What the customer ordered. */
    order?: {
      /** Breakaway torque ordered; N·m. */
      torque_nm: number;
      /** How far off it may be, either way; N·m. */
      tolerance_nm: number;
    } | null;
    /** Reading that order and limits are for. */
    judged_on?: string;
    /** Way of holding that order and limits are stated for. */
    stated_for?: string;
    /** Limits between rebuilds. */
    service?: {
      /** Lowest torque at which it may run again; N·m. */
      low_nm?: number | null;
      /** Highest torque at which it may run again; N·m. */
      high_nm?: number | null;
      /** Days after which its plates are measured again; 365 if empty. */
      plates_every_days?: number | null;
      /** Outings after which its plates are measured again. */
      plates_every_outings?: number | null;
      /** Hours of running after which its plates are measured again. */
      plates_every_hours?: number | null;
      /** Outings after which its torque is checked again. */
      check_every_outings?: number | null;
      /** Hours of running after which its torque is checked again. */
      check_every_hours?: number | null;
      /** Days after which its torque is checked again. */
      check_every_days?: number | null;
      /** Outings after which its oil is changed. */
      oil_every_outings?: number | null;
      /** Hours of running after which its oil is changed. */
      oil_every_hours?: number | null;
      /** Days after which its oil is changed. */
      oil_every_days?: number | null;
    } | null;
    /** Turns of the output for one turn of the wheel. */
    hub_ratio?: number;
    /** Where the spring sits; as the stack has it if empty. */
    layout?: string | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring?: {
      /** Outside diameter; mm. */
      de_mm: number;
      /** Inside diameter; mm. */
      di_mm: number;
      /** Thickness of the disc; mm. */
      t_mm: number;
      /** Free height of one disc; mm. */
      l0_mm: number;
      /** Reduced thickness of a disc with contact flats; mm. */
      flats_t_mm?: number | null;
      /** Discs nested the same way, which add their loads. */
      parallel?: number;
      /** Nests turned against each other, which share the travel. */
      series?: number;
      /** Friction between nested discs, w_M of DIN EN 16984; left out if empty. */
      surface_friction?: number | null;
      /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty. */
      edge_friction?: number | null;
      /** Modulus of elasticity; N/mm². */
      elastic_nmm2?: number;
      /** Poisson's ratio. */
      poisson?: number;
    } | null;
    /** Depth from the cover's face to the floor; mm. */
    cavity_mm?: number | null;
    /** The stack from cover to floor. */
    chain?: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; mm. */
      new_mm?: number | null;
      /** Thickness at which it has to be replaced; mm. */
      minimum_mm?: number | null;
      /** Side that the point of a disc spring's cone faces. */
      cone_to?: string | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction?: {
      /** Inside diameter of the rubbing ring; mm. */
      inner_mm: number;
      /** Outside diameter of the rubbing ring; mm. */
      outer_mm: number;
      /** Coefficient of friction, plates in oil. */
      mu?: number;
      /** Whether the plates are run in. */
      run_in?: boolean;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps?: {
      /** Radius at which the cross pins bear on the ramps; mm. */
      pin_radius_mm: number;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Coefficient of friction of pin on ramp. */
      mu?: number;
      /** The ramp rings' ears. */
      ears?: {
        /** Radius at which the rings' ears bear in the case's slots; mm. */
        radius_mm: number;
        /** Coefficient of friction of ear in slot. */
        mu?: number;
      } | null;
      /** The bevel gears. */
      gears?: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; °. */
        pressure_deg: number;
        /** Radius of a side gear at the middle of its teeth; mm. */
        pitch_radius_mm: number;
        /** Pitch cone angle of a side gear, from its own shaft; °. */
        cone_deg?: number | null;
        /** Teeth of a side gear, where its cone angle is not known. */
        side_teeth?: number | null;
        /** Teeth of a pinion, where the cone angle is not known. */
        pinion_teeth?: number | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps?: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; mm. */
      pin_radius_mm?: number | null;
    }[];
    /** The cover and its screws. */
    cover?: {
      /** How many screws hold the cover. */
      screws: number;
      /** Thread diameter; mm. */
      screw_mm: number;
      /** Torque of a screw; N·m. */
      torque_nm: number;
      /** Gap under the cover when the screws first catch; assumed if empty; mm. */
      start_mm?: number | null;
      /** Greatest torque into the case, which the ramps turn into push; N·m. */
      case_nm?: number | null;
    } | null;
    /** Limits common to all plates. */
    limits?: {
      /** Largest difference round a plate; mm. */
      taper_mm?: number;
      /** Largest gap under a plate; mm. */
      flatness_mm?: number;
    };
    /** A case that expands otherwise than what is in it. */
    warming?: {
      /** How much warmer the unit runs than it was built; K. */
      warmer_k: number;
      /** Expansion of the case, millionths of its length for each kelvin. */
      case_ppm?: number;
      /** Expansion of plates, rings and spring, the same way. */
      stack_ppm?: number;
    } | null;
    /** What is inspected on other parts. */
    features?: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /** Kind of gauge; the usual one for what is measured if empty. */
      gauge?: string | null;
      /** In how many places it is measured. */
      places?: number;
      /** Figure when new; mm. */
      new_mm?: number | null;
      /** Lowest allowed; mm. */
      low_mm?: number | null;
      /** Highest allowed; mm. */
      high_mm?: number | null;
      /** Largest change against new, either way; mm. */
      change_mm?: number | null;
      /** How often it may be used in all. */
      most_uses?: number | null;
      /** What uses it once more, as the log tells; only what inspections say if empty. */
      counted?: string | null;
      /** Whether its limits are only common practice. */
      usual_limits?: boolean;
      /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
      outside?: string | null;
    }[];
    /** Marked parts that were in it when it was added; rebuilds say what changed since. */
    marked_parts?: {
      /** What the part is. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "friction"
        | "journals"
        | "other"
        | "ring"
        | "screws"
        | "separator"
        | "splines"
        | "spring"
        | "thrust_washers";
      /** Its place in the stack, or which of several; may stay empty where the unit has one. */
      place?: string;
      /** Number or mark on it. */
      mark: string;
    }[];
    /** Which of these figures were worked out, not measured. */
    worked_out?: {
      /** The depth, where it was worked out. */
      cavity_mm?: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis?: string;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm?: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis?: string;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu?: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure. */
        value: number;
        /** Its standard uncertainty. */
        u: number;
        /** What was measured for it, in words. */
        basis?: string;
      } | null;
    } | null;
  };
}

/** A breakaway torque check as it was judged. */
export interface StoredBreakawayResult {
  /** The verdict. */
  verdict: Verdict;
  /** What comes next. */
  next?: {
    /** What comes next. */
    name?: string;
    /** As a key says it. */
    text?: string;
  };
  /** Unit that the figures were perhaps read in. */
  perhaps_in?: string | null;
  /** Why, in one sentence. */
  reason?: string;
  /** How the torque lies to its limits, with the guard band. */
  why?: string;
  /** Mean of both directions, as the limits are stated; N·m. */
  value_nm?: number;
  /** Its standard uncertainty; N·m. */
  u_nm?: number;
  /** Its effective degrees of freedom; empty where they are infinite. */
  dof?: number | null;
  /** Its expanded uncertainty, two-sided 95 %; N·m. */
  expanded_nm?: number;
  /** Guard band at the nearest limit, one-sided 95 %; N·m. */
  guard_nm?: number;
  /** Lowest torque allowed; N·m. */
  low_nm?: number | null;
  /** Highest torque allowed; N·m. */
  high_nm?: number | null;
  /** Guard band at the lowest torque allowed; N·m. */
  guard_low_nm?: number | null;
  /** Guard band at the highest torque allowed; N·m. */
  guard_high_nm?: number | null;
  /** Each direction of turning on its own. */
  directions?: {
    /** One direction of turning. */
    forward?: {
      /** Mean of this direction's readings; N·m. */
      mean_nm?: number;
      /** Standard deviation of a single reading; N·m. */
      scatter_nm?: number;
      /** How many readings. */
      count?: number;
      /** The readings as stated torque. */
      readings_nm?: number[];
    };
    /** One direction of turning. */
    reverse?: {
      /** Mean of this direction's readings; N·m. */
      mean_nm?: number;
      /** Standard deviation of a single reading; N·m. */
      scatter_nm?: number;
      /** How many readings. */
      count?: number;
      /** The readings as stated torque. */
      readings_nm?: number[];
    } | null;
  };
  /** What a wrench would feel either way. */
  felt?: {
    /** With one output held and the case free; N·m. */
    one_output_held_nm?: number;
    /** With the case held and the other output free; empty where that is not known; N·m. */
    case_held_nm?: number | null;
  };
  /** What the doubt is made of, largest first. */
  budget?: {
    /** Short name of what may be off. */
    name?: string;
    /** What it is. */
    meaning?: string;
    /** Its standard uncertainty; N·m. */
    u_nm?: number;
    /** Its share of the variance. */
    share?: number;
  }[];
  /** What was found. */
  findings?: StoredFinding[];
  /** Readings that are in question. */
  marked?: string[];
  /** What would help a check that cannot say, best first. */
  helps?: {
    /** Short name of what would help. */
    name?: string;
    /** Guard band that it would leave; N·m. */
    guard_nm?: number;
    /** Whether that would decide at this value. */
    decides?: boolean;
    /** What to do, and what it would bring. */
    text?: string;
  }[];
}

/** Plates as they were judged. */
export interface StoredPlatesResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason?: string;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm?: number;
  /** Every measured plate. */
  plates: StoredMeasuredPlate[];
}

/** A change to try. */
export interface StoredTrialResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** What is changed. */
  change?: string;
  /** What it is for; blank for no complaint. */
  felt?: string;
  /** Breakaway torque that is to be ordered; empty for another change; N·m. */
  torque_nm?: number | null;
}

/** Disc springs as they were judged. */
export interface StoredSpringCheckResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason?: string;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm?: number;
  /** Every measured disc. */
  springs: StoredMeasuredSpring[];
}

/** Ramp rings and cross pins as they were judged. */
export interface StoredRingCheckResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason?: string;
  /** Guard band of the gauge, one-sided 95 %; mm. */
  guard_mm?: number;
  /** The ramp rings. */
  rings: StoredWornPart[];
  /** The cross pins. */
  pins?: StoredWornPart[];
}

/** Other parts as they were judged; without a verdict where nothing has a limit. */
export interface StoredInspectionResult {
  /** The verdict; go: go; measure_again: measure again; replace: replace; rework: rework. */
  verdict: Verdict | null;
  /** Why, in one sentence. */
  reason?: string;
  /** Every inspected feature. */
  features: StoredInspectedFeature[];
}

/** A unit back in its axle, as it was judged. */
export interface StoredRefitResult {
  /** The verdict. */
  verdict: Verdict;
  /** Why, in one sentence. */
  reason?: string;
  /** What was checked. */
  checks?: {
    /** What was checked. */
    name?: string;
    /** The verdict. */
    verdict: Verdict;
    /** Why, in one sentence. */
    reason: string;
    /** Lowest of what was measured; mm. */
    lowest_mm?: number;
    /** Highest of what was measured; mm. */
    highest_mm?: number;
    /** Guard band, one-sided 95 %; mm. */
    guard_mm?: number;
    /** Lowest allowed; mm. */
    low_mm?: number | null;
    /** Highest allowed; mm. */
    high_mm?: number | null;
    /** What was found. */
    findings?: StoredFinding[];
    /** Largest difference round the part; mm. */
    uneven_mm?: number;
    /** Lowest of what was measured; N·m. */
    lowest_nm?: number;
    /** Highest of what was measured; N·m. */
    highest_nm?: number;
    /** Guard band, one-sided 95 %; N·m. */
    guard_nm?: number;
    /** Lowest allowed; N·m. */
    low_nm?: number | null;
    /** Highest allowed; N·m. */
    high_nm?: number | null;
    /** Where the marking paste is wiped off. */
    contact?: string;
  }[];
  /** What to move. */
  setting?: {
    /** How far the crown wheel moves away from the pinion; below 0 towards it; mm. */
    move_mm?: number;
    /** Least that this may really have to be; mm. */
    move_low_mm?: number;
    /** Most that this may really have to be; mm. */
    move_high_mm?: number;
    /** How far away it moves beside that, so that the pinion leaves backlash alone; mm. */
    with_pinion_mm?: number;
    /** Shims to add behind the crown wheel; below 0 to take out; mm. */
    behind_change_mm?: number;
    /** Shims to add on the tooth side; mm. */
    tooth_change_mm?: number;
    /** Shims to add at the pinion; mm. */
    pinion_change_mm?: number;
    /** Where the crown wheel goes. */
    way?: string;
    /** Change behind the crown wheel, with its sign; empty for none. */
    behind_text?: string;
    /** Change on the tooth side, with its sign; empty for none. */
    tooth_text?: string;
    /** Change at the pinion, with its sign; empty for none. */
    pinion_text?: string;
    /** Turning torque for each 0.1 mm of shims; empty where nobody knows; N·m. */
    rises_nm?: number | null;
    /** What stands of backlash. */
    backlash?: {
      /** Middle between the tightest and the loosest tooth; mm. */
      found_mm?: number;
      /** Expanded uncertainty of that, 95 %; mm. */
      found_within_mm?: number;
      /** What it is set to; empty where nobody says; mm. */
      aim_mm?: number | null;
      /** Backlash for each mm that the crown wheel moves sideways. */
      ratio?: number;
      /** Lowest that the ratio may be. */
      ratio_low?: number;
      /** Highest that the ratio may be. */
      ratio_high?: number;
      /** Where the ratio is from. */
      ratio_from?: string;
      /** Backlash to expect once the shims are moved; mm. */
      expected_mm?: number;
      /** How far off that may be; mm. */
      expected_within_mm?: number;
    } | null;
    /** Shims behind the crown wheel afterwards; mm. */
    behind_mm?: number | null;
    /** Shims on the tooth side afterwards; mm. */
    tooth_mm?: number | null;
    /** Shims of the pinion afterwards; mm. */
    pinion_mm?: number | null;
    /** What to do, in the order of the work. */
    advice?: {
      /** What it is about. */
      about?: string;
      /** What to do, or why nothing can be said. */
      text?: string;
    }[];
    /** What was tried, the present try last. */
    tries?: {
      /** Shims behind the crown wheel; mm. */
      behind_mm?: number | null;
      /** Shims on the tooth side; mm. */
      tooth_mm?: number | null;
      /** Shims of the pinion; mm. */
      pinion_mm?: number | null;
      /** Middle between the tightest and the loosest tooth; mm. */
      backlash_mm?: number | null;
      /** Turning torque of the bearings; N·m. */
      torque_nm?: number | null;
      /** Contact pattern, drive side. */
      contact?: string | null;
    }[];
  } | null;
}

/** A unit stripped. */
export interface StoredStripResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** Whether every step was done. */
  complete?: boolean;
  /** Steps that were not done, in order. */
  left?: ("caps" | "cleaned" | "drained" | "held" | "laid" | "lifted" | "marked" | "out" | "relieved" | "screws")[];
  /** Whether a vice alone holds the spring. */
  held_by_vice?: boolean;
  /** Who signed for it. */
  signed?: string;
}

/** A unit closed. */
export interface StoredCloseResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** Whether every step was done. */
  complete?: boolean;
  /** Steps that were not done, in order. */
  left?:
    | ("clean"
    | "cone"
    | "cover"
    | "flush"
    | "held"
    | "inside"
    | "oiled"
    | "opened"
    | "order"
    | "screws"
    | "started"
    | "turned")[];
  /** Whether a vice alone holds the spring. */
  held_by_vice?: boolean;
  /** Who signed for it. */
  signed?: string;
}

/** What a rebuild fitted and what came out, in SI. */
export interface StoredRebuildResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** Parts that were exchanged; none where only the order or the oil changed. */
  fitted: {
    /** Place in the stack. */
    slot: string;
    /** Thickness of the part that was fitted; mm. */
    mm: number;
    /** What the piece was called on the shelf. */
    piece?: string;
    /** Its limit, where it is known: thickness at which it is replaced; mm. */
    minimum_mm?: number;
    /** How far off its thickness may be; mm. */
    within_mm?: number;
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string;
    /** Whether it was bought for this rebuild and never lay on the shelf. */
    bought?: boolean;
  }[];
  /** Plates that came out, as far as it was said where they went. */
  came_out?: {
    /** Place that it came out of. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Where it went. */
    where: "again" | "keep" | "scrap";
    /** What it is called on the shelf, where it is kept. */
    name?: string;
    /** Its mean thickness as measured; mm. */
    mm?: number | null;
    /** Its lowest point, which its limit judges; mm. */
    lowest_mm?: number;
    /** How far off its thickness may be; mm. */
    within_mm?: number;
    /** Its own limit; that of its class, if empty; mm. */
    minimum_mm?: number;
    /** Its thickness when new, by which its class is found; mm. */
    new_mm?: number;
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string;
  }[];
  /** Changes to try that were made with it. */
  trials?: string[];
  /** What it means for the shelf; nothing, if empty. */
  shelf?: string;
}

/** A plan that was taken, in SI. */
export interface StoredPlannedResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** Every plate that is to be fitted. */
  fitted: {
    /** Place in the stack. */
    slot: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** What the piece is called on the shelf. */
    piece: string;
    /** Its thickness; mm. */
    mm: number;
    /** Its limit, where it is known; mm. */
    minimum_mm?: number;
    /** Whether it has to be bought first. */
    bought?: boolean;
  }[];
  /** Breakaway torque that it gives; N·m. */
  torque_nm?: number | null;
  /** Breakaway torque that is wanted; N·m. */
  wanted_nm?: number | null;
}

/** An outing. */
export interface StoredOutingResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** The outing in one line; blank where only that it ran is known. */
  text?: string;
  /** What the driver felt. */
  felt?: {
    /** What was felt. */
    what?: string;
    /** When; empty for at any time. */
    when?: string | null;
    /** Where; empty for everywhere. */
    corners?: string | null;
    /** The same in words. */
    text?: string;
  }[];
  /** Hours that it ran. */
  hours: number | null;
  /** Kilometres that it ran. */
  km?: number | null;
  /** Whether changes that were made helped. */
  helped?: {
    /** Id of the change. */
    trial?: string;
    /** Whether it helped. */
    answer?: string;
  }[];
}

/** Service done. */
export interface StoredServiceResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** What was done, in one line. */
  text?: string;
  /** Changes to try that were made with it. */
  trials?: string[];
}

/** The shelf as it was counted, in SI. */
export interface StoredShelfResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** Plates in stock. */
  pieces: {
    /** Plate family: rubbing ring, lugs or splines, material. */
    family?: string;
    /** What the piece or the class is called. */
    name: string;
    /** What kind of plate. */
    part: "friction" | "separator" | "shim";
    /** Thickness; mm. */
    mm: number;
    /** How many there are. */
    count?: number;
    /** How far off one may be; mm. */
    within_mm?: number;
    /** Limit: thickness at which one has to be replaced; mm. */
    minimum_mm?: number;
    /** Thickness when new, of a piece that has run; mm. */
    new_mm?: number;
    /** Its lowest point, which its limit judges, of a piece that has run; mm. */
    lowest_mm?: number;
    /** Lowest stock of the class: with fewer than this, more are to be bought. */
    lowest_stock?: number;
  }[];
  /** Whether only these rows were counted. */
  only_these?: boolean;
}

/** What a pattern comes to with every part new, as far as it is known. */
export interface StoredPatternResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** Sliding faces of each pack; empty without the stack. */
  faces?: {
    /** In the first pack. */
    first?: number;
    /** In the second pack. */
    second?: number;
  } | null;
  /** Height of the whole stack before the cover is closed; mm. */
  free_mm?: number | null;
  /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
  crush_mm?: number | null;
  /** How far each disc is squeezed; mm. */
  deflection_mm?: number | null;
  /** Share of the way to flat. */
  travel?: number | null;
  /** Preload; empty unless stack, spring and depth are known; N. */
  preload_n?: number | null;
  /** Effective radius of the plates; mm. */
  radius_mm?: number | null;
  /** Torque of each pack; empty unless preload and friction are known. */
  pack_nm?: {
    /** Of the first pack; N·m. */
    first?: number;
    /** Of the second pack; N·m. */
    second?: number;
  } | null;
  /** Breakaway torque, as order and limits are stated; N·m. */
  breakaway_nm?: number | null;
  /** The unit once it has warmed through, by expansion alone; empty where that is not given. */
  warm?: {
    /** How far the closed cover squeezes the stack; below 0 it is loose; mm. */
    crush_mm?: number;
    /** Preload; N. */
    preload_n?: number;
    /** Change of preload and torque; empty without a preload; %. */
    change_percent?: number | null;
  } | null;
  /** What to know about the spring, where order and limits contradict each other, and what was worked out. */
  warnings?: StoredConcern[];
  /** Figures that were worked out, not measured. */
  worked_out?: {
    /** Short name of the figure. */
    name?: string;
    /** Its field in the definition. */
    field?: string;
    /** What it is called. */
    title?: string;
    /** The figure with its unit. */
    value?: string;
    /** How far off it may be, 95 %. */
    within?: string;
    /** What it was worked out from, in one sentence. */
    text?: string;
    /** What was measured for it, as it was written then. */
    basis?: string;
  }[];
  /** The definition itself, in SI. */
  checked?: {
    /** Name of the unit. */
    name: string;
    /** Whose it is. */
    owner?: string;
    /** Anything worth knowing about it. */
    note?: string;
    /** The car that it is fitted to, by the entry that brought that in. */
    car_id?: string;
    /** Where in the car it sits. */
    sits?: string | null;
    /** The customer whose it is, by the entry that brought that in; owner then says the name. */
    customer_id?: string;
    /** Plates that fit it: rubbing ring, lugs or splines, material. */
    plate_family?: string;
    /** The pattern that it is built to. */
    pattern?: {
      /** The pattern's own id: that of its first entry. */
      id: string;
      /** What it was called when this was written. */
      name: string;
      /** Entry of the pattern as it was when its changes were last decided on; every difference is offered if empty. */
      seen?: string;
    } | null;
    /** What the customer ordered. */
    order?: {
      /** Breakaway torque ordered; N·m. */
      torque_nm: number;
      /** How far off it may be, either way; N·m. */
      tolerance_nm: number;
    } | null;
    /** Reading that order and limits are for. */
    judged_on?: string;
    /** Way of holding that order and limits are stated for. */
    stated_for?: string;
    /** Limits between rebuilds. */
    service?: {
      /** Lowest torque at which it may run again; N·m. */
      low_nm?: number | null;
      /** Highest torque at which it may run again; N·m. */
      high_nm?: number | null;
      /** Days after which its plates are measured again; 365 if empty. */
      plates_every_days?: number | null;
      /** Outings after which its plates are measured again. */
      plates_every_outings?: number | null;
      /** Hours of running after which its plates are measured again. */
      plates_every_hours?: number | null;
      /** Outings after which its torque is checked again. */
      check_every_outings?: number | null;
      /** Hours of running after which its torque is checked again. */
      check_every_hours?: number | null;
      /** Days after which its torque is checked again. */
      check_every_days?: number | null;
      /** Outings after which its oil is changed. */
      oil_every_outings?: number | null;
      /** Hours of running after which its oil is changed. */
      oil_every_hours?: number | null;
      /** Days after which its oil is changed. */
      oil_every_days?: number | null;
    } | null;
    /** Turns of the output for one turn of the wheel. */
    hub_ratio?: number;
    /** Where the spring sits; as the stack has it if empty. */
    layout?: string | null;
    /** A disc spring, or a column of equal ones at one place. */
    spring?: {
      /** Outside diameter; mm. */
      de_mm: number;
      /** Inside diameter; mm. */
      di_mm: number;
      /** Thickness of the disc; mm. */
      t_mm: number;
      /** Free height of one disc; mm. */
      l0_mm: number;
      /** Reduced thickness of a disc with contact flats; mm. */
      flats_t_mm?: number | null;
      /** Discs nested the same way, which add their loads. */
      parallel?: number;
      /** Nests turned against each other, which share the travel. */
      series?: number;
      /** Friction between nested discs, w_M of DIN EN 16984; left out if empty. */
      surface_friction?: number | null;
      /** Friction at a column's edges, w_R of DIN EN 16984; left out if empty. */
      edge_friction?: number | null;
      /** Modulus of elasticity; N/mm². */
      elastic_nmm2?: number;
      /** Poisson's ratio. */
      poisson?: number;
    } | null;
    /** Depth from the cover's face to the floor; mm. */
    cavity_mm?: number | null;
    /** The stack from cover to floor. */
    chain?: {
      /** Place in the stack. */
      slot: string;
      /** What sits there. */
      part: "friction" | "ring" | "separator" | "shim" | "spring";
      /** Thickness when new or as fitted; mm. */
      new_mm?: number | null;
      /** Thickness at which it has to be replaced; mm. */
      minimum_mm?: number | null;
      /** Side that the point of a disc spring's cone faces. */
      cone_to?: string | null;
    }[] | null;
    /** The rubbing ring of the plates. */
    friction?: {
      /** Inside diameter of the rubbing ring; mm. */
      inner_mm: number;
      /** Outside diameter of the rubbing ring; mm. */
      outer_mm: number;
      /** Coefficient of friction, plates in oil. */
      mu?: number;
      /** Whether the plates are run in. */
      run_in?: boolean;
    } | null;
    /** The ramp rings, and what else presses the packs. */
    ramps?: {
      /** Radius at which the cross pins bear on the ramps; mm. */
      pin_radius_mm: number;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Coefficient of friction of pin on ramp. */
      mu?: number;
      /** The ramp rings' ears. */
      ears?: {
        /** Radius at which the rings' ears bear in the case's slots; mm. */
        radius_mm: number;
        /** Coefficient of friction of ear in slot. */
        mu?: number;
      } | null;
      /** The bevel gears. */
      gears?: {
        /** Whether the side gears bear on the ramp rings or packs, and not on the case. */
        on_packs: boolean;
        /** Pressure angle of the teeth; °. */
        pressure_deg: number;
        /** Radius of a side gear at the middle of its teeth; mm. */
        pitch_radius_mm: number;
        /** Pitch cone angle of a side gear, from its own shaft; °. */
        cone_deg?: number | null;
        /** Teeth of a side gear, where its cone angle is not known. */
        side_teeth?: number | null;
        /** Teeth of a pinion, where the cone angle is not known. */
        pinion_teeth?: number | null;
      } | null;
    } | null;
    /** Other pairs of ramps that it can run with, on the same rings or on others. */
    other_ramps?: {
      /** What this pair is called. */
      name: string;
      /** Drive ramp angle from the plane of rotation; °. */
      drive_deg: number;
      /** Coast ramp angle from the plane of rotation; °. */
      coast_deg: number;
      /** Radius at which the cross pins bear on them; as on the ramps in use if empty; mm. */
      pin_radius_mm?: number | null;
    }[];
    /** The cover and its screws. */
    cover?: {
      /** How many screws hold the cover. */
      screws: number;
      /** Thread diameter; mm. */
      screw_mm: number;
      /** Torque of a screw; N·m. */
      torque_nm: number;
      /** Gap under the cover when the screws first catch; assumed if empty; mm. */
      start_mm?: number | null;
      /** Greatest torque into the case, which the ramps turn into push; N·m. */
      case_nm?: number | null;
    } | null;
    /** Limits common to all plates. */
    limits?: {
      /** Largest difference round a plate; mm. */
      taper_mm?: number;
      /** Largest gap under a plate; mm. */
      flatness_mm?: number;
    };
    /** A case that expands otherwise than what is in it. */
    warming?: {
      /** How much warmer the unit runs than it was built; K. */
      warmer_k: number;
      /** Expansion of the case, millionths of its length for each kelvin. */
      case_ppm?: number;
      /** Expansion of plates, rings and spring, the same way. */
      stack_ppm?: number;
    } | null;
    /** What is inspected on other parts. */
    features?: {
      /** What the feature is called. */
      name: string;
      /** Part that it is on. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "journals"
        | "other"
        | "rings"
        | "screws"
        | "splines"
        | "thrust_washers";
      /** What is measured. */
      measure: "backlash" | "crack" | "end_float" | "flatness" | "play" | "run_out" | "size" | "surface" | "used";
      /** Kind of gauge; the usual one for what is measured if empty. */
      gauge?: string | null;
      /** In how many places it is measured. */
      places?: number;
      /** Figure when new; mm. */
      new_mm?: number | null;
      /** Lowest allowed; mm. */
      low_mm?: number | null;
      /** Highest allowed; mm. */
      high_mm?: number | null;
      /** Largest change against new, either way; mm. */
      change_mm?: number | null;
      /** How often it may be used in all. */
      most_uses?: number | null;
      /** What uses it once more, as the log tells; only what inspections say if empty. */
      counted?: string | null;
      /** Whether its limits are only common practice. */
      usual_limits?: boolean;
      /** What is done where it is outside; if empty, rework for backlash and end float, replace for all else. */
      outside?: string | null;
    }[];
    /** Marked parts that were in it when it was added; rebuilds say what changed since. */
    marked_parts?: {
      /** What the part is. */
      part:
        | "bevel_gears"
        | "case"
        | "cover"
        | "cross_pins"
        | "friction"
        | "journals"
        | "other"
        | "ring"
        | "screws"
        | "separator"
        | "splines"
        | "spring"
        | "thrust_washers";
      /** Its place in the stack, or which of several; may stay empty where the unit has one. */
      place?: string;
      /** Number or mark on it. */
      mark: string;
    }[];
    /** Which of these figures were worked out, not measured. */
    worked_out?: {
      /** The depth, where it was worked out. */
      cavity_mm?: {
        /** What it was worked out from. */
        from: "depth_from_builds" | "depth_from_gap" | "depth_from_torque";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis?: string;
      } | null;
      /** The free height of a disc, where it was worked out. */
      l0_mm?: {
        /** What it was worked out from. */
        from: "height_from_load";
        /** What came of it: the mark holds as long as this is the figure; mm. */
        value_mm: number;
        /** Its standard uncertainty; mm. */
        u_mm: number;
        /** What was measured for it, in words. */
        basis?: string;
      } | null;
      /** The friction of the plates, where it was worked out. */
      mu?: {
        /** What it was worked out from. */
        from: "friction_from_torque";
        /** What came of it: the mark holds as long as this is the figure. */
        value: number;
        /** Its standard uncertainty. */
        u: number;
        /** What was measured for it, in words. */
        basis?: string;
      } | null;
    } | null;
  };
}

/** A car as far as it is known. */
export interface StoredCarResult {
  /** Always empty: nothing is judged here. */
  verdict?: null;
  /** Every figure that a corner needs. */
  figures?: {
    /** Which figure, with its unit at the end. */
    name:
      | "along"
      | "cg_mm"
      | "grip"
      | "mass_kg"
      | "sensitivity"
      | "stiffness"
      | "track_mm"
      | "transfer_share"
      | "tyre_mm"
      | "weight_share"
      | "wheelbase_mm";
    /** What it is. */
    meaning?: string;
    /** Most likely. */
    value?: number;
    /** The least that it may be. */
    low?: number;
    /** The most that it may be. */
    high?: number;
    /** Where it comes from. */
    source?: string;
    /** The same in words. */
    text?: string;
    /** Where it comes from, in words. */
    from?: string;
  }[];
  /** Each gear, where engine, gears and final drive are known. */
  gears?: {
    /** Which gear, from the lowest up. */
    gear: number;
    /** Torque at the driven axle at full throttle; N·m. */
    torque_nm?: number;
    /** The least that it may be; N·m. */
    low_nm?: number;
    /** The most that it may be; N·m. */
    high_nm?: number;
    /** Torque by which the engine brakes at the axle; N·m. */
    braking_nm?: number;
  }[];
  /** How many of its measurable figures nobody measured. */
  usual?: number;
  /** The same in words. */
  text?: string;
  /** What to mind where an axle is lifted. */
  caution?: string;
}

/** Every calculation by its name. */
export interface Calculations {
  /** The engine's version and the kinds of entry that it judges. */
  about: { request: Record<string, never>; result: AboutResult };
  /** What a pattern made of a unit holds, and another unit like it. */
  another: { request: AnotherRequest; result: AnotherResult };
  /** Judge a breakaway torque check. */
  breakaway: { request: BreakawayRequest; result: BreakawayResult };
  /** Entries of the shop that say what units are built to. */
  built_to: { request: BuiltToRequest; result: BuiltToResult };
  /** Where plates that come out of a unit may go. */
  came_out: { request: CameOutRequest; result: CameOutResult };
  /** Ways to build a unit, side by side. */
  candidates: { request: CandidatesRequest; result: CandidatesResult };
  /** A car as far as it is known, with usual ranges for the rest. */
  car: { request: CarRequest; result: CarResult };
  /** What changed between two torque checks of a unit. */
  change: { request: ChangeRequest; result: ChangeResult };
  /** Check the sign-off of a close. */
  close: { request: CloseRequest; result: CloseResult };
  /** Forces while a unit is closed or opened. */
  closing: { request: ClosingRequest; result: ClosingResult };
  /** Compare two torque checks, like with like. */
  compare: { request: CompareRequest; result: CompareResult };
  /** What is behind what a driver felt, and what to change. */
  complaint: { request: ComplaintRequest; result: ComplaintResult };
  /** A driven axle in a steady corner. */
  corner: { request: CornerRequest; result: CornerResult };
  /** A corner for each way to build a unit. */
  corner_map: { request: CornerMapRequest; result: CornerMapResult };
  /** Check a customer's record. */
  customer: { request: CustomerRequest; result: JustChecked };
  /** Check an erasure. */
  erasure: { request: ErasureRequest; result: JustChecked };
  /** What builds in the log have shown of torque over thickness. */
  experience: { request: ExperienceRequest; result: ExperienceResult };
  /** What a field is called on the screens. */
  field_name: { request: FieldNameRequest; result: FieldNameResult };
  /** What the log can say of figures that nobody measured. */
  from_log: { request: FromLogRequest; result: FromLogResult };
  /** A typed figure in the reader's unit. */
  in_words: { request: InWordsRequest; result: InWordsResult };
  /** Judge what was found on other parts. */
  inspection: { request: InspectionRequest; result: InspectionResult };
  /** What is found otherwise in a torque check that an older engine judged. */
  judged_again: { request: JudgedAgainRequest; result: JudgedAgainResult };
  /** Check a tool of the kit. */
  kit: { request: KitRequest; result: JustChecked };
  /** The kit that stands, from its entries. */
  kit_standing: { request: StandingRequest; result: KitStandingResult };
  /** Units by when somebody looked at them last. */
  last_looked: { request: LastLookedRequest; result: LastLookedResult };
  /** Check a letterhead. */
  letterhead: { request: LetterheadRequest; result: JustChecked };
  /** When wear will meet a limit. */
  life: { request: LifeRequest; result: LifeResult };
  /** Share a change of torque between plates, spring and friction. */
  loss: { request: LossRequest; result: LossResult };
  /** Where every marked part is, and what is known of its life. */
  marked_parts: { request: MarkedPartsRequest; result: MarkedPartsResult };
  /** Check a note. */
  note: { request: NoteRequest; result: JustChecked };
  /** Check an outing. */
  outing: { request: OutingRequest; result: OutingResult };
  /** When a unit's torque will meet a limit. */
  outlook: { request: OutlookRequest; result: OutlookResult };
  /** Whose each unit is. */
  owners: { request: OwnersRequest; result: OwnersResult };
  /** Check a pattern, to which units are built. */
  pattern: { request: PatternRequest; result: PatternResult };
  /** What a pattern that changed offers to a unit of it. */
  pattern_offer: { request: PatternOfferRequest; result: PatternOfferResult };
  /** Check a photo's entry. */
  photo: { request: PhotoRequest; result: JustChecked };
  /** Choose plates that reach a torque, proven to be the best choice. */
  plan: { request: PlanRequest; result: PlanResult };
  /** Check a plan that was taken. */
  planned: { request: PlannedRequest; result: PlannedResult };
  /** Judge measured plates. */
  plates: { request: PlatesRequest; result: PlatesResult };
  /** Lock on drive and coast for each way of fitting the rings. */
  ramps: { request: RampsRequest; result: RampsResult };
  /** Check what a rebuild fitted. */
  rebuild: { request: RebuildRequest; result: RebuildResult };
  /** Judge backlash, bearings and screws when a unit goes back. */
  refit: { request: RefitRequest; result: RefitResult };
  /** Judge ramp rings and cross pins. */
  ring_check: { request: RingCheckRequest; result: RingCheckResult };
  /** Check what service was done. */
  service: { request: ServiceRequest; result: ServiceResult };
  /** What stands on a unit's sheet, from its entries. */
  sheet: { request: SheetRequest; result: SheetResult };
  /** Check that a sheet was sent. */
  sheet_sent: { request: SheetSentRequest; result: JustChecked };
  /** Check a count of the shelf. */
  shelf: { request: ShelfRequest; result: ShelfResult };
  /** The shelf without what was fitted. */
  shelf_less: { request: ShelfLessRequest; result: ShelfLessResult };
  /** The shelf that stands, from counts and units. */
  shelf_now: { request: ShelfNowRequest; result: ShelfNowResult };
  /** How much plates have changed since they were measured last. */
  since_last: { request: SinceLastRequest; result: SinceLastResult };
  /** What is known of a unit so far, and what it comes to. */
  so_far: { request: SoFarRequest; result: SoFarResult };
  /** Curve and figures of a disc spring. */
  spring: { request: SpringRequest; result: SpringResult };
  /** Judge measured disc springs. */
  spring_check: { request: SpringCheckRequest; result: SpringCheckResult };
  /** What stands for a unit, from its entries. */
  standing: { request: StandingRequest; result: StandingResult };
  /** The steps of a guided strip and close. */
  steps: { request: Record<string, never>; result: StepsResult };
  /** Check the sign-off of a strip. */
  strip: { request: StripRequest; result: StripResult };
  /** What the last strip of a unit found. */
  strip_found: { request: StripFoundRequest; result: StripFoundResult };
  /** Torque that an axle puts down with a unit. */
  traction: { request: TractionRequest; result: TractionResult };
  /** Check a change to try. */
  trial: { request: TrialRequest; result: TrialResult };
  /** Check a unit's definition and work out its preload and torque. */
  unit: { request: UnitRequest; result: UnitResult };
  /** Units that may be typed, with their sizes in SI. */
  units: { request: Record<string, never>; result: UnitsResult };
  /** What is usually inspected on each part. */
  usual_features: { request: Record<string, never>; result: UsualFeaturesResult };
  /** Ask about figures that fit a plate of another class. */
  which_plate: { request: WhichPlateRequest; result: WhichPlateResult };
  /** Work out a depth, a free height or a friction that cannot be measured. */
  work_out: { request: WorkOutRequest; result: WorkOutResult };
}

/** What an entry of each kind keeps: the request as it was typed, and the result as it was shown. */
export interface Kinds {
  /** Car added or changed. */
  car: { body: CarRequest; shown: StoredCarResult };
  /** Unit closed. */
  close: { body: CloseRequest; shown: StoredCloseResult };
  /** Customer added or changed. */
  customer: { body: CustomerRequest; shown: StoredJustChecked };
  /** Personal data erased. */
  erasure: { body: ErasureRequest; shown: StoredJustChecked };
  /** Other parts inspected. */
  inspection: { body: InspectionRequest; shown: StoredInspectionResult };
  /** Wrench or gauge added or changed. */
  kit: { body: KitRequest; shown: StoredJustChecked };
  /** Letterhead changed. */
  letterhead: { body: LetterheadRequest; shown: StoredJustChecked };
  /** Note. */
  note: { body: NoteRequest; shown: StoredJustChecked };
  /** Outing. */
  outing: { body: OutingRequest; shown: StoredOutingResult };
  /** Pattern made or changed. */
  pattern: { body: PatternRequest; shown: StoredPatternResult };
  /** Photo. */
  photo: { body: PhotoRequest; shown: StoredJustChecked };
  /** Rebuild planned. */
  planned: { body: PlannedRequest; shown: StoredPlannedResult };
  /** Plates measured. */
  plate_check: { body: PlatesRequest; shown: StoredPlatesResult };
  /** Unit rebuilt. */
  rebuild: { body: RebuildRequest; shown: StoredRebuildResult };
  /** Unit put back into its axle. */
  refit: { body: RefitRequest; shown: StoredRefitResult };
  /** Ramp rings checked. */
  ring_check: { body: RingCheckRequest; shown: StoredRingCheckResult };
  /** Service done. */
  service: { body: ServiceRequest; shown: StoredServiceResult };
  /** Sheet sent. */
  sheet_sent: { body: SheetSentRequest; shown: StoredJustChecked };
  /** Shelf counted. */
  shelf: { body: ShelfRequest; shown: StoredShelfResult };
  /** Disc springs measured. */
  spring_check: { body: SpringCheckRequest; shown: StoredSpringCheckResult };
  /** Unit stripped. */
  strip: { body: StripRequest; shown: StoredStripResult };
  /** Breakaway torque checked. */
  torque_check: { body: BreakawayRequest; shown: StoredBreakawayResult };
  /** Change chosen to try. */
  trial: { body: TrialRequest; shown: StoredTrialResult };
  /** Unit added or changed. */
  unit: { body: UnitRequest; shown: StoredUnitResult };
}

/** What a calculation is asked. */
export type RequestOf<Name extends keyof Calculations> = Calculations[Name]["request"];

/** What a calculation answers. */
export type ResultOf<Name extends keyof Calculations> = Calculations[Name]["result"];

/** The request that an entry of a kind keeps. */
export type BodyOf<Kind extends keyof Kinds> = Kinds[Kind]["body"];

/** The result that an entry of a kind keeps. */
export type ShownOf<Kind extends keyof Kinds> = Kinds[Kind]["shown"];
