// The three cutters of the journeys: an invented shop's, each with another unit and another end.

/** A cutter's form by the keys that it has in files. */
const fields = (of) => Object.entries(of).map(([key, value]) => [`cutter.${key}`, value]);

/** The everyday one, in inches: worth grinding. */
export const halfInch = {
  system: "in",
  machine: "left bench",
  relief: "eccentric",
  trial: { rest_inset: "0.010" },
  taps: { "cutter.hand": "right", "cutter.helix_hand": "right", "cutter.material": "HSS" },
  typed: fields({
    diameter: "1/2",
    teeth: "4",
    helix: "30",
    rake: "10",
    flute_length: "1-1/4",
    overall_length: "3-1/4",
    shank_diameter: "1/2",
  }),
  wear: [
    ["wear.measured_diameter", "0.4965"],
    ["wear.tooth[0].wear_land", "0.008"],
    ["wear.tooth[1].wear_land", "0.009"],
    ["wear.tooth[2].wear_land", "0.012"],
    ["wear.tooth[3].wear_land", "0.009"],
  ],
  wide: 0.02,
};

/** Of carbide, in millimetres: only a diamond wheel grinds it. */
export const carbide = {
  system: "mm",
  machine: "right bench",
  relief: "eccentric",
  trial: { relief_setting: "1.5" },
  taps: { "cutter.hand": "right", "cutter.helix_hand": "right", "cutter.material": "carbide" },
  typed: fields({
    diameter: "12",
    teeth: "4",
    helix: "35",
    rake: "8",
    flute_length: "26",
    overall_length: "83",
    shank_diameter: "12",
  }),
  wear: [
    ["wear.measured_diameter", "11.93"],
    ["wear.tooth[0].wear_land", "0.15"],
    ["wear.tooth[1].wear_land", "0.2"],
    ["wear.tooth[2].wear_land", "0.15"],
    ["wear.tooth[3].wear_land", "0.17"],
  ],
  wide: 0.3,
};

/** Broken nearly to the core, far up the flute: it leaves as it came. */
export const hopeless = {
  system: "mm",
  taps: { "cutter.hand": "right", "cutter.helix_hand": "right", "cutter.material": "cobalt HSS" },
  typed: fields({
    diameter: "32",
    teeth: "6",
    helix: "30",
    rake: "10",
    flute_length: "53",
    overall_length: "133",
    shank_diameter: "32",
  }),
  wear: [
    ["wear.measured_diameter", "31.8"],
    ["wear.tooth[1].wear_land", "0.6"],
    ["wear.tooth[1].chip_depth", "5.2"],
    ["wear.tooth[1].chip_from_end", "41"],
    ["wear.tooth[2].wear_land", "0.7"],
    ["wear.tooth[2].chip_depth", "4.8"],
    ["wear.tooth[2].chip_from_end", "38"],
  ],
};
